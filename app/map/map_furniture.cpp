// SPDX-License-Identifier: GPL-3.0-or-later
// Scale bar, north and the key to the signs.
#include "app/map/map_layers.h"
#include "app/shell/style.h"
#include "core/condition/series.h"

#include <QCoreApplication>
#include <QFontMetricsF>
#include <QPainter>

#include <array>
#include <cmath>

namespace keyround {

namespace {

struct Bar
{
    double metres = 0;
    QString words;
};

/// The longest round length that fits: 1, 2 or 5 times a power of ten.
double roundBelow(double most)
{
    const double power = std::pow(10.0, std::floor(std::log10(most)));
    for (const double times : {5.0, 2.0}) {
        if (times * power <= most) {
            return times * power;
        }
    }
    return power;
}

Bar barOf(double mostMetres, UnitSystem units)
{
    const bool metric = units == UnitSystem::Metric;
    const double large = metric ? 1000.0 : metresPerMile;
    const double small = metric ? 1.0 : metresPerFoot;
    const bool inLarge = mostMetres >= large;
    const double unit = inLarge ? large : small;
    const double count = roundBelow(mostMetres / unit);
    const QString name = inLarge ? (metric ? QStringLiteral("km") : QStringLiteral("mi"))
                                 : (metric ? QStringLiteral("m") : QStringLiteral("ft"));
    return {count * unit, QStringLiteral("%1 %2").arg(count).arg(name)};
}

void drawNorth(QPainter &painter, const QPointF &foot)
{
    QPolygonF arrow;
    arrow << foot + QPointF(0, -16) << foot + QPointF(5, 0) << foot + QPointF(0, -4)
          << foot + QPointF(-5, 0);
    painter.setPen(QPen(look::ink, 1.0));
    painter.setBrush(look::ink);
    painter.drawPolygon(arrow);
    painter.drawText(QRectF(foot.x() - 10, foot.y() - 32, 20, 15), Qt::AlignCenter,
                     QCoreApplication::translate("Map", "N"));
}

std::vector<KeyLine> keyLines(QPainter &painter, const MapContent &content)
{
    const auto say = [](const char *words) { return QCoreApplication::translate("Map", words); };
    std::vector<KeyLine> lines = shutKeyLines(painter, content.shut);
    lines.push_back({say("Valve, normally open"),
                     [&painter](const QPointF &at) { drawBowTie(painter, at, 0, false, 8); }});
    lines.push_back({say("Valve, normally closed"),
                     [&painter](const QPointF &at) { drawBowTie(painter, at, 0, true, 8); }});
    if (!content.shut.out.empty()) {
        return lines; // the signs of the shut are enough to read at once
    }
    constexpr std::array order{Condition::Serviceable, Condition::Defect,
                               Condition::DoesNotShut, Condition::DoesNotTurn,
                               Condition::CannotReach, Condition::NeverVisited};
    for (const Condition condition : order) {
        lines.push_back({wordFor(condition), [&painter, condition](const QPointF &at) {
                             drawConditionMark(painter, condition, at, 5.0);
                         }});
    }
    if (!content.route.isEmpty()) {
        lines.push_back({say("Driven line of the round"), [&painter](const QPointF &at) {
                             painter.setPen(QPen(look::water, 3.2));
                             painter.drawLine(at - QPointF(8, 0), at + QPointF(8, 0));
                         }});
    }
    return lines;
}

} // namespace

void paintScaleBar(QPainter &painter, const QRectF &area, const MapView &view, UnitSystem units)
{
    painter.save();
    QFont font = painter.font();
    font.setPointSizeF(8.5);
    painter.setFont(font);
    const Bar bar = barOf(150.0 / view.pixelsPerMetre, units);
    const double length = bar.metres * view.pixelsPerMetre;
    const QPointF left(area.left() + 20, area.bottom() - 18);
    const QFontMetricsF metrics(font);
    const double width = std::max(length, metrics.horizontalAdvance(bar.words)) + 40;
    QColor ground = look::paper;
    ground.setAlpha(225);
    painter.fillRect(QRectF(left.x() - 10, left.y() - 34, width + 12, 44), ground);
    painter.setPen(QPen(look::ink, 1.6));
    painter.drawLine(left, left + QPointF(length, 0));
    for (const double end : {0.0, length / 2, length}) {
        painter.drawLine(left + QPointF(end, -5), left + QPointF(end, 0));
    }
    painter.drawText(left + QPointF(0, -10), bar.words);
    drawNorth(painter, left + QPointF(width - 16, 2));
    painter.restore();
}

void paintKey(QPainter &painter, const QRectF &area, const MapContent &content)
{
    painter.save();
    QFont font = painter.font();
    font.setPointSizeF(8.5);
    painter.setFont(font);
    const QFontMetricsF metrics(font);
    const std::vector<KeyLine> lines = keyLines(painter, content);
    double width = 0;
    for (const KeyLine &line : lines) {
        width = std::max(width, metrics.horizontalAdvance(line.words));
    }
    const double step = metrics.height() + 4;
    const QSizeF size(width + 46, step * static_cast<double>(lines.size()) + 14);
    const QRectF card(QPointF(area.right() - size.width() - 12, area.bottom() - size.height() - 12),
                      size);
    painter.setPen(QPen(look::rule, 1.0));
    painter.setBrush(look::card);
    painter.drawRect(card);
    double y = card.top() + 7 + step / 2;
    for (const KeyLine &line : lines) {
        line.draw({card.left() + 18, y});
        painter.setPen(look::ink);
        painter.drawText(QPointF(card.left() + 36, y + (metrics.ascent() - metrics.descent()) / 2),
                         line.words);
        y += step;
    }
    painter.restore();
}

} // namespace keyround
