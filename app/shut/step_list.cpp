// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/step_list.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/shell/style.h"

#include <QPainter>
#include <QVBoxLayout>

namespace keyround {

namespace {

QString timeWords(Session &session, const Moment &at)
{
    const bool isToday = at.localDate() == session.now().localDate();
    return at.local().toString(isToday ? QStringLiteral("HH:mm")
                                       : QStringLiteral("yyyy-MM-dd HH:mm"));
}

/// The same shapes as on the map.
BigButton::Mark markFor(const ShutRow &row)
{
    return [row](QPainter &painter, const QRectF &where, const QColor &ink) {
        painter.save();
        painter.setRenderHint(QPainter::Antialiasing);
        const double side = std::min(where.width(), where.height()) * 0.8;
        const QRectF box(where.center().x() - side / 2, where.center().y() - side / 2, side, side);
        const bool isClosed = row.state == ShutRow::State::Closed;
        const bool crossed = row.part == ShutRow::Part::PassedOver && !isClosed;
        if (row.part == ShutRow::Part::AlreadyClosed) {
            painter.fillRect(QRectF(box.left(), box.center().y() - side * 0.15, side, side * 0.3),
                             ink);
            if (row.state == ShutRow::State::Checked) {
                drawTick(painter, box, ink);
            }
            painter.restore();
            return;
        }
        painter.setPen(QPen(crossed ? look::quietInk : look::water, 2.6,
                            row.part == ShutRow::Part::CloseDeadSide && !isClosed ? Qt::DashLine
                                                                                  : Qt::SolidLine));
        painter.setBrush(isClosed ? look::water : look::card);
        if (row.part == ShutRow::Part::CloseDeadSide) {
            painter.drawRect(box);
        } else {
            painter.drawEllipse(box);
        }
        if (crossed) {
            painter.setPen(QPen(look::danger, 3.4));
            painter.drawLine(box.topLeft(), box.bottomRight());
            painter.drawLine(box.bottomLeft(), box.topRight());
        } else if (isClosed) {
            drawTick(painter, box.adjusted(side * .2, side * .2, -side * .2, -side * .2),
                     look::card);
        } else if (row.order > 0) {
            painter.setPen(look::ink);
            QFont font = painter.font();
            font.setBold(true);
            font.setPixelSize(static_cast<int>(side * 0.5));
            painter.setFont(font);
            painter.drawText(box, Qt::AlignCenter, QString::number(row.order));
        }
        painter.restore();
    };
}

QString stateWords(Session &session, const ShutRow &row)
{
    if (row.state == ShutRow::State::Waiting) {
        return row.mayFail ? QObject::tr("? %1").arg(wordFor(row.holds)) : QString();
    }
    return QObject::tr("%1 at %2, %3")
        .arg(wordFor(row.state), timeWords(session, row.at), row.person);
}

} // namespace

StepList::StepList(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_layout(new QVBoxLayout(this))
{
    m_layout->setContentsMargins(0, 0, 0, 0);
    m_layout->setSpacing(TruckScale::of(this).gap / 2);
}

void StepList::clear()
{
    for (QWidget *part : m_parts) {
        part->hide();
        part->setParent(nullptr);
        part->deleteLater(); // it may be the one that is being pressed
    }
    m_parts.clear();
    m_rows.clear();
}

void StepList::addHeading(const QString &text)
{
    QLabel *label = truckLabel(this, TextSize::Normal, true);
    label->setText(text);
    label->setContentsMargins(0, TruckScale::of(this).gap / 2, 0, 0);
    m_layout->addWidget(label);
    m_parts << label;
}

void StepList::addWords(const QString &text, bool caution)
{
    QLabel *label = truckLabel(this, TextSize::Small);
    setNote(label, caution ? NoteKind::Attention : NoteKind::Quiet, text);
    m_layout->addWidget(label);
    m_parts << label;
}

void StepList::addRow(const ShutRow &row)
{
    const Valve *valve = m_session.valve(row.valve);
    QString words = row.number;
    if (valve != nullptr && valve->size.isKnown()) {
        words += QStringLiteral(" (%1)").arg(sizeText(valve->size, m_session.units()));
    }
    const QString state = stateWords(m_session, row);
    if (!state.isEmpty()) {
        words += QStringLiteral("  %1").arg(state);
    }
    auto *button = new BigButton(BigButton::Kind::Row, words, this);
    button->setObjectName(QStringLiteral("step-") + row.number);
    button->setMark(markFor(row));
    QString place = valve != nullptr ? valve->address : QString();
    if (place.isEmpty() && valve != nullptr) {
        place = valve->ties;
    }
    button->setHint(place);
    button->setAccessibleDescription(
        QStringList{wordFor(row.part), row.why, row.ifFails, place}.join(QStringLiteral(". ")));
    connect(button, &QAbstractButton::clicked, this, [this, id = row.valve] { Q_EMIT chosen(id); });
    m_layout->addWidget(button);
    button->show();
    m_parts << button;
    m_rows.insert(row.valve, button);
    if (!row.why.isEmpty()) {
        addWords(row.why, false);
    }
    if (!row.remark.isEmpty()) {
        addWords(tr("Remark: %1").arg(row.remark), false);
    }
    if (!row.ifFails.isEmpty()) {
        addWords(row.ifFails, true);
    }
}

void StepList::showClosing(const std::vector<ShutRow> &rows)
{
    clear();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (i == 0 || rows[i].part != rows[i - 1].part) {
            static const QHash<int, QString> headings{
                {int(ShutRow::Part::Close), tr("Close, in this order")},
                {int(ShutRow::Part::CloseDeadSide), tr("Close against drain-back")},
                {int(ShutRow::Part::AlreadyClosed), tr("Stands closed: see that it is")},
                {int(ShutRow::Part::PassedOver), tr("Passed over: lets water through")},
                {int(ShutRow::Part::NotNeeded), tr("No longer needed")}};
            addHeading(headings.value(int(rows[i].part)));
        }
        addRow(rows[i]);
    }
}

void StepList::showReopening(const std::vector<ShutRow> &stillClosed,
                             const std::vector<ShutRow> &all)
{
    clear();
    addHeading(stillClosed.empty() ? tr("Everything closed for it is open again")
                                   : tr("Open again, in this order"));
    for (ShutRow row : stillClosed) {
        row.ifFails.clear();
        row.part = ShutRow::Part::Close;
        row.why = row.order == 1 ? tr("Closed last: open first and slowly, to fill; let the air "
                                      "out. The utility's own procedure decides.")
                                 : tr("Open once it is full and the air is out.");
        addRow(row);
    }
    const auto wasReopened = [](const ShutRow &row) {
        return row.state == ShutRow::State::Reopened;
    };
    bool first = true;
    for (ShutRow row : all) {
        if (wasReopened(row)) {
            if (first) {
                addHeading(tr("Open again"));
                first = false;
            }
            row.why.clear();
            row.ifFails.clear();
            row.order = 0;
            addRow(row);
        }
    }
}

void StepList::mark(const ValveId &valve)
{
    m_marked = valve;
    for (auto row = m_rows.cbegin(); row != m_rows.cend(); ++row) {
        const bool isIt = row.key() == valve;
        row.value()->setTextPixels(isIt ? TruckScale::of(this).text * 6 / 5 : 0);
    }
}

QWidget *StepList::rowOf(const ValveId &valve) const
{
    return m_rows.value(valve, nullptr);
}

} // namespace keyround
