// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/outcome.h"

#include <QSet>

#include <algorithm>

namespace keyround {

RoundOutcome outcomeOf(const Round &round, const Histories &histories)
{
    QSet<ValveId> bad;
    QSet<ValveId> defects;
    QSet<ValveId> visited;
    for (auto it = histories.cbegin(); it != histories.cend(); ++it) {
        for (const ReadVisit &read : it->visits) {
            if (read.visit.round != round.id) {
                continue;
            }
            visited.insert(it.key());
            if (isOutOfCondition(read.after) && !isOutOfCondition(read.before)) {
                bad.insert(it.key());
            }
            if (read.after == Condition::Defect && read.before != Condition::Defect) {
                defects.insert(it.key());
            }
        }
    }
    std::vector<ValveId> order = round.stops;
    const QSet<ValveId> stops(order.begin(), order.end());
    for (const ValveId &valve : visited) {
        if (!stops.contains(valve)) {
            order.push_back(valve);
        }
    }
    std::sort(order.begin() + static_cast<std::ptrdiff_t>(round.stops.size()), order.end());
    RoundOutcome outcome;
    for (const ValveId &valve : order) {
        (visited.contains(valve) ? outcome.done : outcome.notDone).push_back(valve);
        if (bad.contains(valve)) {
            outcome.newlyBad.push_back(valve);
        }
        if (defects.contains(valve)) {
            outcome.newDefects.push_back(valve);
        }
        const auto history = histories.constFind(valve);
        if (visited.contains(valve) && history->leftOtherThanNormal) {
            outcome.leftAbnormal.push_back(valve);
        }
    }
    return outcome;
}

} // namespace keyround
