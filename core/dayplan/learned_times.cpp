// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/learned_times.h"

#include <QStringList>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace keyround {

namespace {

constexpr double secondsInMinute = 60.0;
/// More pairs of visits than this do not make the slope better, only later.
constexpr std::size_t mostPairs = 200000;

struct Weighted
{
    double value = 0;
    double weight = 1;
};

/// The value below which `share` of the weight lies; the mean of two where it falls between them.
double weightedQuantile(std::vector<Weighted> values, double share)
{
    std::ranges::sort(values, {}, &Weighted::value);
    const double total =
        std::accumulate(values.begin(), values.end(), 0.0,
                        [](double sum, const Weighted &each) { return sum + each.weight; });
    const double wanted = share * total;
    double below = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        below += values[i].weight;
        const double slack = 1e-9 * total;
        if (below > wanted + slack) {
            return values[i].value;
        }
        if (below >= wanted - slack && i + 1 < values.size()) {
            return (values[i].value + values[i + 1].value) / 2;
        }
    }
    return values.empty() ? 0.0 : values.back().value;
}

double quantile(const std::vector<double> &values, double share)
{
    std::vector<Weighted> weighted;
    weighted.reserve(values.size());
    for (const double value : values) {
        weighted.push_back({value, 1});
    }
    return weightedQuantile(std::move(weighted), share);
}

LearnedFigure figureOf(const std::vector<double> &values)
{
    LearnedFigure figure;
    figure.from = static_cast<int>(values.size());
    if (!values.empty()) {
        figure.lowerQuartile = quantile(values, 0.25);
        figure.upperQuartile = quantile(values, 0.75);
    }
    if (figure.from >= enoughObservations) {
        figure.learned = quantile(values, 0.5);
    }
    return figure;
}

bool isBelieved(const TimedVisit &visit)
{
    return visit.onSiteMinutes > 0 && visit.onSiteMinutes <= longestBelievedMinutes &&
           visit.turns >= 0;
}

template <typename Key> struct Group
{
    Key key;
    std::vector<std::size_t> visits;
};

template <typename Key>
std::vector<std::size_t> &groupOf(std::vector<Group<Key>> &groups, const Key &key)
{
    const auto found = std::ranges::find(groups, key, &Group<Key>::key);
    return found != groups.end() ? found->visits : groups.emplace_back(Group<Key>{key, {}}).visits;
}

/// The visits of each kind that turned something, for slopes within a kind.
std::vector<Group<StopKind>> turnedByKind(const std::vector<TimedVisit> &visits)
{
    std::vector<Group<StopKind>> groups;
    for (std::size_t i = 0; i < visits.size(); ++i) {
        if (isBelieved(visits[i]) && visits[i].turns > 0) {
            groupOf(groups, visits[i].kind).push_back(i);
        }
    }
    return groups;
}

/// Minutes a turn between the pairs of one kind. Each visit is paired with those at every
/// `step`-th place after it, so that many visits do not take their square.
void addSlopes(std::vector<Weighted> &slopes, const std::vector<TimedVisit> &visits,
               const std::vector<std::size_t> &kind, std::size_t step)
{
    for (std::size_t i = 0; i < kind.size(); ++i) {
        for (std::size_t j = i + 1 + (i % step); j < kind.size(); j += step) {
            const TimedVisit &a = visits[kind[i]];
            const TimedVisit &b = visits[kind[j]];
            const double apart = b.turns - a.turns;
            if (std::abs(apart) >= 1) {
                slopes.push_back({(b.onSiteMinutes - a.onSiteMinutes) / apart, std::abs(apart)});
            }
        }
    }
}

/// Minutes a turn from minutes on site; empty where the visits do not tell.
std::optional<double> minutesPerTurn(const std::vector<TimedVisit> &visits,
                                     const std::vector<Group<StopKind>> &kinds)
{
    std::size_t pairs = 0;
    for (const Group<StopKind> &kind : kinds) {
        pairs += kind.visits.size() * (kind.visits.size() - 1) / 2;
    }
    std::vector<Weighted> slopes;
    for (const Group<StopKind> &kind : kinds) {
        addSlopes(slopes, visits, kind.visits, 1 + pairs / mostPairs);
    }
    if (slopes.empty()) {
        return std::nullopt;
    }
    const double slope = weightedQuantile(std::move(slopes), 0.5);
    return slope > 0 ? std::optional(slope) : std::nullopt;
}

