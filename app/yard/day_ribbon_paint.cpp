// SPDX-License-Identifier: GPL-3.0-or-later
// How the ribbon is drawn. Every kind of stretch has a form as well as a colour: drive is a thin
// line with its direction, wait is dotted, set-up is hatched, turning is a filled block.
#include "app/yard/day_ribbon.h"

#include "app/shell/style.h"

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
    paintShiftEnd(painter);
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
    const double left = xOf(stretch.from);
    const double right = xOf(stretch.to);
    if (right - left < 0.1) {
        return;
    }
    const double middle = bandTop + bandHeight / 2;
    const QRectF box(left, bandTop, right - left, bandHeight);
    switch (stretch.kind) {
    case RibbonStretch::Kind::Drive: {
        painter.setPen(QPen(look::ink, 3));
        painter.drawLine(QPointF(left, middle), QPointF(right, middle));
        if (right - left > 12) {
            painter.setPen(QPen(look::ink, 1.6));
            const QPointF tip(left + (right - left) / 2 + 4, middle);
            painter.drawLine(tip, tip + QPointF(-6, -6));
            painter.drawLine(tip, tip + QPointF(-6, 6));
        }
        break;
    }
    case RibbonStretch::Kind::Wait:
        painter.setPen(QPen(look::attention, 3, Qt::DotLine));
        painter.drawLine(QPointF(left, middle), QPointF(right, middle));
        break;
    case RibbonStretch::Kind::SetUp:
        painter.fillRect(box, look::waterTint);
        painter.fillRect(box, QBrush(look::water.lighter(190), Qt::BDiagPattern));
        break;
    case RibbonStretch::Kind::Turning:
        painter.fillRect(box, look::water.lighter(250));
        break;
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
}

void DayRibbon::paintShiftEnd(QPainter &painter) const
{
    const double end = m_content.shift.to.msecsSinceStartOfDay() / 1000.0;
    const double x = xOf(end);
    const bool isPast = m_content.plan.overrunsShift;
    if (isPast) {
        QColor veil = look::attention;
        veil.setAlpha(50);
        painter.fillRect(QRectF(x, bandTop - 4, width() - x - 4, bandHeight + 8), veil);
    }
    painter.setPen(QPen(isPast ? look::attention : look::ink, 2, Qt::DashLine));
    painter.drawLine(QPointF(x, bandTop - 6), QPointF(x, bandTop + bandHeight + 8));
    QFont font = painter.font();
    font.setPointSizeF(8.5);
    painter.setFont(font);
    painter.setPen(isPast ? look::attention : look::quietInk);
    const QString words = isPast ? tr("shift ends; the day runs past it") : tr("shift ends");
    const double room = QFontMetricsF(font).horizontalAdvance(words) + 4;
    painter.drawText(QRectF(x - room - 4, bandTop + bandHeight + 1, room, 15),
                     Qt::AlignRight | Qt::AlignVCenter, words);
}

void DayRibbon::paintDrag(QPainter &painter) const
{
    const QRectF box = blockOf(m_pressed);
    const double shift = m_dragAt.x() - m_pressedAt.x();
    painter.setOpacity(0.75);
    painter.setPen(QPen(look::ink, 1.5));
    painter.setBrush(look::water);
    painter.drawRect(box.translated(shift, -6));
    painter.setOpacity(1.0);
    painter.setPen(Qt::white);
    QFont bold = font();
    bold.setPointSizeF(12);
    bold.setBold(true);
    painter.setFont(bold);
    painter.drawText(box.translated(shift, -6), Qt::AlignCenter, QString::number(m_pressed + 1));

    // A wedge and a line where the stop would land.
    const int to = landingAt(m_dragAt.x());
    const int count = static_cast<int>(m_content.plan.stops.size());
    const int after = to < m_pressed ? to : to + 1; // index of the block that it lands before
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
