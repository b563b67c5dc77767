// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/zone_canvas.h"

#include "app/shell/style.h"

#include <QCoreApplication>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

const QColor signFill(0xE6, 0x9F, 0x00);

QString say(const char *words)
{
    return QCoreApplication::translate("WorkZone", words);
}

QString nameOf(const ZonePart &part)
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

/// Things first, then the lengths: their words make way for those of signs.
class ThingsPainting
{
public:
    explicit ThingsPainting(ZoneCanvas &canvas)
        : m_canvas(canvas), m_painter(canvas.painter), m_frame(canvas.frame), m_down(canvas.down())
    {
    }

    void paint()
    {
        paintItems();
        const std::vector<SideSign> besideCrossing = sideSigns();
        paintParts();
        for (const SideSign &sign : besideCrossing) { // over the lines of the lengths
            m_painter.fillRect(sign.box, look::card);
            paintDiamond(sign.at);
            write(sign.box, sign.flags, sign.words);
        }
    }

private:
    void paintItems()
    {
        int before = 0;
        int past = 0;
        std::vector<SketchItem> items = m_canvas.sketch.items;
        std::ranges::stable_sort(items, {}, [](const SketchItem &item) {
            return std::abs(item.along.value); // the nearest sign stands nearest on the broken axis
        });
        for (const SketchItem &item : items) {
            if (item.sideStreet != 0) {
                continue;
            }
            if (item.kind == SketchItem::Kind::Sign) {
                const bool isCut = item.facesOncoming ? m_frame.endsPast() : m_frame.endsBefore();
                if (isCut) {
                    ++m_canvas.unseen;
                    continue;
                }
                int &count = item.facesOncoming ? past : before;
                const double dots = (++count - 0.15) * signStep;
                paintSign(item, item.facesOncoming ? dots : -dots);
            } else if (m_canvas.isDrawn(item.along.value)) {
                paintItem(item, m_frame.at(item.along.value, item.across.value));
            } else if (item.kind == SketchItem::Kind::Flagger) {
                ++m_canvas.unseen;
            }
        }
    }

