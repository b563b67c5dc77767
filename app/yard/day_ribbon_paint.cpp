// SPDX-License-Identifier: GPL-3.0-or-later
// How the ribbon is drawn: hours above, then the stops' marks, the band itself, the clasps of what
// is held together, and the key below.
#include "app/yard/day_ribbon.h"

#include "app/shell/style.h"
#include "app/yard/round_edit.h"

#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

QString hourText(double second)
{
    constexpr double secondsInDay = 86400.0;
    return QTime::fromMSecsSinceStartOfDay(static_cast<int>(std::fmod(second, secondsInDay)) * 1000)
        .toString(QStringLiteral("HH:mm"));
}

} // namespace

void DayRibbon::paintEvent(QPaintEvent * /*event*/)
{
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), look::card);
    paintHours(painter);
    if (m_content.plan.stops.empty()) {
        const QString words = m_content.canChange
                                  ? tr("No stops yet. Draw up the round, or choose valves in the "
                                       "list or on the map and add them.")
                                  : tr("This round has no stops.");
        painter.setFont(font());
        QRectF box = QFontMetricsF(font()).boundingRect(words).adjusted(-8, -4, 8, 4);
        box.moveCenter(QPointF(width() / 2.0, bandTop + bandHeight / 2));
        painter.fillRect(box, look::card);
        painter.setPen(look::quietInk);
        painter.drawText(box, Qt::AlignCenter, words);
    }
    for (const RibbonStretch &stretch : m_stretches) {
        paintStretch(painter, stretch);
    }
    for (int i = 0; i < static_cast<int>(m_content.plan.stops.size()); ++i) {
        paintBlock(painter, i);
    }
    paintClasps(painter);
    paintShiftEnd(painter);
    paintKey(painter);
    if (m_dragging) {
        paintDrag(painter);
    }
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(hasFocus() ? look::water : look::rule, hasFocus() ? 2 : 1));
    painter.drawRect(QRectF(rect()).adjusted(1, 1, -1, -1));
}

void DayRibbon::paintHours(QPainter &painter) const
{
    QFont font = painter.font();
    font.setPointSizeF(8.5);
    painter.setFont(font);
    const double first = std::ceil(m_begin / secondsInHour) * secondsInHour;
    for (double hour = first; hour <= m_end; hour += secondsInHour) {
        const double x = xOf(hour);
        painter.setPen(QPen(look::rule, 1));
        painter.drawLine(QPointF(x, bandTop - 4), QPointF(x, bandTop + bandHeight + 6));
        painter.setPen(look::quietInk);
        painter.drawText(QRectF(std::clamp(x - 30, 2.0, width() - 62.0), 3, 60, 16),
                         x - 30 < 2.0 ? Qt::AlignLeft : Qt::AlignHCenter, hourText(hour));
    }
}

void DayRibbon::paintStretch(QPainter &painter, const RibbonStretch &stretch) const
{
    const QRectF box(xOf(stretch.from), bandTop, xOf(stretch.to) - xOf(stretch.from), bandHeight);
    if (box.width() < 0.1) {
        return;
    }
    drawStretch(painter, stretch.kind, box);
    if (stretch.kind != RibbonStretch::Kind::Wait && stretch.kind != RibbonStretch::Kind::Break) {
        return;
    }
    QFont small = font();
    small.setPointSizeF(8.5);
    painter.setFont(small);
    const QString word = wordFor(stretch.kind);
    QRectF words = QFontMetricsF(small).boundingRect(word).adjusted(-3, -1, 3, 1);
    if (words.width() < box.width()) {
        words.moveCenter(stretch.kind == RibbonStretch::Kind::Wait ? box.center() - QPointF(0, 12)
                                                                   : box.center());
        painter.fillRect(words, look::card);
        painter.setPen(stretch.kind == RibbonStretch::Kind::Wait ? look::attention : look::ink);
        painter.drawText(words, Qt::AlignCenter, word);
    }
}

