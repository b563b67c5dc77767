// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/ageing.h"

#include "core/condition/figure_words.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace keyround {

namespace {

constexpr double daysAYear = 365.25;
constexpr int midYearDays = 182;

/// From which day the valve's age counts; null where that is not known.
QDate beginOf(const ValveLife &life)
{
    if (life.began.isValid()) {
        return life.began;
    }
    return life.installed.isValid() ? life.installed.addDays(midYearDays) : QDate();
}

bool hasFailed(const ReadVisit &read)
{
    return read.after == Condition::DoesNotShut || read.after == Condition::DoesNotTurn;
}

/// Only a visit that turned the valve says that it holds.
bool provedToHold(const ReadVisit &read)
{
    return read.judgement.counted.value > 0 && !isOutOfCondition(read.after);
}

double yearsAt(const QDate &begin, const ReadVisit &read)
{
    return std::max<double>(0, static_cast<double>(begin.daysTo(read.visit.arrived.localDate())) /
                                   daysAYear);
}

std::optional<LifeSeen> lifeSeen(const ValveHistory &history, std::size_t index)
{
    const ValveLife &life = history.lives[index];
    const QDate begin = beginOf(life);
    if (!begin.isValid()) {
        return std::nullopt;
    }
    LifeSeen seen;
    seen.isCurrent = index + 1 == history.lives.size();
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
        }
    }
    if (seen.held.isNull() && seen.failed.isNull()) {
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

QString sizeWords(const NominalSize &size, UnitSystem units)
{
    return size.isKnown() ? sizeText(size, units) : QStringLiteral("size not known,");
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
        group.name = QStringLiteral("%1 valves").arg(sizeWords(valve.size, units));
        break;
    case AgeingBy::TypeAndSize:
        group.type = valve.type;
        group.size = valve.size;
        group.name =
            QStringLiteral("%1 %2").arg(sizeWords(valve.size, units), typeWords(valve.type));
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

void addValve(Groups &groups, AgeingBy by, UnitSystem units, const Valve &valve,
              const ValveHistory &history)
{
    for (std::size_t i = 0; i < history.lives.size(); ++i) {
        const ValveLife &life = history.lives[i];
        auto [at, isNew] = groups.try_emplace(keyOf(by, valve, life));
        AgeingGroup &group = at->second;
        if (isNew) {
            group = groupOf(by, valve, life, units);
        }
        std::optional<LifeSeen> seen = lifeSeen(history, i);
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
    constexpr std::size_t quartersFrom = 1000;
    constexpr std::size_t yearsFrom = 10'000;
    if (lives >= yearsFrom) {
        return 1;
    }
    return lives >= quartersFrom ? 4 : 12;
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
        exact.push_back({failed ? life.years.by : life.years.after, failed});
    }
    return kaplanMeier(std::move(exact));
}

// ---- in words ----

QString yearsText(double years)
{
    return QString::number(std::llround(years));
}

struct FailingShare
{
    double holds;
    const char *words;
};
constexpr FailingShare failingShares[] = {
    {0.5, "half fail"}, {0.75, "a quarter fail"}, {0.9, "one in ten fail"}};

/// The ages between which the share that holds falls to `holds`: with the band where there is one,
/// else the curve's own box.
Interval agesOf(const AgeingGroup &group, double holds)
{
    const Interval box = group.curve->timeOf(holds);
    if (group.band.empty()) {
        return box;
    }
    Interval ages{0, neverSeen};
    double before = 0;
    bool begun = false;
    for (const BandPoint &point : group.band) {
        if (!begun && point.holds.from <= holds) {
            ages.from = before;
            begun = true;
        }
        if (point.holds.to <= holds) {
            ages.to = point.years;
            break;
        }
        before = point.years;
    }
    return begun ? Interval{std::min(ages.from, box.from), std::max(ages.to, box.to)} : box;
}

QString countWords(const AgeingGroup &group)
{
    return QStringLiteral("%1, %2 failed").arg(valvesWords(group.lives.size())).arg(group.failed);
}

/// What makes the answer vague: few that old, or ages far apart.
QString vagueness(const std::vector<FailureInterval> &times, const Interval &ages)
{
    constexpr double wide = 10;
    const bool isWide = ages.to - ages.from > wide;
    const double oldest = std::isinf(ages.to) ? ages.from : (ages.from + ages.to) / 2.0;
    const bool fewOld = atRisk(times, oldest) < fewestLives;
    if (isWide) {
        return fewOld ? QStringLiteral("; few that old: wide") : QStringLiteral("; wide");
    }
    return fewOld ? QStringLiteral("; few that old") : QString();
}

QString readingOf(const AgeingGroup &group, const std::vector<FailureInterval> &times)
{
    for (const FailingShare &share : failingShares) {
        if (std::isinf(group.curve->timeOf(share.holds).to)) {
            continue; // the curve never falls so far
        }
        const Interval ages = agesOf(group, share.holds);
        const QString when = std::isinf(ages.to)
                                 ? QStringLiteral("at %1 years or later").arg(yearsText(ages.from))
                                 : QStringLiteral("between %1 and %2 years")
                                       .arg(yearsText(ages.from), yearsText(ages.to));
        return QStringLiteral("Of %1, %2 %3; %4%5.")
            .arg(group.name, QLatin1String(share.words), when, countWords(group),
                 vagueness(times, ages));
    }
    return QStringLiteral("Of %1, fewer than one in ten fail by %2 years, the oldest seen; %3.")
        .arg(group.name, yearsText(group.lastYears), countWords(group));
}

QString tooFewWords(const AgeingGroup &group, const AgeingOptions &options)
{
    return QStringLiteral("Of %1, too few to say: %2; a curve wants at least %3 valves and %4 "
                          "failures.")
        .arg(group.name, countWords(group))
        .arg(options.fewestLives)
        .arg(options.fewestFailures);
}

void settle(AgeingGroup &group, const AgeingOptions &options)
{
    group.isTooFew = static_cast<int>(group.lives.size()) < options.fewestLives ||
                     group.failed < options.fewestFailures;
    std::vector<FailureInterval> times;
    times.reserve(group.lives.size());
    std::ranges::transform(group.lives, std::back_inserter(times), &LifeSeen::years);
    times = onGrid(times, gridFor(times.size()));
    constexpr double everyYears = 10;
    for (double years = 0; years <= group.lastYears; years += everyYears) {
        group.atRisk.push_back({years, atRisk(times, years)});
    }
    if (!group.isTooFew) {
        group.curve = turnbullCurve(times);
    }
    if (!group.curve) {
        group.reading = tooFewWords(group, options);
        return;
    }
    group.band = holdingBand(times, *group.curve);
    group.exact = exactSteps(group);
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
                ? QStringLiteral("No valve of these was turned by a visit, with its install year "
                                 "known: there is nothing to tell ages from.")
                : figure.groups.front().reading;
    }
    figure.caution = QStringLiteral(
        "A failure here is a valve that no longer turns or shuts, at its first time. Ages count "
        "from the middle of the install year, or from a replacement. Repairs before the first "
        "visit on record are not known and make old valves look better than they are.");
    if (figure.leftOut > 0) {
        figure.caution += QStringLiteral(" Left out: %1 never turned by a visit, or of an install "
                                         "year not known.")
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

std::vector<LifeSeen> livesSeen(const Valve &valve, const ValveHistory &history)
{
    std::vector<LifeSeen> lives;
    for (std::size_t i = 0; i < history.lives.size(); ++i) {
        if (std::optional<LifeSeen> seen = lifeSeen(history, i)) {
            seen->valve = valve.id;
            lives.push_back(*seen);
        }
    }
    return lives;
}

Ageing ageingOf(const std::vector<Valve> &valves, const Histories &histories, AgeingBy by,
                UnitSystem units, const AgeingOptions &options)
{
    static const ValveHistory nothing;
    Groups groups;
    Ageing figure;
    figure.by = by;
    for (const Valve &valve : valves) {
        if (!valve.retired) {
            const auto history = histories.constFind(valve.id);
            addValve(groups, by, units, valve, history == histories.cend() ? nothing : *history);
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
