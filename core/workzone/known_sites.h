// SPDX-License-Identifier: GPL-3.0-or-later
// What people have said of streets and valves for their work zones, and what they have put in
// place of what was worked out. A street is known by its name; one without a name by its segment.
#pragma once

#include "core/common/ids.h"
#include "core/workzone/set_up.h"
#include "core/workzone/site_answers.h"

#include <QHash>

namespace keyround {

/// Of a whole street, or of one valve.
template <typename Facts> struct KnownPlace
{
    Facts facts;
    std::optional<SetUpOverride> change; ///< empty: as worked out
    friend bool operator==(const KnownPlace &, const KnownPlace &) = default;
};
using KnownStreet = KnownPlace<StreetFacts>;
using KnownValve = KnownPlace<ValveSite>;

struct KnownSites
{
    QHash<QString, KnownStreet> streets; ///< by siteKeyOf()
    QHash<ValveId, KnownValve> valves;
    friend bool operator==(const KnownSites &, const KnownSites &) = default;
};

/// The street's name without regard to case and spaces; a street without one goes by its key.
[[nodiscard]] inline QString siteKeyOf(const Street &street)
{
    const QString name = street.name.simplified().toCaseFolded();
    return name.isEmpty() ? QStringLiteral("segment ") + street.key : name;
}

} // namespace keyround
