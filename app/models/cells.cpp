// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/cells.h"

#include "app/shell/style.h"

#include <QDate>
#include <QHash>
#include <QPainter>
#include <QPixmap>

namespace keyround {

QIcon conditionIcon(Condition condition)
{
    static QHash<int, QIcon> icons;
    QIcon &icon = icons[static_cast<int>(condition)];
    if (icon.isNull()) {
        constexpr int side = 32; // drawn at twice the size of a cell's icon
        QPixmap pixmap(side, side);
        pixmap.fill(Qt::transparent);
        QPainter painter(&pixmap);
        drawConditionMark(painter, condition, QPointF(side / 2.0, side / 2.0), side * 0.36);
        painter.end();
        icon = QIcon(pixmap);
    }
    return icon;
}

QString dateCell(const QDate &date)
{
    return date.isValid() ? date.toString(Qt::ISODate) : QString(QChar(0x2013));
}

} // namespace keyround
