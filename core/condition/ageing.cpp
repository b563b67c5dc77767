// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/ageing.h"

#include "core/condition/ageing_words.h"
#include "core/condition/figure_words.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace keyround {

namespace {

constexpr double daysAYear = 365.25;
constexpr int midYearDays = 182;

bool hasFailed(const ReadVisit &read)
{
    return read.after == Condition::DoesNotShut || read.after == Condition::DoesNotTurn;
}

double yearsAt(const QDate &begin, const ReadVisit &read)
{
    return std::max<double>(0, static_cast<double>(begin.daysTo(read.visit.arrived.localDate())) /
                                   daysAYear);
}

std::optional<LifeSeen> lifeSeen(const ValveHistory &history, std::size_t index,
                                 const QDate &recordBegan)
{
    const ValveLife &life = history.lives[index];
    const QDate begin = ageBegins(life);
    if (!begin.isValid()) {
        return std::nullopt;
    }
    LifeSeen seen;
    seen.isCurrent = index + 1 == history.lives.size();
    std::optional<double> heldFirst;
    for (std::size_t i = life.firstVisit; i < life.endVisit; ++i) {
        const ReadVisit &read = history.visits[i];
        if (hasFailed(read)) {
            seen.failed = read.visit.id;
            seen.years.by = yearsAt(begin, read);
            break;
        }
        if (provedToHold(read)) {
            seen.held = read.visit.id;
            seen.years.after = yearsAt(begin, read);
            heldFirst = heldFirst.value_or(seen.years.after);
        }
    }
    const bool isWatchedAll = life.began.isValid() || begin >= recordBegan;
    seen.years.watchedFrom = isWatchedAll ? 0.0 : heldFirst.value_or(0.0);
    const bool tells = isWatchedAll ? heldFirst || !seen.failed.isNull()
                                    : heldFirst && (!seen.failed.isNull() ||
                                                    seen.years.after > seen.years.watchedFrom);
    if (!tells) {
        return std::nullopt;
    }
    // Both on one day, or a visit before the middle of the install year: a day's room.
    seen.years.by = std::max(seen.years.by, seen.years.after + 1.0 / daysAYear);
    return seen;
}

/// Sorts groups, and tells them apart.
struct GroupKey
{
    int first = 0;
    int second = 0;
    friend auto operator<=>(const GroupKey &, const GroupKey &) = default;
};

int decadeOf(int year)
{
    return year - year % 10;
}

GroupKey keyOf(AgeingBy by, const Valve &valve, const ValveLife &life)
{
    switch (by) {
    case AgeingBy::All:
        break;
    case AgeingBy::Type:
        return {static_cast<int>(valve.type), 0};
    case AgeingBy::SizeClass:
        return {static_cast<int>(sizeClassOf(valve.size)), 0};
    case AgeingBy::Size:
        return {valve.size.quarterInches, 0};
    case AgeingBy::TypeAndSize:
        return {static_cast<int>(valve.type), valve.size.quarterInches};
    case AgeingBy::InstallDecade:
        return {life.installed.isValid() ? decadeOf(life.installed.year()) : 0, 0};
    }
    return {};
}

QString typeWords(ValveType type)
{
    switch (type) {
    case ValveType::Unknown:
        return QStringLiteral("valves of a type not known");
    case ValveType::Other:
        return QStringLiteral("valves of other types");
    default:
        return QStringLiteral("%1 valves").arg(wordFor(type));
    }
}

AgeingGroup groupOf(AgeingBy by, const Valve &valve, const ValveLife &life, UnitSystem units)
{
    AgeingGroup group;
    switch (by) {
    case AgeingBy::All:
        group.name = QStringLiteral("all valves");
        break;
    case AgeingBy::Type:
        group.type = valve.type;
        group.name = typeWords(valve.type);
        break;
    case AgeingBy::SizeClass:
        group.sizeClass = sizeClassOf(valve.size);
        group.name = group.sizeClass == SizeClass::Unknown
                         ? QStringLiteral("valves of a size not known")
                         : QStringLiteral("valves %1").arg(wordFor(*group.sizeClass));
        break;
    case AgeingBy::Size:
        group.size = valve.size;
        group.name = valve.size.isKnown()
                         ? QStringLiteral("%1 valves").arg(sizeText(valve.size, units))
                         : QStringLiteral("valves of a size not known");
        break;
    case AgeingBy::TypeAndSize:
        group.type = valve.type;
        group.size = valve.size;
        group.name =
            valve.size.isKnown()
                ? QStringLiteral("%1 %2").arg(sizeText(valve.size, units), typeWords(valve.type))
                : QStringLiteral("%1 of a size not known").arg(typeWords(valve.type));
        break;
    case AgeingBy::InstallDecade:
        if (life.installed.isValid()) {
            group.decade = decadeOf(life.installed.year());
            group.name = QStringLiteral("valves installed %1 to %2")
                             .arg(*group.decade)
                             .arg(*group.decade + 9);
        } else {
            group.name = QStringLiteral("valves installed in a year not known");
        }
        break;
    }
    return group;
}

using Groups = std::map<GroupKey, AgeingGroup>;

struct AgeingTask
{
    AgeingBy by;
    UnitSystem units;
    QDate recordBegan;
};

void addValve(Groups &groups, const AgeingTask &asked, const Valve &valve,
              const ValveHistory &history)
{
    for (std::size_t i = 0; i < history.lives.size(); ++i) {
        const ValveLife &life = history.lives[i];
        auto [at, isNew] = groups.try_emplace(keyOf(asked.by, valve, life));
        AgeingGroup &group = at->second;
        if (isNew) {
            group = groupOf(asked.by, valve, life, asked.units);
        }
        std::optional<LifeSeen> seen = lifeSeen(history, i, asked.recordBegan);
        if (!seen) {
            group.leftOut += i + 1 == history.lives.size() ? 1 : 0;
            continue;
        }
        seen->valve = valve.id;
        group.failed += seen->failed.isNull() ? 0 : 1;
        group.lastYears =
            std::max(group.lastYears, seen->failed.isNull() ? seen->years.after : seen->years.by);
        group.lives.push_back(*seen);
    }
}

int gridFor(std::size_t lives)
{
    constexpr std::size_t yearsFrom = 1000;
    return lives >= yearsFrom ? 1 : 4;
}

std::vector<ExactStep> exactSteps(const AgeingGroup &group)
{
    constexpr double month = 1.0 / 12.0 + 1e-9;
    std::vector<ExactTime> exact;
    exact.reserve(group.lives.size());
    for (const LifeSeen &life : group.lives) {
        const bool failed = !life.failed.isNull();
        if (failed && life.years.by - life.years.after > month) {
            return {};
        }
        if (life.years.watchedFrom > 0) {
            return {}; // its estimator is for those watched from the first day
        }
        exact.push_back({failed ? life.years.by : life.years.after, failed});
    }
    return kaplanMeier(std::move(exact));
}

void settle(AgeingGroup &group, const AgeingOptions &options)
{
    group.isTooFew = static_cast<int>(group.lives.size()) < options.fewestLives ||
                     group.failed < options.fewestFailures;
    std::vector<FailureInterval> times = timesOf(group);
    constexpr double everyYears = 10;
    for (double years = 0; years <= group.lastYears; years += everyYears) {
        group.atRisk.push_back({years, atRisk(times, years)});
    }
    if (!group.isTooFew) {
        EnoughWatched enough = fromEnoughWatched(times, options.fewestLives);
        group.fromYears = enough.from;
        times = std::move(enough.times);
        int failures = 0;
        for (const FailureInterval &time : times) {
            failures += std::isinf(time.by) ? 0 : time.count;
        }
        group.isTooFew = failures < options.fewestFailures;
    }
    if (!group.isTooFew) {
        group.curve = turnbullCurve(times);
    }
    if (!group.curve) {
        times = timesOf(group); // why there is none is said of all
    }
    for (const FailureInterval &time : times) {
        group.counted += time.count;
        group.countedFailed += std::isinf(time.by) ? 0 : time.count;
    }
    if (!group.curve) {
        group.reading = tooFewReading(group, options);
        return;
    }
    group.band = holdingBand(times, *group.curve);
    group.exact = exactSteps(group);
    group.half = outBy(group, 0.5);
    group.reading = readingOf(group, times);
}

void finish(Ageing &figure)
{
    const auto drawn = std::ranges::find_if(
        figure.groups, [](const AgeingGroup &group) { return group.curve.has_value(); });
    if (drawn != figure.groups.end()) {
        figure.sentence = drawn->reading;
    } else {
        figure.sentence =
            figure.groups.empty()
                ? QStringLiteral("No valve of these was looked at twice, with its install year "
                                 "known: there is nothing to tell ages from.")
                : figure.groups.front().reading;
    }
    figure.caution = QStringLiteral(
        "A failure here is a valve that no longer turns or shuts, at its first time on record. "
        "Ages count from the middle of the install year, or from a replacement. Repairs before the "
        "record began are not known: old valves are watched from the first visit that found them "
        "holding.");
    if (figure.leftOut > 0) {
        figure.caution += QStringLiteral(" Left out: %1 seen holding only once or never, or of an "
                                         "install year not known.")
                              .arg(valvesWords(static_cast<std::size_t>(figure.leftOut)));
    }
}

} // namespace

