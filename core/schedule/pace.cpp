// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/pace.h"

#include "core/condition/figure_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <unordered_set>

namespace keyround {

namespace {

constexpr double monthsAYear = 12.0;
constexpr double longestMinutes = 8.0 * 60.0; // a longer stop is a finish that was forgotten
constexpr std::size_t sizeClasses = 4;

/// A place that a valve was replaced in had one before: the valve's install year is the new one's,
/// and would rewrite the years before it.
bool isThere(const Valve &valve, const ValveHistory &history, int year)
{
    if (valve.retired) {
        return false;
    }
    if (history.wasReplaced()) {
        const QDate first = history.lives.front().installed;
        return first.isNull() || first.year() <= year;
    }
    return !valve.installYear || *valve.installYear <= year;
}

/// How many full cycles of one year count for a valve.
int mostCycles(double aYear)
{
    return std::max(1, wholeCycles(aYear));
}

using Visits = std::span<const ReadVisit>;

/// The visits from one day to another, both included.
Visits visitsBetween(const ValveHistory &history, const QDate &from, const QDate &to)
{
    const auto dateOf = [](const ReadVisit &read) { return read.visit.arrived.localDate(); };
    const auto first = std::ranges::lower_bound(history.visits, from, {}, dateOf);
    const auto last = std::ranges::upper_bound(first, history.visits.end(), to, {}, dateOf);
    return {first, last};
}

/// The days of the full cycles that count, oldest first.
template <typename Take> int takeCycles(Visits visits, int most, Take take)
{
    QDate last;
    int taken = 0;
    for (const ReadVisit &read : visits) {
        const QDate day = read.visit.arrived.localDate();
        if (read.fullCycle && day != last && taken < most) {
            last = day;
            ++taken;
            take(read, day);
        }
    }
    return taken;
}

class YearCounter
{
public:
    YearCounter(int year, const QDate &today)
    {
        m_year.year = year;
        const QDate end(year, 12, 31);
        m_year.until = std::min(end, today);
        m_year.isWhole = today >= end;
        m_year.all.name = QStringLiteral("all");
        for (int month = 1; month <= 12; ++month) {
            const QDate first(year, month, 1);
            if (first <= m_year.until) {
                m_year.months.push_back(
                    {std::min(first.addMonths(1).addDays(-1), m_year.until), 0, 0});
            }
        }
        for (std::size_t i = 0; i < sizeClasses; ++i) {
            const auto size = static_cast<SizeClass>(i);
            m_sizes[i].name =
                size == SizeClass::Unknown ? QStringLiteral("size not known") : wordFor(size);
        }
    }

    void add(const Valve &valve, const ValveHistory &history, double aYear)
    {
        if (!isThere(valve, history, m_year.year)) {
            return;
        }
        const Visits visits = visitsBetween(history, QDate(m_year.year, 1, 1), m_year.until);
        const int cycles =
            takeCycles(visits, mostCycles(aYear), [this](const ReadVisit &, const QDate &day) {
                ++monthOf(day).cycles;
                m_cycleDays.push_back(day);
            });
        if (!visits.empty()) {
            ++monthOf(visits.front().visit.arrived.localDate()).inspected;
        }
        PaceCounts &zone = m_zones[valve.zone];
        for (PaceCounts *counts :
             {&m_year.all, &m_sizes[static_cast<std::size_t>(sizeClassOf(valve.size))], &zone}) {
            ++counts->valves;
            counts->target += aYear;
            counts->inspected += visits.empty() ? 0 : 1;
            counts->cycles += cycles;
        }
        m_year.visits += static_cast<int>(visits.size());
        for (const ReadVisit &read : visits) {
            m_crewDays.insert(crewDay(read.visit));
        }
    }

    PaceYear finish()
    {
        for (std::size_t i = 1; i < m_year.months.size(); ++i) {
            m_year.months[i].inspected += m_year.months[i - 1].inspected;
            m_year.months[i].cycles += m_year.months[i - 1].cycles;
        }
        std::ranges::copy_if(m_sizes, std::back_inserter(m_year.bySize),
                             [](const PaceCounts &counts) { return counts.valves > 0; });
        for (auto &[name, counts] : m_zones) {
            counts.name = name.isEmpty() ? QStringLiteral("zone not known") : name;
            m_year.byZone.push_back(counts);
        }
        m_year.crewDays = static_cast<int>(m_crewDays.size());
        m_year.valvesADay =
            m_year.crewDays > 0 ? static_cast<double>(m_year.visits) / m_year.crewDays : 0.0;
        return std::move(m_year);
    }

