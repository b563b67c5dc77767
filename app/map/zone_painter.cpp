// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/zone_painter.h"

#include "app/map/zone_canvas.h"
#include "app/shell/style.h"

#include <QCoreApplication>
#include <QPainter>

#include <cmath>

namespace keyround {

namespace {

QString say(const char *words)
{
    return QCoreApplication::translate("WorkZone", words);
}

/// Room for the caption, whatever it will say.
double captionHeight(const QRectF &area, const QFontMetricsF &metrics)
{
    constexpr double longest = 3700; // dots of all its sentences in a font of 12 dots
    const double lines = std::ceil(longest * metrics.height() / 14.0 / area.width());
    return lines * metrics.height() + 6;
}

/// North, scale and caption about the drawing.
class ZoneFurniture
{
public:
    explicit ZoneFurniture(ZoneCanvas &canvas) : m_canvas(canvas) {}

    /// North, scale and the street's name: words on the road make way for them.
    void paintCorners()
    {
        paintNorth();
        paintScale();
    }

    void paintCaption()
    {
        QStringList words{
            say("Along the road to scale between the breaks; advance signs are not to "
                "scale, their distances are from the beginning of the taper or of "
                "what is closed.")};
        if (m_canvas.frame.widened() > 1) {
            words << say("Widths are drawn %1 times larger.").arg(m_canvas.frame.widened());
        }
        if (m_canvas.sketch.crossAt) {
            words << say(
                "The street that is crossed is drawn where this kind of set-up has it; its "
                "signs' distances are from the crossing.");
        }
        if (m_canvas.drawing.isRoadAssumed) {
            words << say("The street's lanes were not asked: they are drawn as usual ones.");
        }
        if (m_canvas.unseen > 0) {
            words << say("The street ends here: %1 that would stand past its end are left off the "
                         "drawing; the person on site decides.")
                         .arg(m_canvas.unseen == 1
                                  ? say("1 sign or flagger")
                                  : say("%1 signs or flaggers").arg(m_canvas.unseen));
        }
        words << say(
            "Offered, not certified: the road authority's rules, the permit and the person "
            "on site decide.");
        const QString text = words.join(QLatin1Char(' '));
        QRectF box(m_canvas.area.left() + 8, 0, m_canvas.area.width() - 16, 200);
        const QRectF needs = m_canvas.metrics.boundingRect(box, Qt::TextWordWrap, text);
        box.setTop(m_canvas.area.bottom() - needs.height() - 4);
        box.setBottom(m_canvas.area.bottom());
        m_canvas.painter.setPen(look::ink);
        m_canvas.painter.drawText(box, Qt::TextWordWrap, text);
    }

private:
    void paintNorth()
    {
        const QPointF at(m_canvas.area.right() - 34,
                         m_canvas.area.bottom() - captionHeight(m_canvas.area, m_canvas.metrics) -
                             16);
        const double north = m_canvas.frame.northAngle();
        const QPointF up(std::sin(north), -std::cos(north));
        const QPointF side(-up.y(), up.x());
        QPolygonF arrow;
        arrow << at + up * 15 << at - up * 9 + side * 6 << at - up * 4 << at - up * 9 - side * 6;
        m_canvas.painter.setPen(QPen(look::ink, 1.0));
        m_canvas.painter.setBrush(look::ink);
        m_canvas.painter.drawPolygon(arrow);
        m_canvas.painter.drawText(QRectF(at + up * 22 - QPointF(8, 8), QSizeF(16, 16)),
                                  Qt::AlignCenter, say("N"));
    }

    /// The scale along the road, and the street's name.
    void paintScale()
    {
        const bool isUs = m_canvas.drawing.units == UnitSystem::Us;
        const double unit = isUs ? 1.0 : 1.0 / metresPerFoot; // feet
        double count = 1;
        for (const double step : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0}) {
            count = step * unit * m_canvas.frame.dotsAFoot() <= 130 ? step : count;
        }
        const double length = count * unit * m_canvas.frame.dotsAFoot();
        const QPointF left(m_canvas.area.left() + 10,
                           m_canvas.area.top() + 14 + m_canvas.metrics.height());
        m_canvas.painter.setPen(QPen(look::ink, 1.6));
        m_canvas.painter.drawLine(left, left + QPointF(length, 0));
        m_canvas.painter.drawLine(left + QPointF(0, -4), left + QPointF(0, 4));
        m_canvas.painter.drawLine(left + QPointF(length, -4), left + QPointF(length, 4));
        m_canvas.painter.drawText(left + QPointF(0, -7),
                                  QStringLiteral("%1 %2").arg(count).arg(
                                      isUs ? QStringLiteral("ft") : QStringLiteral("m")));
        double end = left.x() + length;
        if (!m_canvas.drawing.streetName.isEmpty()) {
            const double from = left.x() + std::max(length, 60.0) + 16;
            const QString name = m_canvas.metrics.elidedText(
                m_canvas.drawing.streetName, Qt::ElideRight, m_canvas.area.right() - 60 - from);
            m_canvas.painter.drawText(QPointF(from, left.y() + 3), name);
            end = from + m_canvas.metrics.horizontalAdvance(name);
        }
        m_canvas.taken.push_back(QRectF(m_canvas.area.topLeft(), QPointF(end, left.y() + 8)));
    }

    ZoneCanvas &m_canvas;
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
    painter.fillRect(area, look::card);
    const QFontMetricsF metrics(painter.font(), painter.device());
    // A street that is crossed reaches up to where the scale and the name stand.
    const double names = drawing.sketch.crossAt ? 2 * metrics.height() + 6 : 0;
    const QRectF room = area.adjusted(0, names, 0, -captionHeight(area, metrics));
    ZoneCanvas canvas{painter, area, drawing, drawing.sketch, metrics, ZoneFrame(drawing, room),
                      {},      0};
    ZoneFurniture furniture(canvas);
    paintZoneRoad(canvas);
    furniture.paintCorners();
    paintZoneThings(canvas);
    furniture.paintCaption();
    painter.restore();
}

} // namespace keyround
