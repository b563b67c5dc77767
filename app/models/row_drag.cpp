// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/row_drag.h"

#include <QAbstractItemModel>
#include <QApplication>
#include <QItemSelectionModel>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QRubberBand>
#include <QTableView>

#include <utility>

namespace keyround {

RowDrag::RowDrag(QTableView *view)
    : QObject(view), m_view(view), m_line(new QRubberBand(QRubberBand::Line, view->viewport()))
{
    m_line->hide();
    view->viewport()->installEventFilter(this);
    view->installEventFilter(this);
}

bool RowDrag::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_view) {
        const bool isEscape = event->type() == QEvent::KeyPress && m_dragging &&
                              static_cast<QKeyEvent *>(event)->key() == Qt::Key_Escape;
        if (isEscape) {
            stop();
            Q_EMIT putBack();
        }
        return isEscape;
    }
    const auto *mouse = static_cast<QMouseEvent *>(event);
    switch (event->type()) {
    case QEvent::MouseButtonPress:
        return press(*mouse);
    case QEvent::MouseMove:
        if (m_row >= 0 && (mouse->buttons() & Qt::LeftButton)) {
            move(mouse->position().toPoint());
            return true; // else the table would choose every row that is passed
        }
        return false;
    case QEvent::MouseButtonRelease:
        if (m_dragging) {
            release(mouse->position().toPoint());
            return true;
        }
        if (std::exchange(m_pressKept, false) && m_row >= 0) {
            m_view->selectRow(m_row); // it was a click after all
        }
        m_row = -1;
        return false;
    default:
        return false;
    }
}

bool RowDrag::press(const QMouseEvent &mouse)
{
    m_pressedAt = mouse.position().toPoint();
    // Ctrl and Shift choose rows; what is pressed without them can be taken along.
    m_row = mouse.button() == Qt::LeftButton && mouse.modifiers() == Qt::NoModifier
                ? m_view->rowAt(m_pressedAt.y())
                : -1;
    const QItemSelectionModel *selection = m_view->selectionModel();
    m_pressKept =
        m_row >= 0 && selection->selectedRows().size() > 1 && selection->isRowSelected(m_row, {});
    if (m_pressKept) {
        m_view->setFocus(Qt::MouseFocusReason);
    }
    return m_pressKept;
}

int RowDrag::rowBelow(const QPoint &at) const
{
    const int row = m_view->rowAt(at.y());
    if (row < 0) {
        return at.y() < 0 ? 0 : m_view->model()->rowCount();
    }
    const int middle = m_view->rowViewportPosition(row) + m_view->rowHeight(row) / 2;
    return at.y() < middle ? row : row + 1;
}

void RowDrag::move(const QPoint &at)
{
    m_dragging =
        m_dragging || (at - m_pressedAt).manhattanLength() >= QApplication::startDragDistance();
    if (!m_dragging) {
        return;
    }
    const QRect inside = m_view->viewport()->rect();
    if (!inside.contains(at)) {
        m_line->hide();
        Q_EMIT heldOver(m_row, m_view->viewport()->mapToGlobal(at));
        return;
    }
    const int before = rowBelow(at);
    const int y = before < m_view->model()->rowCount()
                      ? m_view->rowViewportPosition(before)
                      : m_view->rowViewportPosition(before - 1) + m_view->rowHeight(before - 1);
    m_line->setGeometry(0, y - 2, inside.width(), 4);
    m_line->show();
}

void RowDrag::release(const QPoint &at)
{
    const int row = m_row;
    const bool isInside = m_view->viewport()->rect().contains(at);
    const int before = isInside ? rowBelow(at) : -1;
    stop();
    if (isInside) {
        Q_EMIT letGoBetween(row, before);
    } else {
        Q_EMIT letGoOutside(row, m_view->viewport()->mapToGlobal(at));
    }
}

void RowDrag::stop()
{
    m_dragging = false;
    m_pressKept = false;
    m_row = -1;
    m_line->hide();
}

} // namespace keyround