    /// When this many cycles were made; null: not yet.
    QDate dayOf(double cycles)
    {
        const auto wanted = static_cast<std::size_t>(wholeCycles(cycles));
        if (wanted == 0 || wanted > m_cycleDays.size()) {
            return {};
        }
        std::ranges::sort(m_cycleDays);
        return m_cycleDays[wanted - 1];
    }

private:
    PaceMonth &monthOf(const QDate &day)
    {
        return m_year.months[static_cast<std::size_t>(day.month() - 1)];
    }
    std::uint64_t crewDay(const Visit &visit)
    {
        const auto crew = m_crews.constFind(visit.crew);
        const int number = crew != m_crews.cend()
                               ? *crew
                               : *m_crews.insert(visit.crew, static_cast<int>(m_crews.size()));
        constexpr unsigned daysFit = 32;
        return (static_cast<std::uint64_t>(number) << daysFit) |
               static_cast<std::uint64_t>(visit.arrived.localDate().toJulianDay());
    }

    PaceYear m_year;
    std::array<PaceCounts, sizeClasses> m_sizes;
    std::map<QString, PaceCounts> m_zones;
    QHash<QString, int> m_crews;
    std::unordered_set<std::uint64_t> m_crewDays;
    std::vector<QDate> m_cycleDays;
};

/// The value, or the mean of the two, in the middle of sorted values: learned_times.h has the same
/// rule.
double middleOf(std::span<const float> sorted)
{
    const std::size_t half = sorted.size() / 2;
    return sorted.size() % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2.0;
}

double quantileOf(const std::vector<float> &sorted, double share)
{
    const double place = share * static_cast<double>(sorted.size());
    const auto whole = static_cast<std::size_t>(place);
    return place == std::floor(place) && whole > 0 && whole < sorted.size()
               ? middleOf(std::span(sorted).subspan(whole - 1, 2))
               : sorted[std::min(whole, sorted.size() - 1)];
}

class MinutesGatherer
{
public:
    void add(const Valve &valve, Visits visits)
    {
        std::vector<float> &minutes = m_kinds[{valve.type, sizeClassOf(valve.size)}];
        for (const ReadVisit &read : visits) {
            constexpr double millisecondsAMinute = 60'000.0;
            const double taken = static_cast<double>(read.visit.finished.utcMilliseconds -
                                                     read.visit.arrived.utcMilliseconds) /
                                 millisecondsAMinute;
            if (taken > 0 && taken <= longestMinutes) {
                minutes.push_back(static_cast<float>(taken));
            }
        }
    }

