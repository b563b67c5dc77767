// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/zone_canvas.h"

#include "app/shell/style.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

const QColor roadFill(0xE2, 0xE0, 0xDA);
const QColor shoulderFill(0xF0, 0xEC, 0xE0);

class RoadPainting
{
public:
    explicit RoadPainting(ZoneCanvas &canvas) : m_canvas(canvas) {}

    void paint()
    {
        paintRoad();
        paintCrossing();
        paintClosed();
        paintWorkSpace();
        paintLaneArrows();
        paintBreaks();
    }

private:
    /// A line along the road at an offset, over the broken axis at both ends.
    [[nodiscard]] QPolygonF lineAt(double across) const
    {
        QPolygonF line;
        line << m_canvas.frame.beyond(-m_canvas.frame.before(), across);
        constexpr int steps = 60;
        for (int step = 0; step <= steps; ++step) {
            line << m_canvas.frame.at(m_canvas.frame.from() +
                                          (m_canvas.frame.to() - m_canvas.frame.from()) * step /
                                              steps,
                                      across);
        }
        line << m_canvas.frame.beyond(m_canvas.frame.past(), across);
        if (m_canvas.frame.endsBefore()) {
            line.removeFirst();
        }
        if (m_canvas.frame.endsPast()) {
            line.removeLast();
        }
        return line;
    }

    [[nodiscard]] QPolygonF band(double from, double to) const
    {
        QPolygonF polygon = lineAt(from);
        const QPolygonF back = lineAt(to);
        for (auto point = back.crbegin(); point != back.crend(); ++point) {
            polygon << *point;
        }
        return polygon;
    }

    void paintRoad()
    {
        m_canvas.painter.setPen(Qt::NoPen);
        const double outer = m_canvas.edge() + m_canvas.sketch.shoulder.value;
        if (m_canvas.sketch.shoulder.value > 0) {
            m_canvas.painter.setBrush(shoulderFill);
            m_canvas.painter.drawPolygon(band(-outer, outer));
        }
        m_canvas.painter.setBrush(roadFill);
        m_canvas.painter.drawPolygon(band(-m_canvas.edge(), m_canvas.edge()));
        paintRoadEnds();
        m_canvas.painter.setBrush(Qt::NoBrush);
        m_canvas.painter.setPen(QPen(look::ink, 1.4));
        m_canvas.painter.drawPolyline(lineAt(-m_canvas.edge()));
        m_canvas.painter.drawPolyline(lineAt(m_canvas.edge()));
        if (m_canvas.sketch.shoulder.value > 0) {
            m_canvas.painter.setPen(QPen(look::quietInk, 0.8));
            m_canvas.painter.drawPolyline(lineAt(-outer));
            m_canvas.painter.drawPolyline(lineAt(outer));
        }
        const double lane = m_canvas.sketch.roadWidth.value / m_canvas.sketch.lanes;
        for (int line = 1; line < m_canvas.sketch.lanes; ++line) {
            const double across = -m_canvas.edge() + line * lane;
            const bool isMiddle = !m_canvas.sketch.isOneWay && line * 2 == m_canvas.sketch.lanes;
            QPen pen(isMiddle ? look::ink : look::quietInk, isMiddle ? 1.6 : 1.0, Qt::DashLine);
            pen.setDashPattern(isMiddle ? QList<qreal>{8, 4} : QList<qreal>{5, 7});
            m_canvas.painter.setPen(pen);
            m_canvas.painter.drawPolyline(lineAt(across));
        }
    }

    /// The round end of a street that leads no farther.
    void paintRoadEnds()
    {
        const auto end = [this](double along, double sign) {
            const double radius =
                m_canvas.edge() * 1.3 * m_canvas.frame.widened() * m_canvas.frame.dotsAFoot();
            const QPointF centre = m_canvas.frame.at(along, 0) +
                                   m_canvas.frame.directionAt(along) * sign * radius * 0.6;
            m_canvas.painter.setBrush(roadFill);
            m_canvas.painter.setPen(QPen(look::ink, 1.4));
            m_canvas.painter.drawEllipse(centre, radius, radius);
            m_canvas.painter.setPen(Qt::NoPen);
            m_canvas.painter.drawPolygon(band(-m_canvas.edge() * 0.97, m_canvas.edge() * 0.97));
        };
        if (m_canvas.frame.endsBefore()) {
            end(m_canvas.frame.from(), -1);
        }
        if (m_canvas.frame.endsPast()) {
            end(m_canvas.frame.to(), 1);
        }
    }

