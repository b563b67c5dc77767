// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/field_pages.h"

#include "app/shell/style.h"

#include <algorithm>
#include <array>

namespace keyround {

namespace {

constexpr double knownShare = 0.27; ///< of the width, for what is known
constexpr int stopsOnAPage = 2;

/// A box's place in the grid at the right: by row and column, in twelfths of its width.
struct BoxPlace
{
    int row;
    int from;
    int to;
};

/// In the order of fieldBoxes().
constexpr std::array boxPlaces{
    BoxPlace{0, 0, 2},  // arrived
    BoxPlace{0, 2, 5},  // found
    BoxPlace{0, 5, 9},  // closing
    BoxPlace{0, 9, 12}, // opening
    BoxPlace{1, 0, 3},  // left
    BoxPlace{1, 3, 12}, // problems
    BoxPlace{2, 0, 8},  // remarks
    BoxPlace{2, 8, 10}, // finished
    BoxPlace{2, 10, 12} // written by
};
constexpr int boxRows = 3;

class FieldPainting
{
public:
    FieldPainting(PageRun &run, const FieldSheet &sheet)
        : m_run(run), m_sheet(sheet), m_painter(run.painter())
    {
    }

    void paint()
    {
        m_run.paragraph(m_sheet.title, paperFont(15, QFont::DemiBold));
        m_run.paragraph(QObject::tr("%1, %2 stops. What stands in numbered boxes is typed in "
                                    "afterwards, in that order.")
                            .arg(m_sheet.day)
                            .arg(m_sheet.stops.size()),
                        paperFont(9.5));
        m_run.y += millimetres(3);
        for (const QString &caution : m_sheet.cautions) {
            m_run.paragraph(QStringLiteral("\u2022 ") + caution, paperFont(10));
        }
        int onPage = stopsOnAPage; // the first stop begins a page
        for (const FieldStop &stop : m_sheet.stops) {
            if (onPage == stopsOnAPage) {
                m_run.startPage();
                paintPageName();
                m_height = (m_run.left() - millimetres(3)) / stopsOnAPage - millimetres(2);
                onPage = 0;
            }
            paintStop(stop);
            ++onPage;
        }
    }

private:
    void paintPageName()
    {
        m_run.paragraph(QObject::tr("%1, %2").arg(m_sheet.title, m_sheet.day),
                        paperFont(10, QFont::DemiBold));
    }

    void paintStop(const FieldStop &stop)
    {
        const QRectF all(m_run.page().left(), m_run.y, m_run.page().width(), m_height);
        m_painter.setPen(QPen(look::ink, 1.4));
        m_painter.setBrush(Qt::NoBrush);
        m_painter.drawRect(all);
        const double split = all.left() + all.width() * knownShare;
        paintKnown(stop, QRectF(all.topLeft(), QPointF(split, all.bottom())));
        paintBoxes(QRectF(QPointF(split, all.top()), all.bottomRight()));
        m_run.y += m_height + millimetres(4);
    }

    /// What is known, in letters as small as it takes to find room.
    void paintKnown(const FieldStop &stop, const QRectF &area)
    {
        const double inset = millimetres(1.8);
        const QRectF room = area.adjusted(inset, inset, -inset, -inset);
        const QFont headFont = paperFont(13, QFont::DemiBold);
        const QString head = QObject::tr("%1  %2").arg(stop.number).arg(stop.valve);
        const double headHeight = m_run.heightOf(head, room.width(), headFont);
        m_painter.setPen(look::ink);
        m_painter.setFont(headFont);
        m_painter.drawText(room, head, paperWrapping());
        QStringList lines{QObject::tr("Planned for %1").arg(stop.when)};
        lines += stop.known;
        const QString text = lines.join(QLatin1Char('\n'));
        constexpr double largest = 9;
        constexpr double smallest = 5;
        const double left = room.height() - headHeight - millimetres(1);
        double points = largest;
        while (points > smallest && m_run.heightOf(text, room.width(), paperFont(points)) > left) {
            points -= 0.5;
        }
        m_painter.setFont(paperFont(points));
        m_painter.drawText(room.adjusted(0, headHeight + millimetres(1), 0, 0), text,
                           paperWrapping());
    }

    void paintBoxes(const QRectF &area)
    {
        constexpr double twelfths = 12;
        const double height = area.height() / boxRows;
        const std::vector<FieldBoxInfo> &boxes = fieldBoxes();
        for (std::size_t i = 0; i < boxes.size() && i < boxPlaces.size(); ++i) {
            const BoxPlace &place = boxPlaces[i];
            const QRectF box(area.left() + area.width() * place.from / twelfths,
                             area.top() + height * place.row,
                             area.width() * (place.to - place.from) / twelfths, height);
            m_painter.setPen(QPen(look::ink, 0.9));
            m_painter.drawRect(box);
            paintLabel(boxes[i], static_cast<int>(i) + 1, box);
        }
    }

    void paintLabel(const FieldBoxInfo &info, int number, const QRectF &box)
    {
        const double inset = millimetres(1);
        const QRectF room = box.adjusted(inset, inset, -inset, -inset);
        const QString name = QObject::tr(info.label);
        const QString label = info.isTyped ? QObject::tr("%1 %2").arg(number).arg(name) : name;
        const QFont font = paperFont(8, QFont::DemiBold);
        const double labelHeight = m_run.heightOf(label, room.width(), font);
        m_painter.setPen(look::ink);
        m_painter.setFont(font);
        m_painter.drawText(room, label, paperWrapping());
        m_painter.setPen(look::quietInk);
        m_painter.setFont(paperFont(6));
        m_painter.drawText(room.adjusted(0, labelHeight, 0, 0), QObject::tr(info.hint),
                           paperWrapping());
    }

    PageRun &m_run;
    const FieldSheet &m_sheet;
    QPainter &m_painter;
    double m_height = 0;
};

} // namespace

PaperPart paperOf(FieldSheet sheet)
{
    QString name = sheet.title;
    return {std::move(name),
            [sheet = std::move(sheet)](PageRun &run) { FieldPainting(run, sheet).paint(); }};
}

} // namespace keyround
