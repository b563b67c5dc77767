// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/zone_painter.h"

#include "app/map/zone_frame.h"
#include "app/shell/style.h"

#include <QCoreApplication>
#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

const QColor roadFill(0xE2, 0xE0, 0xDA);
const QColor shoulderFill(0xF0, 0xEC, 0xE0);
const QColor coneFill(0xD5, 0x5E, 0x00);

QString say(const char *words)
{
    return QCoreApplication::translate("WorkZone", words);
}

class ZonePainting
{
public:
    ZonePainting(QPainter &painter, const QRectF &area, const ZoneDrawing &drawing)
        : m_painter(painter), m_area(area), m_drawing(drawing), m_sketch(drawing.sketch),
          m_metrics(painter.font(), painter.device()),
          m_frame(drawing, area.adjusted(0, 0, 0, -captionHeight()))
    {
    }

    void paint()
    {
        m_painter.fillRect(m_area, look::card);
        paintRoad();
        paintClosed();
        paintWorkSpace();
        paintLaneArrows();
        paintBreaks();
        paintParts();
        paintItems();
        paintCorner();
        paintCaption();
    }

private:
    [[nodiscard]] double edge() const { return m_sketch.roadWidth.value / 2.0; }

    /// A line along the road at an offset, over the broken axis at both ends.
    [[nodiscard]] QPolygonF lineAt(double across) const
    {
        QPolygonF line;
        line << m_frame.beyond(-m_frame.before(), across);
        constexpr int steps = 60;
        for (int step = 0; step <= steps; ++step) {
            line << m_frame.at(m_frame.from() + (m_frame.to() - m_frame.from()) * step / steps,
                               across);
        }
        line << m_frame.beyond(m_frame.past(), across);
        if (m_frame.endsBefore()) {
            line.removeFirst();
        }
        if (m_frame.endsPast()) {
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
        m_painter.setPen(Qt::NoPen);
        const double outer = edge() + m_sketch.shoulder.value;
        if (m_sketch.shoulder.value > 0) {
            m_painter.setBrush(shoulderFill);
            m_painter.drawPolygon(band(-outer, outer));
        }
        m_painter.setBrush(roadFill);
        m_painter.drawPolygon(band(-edge(), edge()));
        paintRoadEnds();
        m_painter.setBrush(Qt::NoBrush);
        m_painter.setPen(QPen(look::ink, 1.4));
        m_painter.drawPolyline(lineAt(-edge()));
        m_painter.drawPolyline(lineAt(edge()));
        if (m_sketch.shoulder.value > 0) {
            m_painter.setPen(QPen(look::quietInk, 0.8));
            m_painter.drawPolyline(lineAt(-outer));
            m_painter.drawPolyline(lineAt(outer));
        }
        const double lane = m_sketch.roadWidth.value / m_sketch.lanes;
        for (int line = 1; line < m_sketch.lanes; ++line) {
            const double across = -edge() + line * lane;
            const bool isMiddle = !m_sketch.isOneWay && line * 2 == m_sketch.lanes;
            QPen pen(isMiddle ? look::ink : look::quietInk, isMiddle ? 1.6 : 1.0, Qt::DashLine);
            pen.setDashPattern(isMiddle ? QList<qreal>{8, 4} : QList<qreal>{5, 7});
            m_painter.setPen(pen);
            m_painter.drawPolyline(lineAt(across));
        }
    }

    /// The round end of a street that leads no farther.
    void paintRoadEnds()
    {
        const auto end = [this](double along, double sign) {
            const double radius = edge() * 1.3 * m_frame.widened() * m_frame.dotsAFoot();
            const QPointF centre =
                m_frame.at(along, 0) + m_frame.directionAt(along) * sign * radius * 0.6;
            m_painter.setBrush(roadFill);
            m_painter.setPen(QPen(look::ink, 1.4));
            m_painter.drawEllipse(centre, radius, radius);
            m_painter.setPen(Qt::NoPen);
            m_painter.drawPolygon(band(-edge() * 0.97, edge() * 0.97));
        };
        if (m_frame.endsBefore()) {
            end(m_frame.from(), -1);
        }
        if (m_frame.endsPast()) {
            end(m_frame.to(), 1);
        }
    }

    [[nodiscard]] bool isDrawn(double along) const
    {
        return along >= m_frame.from() - 1 && along <= m_frame.to() + 1;
    }

    /// Between the cones and the edge that the closure begins at.
    void paintClosed()
    {
        m_painter.setPen(QPen(coneFill, 1.0));
        m_painter.setBrush(QBrush(coneFill, Qt::BDiagPattern));
        QPolygonF cones;
        QPolygonF other;
        double last = -1e30;
        bool isOther = false;
        for (const SketchItem &item : m_sketch.items) {
            if (item.kind != SketchItem::Kind::Cone || !isDrawn(item.along.value)) {
                continue;
            }
            isOther = isOther || item.along.value < last; // the far side begins again upstream
            last = item.along.value;
            (isOther ? other : cones) << m_frame.at(item.along.value, item.across.value);
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
                polygon << m_frame.at(to + (from - to) * step / steps, m_sketch.closedEdge.value);
            }
        } else {
            std::reverse(other.begin(), other.end());
            polygon += other;
        }
        m_painter.drawPolygon(polygon);
    }