    /// The mouths of the street that is crossed, to a break: how it runs nobody has said.
    void paintCrossing()
    {
        if (!m_canvas.sketch.crossAt || !m_canvas.isDrawn(m_canvas.sketch.crossAt->value)) {
            return;
        }
        const double along = m_canvas.sketch.crossAt->value;
        const QPointF ahead = m_canvas.frame.directionAt(along) * crossingHalf(m_canvas);
        for (const int side : {1, 2}) {
            const double outer = side == 1 ? m_canvas.outer() : -m_canvas.outer();
            const double down = side == 1 ? m_canvas.down() : -m_canvas.down();
            const QPointF mouth = m_canvas.frame.at(along, outer);
            const QPointF end = mouth + QPointF(0, down * m_canvas.frame.crossReach(side == 1));
            const QPointF into(0, -down * 2.0); // over the road's own edge line
            QPolygonF arm;
            arm << mouth - ahead + into << end - ahead << end + ahead << mouth + ahead + into;
            m_canvas.painter.setPen(Qt::NoPen);
            m_canvas.painter.setBrush(roadFill);
            m_canvas.painter.drawPolygon(arm);
            m_canvas.painter.setPen(QPen(look::ink, 1.4));
            m_canvas.painter.drawLine(mouth - ahead, end - ahead);
            m_canvas.painter.drawLine(mouth + ahead, end + ahead);
            m_canvas.painter.drawPolyline(
                zigzag(end - ahead * 1.2, end + ahead * 1.2, QPointF(0, 4)));
        }
    }

    /// The line across a road from which on lengths are no longer to scale.
    static QPolygonF zigzag(const QPointF &a, const QPointF &b, const QPointF &along)
    {
        QPolygonF line;
        line << a << a + (b - a) * 0.45 << a + (b - a) * 0.48 + along << a + (b - a) * 0.52 - along
             << a + (b - a) * 0.55 << b;
        return line;
    }

    /// Between the cones and the edge that the closure begins at.
    void paintClosed()
    {
        m_canvas.painter.setPen(QPen(zoneConeFill, 1.0));
        m_canvas.painter.setBrush(QBrush(zoneConeFill, Qt::BDiagPattern));
        QPolygonF cones;
        QPolygonF other;
        double last = -1e30;
        bool isOther = false;
        for (const SketchItem &item : m_canvas.sketch.items) {
            if (item.kind != SketchItem::Kind::Cone || !m_canvas.isDrawn(item.along.value)) {
                continue;
            }
            isOther = isOther || item.along.value < last; // the far side begins again upstream
            last = item.along.value;
            (isOther ? other : cones) << m_canvas.frame.at(item.along.value, item.across.value);
        }
        if (cones.size() < 2) {
            return;
        }
        QPolygonF polygon = cones;
        if (other.isEmpty()) {
            constexpr int steps = 40;
            const double from = firstCone();
            const double to = lastCone();
            for (int step = 0; step <= steps; ++step) {
                polygon << m_canvas.frame.at(to + (from - to) * step / steps,
                                             m_canvas.sketch.closedEdge.value);
            }
        } else {
            std::reverse(other.begin(), other.end());
            polygon += other;
        }
        m_canvas.painter.drawPolygon(polygon);
    }

    [[nodiscard]] double firstCone() const
    {
        double first = 1e30;
        for (const SketchItem &item : m_canvas.sketch.items) {
            if (item.kind == SketchItem::Kind::Cone && m_canvas.isDrawn(item.along.value)) {
                first = std::min(first, item.along.value);
            }
        }
        return first;
    }
    [[nodiscard]] double lastCone() const
    {
        double last = -1e30;
        for (const SketchItem &item : m_canvas.sketch.items) {
            if (item.kind == SketchItem::Kind::Cone && m_canvas.isDrawn(item.along.value)) {
                last = std::max(last, item.along.value);
            }
        }
        return last;
    }

