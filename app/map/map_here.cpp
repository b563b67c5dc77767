// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/map_here.h"

#include "app/map/map_layers.h"
#include "app/position/position_feed.h"
#include "app/position/position_line.h"
#include "app/shell/style.h"

#include <QCoreApplication>
#include <QPainter>

namespace keyround {

namespace {

constexpr double dotRadius = 8.0;

void paintHeading(QPainter &painter, const QPointF &at, double degrees)
{
    painter.save();
    painter.translate(at);
    painter.rotate(degrees); // from north, clockwise: as the screen turns
    painter.setPen(QPen(Qt::white, 1.5));
    painter.setBrush(look::water);
    const double tip = dotRadius + 14;
    painter.drawPolygon(
        QPolygonF{QPointF(0, -tip), QPointF(-6, -dotRadius - 1), QPointF(6, -dotRadius - 1)});
    painter.restore();
}

} // namespace

void paintHere(QPainter &painter, const MapFrame &frame, const LocalPlane &plane,
               const PositionFeed &feed)
{
    const auto fix = feed.last();
    if (!fix) {
        return;
    }
    const FixState state = feed.state();
    const QPointF at = frame.toScreen(plane.toPlane(fix->place));
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    if (state == FixState::Current) {
        if (fix->accuracy) {
            const double radius = fix->accuracy->value * frame.view.pixelsPerMetre;
            QColor tint = look::water;
            tint.setAlpha(40);
            painter.setPen(QPen(look::water, 1));
            painter.setBrush(tint);
            painter.drawEllipse(at, radius, radius);
        }
        if (fix->heading) {
            paintHeading(painter, at, *fix->heading);
        }
        painter.setPen(Qt::NoPen);
        painter.setBrush(Qt::white);
        painter.drawEllipse(at, dotRadius + 2, dotRadius + 2);
    }
    drawFixMark(painter, state, at, dotRadius);
    if (state != FixState::Current) {
        drawHaloText(painter, at + QPointF(dotRadius + 6, 5),
                     state == FixState::Lost
                         ? QCoreApplication::translate("Map", "position lost, was here %1 ago")
                               .arg(durationText(feed.age().value_or(Seconds{})))
                         : QCoreApplication::translate("Map", "position %1 old")
                               .arg(durationText(feed.age().value_or(Seconds{}))),
                     look::attention);
    }
    painter.restore();
}

} // namespace keyround