    [[nodiscard]] double firstCone() const
    {
        double first = 1e30;
        for (const SketchItem &item : m_sketch.items) {
            if (item.kind == SketchItem::Kind::Cone && isDrawn(item.along.value)) {
                first = std::min(first, item.along.value);
            }
        }
        return first;
    }
    [[nodiscard]] double lastCone() const
    {
        double last = -1e30;
        for (const SketchItem &item : m_sketch.items) {
            if (item.kind == SketchItem::Kind::Cone && isDrawn(item.along.value)) {
                last = std::max(last, item.along.value);
            }
        }
        return last;
    }

    void paintWorkSpace()
    {
        m_painter.setPen(QPen(look::ink, 1.0));
        m_painter.setBrush(QColor(255, 255, 255, 190));
        // Beyond the road nothing is closed: some ground about the lid is shown.
        const double more = m_sketch.closedFrom < m_sketch.closedTo ? 0.0 : 4.0 / m_frame.widened();
        const double from = m_sketch.closedFrom.value - more;
        const double to = m_sketch.closedTo.value + more;
        QPolygonF space;
        space << m_frame.at(m_sketch.workFrom.value, from)
              << m_frame.at(m_sketch.workTo.value, from) << m_frame.at(m_sketch.workTo.value, to)
              << m_frame.at(m_sketch.workFrom.value, to);
        m_painter.drawPolygon(space);
    }

    void paintArrow(const QPointF &at, QPointF direction, double length)
    {
        const QPointF tip = at + direction * length / 2;
        const QPointF tail = at - direction * length / 2;
        const QPointF side(-direction.y(), direction.x());
        m_painter.setPen(QPen(look::quietInk, 1.8));
        m_painter.drawLine(tail, tip);
        QPolygonF head;
        head << tip << tip - direction * 7 + side * 3.5 << tip - direction * 7 - side * 3.5;
        m_painter.setBrush(look::quietInk);
        m_painter.drawPolygon(head);
    }

    void paintLaneArrows()
    {
        const double lane = m_sketch.roadWidth.value / m_sketch.lanes;
        for (int index = 0; index < m_sketch.lanes; ++index) {
            const double across = -edge() + (index + 0.5) * lane;
            const bool forward = m_sketch.isOneWay || across > 0;
            const double sign = forward ? 1.0 : -1.0;
            if (!m_frame.endsBefore()) {
                paintArrow(m_frame.beyond(-m_frame.before() * 0.55, across),
                           m_frame.directionAt(m_frame.from()) * sign, 24);
            }
            if (!m_frame.endsPast()) {
                paintArrow(m_frame.beyond(m_frame.past() * 0.55, across),
                           m_frame.directionAt(m_frame.to()) * sign, 24);
            }
        }
    }

