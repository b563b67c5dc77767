// SPDX-License-Identifier: GPL-3.0-or-later
// How the sheet of the coming days is drawn.
#include "app/yard/coming_days_grid.h"

#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QPainter>

#include <algorithm>

namespace keyround {

namespace {

QFont sized(const QFont &font, double points, bool isBold = false)
{
    QFont made = font;
    made.setPointSizeF(points);
    made.setBold(isBold);
    return made;
}

} // namespace

void ComingDaysGrid::paintEvent(QPaintEvent * /*event*/)
{
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(rect(), look::paper);
    paintHeads(painter);
    for (int crew = 0; crew < m_desk.crews().size(); ++crew) {
        for (int day = 0; day < m_desk.dates().size(); ++day) {
            paintCell(painter, {crew, day});
        }
    }
    const auto frame = [&](const CellAt &at, const QColor &colour, double width) {
        if (at.isValid()) {
            painter.setBrush(Qt::NoBrush);
            painter.setPen(QPen(colour, width));
            painter.drawRect(cellBox(at).adjusted(2, 2, -2, -2));
        }
    };
    frame(m_chosen, look::water, hasFocus() ? 3 : 2);
    frame(m_landing, look::attention, 3);
    const Valve *taken = m_dragging ? m_session.valve(m_taken) : nullptr;
    if (taken != nullptr) {
        painter.setFont(sized(font(), 9, true));
        QRectF tag = QFontMetricsF(painter.font()).boundingRect(taken->number);
        tag.adjust(-6, -3, 6, 3);
        tag.moveCenter(m_dragAt - QPointF(0, 14));
        painter.fillRect(tag, look::water);
        painter.setPen(Qt::white);
        painter.drawText(tag, Qt::AlignCenter, taken->number);
    }
}

void ComingDaysGrid::paintHeads(QPainter &painter) const
{
    painter.setFont(sized(font(), 10, true));
    const QFontMetricsF metrics(painter.font());
    for (int day = 0; day < m_desk.dates().size(); ++day) {
        const QRectF box(headWidth + day * columnWidth(), 0, columnWidth(), headHeight);
        const QDate date = m_desk.dates().at(day);
        const QString words =
            date == m_session.today()
                ? tr("today, %1").arg(QLocale::c().toString(date, QStringLiteral("ddd MM-dd")))
                : QLocale::c().toString(date, QStringLiteral("ddd yyyy-MM-dd"));
        painter.setPen(look::ink);
        painter.drawText(box, Qt::AlignCenter, words);
    }
    for (int crew = 0; crew < m_desk.crews().size(); ++crew) {
        const QRectF box(6, headHeight + crew * rowHeight + 8, headWidth - 12, rowHeight - 16);
        painter.setPen(look::ink);
        painter.drawText(box, Qt::AlignLeft | Qt::AlignTop | Qt::TextWordWrap,
                         m_desk.crews().at(crew));
    }
}

void ComingDaysGrid::paintCell(QPainter &painter, const CellAt &at) const
{
    const DayCell &cell = m_desk.cell(at);
    const QRectF box = cellBox(at);
    const QRectF inner = box.adjusted(2, 2, -2, -2);
    painter.fillRect(inner, cell.round || cell.works ? look::card : look::paper);
    if (cell.round && cell.round->isTold) {
        painter.fillRect(QRectF(inner.left(), inner.top(), 5, inner.height()), look::ink);
    }
    painter.setPen(QPen(look::rule, 1));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(inner);
    if (!cell.round || cell.round->stops.empty()) {
        if (!cell.works) {
            painter.fillRect(inner, QBrush(look::rule, Qt::BDiagPattern));
        }
        painter.setFont(sized(font(), 10));
        painter.setPen(look::quietInk);
        painter.drawText(inner, Qt::AlignCenter, cell.works ? tr("nothing planned") : tr("off"));
        return;
    }
    paintWords(painter, at, inner.adjusted(10, 4, -6, -4));
    paintRibbon(painter, at);
}

void ComingDaysGrid::paintRibbon(QPainter &painter, const CellAt &at) const
{
    const DayCell &cell = m_desk.cell(at);
    const QRectF band = ribbonBox(at);
    painter.save();
    painter.setClipRect(band.adjusted(-1, -3, 1, 3));
    for (const RibbonStretch &stretch :
         stretchesOf(cell.plan, cell.round->shift, setUpMinutesOf(m_session, cell.plan))) {
        const double left = xOf(band, stretch.from);
        drawStretch(painter, stretch.kind,
                    {left, band.top(), xOf(band, stretch.to) - left, band.height()});
    }
    painter.setBrush(Qt::NoBrush);
    for (int stop = 0; stop < static_cast<int>(cell.plan.stops.size()); ++stop) {
        const ValveId valve = cell.plan.stops[static_cast<size_t>(stop)].valve;
        const bool isTaken = m_dragging && valve == m_taken;
        const QRectF block = blockOf(at, stop);
        painter.setPen(QPen(isTaken ? look::attention : look::water, isTaken ? 2.5 : 1));
        painter.drawRect(block);
        if (cell.round->mustGo.contains(valve)) {
            painter.fillRect(QRectF(block.center().x() - 1.5, block.top() + 3, 3, 13),
                             look::attention);
            painter.fillRect(QRectF(block.center().x() - 1.5, block.top() + 19, 3, 3),
                             look::attention);
        }
    }
    painter.setPen(QPen(look::ink, 1.5, Qt::DashLine));
    const double end = xOf(band, secondOf(cell.round->shift.to));
    painter.drawLine(QPointF(end, band.top() - 3), QPointF(end, band.bottom() + 3));
    painter.restore();
}

void ComingDaysGrid::paintWords(QPainter &painter, const CellAt &at, const QRectF &box) const
{
    const DayCell &cell = m_desk.cell(at);
    const auto stops = cell.round->stops.size();
    QString head = stops == 1 ? tr("1 stop") : tr("%1 stops").arg(stops);
    if (!cell.round->mustGo.isEmpty()) {
        head += tr(", %1 must go").arg(cell.round->mustGo.size());
    }
    QString sign;
    if (cell.round->state != RoundState::Planned) {
        sign = wordFor(cell.round->state);
    } else if (cell.round->isTold) {
        sign = tr("%1 told").arg(QChar(0x2713));
    }
    painter.setFont(sized(font(), 9.5, true));
    painter.setPen(look::ink);
    const double room = QFontMetricsF(painter.font()).horizontalAdvance(sign);
    painter.drawText(QRectF(box.left(), box.top(), box.width(), 22),
                     Qt::AlignRight | Qt::AlignVCenter, sign);
    const QString fitting =
        QFontMetricsF(painter.font()).elidedText(head, Qt::ElideRight, box.width() - room - 6);
    painter.drawText(QRectF(box.left(), box.top(), box.width(), 22),
                     Qt::AlignLeft | Qt::AlignVCenter, fitting);
    const QRectF low(box.left(), box.bottom() - 36, box.width(), 18);
    painter.setFont(sized(font(), 9));
    if (!cell.trouble.isEmpty()) {
        painter.setPen(look::attention);
        painter.drawText(QRectF(low.left(), low.top(), low.width(), 36),
                         Qt::AlignLeft | Qt::TextWordWrap, cell.trouble);
        return;
    }
    painter.drawText(low, Qt::AlignLeft | Qt::AlignVCenter,
                     tr("%1 driving").arg(durationText(Seconds{cell.plan.driveSeconds})));
    const bool isLate = cell.plan.overrunsShift;
    painter.setPen(isLate ? look::attention : look::ink);
    painter.drawText(low.translated(0, 17), Qt::AlignLeft | Qt::AlignVCenter,
                     isLate ? tr("! back at %1, past the shift").arg(timeText(cell.plan.finish))
                            : tr("back at %1").arg(timeText(cell.plan.finish)));
}

} // namespace keyround