/// By how much each visit's own seconds a turn differ, for the quartiles: what is on site beyond
/// its kind's middle goes to the turning.
std::vector<double> ownSecondsPerTurn(const std::vector<TimedVisit> &visits,
                                      const std::vector<Group<StopKind>> &kinds, double slope)
{
    std::vector<double> own;
    for (const Group<StopKind> &kind : kinds) {
        std::vector<double> still;
        for (const std::size_t i : kind.visits) {
            still.push_back(visits[i].onSiteMinutes - slope * visits[i].turns);
        }
        const double middle = quantile(still, 0.5);
        for (const std::size_t i : kind.visits) {
            own.push_back((visits[i].onSiteMinutes - middle) / visits[i].turns * secondsInMinute);
        }
    }
    return own;
}

LearnedFigure learnSecondsPerTurn(const std::vector<TimedVisit> &visits)
{
    std::vector<double> timed;
    for (const TimedVisit &visit : visits) {
        if (visit.turns > 0 && visit.turningMinutes > 0 &&
            visit.turningMinutes <= longestBelievedMinutes) {
            timed.push_back(visit.turningMinutes * secondsInMinute / visit.turns);
        }
    }
    if (timed.size() >= static_cast<std::size_t>(enoughObservations)) {
        return figureOf(timed);
    }
    std::vector<Group<StopKind>> kinds = turnedByKind(visits);
    std::erase_if(kinds, [](const Group<StopKind> &kind) { return kind.visits.size() < 2; });
    LearnedFigure figure;
    for (const Group<StopKind> &kind : kinds) {
        figure.from += static_cast<int>(kind.visits.size());
    }
    const std::optional<double> slope = minutesPerTurn(visits, kinds);
    if (!slope || figure.from < enoughObservations) {
        return figure;
    }
    const std::vector<double> own = ownSecondsPerTurn(visits, kinds, *slope);
    figure.learned = *slope * secondsInMinute;
    // A few turns carry all of a stop's chance: the quartiles are of no use below nothing.
    figure.lowerQuartile = std::max(0.0, std::min(quantile(own, 0.25), *figure.learned));
    figure.upperQuartile = std::max(quantile(own, 0.75), *figure.learned);
    return figure;
}

std::vector<LearnedTimes::Minutes> learnMinutes(const std::vector<TimedVisit> &visits,
                                                double secondsPerTurn)
{
    std::vector<Group<StopKind>> groups;
    for (std::size_t i = 0; i < visits.size(); ++i) {
        if (!isBelieved(visits[i])) {
            continue;
        }
        for (const StopKind &kind : kindAndCoarser(visits[i].kind)) {
            groupOf(groups, kind).push_back(i);
        }
        if (visits[i].kind.size != SizeClass::Unknown) {
            groupOf(groups, StopKind{}).push_back(i); // all stops
        }
    }
    std::vector<LearnedTimes::Minutes> learned;
    for (const Group<StopKind> &group : groups) {
        std::vector<double> still;
        for (const std::size_t i : group.visits) {
            const TimedVisit &visit = visits[i];
            const double turning = visit.turningMinutes > 0
                                       ? visit.turningMinutes
                                       : visit.turns * secondsPerTurn / secondsInMinute;
            still.push_back(std::max(0.0, visit.onSiteMinutes - turning));
        }
        learned.push_back({group.key, figureOf(still)});
    }
    return learned;
}

struct DrivingKey
{
    StreetClass street = StreetClass::Unknown;
    int hour = -1;
    friend bool operator==(const DrivingKey &, const DrivingKey &) = default;
};

std::vector<LearnedTimes::Driving> learnDriving(const std::vector<TimedVisit> &visits)
{
    std::vector<Group<DrivingKey>> groups;
    for (std::size_t i = 0; i < visits.size(); ++i) {
        const TimedVisit &visit = visits[i];
        if (!visit.droveSeconds || *visit.droveSeconds <= 0 ||
            *visit.droveSeconds > longestBelievedDriveSeconds ||
            visit.streetSeconds < shortestToldDriveSeconds) {
            continue;
        }
        groupOf(groups, DrivingKey{}).push_back(i);
        if (visit.mostly != StreetClass::Unknown) {
            groupOf(groups, DrivingKey{visit.mostly, -1}).push_back(i);
        }
        if (visit.mostly != StreetClass::Unknown && visit.hour >= 0) {
            groupOf(groups, DrivingKey{visit.mostly, visit.hour}).push_back(i);
        }
    }
    std::vector<LearnedTimes::Driving> learned;
    for (const Group<DrivingKey> &group : groups) {
        std::vector<double> factors;
        for (const std::size_t i : group.visits) {
            factors.push_back(*visits[i].droveSeconds / visits[i].streetSeconds);
        }
        learned.push_back({group.key.street, group.key.hour, figureOf(factors)});
    }
    return learned;
}

