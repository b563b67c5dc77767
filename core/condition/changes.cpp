// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/changes.h"

#include "core/condition/condition_walk.h"
#include "core/condition/figure_words.h"

#include <algorithm>

namespace keyround {

namespace {

struct NumberedChange
{
    KeyChange change;
    const QString *number;
};

std::optional<ChangeKind> kindOf(const ConditionWalk &walk)
{
    const bool wasOut = isOutOfCondition(walk.before());
    const bool isOut = isOutOfCondition(walk.now());
    if (wasOut == isOut) {
        return std::nullopt;
    }
    return isOut ? ChangeKind::WentOut : ChangeKind::Restored;
}

void addValve(const Valve &valve, const ValveHistory &history, const Span &span,
              std::vector<ChangePeriod> &periods, std::vector<NumberedChange> &found)
{
    ConditionWalk walk(history);
    for (ChangePeriod &period : periods) {
        while (walk.next(period.end)) {
            const std::optional<ChangeKind> kind = kindOf(walk);
            if (kind && walk.date() >= span.from) {
                const bool replaced = walk.visit() == nullptr;
                found.push_back({{*kind,
                                  {valve.id, replaced ? VisitId{} : walk.visit()->visit.id,
                                   walk.date(), walk.before(), walk.now()},
                                  replaced},
                                 &valve.number});
            }
        }
        period.outAtEnd += isOutOfCondition(walk.now()) ? 1 : 0;
    }
}

void sortIntoPeriods(ConditionChanges &figure)
{
    auto period = figure.periods.begin();
    for (std::size_t i = 0; i < figure.all.size(); ++i) {
        const KeyChange &change = figure.all[i];
        while (change.change.date > period->end) {
            ++period;
        }
        (change.kind == ChangeKind::WentOut ? period->wentOut : period->restored).push_back(i);
    }
}

QString sentenceOf(const ConditionChanges &figure)
{
    if (figure.periods.empty()) {
        return QStringLiteral("The span holds no day: its end lies before its beginning.");
    }
    std::size_t out = 0;
    std::size_t back = 0;
    std::size_t replaced = 0;
    std::size_t found = 0;
    for (const KeyChange &change : figure.all) {
        (change.kind == ChangeKind::WentOut ? out : back) += 1;
        found += change.kind == ChangeKind::WentOut && change.change.from == Condition::NeverVisited
                     ? 1
                     : 0;
        replaced += change.byReplacement ? 1 : 0;
    }
    const QString of = QStringLiteral("Of %1, from %2 to %3: ")
                           .arg(valvesWords(static_cast<std::size_t>(figure.valves)),
                                figure.periods.front().from.toString(Qt::ISODate),
                                figure.periods.back().end.toString(Qt::ISODate));
    if (figure.all.empty()) {
        return of + QStringLiteral("none went out of condition and none was restored; %1 out of "
                                   "condition at the end.")
                        .arg(figure.periods.back().outAtEnd);
    }
    const QString by =
        replaced > 0 ? QStringLiteral(" (%1 by replacement)").arg(replaced) : QString();
    const auto times = [](std::size_t count) {
        return count == 1 ? QStringLiteral("once") : QStringLiteral("%1 times").arg(count);
    };
    const QString first =
        found > 0 ? QStringLiteral(" (%1 found so at the first visit)").arg(found) : QString();
    return of + QStringLiteral("went out of condition %1%2, restored %3%4; %5 out of condition at "
                               "the end.")
                    .arg(times(out), first, times(back), by)
                    .arg(figure.periods.back().outAtEnd);
}

} // namespace

QString wordFor(ChangeKind kind)
{
    return kind == ChangeKind::WentOut ? QStringLiteral("went out of condition")
                                       : QStringLiteral("restored");
}

ConditionChanges conditionChanges(const std::vector<Valve> &valves, const Histories &histories,
                                  const Span &span, PeriodLength length)
{
    ConditionChanges figure;
    QDate from = span.from;
    for (const PeriodCounts &counts : periodsIn(span, length)) {
        figure.periods.push_back({counts.period, from, counts.end, {}, {}, 0});
        from = counts.end.addDays(1);
    }
    std::vector<NumberedChange> found;
    for (const Valve &valve : valves) {
        if (valve.retired) {
            continue;
        }
        ++figure.valves;
        if (const auto history = histories.constFind(valve.id); history != histories.cend()) {
            addValve(valve, *history, span, figure.periods, found);
        }
    }
    std::ranges::stable_sort(found, [](const NumberedChange &a, const NumberedChange &b) {
        return a.change.change.date != b.change.change.date
                   ? a.change.change.date < b.change.change.date
                   : *a.number < *b.number;
    });
    figure.all.reserve(found.size());
    for (NumberedChange &one : found) {
        figure.all.push_back(one.change);
    }
    sortIntoPeriods(figure);
    figure.sentence = sentenceOf(figure);
    return figure;
}

} // namespace keyround
