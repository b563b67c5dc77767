// SPDX-License-Identifier: GPL-3.0-or-later
// Says that something is being worked out that takes a moment (up to about a second; what takes
// longer shows its progress: work_bar.h), while it is in scope: the waiting cursor. What somebody
// clicked or typed into the window meanwhile, unseen, is dropped, so that nothing happens twice.
#pragma once

#include <QElapsedTimer>

class QWidget;

namespace keyround {

class WaitShown final
{
public:
    explicit WaitShown(QWidget *widget);
    ~WaitShown();
    WaitShown(const WaitShown &) = delete;
    WaitShown &operator=(const WaitShown &) = delete;

private:
    QWidget *m_window;
    QElapsedTimer m_timer;
};

} // namespace keyround