    void paintWorkSpace()
    {
        m_canvas.painter.setPen(QPen(look::ink, 1.0));
        m_canvas.painter.setBrush(QColor(255, 255, 255, 190));
        // Beyond the road nothing is closed: some ground about the lid is shown.
        const double more = m_canvas.sketch.closedFrom < m_canvas.sketch.closedTo
                                ? 0.0
                                : 4.0 / m_canvas.frame.widened();
        const double from = m_canvas.sketch.closedFrom.value - more;
        const double to = m_canvas.sketch.closedTo.value + more;
        QPolygonF space;
        space << m_canvas.frame.at(m_canvas.sketch.workFrom.value, from)
              << m_canvas.frame.at(m_canvas.sketch.workTo.value, from)
              << m_canvas.frame.at(m_canvas.sketch.workTo.value, to)
              << m_canvas.frame.at(m_canvas.sketch.workFrom.value, to);
        m_canvas.painter.drawPolygon(space);
    }

    void paintArrow(const QPointF &at, QPointF direction, double length)
    {
        const QPointF tip = at + direction * length / 2;
        const QPointF tail = at - direction * length / 2;
        const QPointF side(-direction.y(), direction.x());
        m_canvas.painter.setPen(QPen(look::quietInk, 1.8));
        m_canvas.painter.drawLine(tail, tip);
        QPolygonF head;
        head << tip << tip - direction * 7 + side * 3.5 << tip - direction * 7 - side * 3.5;
        m_canvas.painter.setBrush(look::quietInk);
        m_canvas.painter.drawPolygon(head);
    }

    void paintLaneArrows()
    {
        const double lane = m_canvas.sketch.roadWidth.value / m_canvas.sketch.lanes;
        for (int index = 0; index < m_canvas.sketch.lanes; ++index) {
            const double across = -m_canvas.edge() + (index + 0.5) * lane;
            const bool forward = m_canvas.sketch.isOneWay || across > 0;
            const double sign = forward ? 1.0 : -1.0;
            if (!m_canvas.frame.endsBefore()) {
                paintArrow(m_canvas.frame.beyond(-m_canvas.frame.before() * 0.55, across),
                           m_canvas.frame.directionAt(m_canvas.frame.from()) * sign, 24);
            }
            if (!m_canvas.frame.endsPast()) {
                paintArrow(m_canvas.frame.beyond(m_canvas.frame.past() * 0.55, across),
                           m_canvas.frame.directionAt(m_canvas.frame.to()) * sign, 24);
            }
        }
    }

    void paintBreaks()
    {
        const double reach =
            m_canvas.edge() + m_canvas.sketch.shoulder.value + 4.0 / m_canvas.frame.widened();
        const auto draw = [&](double dots) {
            const QPointF a = m_canvas.frame.beyond(dots, -reach);
            const QPointF b = m_canvas.frame.beyond(dots, reach);
            const QPointF along =
                m_canvas.frame.directionAt(dots < 0 ? m_canvas.frame.from() : m_canvas.frame.to()) *
                6;
            for (const double shift : {-3.0, 3.0}) {
                QPolygonF line = zigzag(a, b, along);
                line.translate(along / 6 * shift);
                m_canvas.painter.setPen(QPen(look::ink, 1.2));
                m_canvas.painter.setBrush(Qt::NoBrush);
                m_canvas.painter.drawPolyline(line);
            }
        };
        if (!m_canvas.frame.endsBefore() && hasSigns(false)) {
            draw(-10);
        }
        if (!m_canvas.frame.endsPast() && hasSigns(true)) {
            draw(10);
        }
    }

    [[nodiscard]] bool hasSigns(bool oncoming) const
    {
        return std::ranges::any_of(m_canvas.sketch.items, [oncoming](const SketchItem &item) {
            return item.kind == SketchItem::Kind::Sign && item.sideStreet == 0 &&
                   item.facesOncoming == oncoming;
        });
    }

    ZoneCanvas &m_canvas;
};

} // namespace

double crossingHalf(const ZoneCanvas &canvas)
{
    constexpr double crossing = 24; // feet of a street whose width nobody was asked for
    return std::clamp(crossing / 2.0 * canvas.frame.dotsAFoot() * canvas.frame.widened(), 8.0,
                      24.0);
}

void paintZoneRoad(ZoneCanvas &canvas)
{
    RoadPainting(canvas).paint();
}

} // namespace keyround
