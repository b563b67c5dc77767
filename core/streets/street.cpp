// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/street.h"

namespace keyround {

QString wordFor(StreetClass kind)
{
    switch (kind) {
    case StreetClass::Motorway:
        return QStringLiteral("motorway");
    case StreetClass::Arterial:
        return QStringLiteral("arterial");
    case StreetClass::Collector:
        return QStringLiteral("collector");
    case StreetClass::Residential:
        return QStringLiteral("residential");
    case StreetClass::ServiceRoad:
        return QStringLiteral("service road");
    case StreetClass::Path:
        return QStringLiteral("path");
    case StreetClass::Unknown:
        break;
    }
    return QStringLiteral("unclassified");
}

} // namespace keyround
