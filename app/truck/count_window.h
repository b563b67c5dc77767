// SPDX-License-Identifier: GPL-3.0-or-later
// A window of its own for the second person: the counting pad of the stop that is open, while the
// main window shows another step or another place. While it stands open F8 counts a turn and F7
// takes one back wherever the keyboard is.
#pragma once

#include "app/truck/turn_counter.h"

#include <QWidget>

class QLabel;

namespace keyround {

class CountPad;

class CountWindow final : public QWidget
{
    Q_OBJECT
public:
    CountWindow(StopDesk &desk, TurnCounter &counter, QWidget *owner);
    ~CountWindow() override;

    void open();
    void showForm();

protected:
    void keyPressEvent(QKeyEvent *event) override;
    bool eventFilter(QObject *watched, QEvent *event) override;
    void hideEvent(QHideEvent *event) override;

private:
    StopDesk &m_desk;
    TurnCounter &m_counter;
    QLabel *m_title;
    QLabel *m_hint;
    CountPad *m_pad;
};

} // namespace keyround
