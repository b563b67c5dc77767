// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/answer_model.h"

#include "app/dialogs/plain_label.h"
#include "app/models/cells.h"
#include "app/models/data_table.h"

#include <limits>
#include <utility>

namespace keyround {

AnswerModel::AnswerModel(Question question, QObject *parent)
    : QAbstractTableModel(parent), m_columns(answerColumns(question))
{
}

void AnswerModel::setAnswer(std::vector<AnswerRow> rows,
                            std::function<QStringList(const AnswerRow &)> cells)
{
    beginResetModel();
    m_rows = std::move(rows);
    m_make = std::move(cells);
    m_cells.assign(m_rows.size(), {});
    endResetModel();
}

int AnswerModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int AnswerModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_columns.size());
}

QString AnswerModel::cell(int row, int column) const
{
    QStringList &cells = m_cells[static_cast<size_t>(row)];
    if (cells.isEmpty() && m_make) {
        cells = m_make(this->row(row));
    }
    return cells.value(column);
}

QVariant AnswerModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const AnswerColumn::Kind kind = m_columns[index.column()].kind;
    switch (role) {
    case Qt::DisplayRole:
        return cell(index.row(), index.column());
    case Qt::ToolTipRole:
        return plainToolTip(cell(index.row(), index.column()));
    case Qt::DecorationRole:
        return kind == AnswerColumn::Kind::Condition
                   ? QVariant(conditionIcon(row(index.row()).condition))
                   : QVariant();
    case Qt::TextAlignmentRole:
        return kind == AnswerColumn::Kind::Number ? QVariant(int(Qt::AlignRight | Qt::AlignVCenter))
                                                  : QVariant();
    case DataTable::sortRole:
        if (kind == AnswerColumn::Kind::Condition) {
            return severityOf(row(index.row()).condition);
        }
        if (kind == AnswerColumn::Kind::Number) {
            bool isNumber = false;
            const double number = cell(index.row(), index.column())
                                      .section(QLatin1Char(' '), 0, 0)
                                      .toDouble(&isNumber);
            return isNumber ? number : std::numeric_limits<double>::infinity(); // "not yet"
        }
        return naturalKey(cell(index.row(), index.column()));
    default:
        return {};
    }
}

QVariant AnswerModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    return section < m_columns.size() ? m_columns[section].heading : QVariant();
}

} // namespace keyround