    std::vector<PaceMinutes> finish()
    {
        std::vector<PaceMinutes> all;
        for (auto &[kind, minutes] : m_kinds) {
            if (minutes.empty()) {
                continue;
            }
            std::ranges::sort(minutes);
            all.push_back({kind.first, kind.second, kindWords(kind.first, kind.second),
                           static_cast<int>(minutes.size()), quantileOf(minutes, 0.5),
                           quantileOf(minutes, 0.25), quantileOf(minutes, 0.75)});
        }
        std::ranges::stable_sort(all, std::greater{}, &PaceMinutes::visits);
        return all;
    }

private:
    std::map<std::pair<ValveType, SizeClass>, std::vector<float>> m_kinds;
};

void setMetOn(Pace &pace, YearCounter &thisYear, const QDate &today)
{
    const PaceCounts &now = pace.years.back().all;
    if (now.target <= 0) {
        return;
    }
    pace.metOn = thisYear.dayOf(now.target);
    pace.isMet = pace.metOn.isValid();
    if (!pace.isMet && pace.cyclesADay > 0) {
        const double missing = now.target - now.cycles;
        pace.metOn = today.addDays(static_cast<qint64>(std::ceil(missing / pace.cyclesADay)));
    }
}

/// Small valves may make up for large ones in the sum: which classes do not reach theirs.
QString shortBySize(const PaceYear &year)
{
    QStringList behind;
    for (const PaceCounts &each : year.bySize) {
        if (const int asked = wholeCycles(each.target); each.cycles < asked) {
            behind << QStringLiteral("%1 (%2 of %3)").arg(each.name).arg(each.cycles).arg(asked);
        }
    }
    return behind.isEmpty() || year.bySize.size() < 2
               ? QString()
               : QStringLiteral(" Short of theirs: %1.").arg(behind.join(QStringLiteral(", ")));
}

QString sentenceOf(const Pace &pace)
{
    const PaceYear &year = pace.years.back();
    if (year.all.target <= 0) {
        return QStringLiteral("The policy asks for no exercise of these %1.")
            .arg(valvesWords(static_cast<std::size_t>(pace.valves)));
    }
    const QString so = (year.isWhole ? QStringLiteral("In %1: %2 of %3 full cycles that the policy "
                                                      "asks for (%4), %5 of %6 inspected.")
                                     : QStringLiteral("In %1 so far: %2 of %3 full cycles that the "
                                                      "policy asks for (%4), %5 of %6 inspected."))
                           .arg(year.year)
                           .arg(year.all.cycles)
                           .arg(wholeCycles(year.all.target))
                           .arg(percentWords(year.all.share()))
                           .arg(year.all.inspected)
                           .arg(valvesWords(static_cast<std::size_t>(year.all.valves)));
    if (pace.isMet) {
        return so +
               QStringLiteral(" The year's target was met on %1.")
                   .arg(pace.metOn.toString(Qt::ISODate)) +
               shortBySize(year);
    }
    if (year.isWhole) {
        return so + QStringLiteral(" The year's target was not met.") + shortBySize(year);
    }
    if (!pace.metOn.isValid()) {
        return so + QStringLiteral(" No full cycle was made in the last twelve months: at this "
                                   "pace the target is never met.");
    }
    const qint64 late = QDate(year.year, 12, 31).daysTo(pace.metOn);
    return so + QStringLiteral(" At the pace of the last twelve months (%1 a week) the year's "
                               "target is met on %2%3.")
                    .arg(7.0 * pace.cyclesADay, 0, 'f', 1)
                    .arg(pace.metOn.toString(Qt::ISODate),
                         late > 0 ? QStringLiteral(", %1 days late").arg(late)
                                  : QStringLiteral(", in time"));
}

const ValveHistory &historyOf(const Histories &histories, const ValveId &valve)
{
    static const ValveHistory nothing;
    const auto found = histories.constFind(valve);
    return found == histories.cend() ? nothing : *found;
}

} // namespace

int wholeCycles(double asked)
{
    constexpr double hair = 1e-9; // 12 months in 12 are one cycle, whatever the binary fraction
    return static_cast<int>(std::max(0.0, std::ceil(asked - hair)));
}

double cyclesAYear(const Policy &policy, const Valve &valve)
{
    const PolicyRule *rule = policy.ruleFor(valve);
    return rule != nullptr && rule->intervalMonths > 0 ? monthsAYear / rule->intervalMonths : 0.0;
}

Pace paceOf(const std::vector<Valve> &valves, const Histories &histories, const Policy &policy,
            const Span &span, const QDate &now)
{
    Pace pace;
    const bool isPast = span.to.isValid() && span.to.year() < now.year();
    const QDate today = isPast ? QDate(span.to.year(), 12, 31) : now;
    pace.paceOver = {today.addYears(-1).addDays(1), today};
    const int last = today.year();
    const int first = span.from.isValid() ? std::min(span.from.year(), last) : last;
    std::vector<YearCounter> years;
    for (int year = first; year <= last; ++year) {
        years.emplace_back(year, today);
    }
    MinutesGatherer minutes;
    int paced = 0;
    for (const Valve &valve : valves) {
        if (valve.retired) {
            continue;
        }
        ++pace.valves;
        const ValveHistory &history = historyOf(histories, valve.id);
        const double aYear = cyclesAYear(policy, valve);
        for (YearCounter &year : years) {
            year.add(valve, history, aYear);
        }
        paced += takeCycles(visitsBetween(history, pace.paceOver.from, today), mostCycles(aYear),
                            [](const ReadVisit &, const QDate &) {});
        minutes.add(valve, visitsBetween(history, span.from, span.to));
    }
    pace.cyclesADay = paced / static_cast<double>(pace.paceOver.from.daysTo(pace.paceOver.to) + 1);
    for (YearCounter &year : years) {
        pace.years.push_back(year.finish());
    }
    pace.minutes = minutes.finish();
    setMetOn(pace, years.back(), today);
    pace.sentence = sentenceOf(pace);
    return pace;
}

std::vector<PaceRow> paceRows(const std::vector<Valve> &valves, const Histories &histories,
                              const Policy &policy, int year, const QDate &today)
{
    std::vector<PaceRow> rows;
    for (const Valve &valve : valves) {
        const ValveHistory &history = historyOf(histories, valve.id);
        if (!isThere(valve, history, year)) {
            continue;
        }
        PaceRow row;
        row.valve = valve.id;
        row.target = cyclesAYear(policy, valve);
        const Visits visits =
            visitsBetween(history, QDate(year, 1, 1), std::min(QDate(year, 12, 31), today));
        row.cycles = takeCycles(visits, mostCycles(row.target),
                                [&row](const ReadVisit &read, const QDate &) {
                                    if (row.cycledBy.isNull()) {
                                        row.cycledBy = read.visit.id;
                                    }
                                });
        if (!visits.empty()) {
            row.visit = visits.back().visit.id;
            row.date = visits.back().visit.arrived.localDate();
        }
        rows.push_back(row);
    }
    return rows;
}

} // namespace keyround
