// SPDX-License-Identifier: GPL-3.0-or-later
// A valve was dug out and another put in its place. The place keeps its number and its id; the
// valve in it is a new one, with a life of its own: what the old one's visits said says nothing of
// it. Written once and never changed; one written by mistake is taken back by another row.
#pragma once

#include "core/common/clock.h"
#include "core/common/ids.h"
#include "core/inventory/valve.h"

#include <vector>

namespace keyround {

using ReplacementId = Id<struct ReplacementTag>;

struct Replacement
{
    ReplacementId id;
    ValveId valve;
    QDate on;
    /// The clock of that day when the new valve was in, where it is known. Visits of that day from
    /// then on are the new valve's; without it all of that day are the old one's, so that the new
    /// one waits for a visit of its own: the safe side.
    QTime time;
    // What the old valve was: its visits are judged by this, not by what is there now.
    std::optional<int> oldInstallYear;
    std::optional<QuarterTurns> oldListedTurns;
    NominalSize oldSize;
    ValveType oldType = ValveType::Unknown;
    QString words;        ///< what was done
    ReplacementId undoes; ///< not null: this row only takes back that one
    Moment at;            ///< when it was written down
    QString person;
    QString device;
    HybridTime stamp;
    friend bool operator==(const Replacement &, const Replacement &) = default;
};

/// The replacements that stand, by day: without those that were taken back. Two of one valve on
/// one day are one (two laptops wrote it down): the later stamp counts. Does not depend on the
/// order in which rows are handed in.
[[nodiscard]] std::vector<Replacement> standingReplacements(std::vector<Replacement> all);

} // namespace keyround
