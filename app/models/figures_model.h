// SPDX-License-Identifier: GPL-3.0-or-later
// A table of a report as an item model: text, as its cells say it.
#pragma once

#include "core/reports/table.h"

#include <QAbstractTableModel>

namespace keyround {

class FiguresModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    using QAbstractTableModel::QAbstractTableModel;

    void setTable(const ReportTable &table);
    [[nodiscard]] const ReportTable &table() const { return m_table; }

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    ReportTable m_table;
};

} // namespace keyround
