// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong with a valve as far as its visits and shuts say: found, and not seen put right
// since. A later visit that could have seen a finding and does not name it ends it; one that did
// not get so far (a parked car, a look from above) leaves it.
#pragma once

#include "core/condition/history.h"
#include "core/fieldlog/shut_log.h"

namespace keyround {

/// A valve that was tried in a shut and did not hold.
struct HoldFailure
{
    ValveId valve;
    TickId tick;
    Moment at;
    QString words;
};
/// Of all shuts, ended ones too; what was taken back in the shut is left out. By time.
[[nodiscard]] std::vector<HoldFailure> holdFailures(const std::vector<ShutLog> &shuts);

struct StandingFinding
{
    QString key; ///< see repair_habits.h; a problem of the utility's own by its words
    QDate since;
    QDate last;
    std::vector<VisitId> visits; ///< that showed it, oldest first
    std::vector<TickId> ticks;
    QString words; ///< a shut's
    friend bool operator==(const StandingFinding &, const StandingFinding &) = default;
};

/// Of the valve in the ground: a replaced one begins without findings.
[[nodiscard]] std::vector<StandingFinding>
standingFindings(const ValveHistory &history, const std::vector<HoldFailure> &failures);

/// What a visit shows, as keys: its problems (but not a wrong position, which the visit put right),
/// and what its count says where no problem says so.
[[nodiscard]] QStringList findingsOf(const ReadVisit &read);

/// True when the visit would have named the finding if it were still so.
[[nodiscard]] bool couldHaveSeen(const ReadVisit &read, const QString &finding);

} // namespace keyround
