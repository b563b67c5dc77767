// SPDX-License-Identifier: GPL-3.0-or-later
// Shapes and patterns, painted as lines so that every file format takes them.
#include "app/charts/chart_elements.h"
#include "app/shell/style.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double gap = 6.0; ///< between a pattern's lines, in pixels

void addLevel(QList<QLineF> &lines, const QRectF &box)
{
    for (double y = std::ceil(box.top() / gap) * gap; y < box.bottom(); y += gap) {
        lines << QLineF(box.left(), y, box.right(), y);
    }
}

void addUpright(QList<QLineF> &lines, const QRectF &box)
{
    for (double x = std::ceil(box.left() / gap) * gap; x < box.right(); x += gap) {
        lines << QLineF(x, box.top(), x, box.bottom());
    }
}

/// Lines at 45 degrees; they meet across neighbouring boxes, because they count from the corner of
/// the picture.
void addSlanted(QList<QLineF> &lines, const QRectF &box, bool rising)
{
    constexpr double step = gap * 1.41421356;
    const double turn = rising ? 1.0 : -1.0;
    const auto ends =
        std::minmax({box.left() + turn * box.top(), box.left() + turn * box.bottom(),
                     box.right() + turn * box.top(), box.right() + turn * box.bottom()});
    for (double c = std::ceil(ends.first / step) * step; c < ends.second; c += step) {
        // x + turn * y = c
        const double reach = box.width() + box.height() + 1;
        const QPointF middle(c - turn * box.center().y(), box.center().y());
        const QPointF along(reach, -turn * reach);
        if (const auto line = clippedLine(QLineF(middle - along, middle + along), box)) {
            lines << *line;
        }
    }
}

} // namespace

std::optional<QLineF> clippedLine(const QLineF &line, const QRectF &box)
{
    // Liang and Barsky's parameters: 0 at the line's beginning, 1 at its end.
    double from = 0;
    double to = 1;
    const double dx = line.dx();
    const double dy = line.dy();
    const auto cut = [&](double slope, double room) {
        if (std::abs(slope) < 1e-12) {
            return room >= 0;
        }
        const double at = room / slope;
        (slope < 0 ? from : to) = slope < 0 ? std::max(from, at) : std::min(to, at);
        return from <= to;
    };
    if (!cut(-dx, line.x1() - box.left()) || !cut(dx, box.right() - line.x1()) ||
        !cut(-dy, line.y1() - box.top()) || !cut(dy, box.bottom() - line.y1())) {
        return std::nullopt;
    }
    return QLineF(line.pointAt(from), line.pointAt(to));
}

QList<QLineF> patternLines(const QRectF &box, Pattern pattern)
{
    QList<QLineF> lines;
    if (box.width() < 1 || box.height() < 1) {
        return lines;
    }
    switch (pattern) {
    case Pattern::None:
        break;
    case Pattern::Level:
        addLevel(lines, box);
        break;
    case Pattern::Upright:
        addUpright(lines, box);
        break;
    case Pattern::Rising:
        addSlanted(lines, box, true);
        break;
    case Pattern::Falling:
        addSlanted(lines, box, false);
        break;
    case Pattern::Crossed:
        addSlanted(lines, box, true);
        addSlanted(lines, box, false);
        break;
    }
    return lines;
}

void drawShape(QPainter &painter, PointShape shape, const QPointF &centre, double half,
               const QColor &colour)
{
    const QRectF box(centre.x() - half, centre.y() - half, 2 * half, 2 * half);
    painter.setPen(QPen(look::ink, half < 2.5 ? 0.0 : 0.8));
    painter.setBrush(colour);
    switch (shape) {
    case PointShape::None:
        break;
    case PointShape::Disc:
        painter.drawEllipse(box);
        break;
    case PointShape::Square:
        painter.drawRect(box.adjusted(half * 0.12, half * 0.12, -half * 0.12, -half * 0.12));
        break;
    case PointShape::Triangle:
        painter.drawPolygon(QPolygonF(
            {{centre.x(), box.top()}, {box.right(), box.bottom()}, {box.left(), box.bottom()}}));
        break;
    case PointShape::Diamond:
        painter.drawPolygon(QPolygonF({{centre.x(), box.top() - half * 0.2},
                                       {box.right() + half * 0.2, centre.y()},
                                       {centre.x(), box.bottom() + half * 0.2},
                                       {box.left() - half * 0.2, centre.y()}}));
        break;
    case PointShape::Cross:
        painter.setPen(QPen(colour, std::max(1.6, half * 0.45)));
        painter.drawLine(QLineF(box.topLeft(), box.bottomRight()));
        painter.drawLine(QLineF(box.bottomLeft(), box.topRight()));
        break;
    case PointShape::Ring:
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(colour, std::max(1.4, half * 0.4)));
        painter.drawEllipse(box);
        break;
    }
    painter.setBrush(Qt::NoBrush);
}

} // namespace keyround