bool sameKey(const LearnedTimes::Minutes &a, const LearnedTimes::Minutes &b)
{
    return a.kind == b.kind;
}
bool sameKey(const LearnedTimes::Driving &a, const LearnedTimes::Driving &b)
{
    return a.street == b.street && a.hour == b.hour;
}
LearnedFigure &figureIn(LearnedTimes::Minutes &entry)
{
    return entry.minutes;
}
LearnedFigure &figureIn(LearnedTimes::Driving &entry)
{
    return entry.factor;
}

/// What a person set goes over to the same key, or stays as a figure of its own.
template <typename Entry>
void keepSet(std::vector<Entry> &learned, const std::vector<Entry> &before)
{
    for (Entry entry : before) {
        if (!figureIn(entry).set) {
            continue;
        }
        const auto same = std::ranges::find_if(
            learned, [&entry](const Entry &each) { return sameKey(each, entry); });
        if (same != learned.end()) {
            figureIn(*same).set = figureIn(entry).set;
        } else {
            LearnedFigure only;
            only.set = figureIn(entry).set;
            figureIn(entry) = only;
            learned.push_back(entry);
        }
    }
}

auto orderOf(const LearnedTimes::Minutes &entry)
{
    return std::array{static_cast<int>(entry.kind.size), static_cast<int>(entry.kind.type),
                      static_cast<int>(entry.kind.street)};
}
auto orderOf(const LearnedTimes::Driving &entry)
{
    return std::array{static_cast<int>(entry.street), entry.hour};
}

bool isKnown(const LearnedFigure &figure)
{
    return figure.set || figure.learned;
}

} // namespace

QString wordsFor(const StopKind &kind)
{
    if (kind == StopKind{}) {
        return QStringLiteral("all stops");
    }
    QStringList words{kind.type == ValveType::Unknown ? QStringLiteral("any type")
                                                      : wordFor(kind.type),
                      wordFor(kind.size)};
    if (kind.street != StreetClass::Unknown) {
        words << wordFor(kind.street);
    }
    return words.join(QStringLiteral(", "));
}

std::vector<StopKind> kindAndCoarser(const StopKind &kind)
{
    std::vector<StopKind> kinds;
    if (kind.size == SizeClass::Unknown) {
        return {StopKind{}};
    }
    if (kind.type != ValveType::Unknown) {
        if (kind.street != StreetClass::Unknown) {
            kinds.push_back(kind);
        }
        kinds.push_back({kind.type, kind.size, StreetClass::Unknown});
    }
    kinds.push_back({ValveType::Unknown, kind.size, StreetClass::Unknown});
    return kinds;
}

LearnedTimes learnTimes(const std::vector<TimedVisit> &visits, const LearnedTimes &before,
                        double usualSecondsPerTurn)
{
    LearnedTimes times;
    times.secondsPerTurn = learnSecondsPerTurn(visits);
    times.secondsPerTurn.set = before.secondsPerTurn.set;
    times.stops = learnMinutes(visits, times.secondsPerTurn.valueOr(usualSecondsPerTurn));
    times.driving = learnDriving(visits);
    keepSet(times.stops, before.stops);
    keepSet(times.driving, before.driving);
    const auto inOrder = [](const auto &a, const auto &b) { return orderOf(a) < orderOf(b); };
    std::ranges::sort(times.stops, inOrder);
    std::ranges::sort(times.driving, inOrder);
    return times;
}

const LearnedTimes::Minutes *figureFor(const LearnedTimes &times, const StopKind &kind)
{
    for (const StopKind &each : kindAndCoarser(kind)) {
        const auto found = std::ranges::find(times.stops, each, &LearnedTimes::Minutes::kind);
        if (found != times.stops.end() && isKnown(found->minutes)) {
            return &*found;
        }
    }
    return nullptr;
}

const LearnedTimes::Driving *drivingFigureFor(const LearnedTimes &times, StreetClass street,
                                              int hour)
{
    for (const DrivingKey &key : {DrivingKey{street, hour}, DrivingKey{street, -1}, DrivingKey{}}) {
        const auto found =
            std::ranges::find_if(times.driving, [&key](const LearnedTimes::Driving &each) {
                return each.street == key.street && each.hour == key.hour;
            });
        if (found != times.driving.end() && isKnown(found->factor)) {
            return &*found;
        }
    }
    return nullptr;
}

ClassFactors classFactors(const LearnedTimes &times)
{
    ClassFactors factors = noClassFactors;
    for (std::size_t i = 0; i < factors.size(); ++i) {
        const auto *figure = drivingFigureFor(times, static_cast<StreetClass>(i), -1);
        if (figure != nullptr) {
            factors[i] = figure->factor.valueOr(1.0);
        }
    }
    return factors;
}

} // namespace keyround
