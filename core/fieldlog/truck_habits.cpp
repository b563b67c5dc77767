// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/truck_habits.h"

#include <QSet>

namespace keyround {

namespace {

constexpr double farthestArrival = 1000; ///< metres: beyond it every stop of a street would offer
constexpr int mostBackOff = 5 * 4;       ///< quarter turns

} // namespace

QString faultIn(const TruckHabits &habits)
{
    const double arrival = habits.arrivalDistance.value;
    if (!(arrival > 0) || arrival > farthestArrival) {
        return QStringLiteral("The distance at which a stop offers itself must be above 0 and at "
                              "most 1,000 m.");
    }
    if (habits.backOff.value < 0 || habits.backOff.value > mostBackOff) {
        return QStringLiteral("The back-off after opening must be between no turn and 5 turns.");
    }
    QSet<QString> seen;
    for (const OwnProblem &own : habits.ownProblems) {
        const QString words = own.words.trimmed();
        if (words.isEmpty() || words != own.words) {
            return QStringLiteral("A problem of your own needs words, without blanks round them.");
        }
        if (problemFromText(words)) {
            return QStringLiteral("\"%1\" is among the problems already.").arg(words);
        }
        if (seen.contains(words.toCaseFolded())) {
            return QStringLiteral("\"%1\" stands twice among your own problems.").arg(words);
        }
        seen.insert(words.toCaseFolded());
    }
    return {};
}

} // namespace keyround