QString wordFor(AgeingBy by)
{
    switch (by) {
    case AgeingBy::All:
        return QStringLiteral("all together");
    case AgeingBy::Type:
        return QStringLiteral("type");
    case AgeingBy::SizeClass:
        return QStringLiteral("size class");
    case AgeingBy::Size:
        return QStringLiteral("size");
    case AgeingBy::TypeAndSize:
        return QStringLiteral("type and size");
    case AgeingBy::InstallDecade:
        break;
    }
    return QStringLiteral("install decade");
}

QDate ageBegins(const ValveLife &life)
{
    if (life.began.isValid()) {
        return life.began;
    }
    return life.installed.isValid() ? life.installed.addDays(midYearDays) : QDate();
}

bool provedToHold(const ReadVisit &read)
{
    return read.judgement.counted.value > 0 && !isOutOfCondition(read.after);
}

std::vector<FailureInterval> timesOf(const AgeingGroup &group)
{
    std::vector<FailureInterval> times;
    times.reserve(group.lives.size());
    std::ranges::transform(group.lives, std::back_inserter(times), &LifeSeen::years);
    return onGrid(times, gridFor(times.size()));
}

std::vector<LifeSeen> livesSeen(const Valve &valve, const ValveHistory &history,
                                const QDate &recordBegan)
{
    std::vector<LifeSeen> lives;
    for (std::size_t i = 0; i < history.lives.size(); ++i) {
        if (std::optional<LifeSeen> seen = lifeSeen(history, i, recordBegan)) {
            seen->valve = valve.id;
            lives.push_back(*seen);
        }
    }
    return lives;
}

