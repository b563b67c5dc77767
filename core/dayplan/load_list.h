// SPDX-License-Identifier: GPL-3.0-or-later
// What the truck must carry for a round: for each thing how much, and which stops need it. Cones,
// signs and paddles are picked up at every stop and carried on, so the stop that needs most
// decides; lids, sheets and notices stay behind, and are added up.
#pragma once

#include "core/dayplan/round.h"
#include "core/fieldlog/visit.h"
#include "core/inventory/valve.h"
#include "core/workzone/set_up.h"

#include <optional>
#include <vector>

namespace keyround {

/// What the list needs to know of one stop.
struct LoadStop
{
    Valve valve;
    std::optional<SetUp> setUp;  ///< empty: not worked out yet, and the list says so
    QList<Problem> openProblems; ///< of its last visit
    int notices = 0;             ///< to hang on doors before it is shut
};

enum class LoadKind {
    Cones,
    Sign,
    FlaggerPaddles,
    People,
    Key,
    Nut,
    GearedTools,
    Lids,
    BoxTools,
    Sheets,
    Notices,
    NotWorkedOut,
};

struct LoadLine
{
    LoadKind kind = LoadKind::Cones;
    QString what;               ///< "Cones", "Sign: ROAD WORK AHEAD", "Key for a nut 6 ft deep"
    QString amount;             ///< "11", "9 ft"; empty where there is nothing to count
    std::vector<ValveId> stops; ///< that need it, in the round's order
    /// The stops that decide the amount, where not all of them do.
    std::vector<ValveId> deciding;
};

struct LoadHabits
{
    /// How far the key's handle stands above the lid, added to the deepest nut (common practice,
    /// no source).
    Metres keyAboveLid{0.9};
    int spareCones = 2; ///< for those that are run over (common practice, no source)
    int sheetsAStop = 1;
    friend bool operator==(const LoadHabits &, const LoadHabits &) = default;
};

/// In the order of loading; lines that nothing needs are left away.
[[nodiscard]] std::vector<LoadLine> loadList(const std::vector<LoadStop> &stops, UnitSystem units,
                                             const LoadHabits &habits = {});

} // namespace keyround
