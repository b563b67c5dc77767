// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/shut_log.h"

#include <algorithm>

namespace keyround {

QString wordFor(ShutAction action)
{
    switch (action) {
    case ShutAction::Closed:
        return QStringLiteral("closed");
    case ShutAction::DidNotHold:
        return QStringLiteral("does not hold");
    case ShutAction::Reopened:
        return QStringLiteral("reopened");
    case ShutAction::Noted:
        return QStringLiteral("noted");
    case ShutAction::Ended:
        break;
    }
    return QStringLiteral("ended");
}

QString keyFor(ShutAction action)
{
    return action == ShutAction::DidNotHold ? QStringLiteral("did_not_hold") : wordFor(action);
}

ShutStanding standingOf(const ShutLog &log)
{
    ShutStanding standing;
    for (const ShutTick &tick : log.ticks) {
        switch (tick.action) {
        case ShutAction::Closed:
            std::erase(standing.closed, tick.valve);
            standing.closed.push_back(tick.valve);
            standing.didNotHold.remove(tick.valve);
            break;
        case ShutAction::DidNotHold:
            std::erase(standing.closed, tick.valve);
            standing.didNotHold.insert(tick.valve, tick.words);
            break;
        case ShutAction::Reopened:
            std::erase(standing.closed, tick.valve);
            break;
        case ShutAction::Noted:
            break;
        case ShutAction::Ended:
            standing.isEnded = true;
            break;
        }
    }
    return standing;
}

std::vector<ValveId> reopeningOrder(const ShutStanding &standing)
{
    return {standing.closed.rbegin(), standing.closed.rend()};
}

} // namespace keyround
