// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/answer_model.h"

#include "app/dialogs/plain_label.h"
#include "app/models/data_table.h"
#include "app/shell/style.h"

#include <QHash>
#include <QPainter>
#include <QPixmap>

#include <utility>

namespace keyround {

namespace {

constexpr int conditionColumn = 4;

/// The mark that stands beside a valve on the map and in the picture's key.
QPixmap markOf(Condition condition)
{
    static QHash<Condition, QPixmap> marks;
    QPixmap &mark = marks[condition];
    if (mark.isNull()) {
        constexpr double ratio = 2.0;
        mark = QPixmap(QSize(16, 16) * ratio);
        mark.setDevicePixelRatio(ratio);
        mark.fill(Qt::transparent);
        QPainter painter(&mark);
        drawConditionMark(painter, condition, {8, 8}, 5.5);
    }
    return mark;
}

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
        return markOf(shown.condition);
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