void DayRibbon::paintBlock(QPainter &painter, int stop) const
{
    const QRectF box = blockOf(stop);
    const PlannedStop &planned = m_content.plan.stops[static_cast<size_t>(stop)];
    const bool isChosen = stop == m_chosen;
    if (isChosen) {
        painter.fillRect(box, look::water);
    }
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(look::water, isChosen ? 2.5 : 1.2));
    painter.drawRect(box);
    QFont font = painter.font();
    font.setPointSizeF(12);
    font.setBold(true);
    painter.setFont(font);
    painter.setPen(isChosen ? QColor(Qt::white) : look::ink);
    const QString number = QString::number(stop + 1);
    const bool hasRoom = QFontMetricsF(font).horizontalAdvance(number) < box.width() + 6;
    if (hasRoom) {
        const QString mark =
            m_content.done.contains(planned.valve) ? QString(QChar(0x2713)) : QString();
        painter.drawText(box.adjusted(-4, 2, 4, -bandHeight / 2 + 2), Qt::AlignCenter,
                         number + mark);
    }
    font.setPointSizeF(8);
    font.setBold(false);
    painter.setFont(font);
    const QString label = m_content.labels.value(stop);
    const QFontMetricsF metrics(font);
    if (metrics.horizontalAdvance(label) + 4 < box.width()) {
        painter.drawText(box.adjusted(1, bandHeight / 2 - 2, -1, -2), Qt::AlignCenter, label);
    }
    paintMarks(painter, stop);
}

void DayRibbon::paintMarks(QPainter &painter, int stop) const
{
    const Round &round = m_content.round;
    const PlannedStop &planned = m_content.plan.stops[static_cast<size_t>(stop)];
    const bool isLast = stop + 1 == static_cast<int>(m_content.plan.stops.size());
    const double middle = blockOf(stop).center().x();
    const double y = bandTop - 8;
    if ((round.firstIsPinned && stop == 0) || (round.lastIsPinned && isLast)) {
        // A drawing pin: a head and a stem that goes into the block.
        const double x = isLast && stop != 0 ? blockOf(stop).right() - 5 : blockOf(stop).left() + 5;
        painter.setPen(QPen(look::ink, 2));
        painter.drawLine(QPointF(x, y), QPointF(x, bandTop + 6));
        painter.setBrush(look::ink);
        painter.drawEllipse(QPointF(x, y - 1), 4.5, 4.5);
    }
    if (round.mustGo.contains(planned.valve)) {
        QPainterPath diamond;
        diamond.moveTo(middle, y - 8);
        diamond.lineTo(middle + 7, y);
        diamond.lineTo(middle, y + 8);
        diamond.lineTo(middle - 7, y);
        diamond.closeSubpath();
        painter.fillPath(diamond, look::attention);
        QFont bold = font();
        bold.setPointSizeF(8);
        bold.setBold(true);
        painter.setFont(bold);
        painter.setPen(Qt::white);
        painter.drawText(QRectF(middle - 7, y - 8, 14, 16), Qt::AlignCenter, QStringLiteral("!"));
    }
    if (!planned.missesHours.isEmpty()) {
        painter.setPen(QPen(look::attention, 3));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(blockOf(stop).adjusted(1.5, 1.5, -1.5, -1.5));
    }
}