QDate recordBegan(const Histories &histories)
{
    QDate began;
    for (const ValveHistory &history : histories) {
        if (!history.visits.empty()) {
            const QDate first = history.visits.front().visit.arrived.localDate();
            began = began.isNull() ? first : std::min(began, first);
        }
    }
    return began;
}

Ageing ageingOf(const std::vector<Valve> &valves, const Histories &histories, AgeingBy by,
                UnitSystem units, const AgeingOptions &options)
{
    static const ValveHistory nothing;
    const AgeingTask asked{by, units, recordBegan(histories)};
    Groups groups;
    Ageing figure;
    figure.by = by;
    for (const Valve &valve : valves) {
        if (!valve.retired) {
            const auto history = histories.constFind(valve.id);
            addValve(groups, asked, valve, history == histories.cend() ? nothing : *history);
            ++figure.valves;
        }
    }
    for (auto &[key, group] : groups) {
        settle(group, options);
        figure.leftOut += group.leftOut;
        figure.groups.push_back(std::move(group));
    }
    if (by != AgeingBy::InstallDecade) {
        std::ranges::stable_sort(figure.groups, std::greater{},
                                 [](const AgeingGroup &group) { return group.lives.size(); });
    }
    finish(figure);
    return figure;
}

} // namespace keyround
