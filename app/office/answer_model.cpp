// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/answer_model.h"

#include "app/dialogs/plain_label.h"
#include "app/models/cells.h"
#include "app/models/data_table.h"

#include <utility>

namespace keyround {

namespace {

constexpr int conditionColumn = 4;

} // namespace

void AnswerModel::setRows(std::vector<AnswerRow> rows)
{
    beginResetModel();
    m_rows = std::move(rows);
    endResetModel();
}

int AnswerModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int AnswerModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(answerColumns().size());
}

QVariant AnswerModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const AnswerRow &shown = row(index.row());
    if (role == Qt::DisplayRole) {
        return shown.cells.at(index.column());
    }
    if (role == Qt::DecorationRole && index.column() == conditionColumn) {
        return conditionIcon(shown.condition);
    }
    if (role == Qt::ToolTipRole) {
        return plainToolTip(shown.cells.at(index.column()));
    }
    if (role == DataTable::sortRole) {
        return index.column() == conditionColumn ? QVariant(shown.severity)
                                                 : QVariant(shown.cells.at(index.column()));
    }
    return {};
}

QVariant AnswerModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    return answerColumns().value(section);
}

} // namespace keyround