void DayRibbon::paintClasps(QPainter &painter) const
{
    const int count = static_cast<int>(m_content.plan.stops.size());
    for (int stop = 0; stop < count;) {
        const HeldStretch stretch = heldStretch(m_content.round, stop);
        const int last = std::min(stretch.last, count - 1);
        if (stretch.size() > 1) {
            const double left = blockOf(stop).left() + 2;
            const double right = blockOf(last).right() - 2;
            const double y = bandTop + bandHeight + 6;
            painter.setPen(QPen(look::ink, 2.5));
            painter.drawLine(QPointF(left, y), QPointF(right, y));
            painter.drawLine(QPointF(left, y), QPointF(left, y - 5));
            painter.drawLine(QPointF(right, y), QPointF(right, y - 5));
            // Two rings that hold one another.
            const double middle = (left + right) / 2;
            painter.setPen(QPen(look::ink, 1.8));
            painter.setBrush(look::card);
            painter.drawEllipse(QPointF(middle - 3.5, y), 5, 4.5);
            painter.setBrush(Qt::NoBrush);
            painter.drawEllipse(QPointF(middle + 3.5, y), 5, 4.5);
        }
        stop = last + 1;
    }
}

void DayRibbon::paintKey(QPainter &painter) const
{
    QFont small = font();
    small.setPointSizeF(8.5);
    painter.setFont(small);
    const double y = wholeHeight - 19;
    if (m_content.onlyLooking.isEmpty()) {
        drawStretchKey(painter, {10, y});
        return;
    }
    small.setBold(true);
    painter.setFont(small);
    painter.setPen(look::water);
    painter.drawText(QPointF(10, y + 11), m_content.onlyLooking);
}

void DayRibbon::paintShiftEnd(QPainter &painter) const
{
    const double end = secondOf(m_content.round.shift.to);
    const double x = xOf(end);
    const bool isPast = m_content.plan.overrunsShift;
    if (isPast) {
        QColor veil = look::attention;
        veil.setAlpha(50);
        painter.fillRect(QRectF(x, bandTop - 4, width() - x - 4, bandHeight + 8), veil);
    }
    painter.setPen(QPen(isPast ? look::attention : look::ink, 2, Qt::DashLine));
    painter.drawLine(QPointF(x, bandTop - 6), QPointF(x, wholeHeight - 6));
    QFont font = painter.font();
    font.setPointSizeF(8.5);
    painter.setFont(font);
    painter.setPen(isPast ? look::attention : look::quietInk);
    const QString words = isPast ? tr("shift ends; the day runs past it") : tr("shift ends");
    const double room = QFontMetricsF(font).horizontalAdvance(words) + 4;
    painter.drawText(QRectF(x - room - 4, wholeHeight - 20, room, 15),
                     Qt::AlignRight | Qt::AlignVCenter, words);
}

void DayRibbon::paintDrag(QPainter &painter) const
{
    const HeldStretch taken = heldStretch(m_content.round, m_pressed);
    const double shift = m_dragAt.x() - m_pressedAt.x();
    QFont bold = font();
    bold.setPointSizeF(12);
    bold.setBold(true);
    painter.setFont(bold);
    for (int stop = taken.first; stop <= taken.last; ++stop) {
        const QRectF box = blockOf(stop).translated(shift, -6);
        painter.setOpacity(0.75);
        painter.setPen(QPen(look::ink, 1.5));
        painter.setBrush(look::water);
        painter.drawRect(box);
        painter.setOpacity(1.0);
        painter.setPen(Qt::white);
        painter.drawText(box, Qt::AlignCenter, QString::number(stop + 1));
    }

    // A wedge and a line where the stop would land.
    const int count = static_cast<int>(m_content.plan.stops.size());
    const int place = landingAt(m_dragAt.x()) - (m_pressed - taken.first);
    const int after = place < taken.first ? place : place + taken.size();
    const double x = after < count ? blockOf(after).left() - 3 : blockOf(count - 1).right() + 3;
    painter.setPen(QPen(look::attention, 3));
    painter.drawLine(QPointF(x, bandTop - 6), QPointF(x, bandTop + bandHeight + 6));
    QPainterPath wedge;
    wedge.moveTo(x - 6, bandTop - 10);
    wedge.lineTo(x + 6, bandTop - 10);
    wedge.lineTo(x, bandTop - 2);
    wedge.closeSubpath();
    painter.fillPath(wedge, look::attention);
}

} // namespace keyround
