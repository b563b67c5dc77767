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

/// Several rounds at once, in one step: all are stored or none. `before` empty: made; `after`
/// empty: taken away (only a planned one without records).
class ChangeRounds final : public Command
{
public:
    struct Change
    {
        std::optional<Round> before;
        std::optional<Round> after;
    };
    ChangeRounds(Session &session, std::vector<Change> changes, const QString &text);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    std::vector<Change> m_changes;
};

/// Marks a round's day as told to crew and customers, or takes that back. Can be undone.
[[nodiscard]] Status setTold(Session &session, const RoundId &id, bool isTold);

/// What a stop of this valve needs on a round's day: place, minutes on site as learned or by the
/// settings, priority, the hours of its street, the skills that the round's crew lacks, and whether
/// the round must go there.
[[nodiscard]] StopCandidate candidateFor(Session &session, const Valve &valve, const Round &round);

/// The round's stops with what each needs, in the order of driving: values, also for workers.
[[nodiscard]] std::vector<StopCandidate> stopsOf(Session &session, const Round &round);

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