    /// The zigzag across the road from which on lengths are no longer to scale.
    void paintBreaks()
    {
        const double reach = edge() + m_sketch.shoulder.value + 4.0 / m_frame.widened();
        const auto draw = [&](double dots) {
            const QPointF a = m_frame.beyond(dots, -reach);
            const QPointF b = m_frame.beyond(dots, reach);
            const QPointF along = m_frame.directionAt(dots < 0 ? m_frame.from() : m_frame.to()) * 6;
            for (const double shift : {-3.0, 3.0}) {
                QPolygonF zigzag;
                zigzag << a << a + (b - a) * 0.45 << a + (b - a) * 0.48 + along
                       << a + (b - a) * 0.52 - along << a + (b - a) * 0.55 << b;
                zigzag.translate(along / 6 * shift);
                m_painter.setPen(QPen(look::ink, 1.2));
                m_painter.setBrush(Qt::NoBrush);
                m_painter.drawPolyline(zigzag);
            }
        };
        if (!m_frame.endsBefore() && hasSigns(false)) {
            draw(-10);
        }
        if (!m_frame.endsPast() && hasSigns(true)) {
            draw(10);
        }
    }

    [[nodiscard]] bool hasSigns(bool oncoming) const
    {
        return std::ranges::any_of(m_sketch.items, [oncoming](const SketchItem &item) {
            return item.kind == SketchItem::Kind::Sign && item.facesOncoming == oncoming;
        });
    }

    static QString nameOf(const ZonePart &part)
    {
        switch (part.kind) {
        case ZonePart::Kind::Taper:
            return part.taper == TaperKind::Downstream ? say("downstream taper") : say("taper");
        case ZonePart::Kind::Buffer:
            return say("buffer");
        case ZonePart::Kind::WorkSpace:
            break;
        }
        return say("work space");
    }

    /// What each stretch is and how long, above the road; words go up a row where they would meet.
    void paintParts()
    {
        const double lift = edge() + m_sketch.shoulder.value;
        std::vector<QRectF> taken;
        for (const SketchStretch &stretch : m_sketch.stretches) {
            if (!isDrawn(stretch.from.value) && !isDrawn(stretch.to.value)) {
                continue;
            }
            const double from = std::max(stretch.from.value, m_frame.from());
            const double to = std::min(stretch.to.value, m_frame.to());
            const QPointF up(0, -20);
            const QPointF a = m_frame.at(from, -lift) + up;
            const QPointF b = m_frame.at(to, -lift) + up;
            m_painter.setPen(QPen(look::ink, 1.0));
            m_painter.drawLine(a, b);
            m_painter.drawLine(a - QPointF(0, 5), a + QPointF(0, 5));
            m_painter.drawLine(b - QPointF(0, 5), b + QPointF(0, 5));
            const QString words = nameOf(stretch.part) + QLatin1Char(' ') +
                                  lengthAtLeastText(stretch.part.length, m_drawing.units);
            QRectF box = m_metrics.boundingRect(QRectF(0, 0, 400, 100), Qt::AlignHCenter, words);
            box.moveCenter(QPointF((a.x() + b.x()) / 2, 0));
            box.moveBottom(std::min(a.y(), b.y()) - 7);
            for (int tries = 0; tries < 6; ++tries) {
                const bool meets = std::ranges::any_of(taken, [&box](const QRectF &other) {
                    return other.adjusted(-4, 0, 4, 0).intersects(box);
                });
                if (!meets) {
                    break;
                }
                box.translate(0, -box.height() - 2);
            }
            m_painter.setPen(QPen(look::rule, 0.8));
            m_painter.drawLine(QPointF(box.center().x(), box.bottom()), (a + b) / 2);
            m_painter.setPen(look::ink);
            m_painter.drawText(box, Qt::AlignHCenter, words);
            taken.push_back(box);
        }
    }

    void paintItems()
    {
        int before = 0;
        int past = 0;
        int unseen = 0;
        std::vector<SketchItem> items = m_sketch.items;
        std::ranges::stable_sort(items, {}, [](const SketchItem &item) {
            return std::abs(item.along.value); // the nearest sign stands nearest on the broken axis
        });
        for (const SketchItem &item : items) {
            if (item.kind == SketchItem::Kind::Sign) {
                const bool isCut = item.facesOncoming ? m_frame.endsPast() : m_frame.endsBefore();
                if (isCut) {
                    ++unseen;
                    continue;
                }
                int &count = item.facesOncoming ? past : before;
                const double dots = (++count - 0.15) * signStep;
                paintSign(item, item.facesOncoming ? dots : -dots);
            } else if (isDrawn(item.along.value)) {
                paintItem(item, m_frame.at(item.along.value, item.across.value));
            } else if (item.kind == SketchItem::Kind::Flagger) {
                ++unseen;
            }
        }
        m_unseen = unseen;
    }

