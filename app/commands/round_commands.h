// SPDX-License-Identifier: GPL-3.0-or-later
// Changes to rounds. Making, changing and ordering a round can be undone in the Yard; what the
// Truck records cannot (a visit is corrected, never taken back).
#pragma once

#include "app/commands/command.h"
#include "core/dayplan/plan.h"

namespace keyround {

/// Stores a round as it should be; serves making one (before is empty) and every later change of
/// its stops, order, date, crew, shift or places.
class ChangeRound final : public Command
{
public:
    ChangeRound(Session &session, std::optional<Round> before, Round after, const QString &text);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    std::optional<Round> m_before;
    Round m_after;
};

/// What the settings say a stop of this valve needs: place, minutes on site, priority.
[[nodiscard]] StopCandidate candidateFor(Session &session, const Valve &valve);

struct DrawnUpRound
{
    Round round; ///< with an id and the plan's stops in order
    DayPlan plan;
};
/// Draws up a day from the due list, or from the given valves. Stores nothing.
[[nodiscard]] Result<DrawnUpRound> drawUpRound(Session &session, Round day,
                                               const std::vector<ValveId> &only,
                                               const Progress &progress = {});
/// Times of a round as it stands, or in the best order of its stops.
[[nodiscard]] Result<DayPlan> timesOf(Session &session, const Round &round, bool reorder = false);

} // namespace keyround
