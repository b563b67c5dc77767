// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/turn_counter.h"

namespace keyround {

void TurnCounter::setOpen(bool open)
{
    m_open = open;
    Q_EMIT openChanged();
}

void TurnCounter::count(QuarterTurns tapped)
{
    if (m_open) {
        countTurns(m_desk.form, tapped, m_desk.session.now());
        Q_EMIT counted();
    }
}

void TurnCounter::takeBack()
{
    if (m_open) {
        takeOneBack(m_desk.form);
        Q_EMIT counted();
    }
}

void TurnCounter::turnTo(PassDirection direction)
{
    if (m_open) {
        beginPass(m_desk.form, direction);
        Q_EMIT passesChanged();
    }
}

} // namespace keyround