    void paintItem(const SketchItem &item, const QPointF &at)
    {
        m_painter.setPen(QPen(look::ink, 0.9));
        if (item.kind == SketchItem::Kind::Cone) {
            QPolygonF cone;
            cone << at + QPointF(0, -5.5) << at + QPointF(4, 3) << at + QPointF(-4, 3);
            m_painter.setBrush(zoneConeFill);
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
        const QSizeF size(m_canvas.metrics.horizontalAdvance(item.words) + 2,
                          m_canvas.metrics.height());
        QRectF box(QPointF(0, 0), size);
        if (item.facesOncoming) { // the lengths of the stretches stand to its left
            const double lift = m_down > 0 ? 4 + m_canvas.metrics.ascent() : -1;
            box.moveTopLeft(at + QPointF(17, -lift));
        } else {
            box.moveCenter(at + QPointF(0, m_down * (10 + size.height() / 2)));
            if (m_down < 0) {
                box.translate(0, -6); // above the paddle
            }
        }
        write(box, Qt::AlignLeft, item.words);
    }

    void paintDiamond(const QPointF &at)
    {
        QPolygonF diamond;
        diamond << at + QPointF(0, -9) << at + QPointF(9, 0) << at + QPointF(0, 9)
                << at + QPointF(-9, 0);
        m_painter.setPen(QPen(look::ink, 1.3));
        m_painter.setBrush(signFill);
        m_painter.drawPolygon(diamond);
        m_canvas.taken.push_back(diamond.boundingRect());
    }

    void write(const QRectF &box, int flags, const QString &words)
    {
        m_painter.setPen(look::ink);
        m_painter.drawText(box, flags, words);
        m_canvas.taken.push_back(box);
    }

    void paintSign(const SketchItem &item, double dots)
    {
        const double side = item.facesOncoming ? -1 : 1;
        const QPointF foot = m_frame.beyond(dots, side * m_canvas.outer());
        const QPointF at = foot + QPointF(0, side * m_down * 16);
        paintDiamond(at);
        const double before = signDistance(item);
        const QString words =
            item.words + QLatin1Char('\n') + lengthAtLeastText({before}, m_canvas.drawing.units);
        constexpr int flags = Qt::AlignHCenter | Qt::TextWordWrap;
        const QRectF room(0, 0, signStep - 4, 200);
        QRectF box = m_canvas.metrics.boundingRect(room, flags, words);
        box.setWidth(signStep - 4);
        box.moveCenter({at.x(), 0});
        if (side * m_down > 0) {
            box.moveTop(at.y() + 12);
        } else {
            box.moveBottom(at.y() - 12);
        }
        write(box, flags, words);
    }

    struct SideSign
    {
        QPointF at;
        QString words;
        QRectF box;
        int flags = 0;
    };

    /// Signs of the street that is crossed, beside its mouths: each where its own traffic has it,
    /// the nearest first.
    [[nodiscard]] std::vector<SideSign> sideSigns()
    {
        std::vector<SideSign> signs;
        const bool isDrawn =
            m_canvas.sketch.crossAt && m_canvas.isDrawn(m_canvas.sketch.crossAt->value);
        int counts[3] = {0, 0, 0};
        for (const SketchItem &item : m_canvas.sketch.items) {
            if (item.sideStreet == 0) {
                continue;
            }
            if (!isDrawn) {
                ++m_canvas.unseen;
                continue;
            }
            signs.push_back(sideSignOf(item, counts[item.sideStreet]++));
            m_canvas.taken.push_back(signs.back().box);
            m_canvas.taken.push_back(QRectF(signs.back().at - QPointF(9, 9), QSizeF(18, 18)));
        }
        return signs;
    }

    [[nodiscard]] SideSign sideSignOf(const SketchItem &item, int index) const
    {
        const double along = m_canvas.sketch.crossAt->value;
        const bool isOwn = item.sideStreet == 1;
        const double down = isOwn ? m_down : -m_down;
        const double right = isOwn ? 1.0 : -1.0;
        const QPointF mouth = m_frame.at(along, isOwn ? m_canvas.outer() : -m_canvas.outer());
        SideSign sign;
        sign.at = mouth + QPointF(right * (crossingHalf(m_canvas) + 14),
                                  down * (sideSignStart(isOwn) + index * sideSignStep));
        const double before = std::abs(item.across.value) - m_canvas.outer();
        sign.words =
            item.words + QLatin1Char('\n') + lengthAtLeastText({before}, m_canvas.drawing.units);
        sign.box = m_canvas.metrics.boundingRect(QRectF(0, 0, 220, 100), Qt::AlignLeft, sign.words);
        sign.box.moveCenter(sign.at);
        sign.flags = isOwn ? Qt::AlignLeft : Qt::AlignRight;
        if (isOwn) {
            sign.box.moveLeft(sign.at.x() + 13);
        } else {
            sign.box.moveRight(sign.at.x() - 13);
        }
        return sign;
    }

    struct Length
    {
        QString words;
        QRectF box;
        QPointF middle; ///< of the line that it measures
    };

    /// What each stretch is and how long, beside the road on the oncoming side; words go a row
    /// farther out where they would meet others. Lines first: words stay readable over them.
    void paintParts()
    {
        const double lift = m_canvas.outer();
        std::vector<Length> lengths;
        m_painter.setPen(QPen(look::ink, 1.0));
        for (const SketchStretch &stretch : m_canvas.sketch.stretches) {
            if (!m_canvas.isDrawn(stretch.from.value) && !m_canvas.isDrawn(stretch.to.value)) {
                continue;
            }
            const double from = std::max(stretch.from.value, m_frame.from());
            const double to = std::min(stretch.to.value, m_frame.to());
            const QPointF away(0, -20 * m_down);
            const QPointF a = m_frame.at(from, -lift) + away;
            const QPointF b = m_frame.at(to, -lift) + away;
            m_painter.drawLine(a, b);
            m_painter.drawLine(a - QPointF(0, 5), a + QPointF(0, 5));
            m_painter.drawLine(b - QPointF(0, 5), b + QPointF(0, 5));
            lengths.push_back(lengthOf(stretch.part, a, b));
        }
        m_painter.setPen(QPen(look::rule, 0.8));
        for (const Length &length : lengths) {
            const QPointF foot(length.box.center().x(),
                               m_down > 0 ? length.box.bottom() : length.box.top());
            m_painter.drawLine(foot, length.middle);
        }
        for (const Length &length : lengths) {
            m_painter.fillRect(length.box, look::card);
            m_painter.setPen(look::ink);
            m_painter.drawText(length.box, Qt::AlignHCenter, length.words);
        }
    }

    Length lengthOf(const ZonePart &part, const QPointF &a, const QPointF &b)
    {
        Length length;
        length.words = nameOf(part) + QLatin1Char(' ') +
                       lengthAtLeastText(part.length, m_canvas.drawing.units);
        length.middle = (a + b) / 2;
        QRectF box =
            m_canvas.metrics.boundingRect(QRectF(0, 0, 400, 100), Qt::AlignHCenter, length.words);
        box.moveCenter(QPointF(length.middle.x(), 0));
        if (m_down > 0) {
            box.moveBottom(std::min(a.y(), b.y()) - 7);
        } else {
            box.moveTop(std::max(a.y(), b.y()) + 7);
        }
        length.box = box.translated(freeShift(box));
        m_canvas.taken.push_back(length.box);
        return length;
    }

    /// Where a box meets no other words: the next row out, else a little to a side. Where all is
    /// full it stays.
    [[nodiscard]] QPointF freeShift(const QRectF &box) const
    {
        constexpr int mostRows = 7;
        for (const double aside : {0.0, 34.0, -34.0, 68.0, -68.0, 102.0, -102.0}) {
            for (int row = 0; row < mostRows; ++row) {
                const QPointF shift(aside, -m_down * row * (box.height() + 2));
                const QRectF moved = box.translated(shift);
                const bool meets = std::ranges::any_of(m_canvas.taken, [&](const QRectF &other) {
                    return other.adjusted(-5, 0, 5, 0).intersects(moved);
                });
                if (!meets && m_canvas.area.contains(moved)) {
                    return shift;
                }
            }
        }
        return {};
    }

    /// Feet from where the transition of its approach begins.
    [[nodiscard]] double signDistance(const SketchItem &item) const
    {
        double start = m_canvas.sketch.workFrom.value;
        double end = m_canvas.sketch.workTo.value;
        for (const SketchStretch &stretch : m_canvas.sketch.stretches) {
            start = std::min(start, stretch.from.value);
            end = std::max(end, stretch.to.value);
        }
        return item.facesOncoming ? item.along.value - end : start - item.along.value;
    }

    ZoneCanvas &m_canvas;
    QPainter &m_painter;
    const ZoneFrame &m_frame;
    double m_down;
};

} // namespace

void paintZoneThings(ZoneCanvas &canvas)
{
    ThingsPainting(canvas).paint();
}

} // namespace keyround
