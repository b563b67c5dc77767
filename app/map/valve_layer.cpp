// SPDX-License-Identifier: GPL-3.0-or-later
// Valves. Near: a bow-tie turned along its main, with the mark of its condition beside it and its
// number. Far: the mark alone, drawn as fragments of one picture, which is what keeps 50,000 of
// them quick.
#include "app/map/map_layers.h"
#include "app/shell/style.h"

#include <QFontMetricsF>
#include <QPaintDevice>
#include <QPaintEngine>
#include <QPainter>
#include <QPainterPath>
#include <QPixmap>

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

constexpr std::array conditions{Condition::NeverVisited, Condition::Serviceable,
                                Condition::Defect,       Condition::DoesNotShut,
                                Condition::DoesNotTurn,  Condition::CannotReach};

double halfBowTie(const MapView &view)
{
    return std::clamp(5.5 + 2.5 * view.pixelsPerMetre, 6.0, 10.0);
}

/// Where the mark stands beside its bow-tie: across the main, on the upper side.
QPointF markOffset(const MapContent::DrawnValve &valve, const MapView &view)
{
    const double radians = valve.turn * 3.14159265358979 / 180.0;
    QPointF across(std::sin(radians), -std::cos(radians));
    if (across.y() > 1e-9 || (std::abs(across.y()) <= 1e-9 && across.x() < 0)) {
        across = -across;
    }
    return across * (halfBowTie(view) * 0.6 + 8.0);
}

double farRadius(const MapView &view)
{
    return std::clamp(2.4 + 8.0 * view.pixelsPerMetre, 2.6, 4.4);
}

/// Marks of all conditions side by side, at the device's own resolution.
QPixmap markStrip(double radius, double ratio)
{
    const int cell = static_cast<int>(std::ceil((radius * 2.6 + 3.0) * ratio));
    QPixmap strip(cell * static_cast<int>(conditions.size()), cell);
    strip.fill(Qt::transparent);
    QPainter painter(&strip);
    for (std::size_t i = 0; i < conditions.size(); ++i) {
        drawConditionMark(painter, conditions[i],
                          {cell * (static_cast<double>(i) + 0.5), cell / 2.0}, radius * ratio);
    }
    return strip;
}

bool isRaster(const QPainter &painter)
{
    const QPaintEngine *engine = painter.paintEngine();
    return engine != nullptr && engine->type() == QPaintEngine::Raster;
}

void paintMarksAlone(QPainter &painter, const MapFrame &frame, const MapContent &content,
                     const std::vector<std::size_t> &seen)
{
    const double radius = farRadius(frame.view);
    if (!isRaster(painter)) {
        for (const std::size_t i : seen) {
            drawConditionMark(painter, content.valves[i].condition,
                              frame.toScreen(content.valves[i].at), radius);
        }
        return;
    }
    const double ratio =
        painter.device()->devicePixelRatioF() * std::max(0.1, painter.worldTransform().m11());
    const QPixmap strip = markStrip(radius, ratio);
    const double cell = strip.height();
    std::vector<QPainter::PixmapFragment> fragments;
    fragments.reserve(seen.size());
    for (const std::size_t i : seen) {
        const auto column = static_cast<double>(content.valves[i].condition);
        fragments.push_back(QPainter::PixmapFragment::create(frame.toScreen(content.valves[i].at),
                                                             QRectF(column * cell, 0, cell, cell),
                                                             1.0 / ratio, 1.0 / ratio));
    }
    painter.drawPixmapFragments(fragments.data(), static_cast<int>(fragments.size()), strip);
}

void paintNumber(QPainter &painter, const QPointF &at, const QString &number, LabelGrid &labels)
{
    const QFontMetricsF metrics(painter.font());
    const double width = metrics.horizontalAdvance(number);
    constexpr double away = 15.0;
    const double middle = (metrics.ascent() - metrics.descent()) / 2;
    for (const QPointF &offset :
         {QPointF(away, middle), QPointF(-away - width, middle),
          QPointF(-width / 2, away + metrics.ascent()), QPointF(-width / 2, -away - 6)}) {
        const QPointF baseline = at + offset;
        const QRectF box(baseline.x(), baseline.y() - metrics.ascent(), width, metrics.height());
        if (labels.takeIfFree({box})) {
            drawHaloText(painter, baseline, number, look::ink);
            return;
        }
    }
}

