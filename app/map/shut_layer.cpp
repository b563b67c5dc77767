// SPDX-License-Identifier: GPL-3.0-or-later
// The shut over the map. Nothing is told by colour alone: the pieces inside the shut are a double
// line with bars across, those dry beyond it a dotted line, and the key names both; the signs of
// valves differ by shape.
#include "app/map/map_layers.h"
#include "app/shell/style.h"

#include <QCoreApplication>
#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace keyround {

namespace {

constexpr double discRadius = 11.0;

QFont signFont(const QPainter &painter)
{
    QFont font = painter.font();
    font.setPointSizeF(8.5);
    font.setBold(true);
    return font;
}

/// Bars across the line, at even steps.
void drawBars(QPainter &painter, const QPolygonF &line, const QRectF &area)
{
    constexpr double every = 9.0;
    constexpr double half = 5.0;
    QPainterPath bars;
    double spent = every / 2;
    for (qsizetype i = 1; i < line.size(); ++i) {
        const QPointF step = line[i] - line[i - 1];
        const double length = std::hypot(step.x(), step.y());
        if (length <= 0) {
            continue;
        }
        const QPointF along = step / length;
        const QPointF across(-along.y() * half, along.x() * half);
        while (spent < length) {
            const QPointF at = line[i - 1] + along * spent;
            spent += every;
            if (area.contains(at)) {
                bars.moveTo(at - across);
                bars.lineTo(at + across);
            }
        }
        spent -= length;
    }
    painter.strokePath(bars, QPen(look::danger, 1.8));
}

void paintOutLine(QPainter &painter, const QPolygonF &line, const QRectF &area)
{
    painter.setPen(QPen(look::card, 9.0, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
    painter.drawPolyline(line);
    painter.setPen(QPen(look::danger, 3.4, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
    painter.drawPolyline(line);
    drawBars(painter, line, area);
}

void paintBeyondLine(QPainter &painter, const QPolygonF &line)
{
    painter.setPen(QPen(look::card, 8.0, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
    painter.drawPolyline(line);
    QPen dots(look::attention, 5.0, Qt::CustomDashLine, Qt::RoundCap, Qt::RoundJoin);
    dots.setDashPattern({0.01, 1.9});
    painter.setPen(dots);
    painter.drawPolyline(line);
}

void drawCross(QPainter &painter, const QPointF &middle, double arm, const QPen &pen)
{
    painter.setPen(pen);
    painter.drawLine(middle + QPointF(-arm, -arm), middle + QPointF(arm, arm));
    painter.drawLine(middle + QPointF(-arm, arm), middle + QPointF(arm, -arm));
}

void drawNumber(QPainter &painter, const QPointF &middle, const QString &number,
                const QColor &colour)
{
    painter.setPen(colour);
    painter.drawText(QRectF(middle.x() - 20, middle.y() - 10, 40, 20), Qt::AlignCenter, number);
}

/// "3 V-0412": the number in the order stands in the sign, the valve's own beside it.
QString orderOf(const QString &label)
{
    return label.section(QLatin1Char(' '), 0, 0);
}
QString nameOf(const QString &label)
{
    return label.section(QLatin1Char(' '), 1);
}

void drawDoubt(QPainter &painter, const QPointF &middle)
{
    const QPointF at = middle + QPointF(discRadius * 0.85, -discRadius * 0.95);
    painter.setPen(QPen(look::ink, 1.2));
    painter.setBrush(look::attentionTint);
    painter.drawEllipse(at, 6.5, 6.5);
    drawNumber(painter, at, QStringLiteral("?"), look::ink);
}

void drawTickBeside(QPainter &painter, const QPointF &middle)
{
    QPainterPath tick;
    const QPointF corner = middle + QPointF(discRadius * 0.5, -discRadius * 1.0);
    tick.moveTo(corner);
    tick.lineTo(corner + QPointF(3, 4));
    tick.lineTo(corner + QPointF(9, -5));
    painter.strokePath(tick, QPen(look::card, 5.0));
    painter.strokePath(tick, QPen(look::ink, 2.2));
}

void drawSign(QPainter &painter, const QPointF &middle, const MapShut::Valve &valve)
{
    const double r = discRadius;
    const QRectF box(middle.x() - r, middle.y() - r, 2 * r, 2 * r);
    switch (valve.sign) {
    case MapShut::Sign::Close:
    case MapShut::Sign::Done: {
        const bool done = valve.sign == MapShut::Sign::Done;
        painter.setPen(QPen(look::water, 2.6));
        painter.setBrush(done ? look::water : look::card);
        painter.drawEllipse(box);
        drawNumber(painter, middle, orderOf(valve.label), done ? look::card : look::ink);
        if (done) {
            drawTickBeside(painter, middle);
        }
        break;
    }
    case MapShut::Sign::CloseDeadSide:
        painter.setPen(QPen(look::water, 2.2, Qt::DashLine));
        painter.setBrush(look::card);
        painter.drawRect(box.adjusted(1, 1, -1, -1));
        drawNumber(painter, middle, orderOf(valve.label), look::ink);
        break;
    case MapShut::Sign::AlreadyClosed:
        painter.setPen(QPen(look::ink, 1.6));
        painter.setBrush(look::ink);
        painter.drawRect(QRectF(middle.x() - r, middle.y() - 4, 2 * r, 8));
        break;
    case MapShut::Sign::PassedOver:
        painter.setPen(QPen(look::quietInk, 1.6));
        painter.setBrush(look::card);
        painter.drawEllipse(box);
        drawCross(painter, middle, r * 0.95, QPen(look::card, 5.0));
        drawCross(painter, middle, r * 0.95, QPen(look::danger, 2.6));
        break;
    }
    if (valve.doubtful) {
        drawDoubt(painter, middle);
    }
}

/// The first free place around the valve, straight above when all are taken.
QPointF placeForSign(const QPointF &at, LabelGrid &labels)
{
    constexpr double away = 25.0;
    constexpr std::array places{QPointF(0, -1),      QPointF(0.75, -0.75), QPointF(-0.75, -0.75),
                                QPointF(1, 0),       QPointF(-1, 0),       QPointF(0.75, 0.75),
                                QPointF(-0.75, .75), QPointF(0, 1),        QPointF(0, -2),
                                QPointF(1.5, -1.2),  QPointF(-1.5, -1.2),  QPointF(0, 2)};
    const auto box = [](const QPointF &middle) {
        return QRectF(middle.x() - discRadius - 2, middle.y() - discRadius - 4, 2 * discRadius + 8,
                      2 * discRadius + 6);
    };
    for (const QPointF &place : places) {
        const QPointF middle = at + place * away;
        if (labels.takeIfFree({box(middle)})) {
            return middle;
        }
    }
    return at + places.front() * away;
}

/// Words beside a sign, on whichever side there is room; left out where there is none.
void nameBeside(QPainter &painter, const QPointF &middle, const QString &words, LabelGrid &labels,
                bool always)
{
    const QFontMetricsF metrics(painter.font());
    const double width = metrics.horizontalAdvance(words);
    const double drop = (metrics.ascent() - metrics.descent()) / 2;
    for (const QPointF &offset :
         {QPointF(discRadius + 8, drop), QPointF(-discRadius - 6 - width, drop),
          QPointF(-width / 2, -discRadius - 6), QPointF(-width / 2, discRadius + 16)}) {
        const QPointF baseline = middle + offset;
        const QRectF box(baseline.x(), baseline.y() - metrics.ascent(), width, metrics.height());
        if (labels.takeIfFree({box})) {
            drawHaloText(painter, baseline, words, look::ink);
            return;
        }
    }
    if (always) {
        drawHaloText(painter, middle + QPointF(discRadius + 8, drop), words, look::ink);
    }
}

void drawFlagSign(QPainter &painter, const QPointF &at, MapShut::Flag::Kind kind)
{
    using Kind = MapShut::Flag::Kind;
    switch (kind) {
    case Kind::Break: {
        // A burst: a star of eight points.
        QPolygonF star;
        for (int point = 0; point < 16; ++point) {
            const double radius = point % 2 == 0 ? 13.0 : 6.0;
            const double angle = point * 3.14159265358979 / 8.0;
            star << at + QPointF(std::sin(angle) * radius, -std::cos(angle) * radius);
        }
        painter.setPen(QPen(look::card, 2.0));
        painter.setBrush(look::danger);
        painter.drawPolygon(star);
        break;
    }
    case Kind::Crew:
        painter.setPen(QPen(look::card, 1.5));
        painter.setBrush(look::ink);
        painter.drawRoundedRect(QRectF(at.x() - 10, at.y() - 7, 20, 11), 2, 2);
        painter.drawEllipse(at + QPointF(-5, 5), 3.4, 3.4);
        painter.drawEllipse(at + QPointF(5, 5), 3.4, 3.4);
        break;
    case Kind::Source:
        painter.setPen(QPen(look::water, 2.2));
        painter.setBrush(look::waterTint);
        painter.drawPolygon(
            QPolygonF{at + QPointF(0, -11), at + QPointF(10, 7), at + QPointF(-10, 7)});
        break;
    case Kind::Here:
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(look::card, 6.0));
        painter.drawEllipse(at, 14, 14);
        painter.setPen(QPen(look::attention, 3.0, Qt::DashLine));
        painter.drawEllipse(at, 14, 14);
        break;
    }
}

} // namespace

std::vector<GeoPoint> MapShut::extent() const
{
    std::vector<GeoPoint> points;
    for (const auto *lines : {&out, &beyond}) {
        for (const GeoLine &line : *lines) {
            std::ranges::copy(line, std::back_inserter(points));
        }
    }
    for (const Valve &valve : valves) {
        points.push_back(valve.place);
    }
    for (const Flag &flag : flags) {
        if (flag.kind == Flag::Kind::Break || flag.kind == Flag::Kind::Here) {
            points.push_back(flag.place);
        }
    }
    return points;
}

void paintShutLines(QPainter &painter, const MapFrame &frame, const MapContent &content)
{
    painter.setBrush(Qt::NoBrush);
    for (const GeoLine &line : content.shut.beyond) {
        paintBeyondLine(painter, screenLine(content.plane.toPlane(line), frame));
    }
    for (const GeoLine &line : content.shut.out) {
        paintOutLine(painter, screenLine(content.plane.toPlane(line), frame), frame.area);
    }
}

void reserveShut(const MapFrame &frame, const MapContent &content, LabelGrid &labels)
{
    for (const auto *lines : {&content.shut.out, &content.shut.beyond}) {
        for (const GeoLine &line : *lines) {
            reserveLine(frame, screenLine(content.plane.toPlane(line), frame), labels);
        }
    }
}

void paintShutSigns(QPainter &painter, const MapFrame &frame, const MapContent &content)
{
    if (content.shut.isEmpty()) {
        return;
    }
    painter.save();
    painter.setFont(signFont(painter));
    // A grid of their own: signs of a shut go before every other label.
    LabelGrid labels(frame.area);
    const QRectF near = frame.area.adjusted(-40, -40, 40, 40);
    struct Placed
    {
        const MapShut::Valve *valve;
        QPointF at;
        QPointF middle;
    };
    std::vector<Placed> placed;
    for (const MapShut::Valve &valve : content.shut.valves) {
        const QPointF at = frame.toScreen(content.plane.toPlane(valve.place));
        labels.take({at.x() - 7, at.y() - 7, 14, 14});
        placed.push_back({&valve, at, {}});
    }
    for (const MapShut::Flag &flag : content.shut.flags) {
        const QPointF at = frame.toScreen(content.plane.toPlane(flag.place));
        labels.take({at.x() - 12, at.y() - 12, 24, 24});
    }
    for (Placed &one : placed) {
        one.middle = placeForSign(one.at, labels);
        painter.setPen(QPen(look::ink, 1.4));
        painter.drawLine(one.at, one.middle);
    }
    for (const MapShut::Flag &flag : content.shut.flags) {
        const QPointF at = frame.toScreen(content.plane.toPlane(flag.place));
        if (near.contains(at)) {
            drawFlagSign(painter, at, flag.kind);
        }
    }
    for (const Placed &one : placed) {
        if (near.contains(one.at)) {
            drawSign(painter, one.middle, *one.valve);
        }
    }
    for (const MapShut::Flag &flag : content.shut.flags) {
        const QPointF at = frame.toScreen(content.plane.toPlane(flag.place));
        if (near.contains(at) && !flag.words.isEmpty()) {
            nameBeside(painter, at, flag.words, labels, flag.kind == MapShut::Flag::Kind::Break);
        }
    }
    for (const Placed &one : placed) {
        if (near.contains(one.at)) {
            nameBeside(painter, one.middle, nameOf(one.valve->label), labels, false);
        }
    }
    painter.restore();
}

std::vector<KeyLine> shutKeyLines(QPainter &painter, const MapShut &shut)
{
    std::vector<KeyLine> lines;
    const auto say = [](const char *words) { return QCoreApplication::translate("Map", words); };
    const auto has = [&shut](MapShut::Sign sign) {
        return std::ranges::find(shut.valves, sign, &MapShut::Valve::sign) != shut.valves.end();
    };
    if (!shut.out.empty()) {
        lines.push_back({say("Shut off: no water"), [&painter](const QPointF &at) {
                             paintOutLine(painter, {at - QPointF(12, 0), at + QPointF(12, 0)},
                                          QRectF(at - QPointF(14, 14), QSizeF(28, 28)));
                         }});
    }
    if (!shut.beyond.empty()) {
        lines.push_back({say("Beyond it, dry as well"), [&painter](const QPointF &at) {
                             paintBeyondLine(painter, {at - QPointF(12, 0), at + QPointF(12, 0)});
                         }});
    }
    constexpr std::array signs{
        std::pair{MapShut::Sign::Close, "Close, in this order"},
        std::pair{MapShut::Sign::Done, "Closed for this shut"},
        std::pair{MapShut::Sign::CloseDeadSide, "Close against drain-back"},
        std::pair{MapShut::Sign::AlreadyClosed, "Stands closed: check"},
        std::pair{MapShut::Sign::PassedOver, "Passed over: does not hold"},
    };
    for (const auto &[sign, words] : signs) {
        if (has(sign)) {
            lines.push_back({say(words), [&painter, sign = sign](const QPointF &at) {
                                 painter.save();
                                 painter.translate(at);
                                 painter.scale(0.7, 0.7);
                                 drawSign(painter, {0, 0}, {{}, QStringLiteral("1"), sign, false});
                                 painter.restore();
                             }});
        }
    }
    if (std::ranges::find(shut.valves, true, &MapShut::Valve::doubtful) != shut.valves.end()) {
        lines.push_back({say("May not hold"), [&painter](const QPointF &at) {
                             drawDoubt(painter,
                                       at - QPointF(discRadius * 0.85, -discRadius * 0.95));
                         }});
    }
    return lines;
}

} // namespace keyround
