// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/figures_model.h"

#include "app/dialogs/plain_label.h"
#include "app/models/data_table.h"
#include "core/common/natural_key.h"

namespace keyround {

void FiguresModel::setTable(const ReportTable &table)
{
    beginResetModel();
    m_table = table;
    endResetModel();
}

int FiguresModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_table.rows.size());
}

int FiguresModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_table.columns.size());
}

QVariant FiguresModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const QString &cell = m_table.rows[static_cast<size_t>(index.row())].value(index.column());
    switch (role) {
    case Qt::DisplayRole:
        return cell;
    case Qt::ToolTipRole:
        return plainToolTip(cell);
    case DataTable::sortRole:
        return naturalKey(cell);
    default:
        return {};
    }
}

QVariant FiguresModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    return m_table.columns.value(section);
}

} // namespace keyround
