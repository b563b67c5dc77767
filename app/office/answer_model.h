// SPDX-License-Identifier: GPL-3.0-or-later
// The valves behind an answer, for a DataTable.
#pragma once

#include "app/office/answers.h"

#include <QAbstractTableModel>

namespace keyround {

class AnswerModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    using QAbstractTableModel::QAbstractTableModel;

    void setRows(std::vector<AnswerRow> rows);
    [[nodiscard]] const AnswerRow &row(int index) const
    {
        return m_rows.at(static_cast<size_t>(index));
    }

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    std::vector<AnswerRow> m_rows;
};

} // namespace keyround
