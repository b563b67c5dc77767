// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/day_ribbon.h"

#include "app/dialogs/plain_label.h"
#include "app/yard/round_edit.h"

#include <QApplication>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QToolTip>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr double side = 14.0; // free space at both ends

} // namespace

DayRibbon::DayRibbon(QWidget *parent) : QWidget(parent)
{
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setAccessibleName(tr("The day to scale"));
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

QSize DayRibbon::sizeHint() const
{
    return {900, static_cast<int>(wholeHeight)};
}

QSize DayRibbon::minimumSizeHint() const
{
    return {300, static_cast<int>(wholeHeight)};
}

void DayRibbon::setContent(Content content)
{
    const ValveId kept = m_chosen >= 0 && m_chosen < static_cast<int>(m_content.plan.stops.size())
                             ? m_content.plan.stops[static_cast<size_t>(m_chosen)].valve
                             : ValveId{};
    m_content = std::move(content);
    m_dragging = false;
    m_pressed = -1;
    cut();
    m_chosen = -1;
    setChosen(kept);
    update();
}

void DayRibbon::setChosen(const ValveId &valve)
{
    const auto &stops = m_content.plan.stops;
    const auto found = std::ranges::find(stops, valve, &PlannedStop::valve);
    m_chosen =
        valve.isNull() || found == stops.end() ? -1 : static_cast<int>(found - stops.begin());
    setAccessibleDescription(m_chosen < 0 ? QString() : wordsFor(m_chosen));
    update();
}

void DayRibbon::cut()
{
    const Shift &shift = m_content.round.shift;
    m_stretches = stretchesOf(m_content.plan, shift, m_content.setUpMinutes);
    const double end = m_stretches.empty() ? 0.0 : m_stretches.back().to;
    m_begin = secondOf(shift.from);
    m_end = std::max(secondOf(shift.to), end) + 600.0;
}

double DayRibbon::xOf(double second) const
{
    const double room = width() - 2.0 * side;
    return side + room * (second - m_begin) / std::max(1.0, m_end - m_begin);
}

QRectF DayRibbon::blockOf(int stop) const
{
    const PlannedStop &planned = m_content.plan.stops.at(static_cast<size_t>(stop));
    const double left = xOf(beginOfWork(planned));
    const double right = xOf(endOfWork(planned));
    return {left, bandTop, std::max(4.0, right - left), bandHeight};
}

int DayRibbon::stopAt(const QPointF &position) const
{
    for (int i = 0; i < static_cast<int>(m_content.plan.stops.size()); ++i) {
        if (blockOf(i).adjusted(-1, -4, 1, 4).contains(position)) {
            return i;
        }
    }
    return -1;
}

int DayRibbon::landingAt(double x) const
{
    const HeldStretch taken = heldStretch(m_content.round, m_pressed);
    int before = 0;
    for (int i = 0; i < static_cast<int>(m_content.plan.stops.size()); ++i) {
        const bool isTaken = i >= taken.first && i <= taken.last;
        if (!isTaken && blockOf(i).center().x() < x) {
            ++before;
        }
    }
    return before + m_pressed - taken.first;
}

QString DayRibbon::wordsFor(int stop) const
{
    const PlannedStop &planned = m_content.plan.stops.at(static_cast<size_t>(stop));
    QString words = tr("Stop %1, valve %2: arrive %3, leave %4, %5 on site, %6 driving to it")
                        .arg(stop + 1)
                        .arg(m_content.labels.value(stop))
                        .arg(planned.arrive.toString(QStringLiteral("HH:mm")),
                             planned.leave.toString(QStringLiteral("HH:mm")),
                             durationText(Seconds{planned.stopMinutes * 60.0}),
                             durationText(Seconds{planned.driveSeconds}));
    const Round &round = m_content.round;
    const QStringList more{
        planned.waitSeconds >= 60.0 ? tr("; waits %1 for the street's hours")
                                          .arg(durationText(Seconds{planned.waitSeconds}))
                                    : QString(),
        planned.missesHours.isEmpty() ? QString() : tr("; %1").arg(planned.missesHours),
        round.firstIsPinned && stop == 0 ? tr("; kept first") : QString(),
        round.lastIsPinned && stop + 1 == static_cast<int>(m_content.plan.stops.size())
            ? tr("; kept last")
            : QString(),
        heldStretch(round, stop).size() > 1 ? tr("; held together with its neighbours") : QString(),
        round.mustGo.contains(planned.valve) ? tr("; must go") : QString(),
        m_content.done.contains(planned.valve) ? tr("; done") : QString()};
    return words + more.join(QString());
}

void DayRibbon::chooseStop(int stop)
{
    m_chosen = stop;
    setAccessibleDescription(stop < 0 ? QString() : wordsFor(stop));
    update();
    if (stop >= 0) {
        Q_EMIT stopChosen(m_content.plan.stops[static_cast<size_t>(stop)].valve);
    }
}

bool DayRibbon::event(QEvent *event)
{
    if (event->type() == QEvent::ToolTip) {
        const auto *help = static_cast<QHelpEvent *>(event);
        const int stop = stopAt(help->pos());
        QToolTip::showText(help->globalPos(), stop < 0 ? QString() : plainToolTip(wordsFor(stop)),
                           this);
        return true;
    }
    return QWidget::event(event);
}

void DayRibbon::mousePressEvent(QMouseEvent *event)
{
    if (event->button() == Qt::RightButton) {
        if (const int stop = stopAt(event->position()); stop >= 0) {
            chooseStop(stop); // the menu speaks of what lies under the hand
        }
    }
    if (event->button() != Qt::LeftButton) {
        return;
    }
    m_pressed = stopAt(event->position());
    m_pressedAt = event->position();
    m_dragging = false;
    if (m_pressed >= 0) {
        chooseStop(m_pressed);
    }
}

void DayRibbon::mouseMoveEvent(QMouseEvent *event)
{
    setCursor(m_content.canChange && (m_pressed >= 0 || stopAt(event->position()) >= 0)
                  ? (m_dragging ? Qt::ClosedHandCursor : Qt::OpenHandCursor)
                  : Qt::ArrowCursor);
    if (m_pressed < 0 || !m_content.canChange || !(event->buttons() & Qt::LeftButton)) {
        return;
    }
    m_dragAt = event->position();
    m_dragging = m_dragging ||
                 (m_dragAt - m_pressedAt).manhattanLength() >= QApplication::startDragDistance();
    update();
}

void DayRibbon::mouseReleaseEvent(QMouseEvent *event)
{
    const int from = std::exchange(m_pressed, -1);
    if (event->button() != Qt::LeftButton || !std::exchange(m_dragging, false) || from < 0) {
        return;
    }
    m_pressed = from;
    const int to = landingAt(event->position().x());
    m_pressed = -1;
    update();
    if (to != from) {
        Q_EMIT stopMoved(from, to);
    }
}

void DayRibbon::keyPressEvent(QKeyEvent *event)
{
    const int count = static_cast<int>(m_content.plan.stops.size());
    const bool isMoved = event->modifiers().testFlag(Qt::AltModifier);
    int to = m_chosen;
    switch (event->key()) {
    case Qt::Key_Left:
        --to;
        break;
    case Qt::Key_Right:
        ++to;
        break;
    case Qt::Key_Home:
        to = 0;
        break;
    case Qt::Key_End:
        to = count - 1;
        break;
    case Qt::Key_Escape:
        if (m_dragging) {
            m_dragging = false;
            m_pressed = -1;
            update();
            return;
        }
        QWidget::keyPressEvent(event);
        return;
    case Qt::Key_Delete:
    case Qt::Key_Backspace:
        if (m_chosen >= 0 && m_content.canChange) {
            Q_EMIT stopDropped(m_content.plan.stops[static_cast<size_t>(m_chosen)].valve);
        }
        return;
    default:
        QWidget::keyPressEvent(event);
        return;
    }
    if (to < 0 || to >= count) {
        return;
    }
    if (!isMoved) {
        chooseStop(to);
    } else if (m_chosen >= 0 && m_content.canChange) {
        Q_EMIT stopMoved(m_chosen, to);
    }
}

void DayRibbon::focusInEvent(QFocusEvent *event)
{
    QWidget::focusInEvent(event);
    if (m_chosen < 0 && !m_content.plan.stops.empty() && event->reason() != Qt::MouseFocusReason) {
        chooseStop(0);
    }
    update();
}

} // namespace keyround
