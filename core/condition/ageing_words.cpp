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

QString yearsWords(double years)
{
    return std::llround(years) == 1 ? QStringLiteral("1 year")
                                    : QStringLiteral("%1 years").arg(yearsText(years));
}

struct FailingShare
{
    double holds;
    const char *words;
};
constexpr FailingShare failingShares[] = {
    {0.5, "half are out"}, {0.75, "a quarter are out"}, {0.9, "one in ten are out"}};

/// Where the band's own limits fall to `holds`. A limit falls within the step that ends at its
/// point: before the step nothing fails, and the limit is that of the point before.
Interval bandAges(const AgeingGroup &group, double holds)
{
    Interval ages{neverSeen, neverSeen};
    for (const BandPoint &point : group.band) {
        if (std::isinf(ages.from) && point.holds.from <= holds) {
            const auto step = std::ranges::find(group.curve->steps, point.years, &CurveStep::to);
            ages.from = step == group.curve->steps.end() ? point.years : step->from;
        }
        if (point.holds.to <= holds) {
            ages.to = point.years;
            break;
        }
    }
    return ages;
}

QString whichWords(const AgeingGroup &group)
{
    return group.fromYears > 0 ? QStringLiteral("%1 that still worked at %2")
                                     .arg(group.name, yearsWords(group.fromYears))
                               : group.name;
}

/// Of all, or of those alone that a curve is made of.
QString countWords(const AgeingGroup &group)
{
    return QStringLiteral("%1, %2 failed")
        .arg(valvesWords(static_cast<std::size_t>(group.counted)))
        .arg(group.countedFailed);
}

/// What makes the answer vague: few that old, or ages far apart.
QString vagueness(const std::vector<FailureInterval> &times, const OutBy &out)
{
    constexpr double wide = 10;
    if (watchedAt(times, out.years) < fewestLives) {
        return QStringLiteral("; few that old, so this is rough");
    }
    return out.couldBe.to - out.couldBe.from > wide ? QStringLiteral("; this is rough") : QString();
}

QString couldBeWords(const Interval &ages)
{
    if (std::isinf(ages.to)) {
        return QStringLiteral(" (could be %1 or later)").arg(yearsText(ages.from));
    }
    const QString from = yearsText(ages.from);
    const QString to = yearsText(ages.to);
    return from == to ? QString() : QStringLiteral(" (could be %1 to %2)").arg(from, to);
}

} // namespace

std::optional<OutBy> outBy(const AgeingGroup &group, double holds)
{
    const Interval box = group.curve ? group.curve->timeOf(holds) : Interval{neverSeen, neverSeen};
    if (std::isinf(box.to)) {
        return std::nullopt;
    }
    OutBy out{(box.from + box.to) / 2.0, box};
    if (!group.band.empty()) {
        const Interval ages = bandAges(group, holds);
        out.couldBe = {std::min(ages.from, box.from), std::max(ages.to, box.to)};
    }
    return out;
}

QString readingOf(const AgeingGroup &group, const std::vector<FailureInterval> &times)
{
    for (const FailingShare &share : failingShares) {
        const std::optional<OutBy> out = outBy(group, share.holds);
        if (!out) {
            continue; // the curve never falls so far
        }
        return QStringLiteral("Of %1, %2 by about %3%4. %5%6.")
            .arg(whichWords(group), QLatin1String(share.words), yearsWords(out->years),
                 couldBeWords(out->couldBe), countWords(group), vagueness(times, *out));
    }
    return QStringLiteral("Of %1, fewer than one in ten are out by %2, the oldest seen. %3.")
        .arg(whichWords(group), yearsWords(group.lastYears), countWords(group));
}

QString tooFewReading(const AgeingGroup &group, const AgeingOptions &options)
{
    const bool enoughInAll = static_cast<int>(group.lives.size()) >= options.fewestLives &&
                             group.failed >= options.fewestFailures;
    const QString wants =
        enoughInAll ? QStringLiteral("%1 valves under watch at one age, and %2 failures after it")
                    : QStringLiteral("at least %1 valves and %2 failures");
    return QStringLiteral("Of %1, too few to say: %2; a curve wants %3.")
        .arg(group.name, countWords(group),
             wants.arg(options.fewestLives).arg(options.fewestFailures));
}

} // namespace keyround
