// SPDX-License-Identifier: GPL-3.0-or-later
// What was known of one valve as the days go by: its visits, and its being replaced, after which
// nothing is known until somebody has been there.
#pragma once

#include "core/condition/history.h"

namespace keyround {

class ConditionWalk
{
public:
    explicit ConditionWalk(const ValveHistory &history) : m_history(history) {}

    /// Takes the next visit or replacement that is not later than the day; false when there is
    /// none. What it was is in the members below.
    bool next(const QDate &day)
    {
        const auto &lives = m_history.lives;
        if (m_visit < lives[m_life].endVisit) {
            const ReadVisit &read = m_history.visits[m_visit];
            const QDate arrived = read.visit.arrived.localDate();
            if (arrived > day) {
                return false;
            }
            ++m_visit;
            return take(&read, arrived, read.after);
        }
        if (m_life + 1 < lives.size() && lives[m_life + 1].began <= day) {
            ++m_life;
            return take(nullptr, lives[m_life].began, Condition::NeverVisited);
        }
        return false;
    }

    [[nodiscard]] Condition now() const { return m_now; }
    [[nodiscard]] Condition before() const { return m_before; }
    [[nodiscard]] const QDate &date() const { return m_date; }
    /// Null for a replacement, and before the first next().
    [[nodiscard]] const ReadVisit *visit() const { return m_read; }

private:
    bool take(const ReadVisit *read, const QDate &date, Condition now)
    {
        m_before = m_now;
        m_read = read;
        m_date = date;
        m_now = now;
        return true;
    }

    const ValveHistory &m_history;
    std::size_t m_life = 0;
    std::size_t m_visit = 0;
    const ReadVisit *m_read = nullptr;
    QDate m_date;
    Condition m_before = Condition::NeverVisited;
    Condition m_now = Condition::NeverVisited;
};

} // namespace keyround
