// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/wait_shown.h"

#include "app/dialogs/input_events.h"

#include <QApplication>
#include <QCoreApplication>
#include <QEvent>
#include <QWidget>
#include <QWindow>

namespace keyround {

namespace {

constexpr qint64 unnoticed = 300; ///< milliseconds in which nobody clicks again

/// Drops what the window is told of mouse, keys and touch.
class InputDropper final : public QObject
{
public:
    explicit InputDropper(const QWindow *window) : m_window(window) {}

    bool eventFilter(QObject *watched, QEvent *event) override
    {
        return watched == m_window && isInput(event->type());
    }

private:
    const QWindow *m_window;
};

} // namespace

WaitShown::WaitShown(QWidget *widget) : m_window(widget->window())
{
    QApplication::setOverrideCursor(Qt::WaitCursor);
    m_timer.start();
}

WaitShown::~WaitShown()
{
    if (m_timer.elapsed() >= unnoticed && m_window->windowHandle() != nullptr) {
        InputDropper dropper(m_window->windowHandle());
        QCoreApplication::instance()->installEventFilter(&dropper);
        QCoreApplication::processEvents(QEventLoop::ExcludeSocketNotifiers);
    }
    QApplication::restoreOverrideCursor();
}

} // namespace keyround
