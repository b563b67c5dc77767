// SPDX-License-Identifier: GPL-3.0-or-later
// The valves behind an answer, for a DataTable. Cells are worded when a row is first looked at, so
// that 50,000 valves cost nothing until somebody sorts them.
#pragma once

#include "app/office/answers.h"

#include <QAbstractTableModel>

namespace keyround {

class AnswerModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    explicit AnswerModel(Question question, QObject *parent = nullptr);

    void setAnswer(std::vector<AnswerRow> rows,
                   std::function<QStringList(const AnswerRow &)> cells);
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
    [[nodiscard]] QString cell(int row, int column) const;

    QList<AnswerColumn> m_columns;
    std::vector<AnswerRow> m_rows;
    std::function<QStringList(const AnswerRow &)> m_make;
    mutable std::vector<QStringList> m_cells; ///< empty: not worded yet
};

} // namespace keyround
