// SPDX-License-Identifier: GPL-3.0-or-later
// The count of the stop that is open. The step that counts and the counting window of a second
// person both hand their taps to it, so that there is one count, whoever makes it and whatever else
// the screen shows.
#pragma once

#include "app/truck/steps/step.h"

#include <QObject>

namespace keyround {

class TurnCounter final : public QObject
{
    Q_OBJECT
public:
    explicit TurnCounter(StopDesk &desk, QObject *parent = nullptr) : QObject(parent), m_desk(desk)
    {
    }

    /// Counting is on while a stop is open.
    void setOpen(bool open);
    [[nodiscard]] bool isOpen() const { return m_open; }

    void count(QuarterTurns tapped);
    void takeBack();
    void turnTo(PassDirection direction);

Q_SIGNALS:
    void counted();       ///< the pass under count has another number
    void passesChanged(); ///< a pass was begun or turned round
    void openChanged();

private:
    StopDesk &m_desk;
    bool m_open = false;
};

} // namespace keyround
