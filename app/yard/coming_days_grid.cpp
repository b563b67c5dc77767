// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/coming_days_grid.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"

#include <QApplication>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QToolTip>

#include <algorithm>
#include <utility>

namespace keyround {

ComingDaysGrid::ComingDaysGrid(Session &session, ComingDaysDesk &desk, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(desk)
{
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setAccessibleName(tr("The coming days: crews down, days across"));
    connect(&desk, &ComingDaysDesk::changed, this, &ComingDaysGrid::deskChanged);
}

void ComingDaysGrid::deskChanged()
{
    m_begin = secondOf(m_session.settings().shift.from);
    m_end = secondOf(m_session.settings().shift.to);
    const auto crews = static_cast<int>(m_desk.crews().size());
    const auto days = static_cast<int>(m_desk.dates().size());
    for (int crew = 0; crew < crews; ++crew) {
        for (int day = 0; day < days; ++day) {
            const DayCell &cell = m_desk.cell({crew, day});
            if (cell.round) {
                m_begin = std::min(m_begin, secondOf(cell.round->shift.from));
                m_end =
                    std::max({m_end, secondOf(cell.round->shift.to), secondOf(cell.plan.finish)});
            }
        }
    }
    if (m_chosen.crew >= crews || m_chosen.day >= days) {
        m_chosen = {};
    }
    m_taken = {};
    m_dragging = false;
    setAccessibleDescription(m_chosen.isValid() ? wordsFor(m_chosen) : QString());
    updateGeometry();
    update();
}

QSize ComingDaysGrid::minimumSizeHint() const
{
    const auto days = static_cast<double>(std::max<qsizetype>(1, m_desk.dates().size()));
    const auto crews = static_cast<double>(std::max<qsizetype>(1, m_desk.crews().size()));
    return QSizeF(headWidth + days * leastColumn, headHeight + crews * rowHeight + 2).toSize();
}

QSize ComingDaysGrid::sizeHint() const
{
    return minimumSizeHint();
}

double ComingDaysGrid::columnWidth() const
{
    const auto days = static_cast<double>(std::max<qsizetype>(1, m_desk.dates().size()));
    return std::max(leastColumn, (width() - headWidth - 2) / days);
}

QRectF ComingDaysGrid::cellBox(const CellAt &at) const
{
    return {headWidth + at.day * columnWidth(), headHeight + at.crew * rowHeight, columnWidth(),
            rowHeight};
}

QRectF ComingDaysGrid::ribbonBox(const CellAt &at) const
{
    const QRectF box = cellBox(at);
    return {box.left() + 8, box.top() + 34, box.width() - 16, 28};
}

double ComingDaysGrid::xOf(const QRectF &box, double second) const
{
    return box.left() + box.width() * (second - m_begin) / std::max(1.0, m_end - m_begin);
}

QRectF ComingDaysGrid::blockOf(const CellAt &at, int stop) const
{
    const QRectF box = ribbonBox(at);
    const PlannedStop &planned = m_desk.cell(at).plan.stops.at(static_cast<size_t>(stop));
    const double left = xOf(box, beginOfWork(planned));
    return {left, box.top(), std::max(3.0, xOf(box, endOfWork(planned)) - left), box.height()};
}

CellAt ComingDaysGrid::cellAt(const QPointF &position) const
{
    if (position.x() < headWidth || position.y() < headHeight) {
        return {};
    }
    const CellAt at{static_cast<int>((position.y() - headHeight) / rowHeight),
                    static_cast<int>((position.x() - headWidth) / columnWidth())};
    return at.crew < m_desk.crews().size() && at.day < m_desk.dates().size() ? at : CellAt{};
}

int ComingDaysGrid::stopAt(const CellAt &at, const QPointF &position) const
{
    const auto count = at.isValid() ? static_cast<int>(m_desk.cell(at).plan.stops.size()) : 0;
    for (int stop = 0; stop < count; ++stop) {
        if (blockOf(at, stop).adjusted(0, -4, 0, 4).contains(position)) {
            return stop;
        }
    }
    return -1;
}

QString ComingDaysGrid::wordsFor(const CellAt &at) const
{
    const DayCell &cell = m_desk.cell(at);
    const QString head = tr("%1, %2").arg(
        QLocale::c().toString(cell.date, QStringLiteral("ddd yyyy-MM-dd")), cell.crew);
    if (!cell.round) {
        return head + (cell.works ? tr(": nothing planned") : tr(": does not work"));
    }
    QString words =
        tr("%1: %2 stops, %3 must go, %4 driving, back at %5")
            .arg(head)
            .arg(cell.round->stops.size())
            .arg(cell.round->mustGo.size())
            .arg(durationText(Seconds{cell.plan.driveSeconds}), timeText(cell.plan.finish));
    if (cell.plan.overrunsShift) {
        words += tr("; past the shift's end");
    }
    if (cell.round->isTold) {
        words += tr("; people were told");
    }
    if (cell.round->state != RoundState::Planned) {
        words += QStringLiteral("; ") + wordFor(cell.round->state);
    }
    return words;
}

void ComingDaysGrid::choose(const CellAt &at)
{
    if (m_chosen == at) {
        return;
    }
    m_chosen = at;
    setAccessibleDescription(at.isValid() ? wordsFor(at) : QString());
    update();
    if (at.isValid()) {
        Q_EMIT cellChosen(at);
    }
}

void ComingDaysGrid::setLanding(const CellAt &at)
{
    if (m_landing != at) {
        m_landing = at;
        update();
    }
}

bool ComingDaysGrid::event(QEvent *event)
{
    if (event->type() == QEvent::ToolTip) {
        const auto *help = static_cast<QHelpEvent *>(event);
        const CellAt at = cellAt(help->pos());
        QString words = at.isValid() ? wordsFor(at) : QString();
        if (const int stop = stopAt(at, help->pos()); stop >= 0) {
            const PlannedStop &planned = m_desk.cell(at).plan.stops[static_cast<size_t>(stop)];
            const Valve *valve = m_session.valve(planned.valve);
            words =
                tr("Stop %1, valve %2: arrive %3")
                    .arg(stop + 1)
                    .arg(valve != nullptr ? valve->number : QString(), timeText(planned.arrive));
        }
        QToolTip::showText(help->globalPos(), plainToolTip(words), this);
        return true;
    }
    return QWidget::event(event);
}

void ComingDaysGrid::mousePressEvent(QMouseEvent *event)
{
    const CellAt at = cellAt(event->position());
    if (event->button() != Qt::LeftButton || !at.isValid()) {
        return;
    }
    const int stop = stopAt(at, event->position());
    const DayCell &cell = m_desk.cell(at);
    m_taken = stop >= 0 && cell.canChange() ? cell.plan.stops[static_cast<size_t>(stop)].valve
                                            : ValveId{};
    m_pressedAt = event->position();
    m_dragging = false;
    if (at == m_chosen) {
        Q_EMIT cellChosen(at); // something else may lie on the desk by now
    } else {
        choose(at);
    }
}

void ComingDaysGrid::mouseMoveEvent(QMouseEvent *event)
{
    const CellAt at = cellAt(event->position());
    setCursor(m_dragging                           ? Qt::ClosedHandCursor
              : stopAt(at, event->position()) >= 0 ? Qt::OpenHandCursor
                                                   : Qt::ArrowCursor);
    if (m_taken.isNull() || !(event->buttons() & Qt::LeftButton)) {
        return;
    }
    m_dragAt = event->position();
    m_dragging = m_dragging ||
                 (m_dragAt - m_pressedAt).manhattanLength() >= QApplication::startDragDistance();
    if (m_dragging) {
        setLanding(at);
        update();
    }
}

void ComingDaysGrid::mouseReleaseEvent(QMouseEvent *event)
{
    const ValveId taken = std::exchange(m_taken, {});
    const bool isMoved = std::exchange(m_dragging, false);
    const CellAt at = cellAt(event->position());
    setLanding({});
    update();
    if (isMoved && !taken.isNull() && at.isValid()) {
        Q_EMIT stopMoved(taken, at);
    }
}

void ComingDaysGrid::mouseDoubleClickEvent(QMouseEvent *event)
{
    if (const CellAt at = cellAt(event->position()); at.isValid()) {
        Q_EMIT cellOpened(at);
    }
}

void ComingDaysGrid::keyPressEvent(QKeyEvent *event)
{
    CellAt to = m_chosen.isValid() ? m_chosen : CellAt{0, 0};
    switch (event->key()) {
    case Qt::Key_Left:
        --to.day;
        break;
    case Qt::Key_Right:
        ++to.day;
        break;
    case Qt::Key_Up:
        --to.crew;
        break;
    case Qt::Key_Down:
        ++to.crew;
        break;
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (m_chosen.isValid()) {
            Q_EMIT cellOpened(m_chosen);
        }
        return;
    case Qt::Key_Escape:
        if (m_dragging) {
            m_dragging = false;
            m_taken = {};
            setLanding({});
            update();
            return;
        }
        QWidget::keyPressEvent(event);
        return;
    default:
        QWidget::keyPressEvent(event);
        return;
    }
    if (event->modifiers() == Qt::NoModifier && to.isValid() && to.crew < m_desk.crews().size() &&
        to.day < m_desk.dates().size()) {
        choose(to);
    }
}

void ComingDaysGrid::focusInEvent(QFocusEvent *event)
{
    QWidget::focusInEvent(event);
    if (!m_chosen.isValid() && !m_desk.crews().isEmpty() && !m_desk.dates().isEmpty() &&
        event->reason() != Qt::MouseFocusReason) {
        choose({0, 0});
    }
    update();
}

void ComingDaysGrid::focusOutEvent(QFocusEvent *event)
{
    QWidget::focusOutEvent(event);
    update();
}

} // namespace keyround
