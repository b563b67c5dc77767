// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/shut.h"

namespace keyround {

QString wordFor(Holds holds)
{
    switch (holds) {
    case Holds::Works:
        return QStringLiteral("works");
    case Holds::Doubtful:
        return QStringLiteral("doubtful");
    case Holds::Unknown:
        return QStringLiteral("condition not known");
    case Holds::DoesNotShut:
        return QStringLiteral("does not shut");
    case Holds::DoesNotTurn:
        return QStringLiteral("does not turn");
    case Holds::CannotReach:
        break;
    }
    return QStringLiteral("cannot be reached");
}

QString keyFor(Holds holds)
{
    switch (holds) {
    case Holds::Works:
        return QStringLiteral("works");
    case Holds::Doubtful:
        return QStringLiteral("doubtful");
    case Holds::Unknown:
        return QStringLiteral("unknown");
    case Holds::DoesNotShut:
        return QStringLiteral("does_not_shut");
    case Holds::DoesNotTurn:
        return QStringLiteral("does_not_turn");
    case Holds::CannotReach:
        break;
    }
    return QStringLiteral("cannot_reach");
}

ValveStates statesAsDesigned(const PipeNetwork &network, Holds holds)
{
    return statesFrom(network, [holds](const NetValve &valve) {
        return ValveState{holds, valve.normallyClosed, QString()};
    });
}

ValveStates statesFrom(const PipeNetwork &network,
                       const std::function<ValveState(const NetValve &)> &stateOf)
{
    ValveStates states;
    states.reserve(network.valves.size());
    for (const NetValve &valve : network.valves) {
        states.push_back(stateOf(valve));
    }
    return states;
}

QString connectivityCaution()
{
    return QStringLiteral(
        "Worked out from how the mains and valves are joined on the map, not from "
        "pressure or flow. Water may be weak or dirty elsewhere too. The "
        "utility's own operators decide.");
}

} // namespace keyround
