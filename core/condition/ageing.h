// SPDX-License-Identifier: GPL-3.0-or-later
// Which kind fails, and at what age? Turnbull's curve of how long valves hold, for like valves
// together (survival.h has the estimator and its sources).
//
// What fails here is the valve itself: it no longer turns, or no longer shuts. A box that is buried
// or full says nothing of the valve's age, and such visits are looked past. A time to failure is
// known only to lie between the last visit that turned the valve and found it holding and the first
// that found it failed. The first failure of a life counts; what a repair makes of a valve is not
// known, and the years after one are left out. A valve that was replaced starts a life anew.
//
// Ages are years from the middle of the install year (to half a year), or from the day of
// replacement. They are rounded to quarters (to years from 1,000 lives on): an install year is not
// known finer, and many valves can be told of at once. Type and size are those of the valve in the
// ground, for its place's former lives too.
//
// What happened before the record is not known: an old valve may have failed and been mended, so
// that it holds today says little of the years before. Such a valve comes under watch with the
// first visit that found it holding (left truncation); one that was found failed at its first look
// tells nothing of when. A valve put in since the record began is under watch from its first day:
// bad at its first visit, it failed between 0 and then. Repairs are taken to change nothing of a
// valve's age; after a hidden one it is younger than it looks, and the curve a little too good.
#pragma once

#include "core/condition/history.h"
#include "core/condition/survival.h"
#include "core/inventory/size_class.h"

namespace keyround {

enum class AgeingBy { All, Type, SizeClass, Size, TypeAndSize, InstallDecade };
/// "type and size".
[[nodiscard]] QString wordFor(AgeingBy by);

/// One life of one valve.
struct LifeSeen
{
    ValveId valve;
    FailureInterval years; ///< count is 1
    VisitId held;          ///< the last visit that found it holding; null: none
    VisitId failed;        ///< the visit that found it failed; null: it holds
    bool isCurrent = true; ///< still in the ground
};
/// The lives of one valve that say something, oldest first: none where no time between two visits
/// tells of it, or the install year is not known.
[[nodiscard]] std::vector<LifeSeen> livesSeen(const Valve &valve, const ValveHistory &history,
                                              const QDate &recordBegan);
/// From which day a life's age counts; null where that is not known.
[[nodiscard]] QDate ageBegins(const ValveLife &life);
/// Only a visit that turned the valve says that it holds.
[[nodiscard]] bool provedToHold(const ReadVisit &read);
/// The day of the first visit of all; null when there is none.
[[nodiscard]] QDate recordBegan(const Histories &histories);

struct RiskNumber
{
    double years = 0;
    int atRisk = 0; ///< lives certainly under watch and holding just before
};

/// Where the true share that holds lies: 95 %, pointwise. Between two points the share falls
/// somewhere from one to the next.
struct BandPoint
{
    double years = 0;
    Interval holds;
};

/// By which age half of the valves are out: the middle of the curve's own box, and from where to
/// where it may lie, by the band where there is one. `couldBe.to` is infinite where the band never
/// falls so far.
struct OutBy
{
    double years = 0;
    Interval couldBe;
};

struct AgeingGroup
{
    QString name; ///< "8 in gate valves"
    std::optional<ValveType> type;
    std::optional<NominalSize> size;
    std::optional<SizeClass> sizeClass;
    std::optional<int> decade; ///< 1970
    std::vector<LifeSeen> lives;
    int failed = 0;  ///< lives that ended in a failure
    int leftOut = 0; ///< valves of the group that say nothing
    bool isTooFew = false;
    std::optional<HoldingCurve> curve; ///< in years; empty when too few
    std::vector<BandPoint> band;       ///< empty when too few
    std::vector<RiskNumber> atRisk;    ///< every ten years
    /// Kaplan and Meier's, where every failure's time is exact (interval of a month or less);
    /// empty otherwise, because the date of finding is not the date of failing.
    std::vector<ExactStep> exact;
    /// The curve is of valves that hold at this age: before it, fewer than fewestLives were under
    /// watch. 0 where enough were watched from their first day.
    double fromYears = 0;
    double lastYears = 0; ///< the oldest age under watch
    /// The valves that the curve and the reading are made of: those under watch from fromYears on.
    int counted = 0;
    int countedFailed = 0;
    std::optional<OutBy> half; ///< empty: no curve, or it never falls to a half
    /// "Of 8 in gate valves, half are out by about 33 years (could be 31 to 36). 41 valves, 12
    /// failed; few that old, so this is rough." Or why there is no curve.
    QString reading;
};

struct Ageing
{
    AgeingBy by = AgeingBy::All;
    std::vector<AgeingGroup> groups; ///< most valves first; decades by year
    int valves = 0;
    int leftOut = 0;
    QString sentence;
    QString caution; ///< what the figure does not know
};

/// Fewer lives, or fewer failures, than these: no curve (a rule of thumb of ours: below it one
/// valve more or less moves the curve by more than a tenth).
inline constexpr int fewestLives = 20;
inline constexpr int fewestFailures = 5;

struct AgeingOptions
{
    int fewestLives = keyround::fewestLives;
    int fewestFailures = keyround::fewestFailures;
};
/// Retired valves are left out: nobody wrote down when they left the ground.
[[nodiscard]] Ageing ageingOf(const std::vector<Valve> &valves, const Histories &histories,
                              AgeingBy by, UnitSystem units, const AgeingOptions &options = {});

/// The band alone, at the end of each step: variances from the inverse of the observed information
/// of the steps that have mass (Turnbull 1976, from memory), and limits by the log-log transform,
/// which keeps them within 0 and 1. It holds where visits fall on a grid of times that is coarse
/// against the number of lives; the test counts how often it covers the truth. Empty where the
/// information cannot be inverted.
[[nodiscard]] std::vector<BandPoint> holdingBand(const std::vector<FailureInterval> &times,
                                                 const HoldingCurve &curve);

/// The times of those under watch from the first entry on at which at least so many are: with
/// fewer, one early failure would throw the whole curve down. Who entered before enters then.
/// Without times where so many never are.
struct EnoughWatched
{
    double from = 0;
    std::vector<FailureInterval> times;
};
[[nodiscard]] EnoughWatched fromEnoughWatched(const std::vector<FailureInterval> &times,
                                              int fewest);

/// Intervals rounded to a grid of so many a year, at least one step long; equal ones counted
/// together.
[[nodiscard]] std::vector<FailureInterval> onGrid(const std::vector<FailureInterval> &times,
                                                  int aYear);

/// All times of a group, on the grid that its curve is made on.
[[nodiscard]] std::vector<FailureInterval> timesOf(const AgeingGroup &group);

} // namespace keyround
