// SPDX-License-Identifier: GPL-3.0-or-later
// The round worked out: seconds between its places, the order of stops, when the crew arrives and
// leaves, what fits the shift and what is left out, with the reason.
#pragma once

#include "core/common/progress.h"
#include "core/common/result.h"
#include "core/dayplan/round.h"
#include "core/dayplan/stop_minutes.h"
#include "core/fieldlog/judgement.h"
#include "core/inventory/valve.h"
#include "core/routing/matrix.h"
#include "core/streets/drive_graph.h"
#include "core/workzone/busy_hours.h"

#include <memory>
#include <vector>

namespace keyround {

enum class TravelKind { Streets, Estimate };
[[nodiscard]] QString wordFor(TravelKind kind); ///< "streets", "estimate": JSON and screen

/// How the seconds between places come about.
struct TravelSettings
{
    double detourFactor = 1.4;            ///< straight line to driven metres, without streets
    double estimateMetresPerSecond = 9.0; ///< about 20 mph (common practice, no source)
    double snapMetres = 500.0;
};

/// Answers "how long from here to there" for a set of places, over streets where there are any.
/// Where one place cannot be snapped, the legs to and from it alone are estimated and it is named.
struct TravelTable
{
    TravelKind kind = TravelKind::Estimate;
    Matrix seconds;
    Matrix metres;
    std::vector<std::size_t> offStreet; ///< places farther than snapMetres from every street
};
[[nodiscard]] TravelTable travelTable(const DriveGraph &graph, const std::vector<GeoPoint> &places,
                                      const TravelSettings &settings);
/// The line driven between two places: along the streets, or straight for an estimate.
[[nodiscard]] GeoLine legLine(const DriveGraph &graph, const GeoPoint &from, const GeoPoint &to,
                              const TravelSettings &settings);

/// A valve that may become a stop: what the plan needs of it.
struct StopCandidate
{
    ValveId valve;
    QString number;
    GeoPoint place;
    double minutes = 0;  ///< on site
    double priority = 0; ///< what the day earns by it; below 0 counts as 0
    bool mustGo = false;
    WorkHours hours = {};    ///< of its street on the round's day; see workHours()
    QStringList skills = {}; ///< that its crew needs
    /// Those of them that the round's crew lacks, see missingSkills(). planComingDays() works them
    /// out itself and does not read this.
    QStringList lacking = {};
    /// Why it cannot be planned yet, in words that say what would let it in ("notice not given");
    /// empty: nothing holds it.
    QString heldBy = {};
    QDate notBefore = {}; ///< null: any day
    QDate dueOn = {};     ///< null: no date; earlier ones go on earlier days
};

struct PlannedStop
{
    ValveId valve;
    QTime arrive;
    QTime leave;             ///< drives on: after the breaks that are taken here
    double driveSeconds = 0; ///< from the place before
    double driveMetres = 0;
    double stopMinutes = 0;
    /// Of the work, which ends stopMinutes later: after waiting for the street's hours.
    QTime begin = {};
    double waitSeconds = 0;   ///< from arriving to beginning
    QString missesHours = {}; ///< why its work lies in busy hours all the same; empty: it does not
};

struct PlannedBreak
{
    QTime from;
    double minutes = 0;
    int afterStop = -1;  ///< index of the stop before it; -1: before the first
    bool isLate = false; ///< no stop ended in time for it
};

struct LeftOut
{
    ValveId valve;
    QString reason;
};

struct DayPlan
{
    TravelKind travel = TravelKind::Estimate;
    std::vector<PlannedStop> stops;
    double returnSeconds = 0;
    double returnMetres = 0;
    double driveSeconds = 0; ///< all legs, the return among them
    double driveMetres = 0;
    /// No order of these stops drives less (what is held and pinned counts); 0: not worked out.
    double leastDriveSeconds = 0;
    double waitSeconds = 0; ///< for the streets' hours and for breaks to begin
    double priority = 0;    ///< the sum of the stops' priorities, those below 0 as 0
    std::vector<PlannedBreak> breaks;
    QTime finish;
    bool overrunsShift = false;
    std::vector<LeftOut> leftOut;
    QStringList notes; ///< what the planner should know: stops off the streets, no way, and so on
};

/// Chooses and orders. The day holds the stops that must go (the candidates' mustGo, the round's
/// mustGo, and its stops that are held or pinned), whatever that costs: what they overrun or miss
/// is said. With them it earns the most priority found that the shift, the breaks and the streets'
/// hours allow, a little for every stop (worthOfAnyStop in day_clock.h), and ends early. All others
/// are left out with the reason and what would let them in. What the round holds by hand of its
/// order is kept; give its stops as candidates too, or they are passed over.
[[nodiscard]] Result<DayPlan> planDay(const DriveGraph &graph, const Round &day,
                                      const std::vector<StopCandidate> &candidates,
                                      const TravelSettings &settings,
                                      const Progress &progress = {});

/// Works out the times of a round whose stops are given. Keeps their order, or finds the best
/// order of them when reorder is set, keeping what is held by hand. Leaves nothing out: a day too
/// long, missed hours and late breaks are said, not cut.
[[nodiscard]] Result<DayPlan> timeRound(const DriveGraph &graph, const Round &day,
                                        const std::vector<StopCandidate> &stops, bool reorder,
                                        const TravelSettings &settings);

} // namespace keyround
