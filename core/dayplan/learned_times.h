// SPDX-License-Identifier: GPL-3.0-or-later
// What the utility's own finished rounds say of the time that things take: minutes a stop by valve
// type, size class and class of street (which decides the set-up), seconds a turn, and how driving
// compares with the streets' speeds by class of street and hour. Medians, so that one lunch break
// at a stop does not count; each with the number of visits behind it. Until there are enough, the
// settings' defaults hold; a person may put a figure of their own in place of any.
#pragma once

#include "core/dayplan/round.h"
#include "core/fieldlog/visit.h"
#include "core/inventory/size_class.h"
#include "core/inventory/valve.h"
#include "core/streets/drive_graph.h"

#include <optional>
#include <vector>

namespace keyround {

/// Kinds of stops that take alike. As the key of a figure, Unknown stands for any: the chain of
/// figures goes from type, size and street to type and size, then to the size alone; stops whose
/// size is not known share the figure of all stops.
struct StopKind
{
    ValveType type = ValveType::Unknown;
    SizeClass size = SizeClass::Unknown;
    StreetClass street = StreetClass::Unknown;
    friend bool operator==(const StopKind &, const StopKind &) = default;
};
/// "gate, up to 8 in, residential", "any type, from 16 in", "all stops".
[[nodiscard]] QString wordsFor(const StopKind &kind);
/// The kind itself, then the coarser ones whose figures stand in for it, without repeats.
[[nodiscard]] std::vector<StopKind> kindAndCoarser(const StopKind &kind);

/// One figure: what was learned, from how many, and what a person set instead.
struct LearnedFigure
{
    std::optional<double> learned; ///< median; empty: fewer than `enough`
    int from = 0;                  ///< how many observations are behind it
    double lowerQuartile = 0;
    double upperQuartile = 0;
    std::optional<double> set; ///< by a person; goes before what was learned
    /// The figure to plan with.
    [[nodiscard]] double valueOr(double usual) const
    {
        return set ? *set : learned.value_or(usual);
    }
    friend bool operator==(const LearnedFigure &, const LearnedFigure &) = default;
};

struct LearnedTimes
{
    struct Minutes
    {
        StopKind kind;
        LearnedFigure minutes; ///< on site, without turning
        friend bool operator==(const Minutes &, const Minutes &) = default;
    };
    struct Driving
    {
        StreetClass street = StreetClass::Unknown;
        int hour = -1;        ///< 0 to 23, by the leg's begin; -1: all hours
        LearnedFigure factor; ///< driven seconds / the streets' own
        friend bool operator==(const Driving &, const Driving &) = default;
    };
    std::vector<Minutes> stops;
    LearnedFigure secondsPerTurn;
    std::vector<Driving> driving;
    friend bool operator==(const LearnedTimes &, const LearnedTimes &) = default;
};

/// A figure from fewer observations than this stays at its default.
inline constexpr int enoughObservations = 8;

/// One visit of a finished round with what is known around it.
struct TimedVisit
{
    StopKind kind;
    double onSiteMinutes = 0;  ///< arrival to departure
    double turns = 0;          ///< of all passes together
    double turningMinutes = 0; ///< 0: not known (the passes have no times)
    /// The drive to it from the stop before, as it was and as the streets' speeds have it; both
    /// without the seconds of turning, for a factor is of the speed.
    std::optional<double> droveSeconds;
    double streetSeconds = 0;
    StreetClass mostly = StreetClass::Unknown; ///< the class that most of the drive was on
    int hour = -1;                             ///< in which the drive began
};

/// A stop of more minutes, or a drive of more seconds, is a finish that was forgotten or a day that
/// broke off: no observation.
inline constexpr double longestBelievedMinutes = 8 * 60;
inline constexpr double longestBelievedDriveSeconds = 2 * 3600;
/// Shorter drives say more of parking than of the street.
inline constexpr double shortestToldDriveSeconds = 45;

/// Learns from visits; keeps what a person set in `before`. A figure that no visit stands behind
/// any more stays only when a person set it.
///
/// Seconds a turn: the median of turning time over turns where passes have times; else the slope
/// of minutes on site over turns, as the median of the slopes between pairs of visits of one kind,
/// each weighted by how many turns the two lie apart (Theil 1950, Sen 1968; the weights: Sievers
/// 1978; sources from memory). Minutes: on site, less the turning at that speed. At fewer than
/// enoughObservations no figure is learned; the count is given all the same.
///
/// A quartile or median is the value, or the mean of the two values, in the middle (type 2 of
/// Hyndman and Fan 1996, from memory).
[[nodiscard]] LearnedTimes learnTimes(const std::vector<TimedVisit> &visits,
                                      const LearnedTimes &before,
                                      double usualSecondsPerTurn = StopTimes{}.secondsPerTurn);

/// The most particular figure that was learned or set for a kind of stop; null where none was.
[[nodiscard]] const LearnedTimes::Minutes *figureFor(const LearnedTimes &times,
                                                     const StopKind &kind);
/// The same for driving: class and hour, then class, then all streets. Hour -1: all hours.
[[nodiscard]] const LearnedTimes::Driving *drivingFigureFor(const LearnedTimes &times,
                                                            StreetClass street, int hour);
/// Factors for the drive graph, one for each class over all its hours: a class that is not driven
/// enough takes the figure of all streets, and 1 where there is none either.
[[nodiscard]] ClassFactors classFactors(const LearnedTimes &times);

} // namespace keyround
