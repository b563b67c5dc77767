// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/valve.h"

namespace keyround {

QString wordFor(ValveType type)
{
    switch (type) {
    case ValveType::Gate:
        return QStringLiteral("gate");
    case ValveType::GearedGate:
        return QStringLiteral("geared gate");
    case ValveType::Butterfly:
        return QStringLiteral("butterfly");
    case ValveType::Ball:
        return QStringLiteral("ball");
    case ValveType::Plug:
        return QStringLiteral("plug");
    case ValveType::Other:
        return QStringLiteral("other");
    case ValveType::Unknown:
        break;
    }
    return QStringLiteral("unknown");
}

QString wordFor(ClosingDirection direction)
{
    return direction == ClosingDirection::Clockwise ? QStringLiteral("clockwise")
                                                    : QStringLiteral("counterclockwise");
}

QString wordFor(NormalPosition position)
{
    return position == NormalPosition::Open ? QStringLiteral("open") : QStringLiteral("closed");
}

QString wordFor(ValveRole role)
{
    switch (role) {
    case ValveRole::MainLine:
        return QStringLiteral("main line");
    case ValveRole::HydrantLead:
        return QStringLiteral("hydrant lead");
    case ValveRole::Boundary:
        return QStringLiteral("boundary");
    case ValveRole::BlowOff:
        return QStringLiteral("blow-off");
    case ValveRole::Bypass:
        return QStringLiteral("bypass");
    case ValveRole::FireLine:
        return QStringLiteral("fire line");
    case ValveRole::Service:
        return QStringLiteral("service");
    case ValveRole::Other:
        break;
    }
    return QStringLiteral("other");
}

} // namespace keyround
