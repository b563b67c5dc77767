// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/holding.h"

#include <utility>

namespace keyround {

namespace {

QString onDay(const QString &words, const QDate &day)
{
    return day.isNull() ? words : QStringLiteral("%1 on %2").arg(words, day.toString(Qt::ISODate));
}

std::pair<Holds, QString> trusted(const ValveHistory &history, const QDate &today)
{
    if (history.lastFullCycle.isNull()) {
        return {Holds::Doubtful, QStringLiteral("has no full cycle on record")};
    }
    const QString cycle = onDay(QStringLiteral("made its full cycle"), history.lastFullCycle);
    const bool isLongAgo = history.lastFullCycle.addYears(doubtfulAfterYears) < today;
    return {isLongAgo ? Holds::Doubtful : Holds::Works, cycle};
}

std::pair<Holds, QString> known(const ValveHistory &history, const QDate &today)
{
    switch (history.condition) {
    case Condition::NeverVisited:
        return {Holds::Unknown, history.wasReplaced()
                                    ? onDay(QStringLiteral("was replaced, and not visited since"),
                                            history.lives.back().began)
                                    : QStringLiteral("was never visited")};
    case Condition::Serviceable:
        return trusted(history, today);
    case Condition::Defect:
        return {Holds::Doubtful, onDay(QStringLiteral("showed a defect"), history.lastVisit)};
    case Condition::DoesNotShut:
        return {Holds::DoesNotShut, onDay(QStringLiteral("did not shut"), history.lastVisit)};
    case Condition::DoesNotTurn:
        return {Holds::DoesNotTurn, onDay(QStringLiteral("did not turn"), history.lastVisit)};
    case Condition::CannotReach:
        break;
    }
    // A parked car goes away; what is buried does not.
    const bool onlyForNow = !history.ofThisLife().empty() && !needsRepair(history);
    return {onlyForNow ? Holds::Unknown : Holds::CannotReach,
            onDay(QStringLiteral("could not be reached"), history.lastVisit)};
}

bool isClosedNow(const Valve &valve, const ValveHistory &history)
{
    if (history.leftOtherThanNormal) {
        return history.leftOtherThanNormal->position == Position::Closed;
    }
    return valve.normally == NormalPosition::Closed;
}

} // namespace

ShutMarks shutMarks(const std::vector<ShutLog> &logs)
{
    ShutMarks marks;
    for (const ShutLog &log : logs) {
        const ShutStanding standing = standingOf(log);
        // What is still closed counts whether the shut was ended or not: nobody opened it.
        for (const ValveId &valve : standing.closed) {
            marks.closed.insert(valve, log.begun.words);
        }
        if (!standing.isEnded) {
            marks.didNotHold.insert(standing.didNotHold);
        }
    }
    return marks;
}

ValveState holdingOf(const Valve &valve, const ValveHistory &history, const ShutMarks &marks,
                     const QDate &today)
{
    ValveState state;
    std::tie(state.holds, state.why) = known(history, today);
    state.closed = isClosedNow(valve, history) || marks.closed.contains(valve.id);
    if (const auto failed = marks.didNotHold.constFind(valve.id);
        failed != marks.didNotHold.constEnd()) {
        state.holds = Holds::DoesNotShut;
        state.closed = false;
        state.why =
            failed->isEmpty() ? QStringLiteral("was tried in this shut and did not hold") : *failed;
    }
    return state;
}

} // namespace keyround
