// SPDX-License-Identifier: GPL-3.0-or-later
// Condition over time: how many valves stood in each condition at the end of each period, and
// which went out of condition when.
#pragma once

#include "core/condition/history.h"

#include <array>
#include <optional>
#include <vector>

namespace keyround {

enum class PeriodLength { Month, Quarter, Year };

struct Span
{
    QDate from;
    QDate to; ///< inclusive
};

inline constexpr size_t conditionCount = 6;

struct PeriodCounts
{
    QString period; ///< "2024-05", "2024-Q2", "2024"
    QDate end;      ///< the last day counted (the span's end in a period cut short)
    std::array<int, conditionCount> counts{}; ///< by Condition's order
    [[nodiscard]] int of(Condition condition) const
    {
        return counts[static_cast<size_t>(condition)];
    }
};

struct ConditionChange
{
    ValveId valve;
    VisitId visit; ///< the visit that showed it
    QDate date;
    Condition from = Condition::NeverVisited;
    Condition to = Condition::NeverVisited;
};

/// Which valves a figure is about; an empty list means all of them.
struct ValveFilter
{
    QStringList zones;
    QList<NominalSize> sizes;
    QList<ValveType> types;
    QStringList surfaces = {}; ///< of the street, in the utility's own words, in any case
    QList<ValveRole> roles = {};
    /// Install years, both inclusive. A valve whose year is not known is taken only without them.
    std::optional<int> installedFrom = {};
    std::optional<int> installedTo = {};
    [[nodiscard]] bool takes(const Valve &valve) const;
    /// "zone High; 8 in; gate; asphalt; main line; installed 1960 to 1979". Empty when it takes
    /// all.
    [[nodiscard]] QString words(UnitSystem units) const;
    [[nodiscard]] bool takesAll() const { return *this == ValveFilter{}; }
    friend bool operator==(const ValveFilter &, const ValveFilter &) = default;
};

/// Counts at the end of each period; retired valves are left out, of wentOut() too, because nobody
/// wrote down when they left the ground. One pass over each valve's visits.
[[nodiscard]] std::vector<PeriodCounts> conditionSeries(const std::vector<Valve> &valves,
                                                        const Histories &histories,
                                                        const Span &span, PeriodLength length);
/// Valves whose condition went from holding (or not known) to out of condition within the span,
/// by date and then by valve number.
[[nodiscard]] std::vector<ConditionChange> wentOut(const std::vector<Valve> &valves,
                                                   const Histories &histories, const Span &span);
[[nodiscard]] std::vector<Valve> filtered(const std::vector<Valve> &valves,
                                          const ValveFilter &filter);
/// The last visit on or before a day; null when there is none.
[[nodiscard]] const ReadVisit *lastVisitBy(const ValveHistory &history, const QDate &day);
/// What was known of the valve at the end of a day: for a map over time.
[[nodiscard]] Condition conditionOn(const ValveHistory &history, const QDate &day);
/// The periods that a span touches: name and last day.
[[nodiscard]] std::vector<PeriodCounts> periodsIn(const Span &span, PeriodLength length);

} // namespace keyround