    void paintItem(const SketchItem &item, const QPointF &at)
    {
        m_painter.setPen(QPen(look::ink, 0.9));
        if (item.kind == SketchItem::Kind::Cone) {
            QPolygonF cone;
            cone << at + QPointF(0, -5.5) << at + QPointF(4, 3) << at + QPointF(-4, 3);
            m_painter.setBrush(coneFill);
            m_painter.drawPolygon(cone);
        } else if (item.kind == SketchItem::Kind::Lid) {
            m_painter.setPen(QPen(look::water, 2.0));
            m_painter.setBrush(Qt::white);
            m_painter.drawEllipse(at, 6, 6);
            m_painter.drawLine(at - QPointF(6, 0), at + QPointF(6, 0));
            m_painter.drawLine(at - QPointF(0, 6), at + QPointF(0, 6));
        } else {
            paintFlagger(item, at);
        }
    }

    /// Flagger: a person with the paddle, and the word on the side away from the road.
    void paintFlagger(const SketchItem &item, const QPointF &at)
    {
        m_painter.setPen(QPen(look::ink, 1.8));
        m_painter.setBrush(look::ink);
        m_painter.drawEllipse(at + QPointF(0, -7), 3.2, 3.2);
        m_painter.drawLine(at + QPointF(0, -4), at + QPointF(0, 5));
        m_painter.drawLine(at, at + QPointF(7, -4));
        m_painter.setBrush(Qt::white);
        m_painter.drawRect(QRectF(at + QPointF(5, -12), QSizeF(8, 8)));
        m_painter.setPen(look::ink);
        if (item.facesOncoming) { // the lengths of the stretches stand to its left
            m_painter.drawText(at + QPointF(17, -4), item.words);
        } else {
            const double width = m_metrics.horizontalAdvance(item.words);
            m_painter.drawText(QPointF(at.x() - width / 2, at.y() + 8 + m_metrics.ascent()),
                               item.words);
        }
    }

    void paintSign(const SketchItem &item, double dots)
    {
        const double away = edge() + m_sketch.shoulder.value;
        const double side = item.facesOncoming ? -1 : 1;
        const QPointF foot = m_frame.beyond(dots, side * away);
        const QPointF at = foot + QPointF(0, side * 16);
        QPolygonF diamond;
        diamond << at + QPointF(0, -9) << at + QPointF(9, 0) << at + QPointF(0, 9)
                << at + QPointF(-9, 0);
        m_painter.setPen(QPen(look::ink, 1.3));
        m_painter.setBrush(QColor(0xE6, 0x9F, 0x00));
        m_painter.drawPolygon(diamond);
        const double before = signDistance(item);
        const QString words =
            item.words + QLatin1Char('\n') + lengthAtLeastText({before}, m_drawing.units);
        const QRectF room(0, 0, signStep - 4, 200);
        QRectF box = m_metrics.boundingRect(room, Qt::AlignHCenter | Qt::TextWordWrap, words);
        box.setWidth(signStep - 4);
        box.moveCenter({at.x(), 0});
        if (side > 0) {
            box.moveTop(at.y() + 12);
        } else {
            box.moveBottom(at.y() - 12);
        }
        m_painter.setPen(look::ink);
        m_painter.drawText(box, Qt::AlignHCenter | Qt::TextWordWrap, words);
    }

    /// Feet from where the transition of its approach begins.
    [[nodiscard]] double signDistance(const SketchItem &item) const
    {
        double start = m_sketch.workFrom.value;
        double end = m_sketch.workTo.value;
        for (const SketchStretch &stretch : m_sketch.stretches) {
            start = std::min(start, stretch.from.value);
            end = std::max(end, stretch.to.value);
        }
        return item.facesOncoming ? item.along.value - end : start - item.along.value;
    }