/// Where somebody must look: an orange ring with four notches, so that it differs by shape too.
void paintAttentionRing(QPainter &painter, const QPointF &at, double radius)
{
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(look::attention, 3.0, Qt::SolidLine, Qt::FlatCap));
    const QRectF box(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius);
    for (int quarter = 0; quarter < 4; ++quarter) {
        painter.drawArc(box, (quarter * 90 + 12) * 16, 66 * 16);
    }
}

void paintRings(QPainter &painter, const MapFrame &frame, const MapContent &content,
                const std::vector<std::size_t> &seen)
{
    const double radius = showsBowTies(frame.view) ? halfBowTie(frame.view) + 5.0 : 8.0;
    for (const std::size_t i : seen) {
        const MapContent::DrawnValve &valve = content.valves[i];
        const QPointF at = frame.toScreen(valve.at);
        if (valve.leftOther) {
            paintAttentionRing(painter, at, radius + 3.5);
        }
        if (content.chosen.contains(valve.id)) {
            painter.setBrush(Qt::NoBrush);
            painter.setPen(QPen(look::card, 5.0));
            painter.drawEllipse(at, radius, radius);
            painter.setPen(QPen(look::water, 2.6));
            painter.drawEllipse(at, radius, radius);
        }
    }
}

} // namespace

void drawBowTie(QPainter &painter, const QPointF &at, double degrees, bool filled, double half)
{
    painter.save();
    painter.translate(at);
    painter.rotate(degrees);
    const double rise = half * 0.58;
    QPainterPath shape;
    shape.moveTo(0, 0);
    shape.lineTo(-half, -rise);
    shape.lineTo(-half, rise);
    shape.closeSubpath();
    shape.lineTo(half, -rise);
    shape.lineTo(half, rise);
    shape.closeSubpath();
    painter.setPen(QPen(look::ink, 1.3, Qt::SolidLine, Qt::FlatCap, Qt::MiterJoin));
    painter.setBrush(filled ? look::ink : look::card);
    painter.drawPath(shape);
    painter.restore();
}

void reserveValves(const MapFrame &frame, const MapContent &content, LabelGrid &labels)
{
    if (!showsBowTies(frame.view)) {
        return;
    }
    const double half = halfBowTie(frame.view);
    for (const std::size_t i : content.valveIndex.within(frame.seen(20))) {
        const QPointF at = frame.toScreen(content.valves[i].at);
        labels.take({at.x() - half, at.y() - half, 2 * half, 2 * half});
        if (showsMarksBeside(frame.view)) {
            const QPointF mark = at + markOffset(content.valves[i], frame.view);
            labels.take({mark.x() - 5, mark.y() - 5, 10, 10});
        }
    }
}

void paintValves(QPainter &painter, const MapFrame &frame, const MapContent &content,
                 LabelGrid &labels)
{
    const std::vector<std::size_t> seen = content.valveIndex.within(frame.seen(20));
    paintRings(painter, frame, content, seen);
    // Bow-ties that overlap say nothing: a crowd is drawn as marks at any scale.
    constexpr std::size_t crowd = 6000;
    const bool marksOnly = content.conditionsFirst && !showsMarksBeside(frame.view);
    if (!showsBowTies(frame.view) || seen.size() > crowd || marksOnly) {
        paintMarksAlone(painter, frame, content, seen);
        return;
    }
    painter.save();
    QFont font = painter.font();
    font.setPointSizeF(7.5);
    painter.setFont(font);
    for (const std::size_t i : seen) {
        const MapContent::DrawnValve &valve = content.valves[i];
        const QPointF at = frame.toScreen(valve.at);
        drawBowTie(painter, at, valve.turn, valve.normallyClosed, halfBowTie(frame.view));
        if (showsMarksBeside(frame.view)) {
            drawConditionMark(painter, valve.condition, at + markOffset(valve, frame.view), 4.4);
        }
        if (showsNumbers(frame.view)) {
            paintNumber(painter, at, valve.number, labels);
        }
    }
    painter.restore();
}

} // namespace keyround
