// SPDX-License-Identifier: GPL-3.0-or-later
// Street names along their lines. A name stands where its line is long and straight enough for
// it and nothing else stands; where there is no such place it is left out.
#include "app/map/map_layers.h"
#include "app/shell/style.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace keyround {

namespace {

constexpr double degreesPerRadian = 180.0 / std::numbers::pi;
constexpr double repeatPixels = 420.0;   ///< a long street says its name again
constexpr double mostBendDegrees = 25.0; ///< between two letters
constexpr double straightDegrees = 2.0;  ///< up to here a name is drawn in one piece

/// A line on the screen that can be walked by length.
class Walk
{
public:
    explicit Walk(QPolygonF line) : m_line(std::move(line)), m_lengths{0.0}
    {
        for (qsizetype i = 1; i < m_line.size(); ++i) {
            const QPointF step = m_line[i] - m_line[i - 1];
            m_lengths.push_back(m_lengths.back() + std::hypot(step.x(), step.y()));
        }
    }

    [[nodiscard]] double length() const { return m_lengths.back(); }

    struct Place
    {
        QPointF at;
        double degrees = 0; ///< clockwise on the screen
    };
    [[nodiscard]] Place at(double along) const
    {
        const auto after = std::ranges::upper_bound(m_lengths, along);
        const auto last = static_cast<qsizetype>(m_lengths.size()) - 1;
        const auto i = std::clamp<qsizetype>(after - m_lengths.begin(), 1, last);
        const QPointF step = m_line[i] - m_line[i - 1];
        const double length = std::hypot(step.x(), step.y());
        const double part =
            length > 0 ? (along - m_lengths[static_cast<std::size_t>(i - 1)]) / length : 0.0;
        return {m_line[i - 1] + part * step, std::atan2(step.y(), step.x()) * degreesPerRadian};
    }

private:
    QPolygonF m_line;
    std::vector<double> m_lengths;
};

double turnBetween(double a, double b)
{
    const double turn = std::fmod(std::abs(a - b), 360.0);
    return turn > 180.0 ? 360.0 - turn : turn;
}

struct SetName
{
    struct Letter
    {
        QString text;
        QPointF at; ///< middle of the letter on the line
        double degrees = 0;
        double width = 0;
    };
    std::vector<Letter> letters; ///< or one piece, when straight
};

/// Sets the name with its middle at `along`; empty when the line bends too much there.
SetName setName(const QString &name, const Walk &walk, double along, const QFontMetricsF &metrics)
{
    const double width = metrics.horizontalAdvance(name);
    const double from = along - width / 2;
    const Walk::Place first = walk.at(from);
    const Walk::Place last = walk.at(along + width / 2);
    const Walk::Place middle = walk.at(along);
    // Upright: a name whose line runs to the left is set from its other end.
    const bool backwards = last.at.x() < first.at.x();
    if (turnBetween(first.degrees, last.degrees) < straightDegrees &&
        turnBetween(first.degrees, middle.degrees) < straightDegrees) {
        const double degrees = middle.degrees + (backwards ? 180.0 : 0.0);
        return {{{name, middle.at, degrees, width}}};
    }
    SetName set;
    double spent = 0;
    for (const QChar letter : name) {
        const double advance = metrics.horizontalAdvance(letter);
        const double middleAt = spent + advance / 2;
        const Walk::Place place =
            walk.at(backwards ? along + width / 2 - middleAt : from + middleAt);
        const double degrees = place.degrees + (backwards ? 180.0 : 0.0);
        if (!set.letters.empty() &&
            turnBetween(set.letters.back().degrees, degrees) > mostBendDegrees) {
            return {};
        }
        set.letters.push_back({QString(letter), place.at, degrees, advance});
        spent += advance;
    }
    return set;
}

std::vector<QRectF> boxesOf(const SetName &name, double height)
{
    std::vector<QRectF> boxes;
    for (const SetName::Letter &letter : name.letters) {
        // A long piece on a slant is covered by boxes along it, not by one that holds them all.
        const double radians = letter.degrees / degreesPerRadian;
        const QPointF along(std::cos(radians), std::sin(radians));
        const int parts = std::max(1, static_cast<int>(std::ceil(letter.width / height)));
        for (int i = 0; i < parts; ++i) {
            const QPointF middle = letter.at + along * (letter.width * ((i + 0.5) / parts - 0.5));
            boxes.emplace_back(middle.x() - height / 2, middle.y() - height / 2, height, height);
        }
    }
    return boxes;
}

/// Beside the line instead of on it: moved across the direction of its middle.
SetName moved(SetName name, double across)
{
    const double radians = name.letters.at(name.letters.size() / 2).degrees / degreesPerRadian;
    const QPointF shift(-std::sin(radians) * across, std::cos(radians) * across);
    for (SetName::Letter &letter : name.letters) {
        letter.at += shift;
    }
    return name;
}

void drawName(QPainter &painter, const SetName &name, const QFontMetricsF &metrics)
{
    QPainterPath path;
    QPainterPath middle;
    for (const SetName::Letter &letter : name.letters) {
        QTransform place;
        place.translate(letter.at.x(), letter.at.y());
        place.rotate(letter.degrees);
        QPainterPath shape;
        shape.addText(-letter.width / 2, (metrics.ascent() - metrics.descent()) / 2, painter.font(),
                      letter.text);
        path.addPath(place.map(shape));
        middle.moveTo(place.map(QPointF(-letter.width / 2, 0)));
        middle.lineTo(place.map(QPointF(letter.width / 2, 0)));
    }
    // A main that runs through the gaps between words reads as a hyphen: cover it.
    painter.strokePath(middle, QPen(look::paper, 5.0));
    painter.strokePath(path, QPen(look::paper, 3.2, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.fillPath(path, look::quietInk);
}

/// Sets one name at a free place within `reach` of `wanted`, on the line or close beside it.
void placeName(QPainter &painter, const QString &text, const Walk &walk, double wanted,
               double reach, const QFontMetricsF &metrics, LabelGrid &labels)
{
    const double height = metrics.height() * 0.9;
    constexpr std::array along{0.0, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75, 1.0, -1.0};
    for (const double across : {0.0, -height, height, -1.5 * height, 1.5 * height}) {
        for (const double share : along) {
            SetName name = setName(text, walk, wanted + share * reach, metrics);
            if (name.letters.empty()) {
                continue;
            }
            name = moved(std::move(name), across);
            if (labels.takeIfFree(boxesOf(name, height))) {
                drawName(painter, name, metrics);
                return;
            }
        }
    }
}

} // namespace

void paintStreetNames(QPainter &painter, const MapFrame &frame, const MapContent &content,
                      LabelGrid &labels)
{
    if (frame.view.pixelsPerMetre < 0.05) {
        return;
    }
    painter.save();
    QFont font = painter.font();
    font.setPointSizeF(8.0);
    painter.setFont(font);
    const QFontMetricsF metrics(font);
    for (const std::size_t i : content.nameIndex.within(frame.seen(0))) {
        const MapContent::NamedLine &named = content.names[i];
        const double width = metrics.horizontalAdvance(named.name);
        // Cheap first look: the box of a line that is too short needs no walk.
        const PlaneBox box = boxOf(named.line);
        if ((box.width() + box.height()) * frame.view.pixelsPerMetre < width) {
            continue;
        }
        const Walk walk(screenLine(named.line, frame));
        const double room = walk.length() - width - 8.0;
        if (room < 0) {
            continue;
        }
        const int times = std::max(1, static_cast<int>(walk.length() / repeatPixels));
        for (int time = 0; time < times; ++time) {
            const double wanted = walk.length() * (time + 0.5) / times;
            // A long line crosses the picture with a short part of it alone.
            const double near = repeatPixels / 2 + width;
            if (!frame.area.adjusted(-near, -near, near, near).contains(walk.at(wanted).at)) {
                continue;
            }
            const double reach = walk.length() / times / 2 - width / 2 - 4.0;
            placeName(painter, named.name, walk, wanted, reach, metrics, labels);
        }
    }
    painter.restore();
}

} // namespace keyround