    /// North and the scale along the road.
    void paintCorner()
    {
        const QPointF at(m_area.right() - 24, m_area.bottom() - captionHeight() - 16);
        const double north = m_frame.northAngle();
        const QPointF up(std::sin(north), -std::cos(north));
        const QPointF side(-up.y(), up.x());
        QPolygonF arrow;
        arrow << at + up * 15 << at - up * 9 + side * 6 << at - up * 4 << at - up * 9 - side * 6;
        m_painter.setPen(QPen(look::ink, 1.0));
        m_painter.setBrush(look::ink);
        m_painter.drawPolygon(arrow);
        m_painter.drawText(QRectF(at + up * 22 - QPointF(8, 8), QSizeF(16, 16)), Qt::AlignCenter,
                           say("N"));
        const bool isUs = m_drawing.units == UnitSystem::Us;
        const double unit = isUs ? 1.0 : 1.0 / metresPerFoot; // feet
        double count = 1;
        for (const double step : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0}) {
            count = step * unit * m_frame.dotsAFoot() <= 130 ? step : count;
        }
        const double length = count * unit * m_frame.dotsAFoot();
        const QPointF left(m_area.left() + 10, m_area.top() + 14 + m_metrics.height());
        m_painter.setPen(QPen(look::ink, 1.6));
        m_painter.drawLine(left, left + QPointF(length, 0));
        m_painter.drawLine(left + QPointF(0, -4), left + QPointF(0, 4));
        m_painter.drawLine(left + QPointF(length, -4), left + QPointF(length, 4));
        m_painter.drawText(left + QPointF(0, -7),
                           QStringLiteral("%1 %2").arg(count).arg(isUs ? QStringLiteral("ft")
                                                                       : QStringLiteral("m")));
        if (!m_drawing.streetName.isEmpty()) {
            const double from = left.x() + std::max(length, 60.0) + 16;
            m_painter.drawText(QPointF(from, left.y() + 3),
                               m_metrics.elidedText(m_drawing.streetName, Qt::ElideRight,
                                                    m_area.right() - 60 - from));
        }
    }

    /// Room for the caption, whatever it will say.
    [[nodiscard]] double captionHeight() const
    {
        constexpr double longest = 3300; // dots of all its sentences in a font of 12 dots
        const double lines = std::ceil(longest * m_metrics.height() / 14.0 / m_area.width());
        return lines * m_metrics.height() + 6;
    }

    void paintCaption()
    {
        QStringList words{
            say("Along the road to scale between the breaks; advance signs are not to "
                "scale, their distances are from the beginning of the taper or of "
                "what is closed.")};
        if (m_frame.widened() > 1) {
            words << say("Widths are drawn %1 times larger.").arg(m_frame.widened());
        }
        if (m_drawing.isRoadAssumed) {
            words << say("The street's lanes were not asked: they are drawn as usual ones.");
        }
        if (m_unseen > 0) {
            words << say("The street ends here: %1 that would stand past its end are left off the "
                         "drawing; the person on site decides.")
                         .arg(m_unseen == 1 ? say("1 sign or flagger")
                                            : say("%1 signs or flaggers").arg(m_unseen));
        }
        words << say(
            "Offered, not certified: the road authority's rules, the permit and the person "
            "on site decide.");
        const QString text = words.join(QLatin1Char(' '));
        QRectF box(m_area.left() + 8, 0, m_area.width() - 16, 200);
        const QRectF needs = m_metrics.boundingRect(box, Qt::TextWordWrap, text);
        box.setTop(m_area.bottom() - needs.height() - 4);
        box.setBottom(m_area.bottom());
        m_painter.setPen(look::ink);
        m_painter.drawText(box, Qt::TextWordWrap, text);
    }

    QPainter &m_painter;
    QRectF m_area;
    const ZoneDrawing &m_drawing;
    const Sketch &m_sketch;
    QFontMetricsF m_metrics;
    ZoneFrame m_frame;
    int m_unseen = 0;
};

} // namespace

ZoneDrawing zoneDrawing(const Site &site, const SetUp &setUp, UnitSystem units)
{
    ZoneDrawing drawing;
    drawing.sketch = sketchOf(site, setUp);
    drawing.isRoadAssumed = !site.street.lanes || !site.street.laneWidth;
    drawing.units = units;
    return drawing;
}

void paintZone(QPainter &painter, const QRectF &area, const ZoneDrawing &drawing)
{
    // A widget that has not been laid out yet: nothing could be told from so small a drawing.
    constexpr double leastWidth = 240;
    constexpr double leastHeight = 160;
    if (area.width() < leastWidth || area.height() < leastHeight) {
        return;
    }
    painter.save();
    painter.setClipRect(area);
    painter.setRenderHint(QPainter::Antialiasing);
    ZonePainting(painter, area, drawing).paint();
    painter.restore();
}

} // namespace keyround
