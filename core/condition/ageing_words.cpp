// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/ageing_words.h"

#include "core/condition/figure_words.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

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
    Interval ages{group.fromYears, neverSeen};
    double before = group.fromYears;
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

QString whichWords(const AgeingGroup &group)
{
    return group.fromYears > 0 ? QStringLiteral("%1 that hold at %2 years")
                                     .arg(group.name, yearsText(group.fromYears))
                               : group.name;
}

/// Of all, or of those alone that a curve is made of.
QString countWords(const std::vector<FailureInterval> &times)
{
    std::size_t lives = 0;
    int failed = 0;
    for (const FailureInterval &time : times) {
        lives += static_cast<std::size_t>(time.count);
        failed += std::isinf(time.by) ? 0 : time.count;
    }
    return QStringLiteral("%1, %2 failed").arg(valvesWords(lives)).arg(failed);
}

/// What makes the answer vague: few that old, or ages far apart.
QString vagueness(const std::vector<FailureInterval> &times, const Interval &ages)
{
    constexpr double wide = 10;
    const bool isWide = ages.to - ages.from > wide;
    const double oldest = std::isinf(ages.to) ? ages.from : (ages.from + ages.to) / 2.0;
    const bool fewOld = watchedAt(times, oldest) < fewestLives;
    if (isWide) {
        return fewOld ? QStringLiteral("; few that old: wide") : QStringLiteral("; wide");
    }
    return fewOld ? QStringLiteral("; few that old") : QString();
}

} // namespace

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
            .arg(whichWords(group), QLatin1String(share.words), when, countWords(times),
                 vagueness(times, ages));
    }
    return QStringLiteral("Of %1, fewer than one in ten fail by %2 years, the oldest seen; %3.")
        .arg(whichWords(group), yearsText(group.lastYears), countWords(times));
}

QString tooFewReading(const AgeingGroup &group, const AgeingOptions &options)
{
    const bool enoughInAll = static_cast<int>(group.lives.size()) >= options.fewestLives &&
                             group.failed >= options.fewestFailures;
    const QString wants =
        enoughInAll ? QStringLiteral("%1 valves under watch at one age, and %2 failures after it")
                    : QStringLiteral("at least %1 valves and %2 failures");
    return QStringLiteral("Of %1, too few to say: %2; a curve wants %3.")
        .arg(group.name, countWords(timesOf(group)),
             wants.arg(options.fewestLives).arg(options.fewestFailures));
}

} // namespace keyround
