// SPDX-License-Identifier: GPL-3.0-or-later
// The work zone of a stop, from what the street layer and people have said; and the commands that
// keep what they say. Undoable. A person's word goes before the street layer's; nothing that is
// only usual is taken without a person's yes.
#pragma once

#include "app/commands/command.h"
#include "core/dayplan/load_list.h"
#include "core/geo/point.h"
#include "core/workzone/known_sites.h"
#include "core/workzone/sketch.h"

namespace keyround {

struct StopSite
{
    Site site; ///< its lid means nothing while the lid is among the questions
    QString streetKey;
    QString streetName; ///< for people; "the street of valve 12" where it has no name
    StreetClass kind = StreetClass::Unknown;
    std::vector<SiteQuestion> questions; ///< still to be asked, in order
    SiteFacts known;                     ///< as far as it is
    StreetFacts usual;                   ///< to be offered
};
[[nodiscard]] StopSite siteFor(Session &session, const Valve &valve);

/// Worked out, with what the utility has put in its place for the valve, else for the street.
/// BadInput with the questions when something has to be asked first.
[[nodiscard]] Result<SetUp> setUpFor(Session &session, const Valve &valve, const StopSite &site);
[[nodiscard]] Result<SetUp> setUpFor(Session &session, const Valve &valve);

/// Remembers an answer for the street or the valve; empty forgets it.
[[nodiscard]] Status answerSite(Session &session, const Valve &valve, SiteQuestion question,
                                std::optional<double> answer);

enum class ZoneScope { Valve, Street };
/// The override that holds for the valve or its street; empty: none.
[[nodiscard]] std::optional<SetUpOverride> changeOf(Session &session, const Valve &valve,
                                                    ZoneScope scope);
/// Puts the utility's own values in place of what is worked out, or (empty) takes them back.
/// BadInput where applyOverride() refuses them.
[[nodiscard]] Status changeSetUp(Session &session, const Valve &valve, ZoneScope scope,
                                 const std::optional<SetUpOverride> &change);
/// Keeps it among the utility's set-ups under its name, in the place of one of that name.
[[nodiscard]] Status saveSetUp(Session &session, const SetUpOverride &change);

/// What the round's stops need, in their order.
[[nodiscard]] std::vector<LoadStop> loadStopsOf(Session &session, const Round &round);
[[nodiscard]] std::vector<LoadLine> loadListOf(Session &session, const Round &round);

/// What a drawing of the set-up needs to know of the ground.
struct ZoneGround
{
    PlaneLine street;
    PlanePoint lid;
    bool forward = true; ///< the traffic that loses its lane drives the line forward
    bool drivesLeft = false;
    bool firstIsDeadEnd = false;
    bool lastIsDeadEnd = false;
};
[[nodiscard]] ZoneGround groundOf(Session &session, const Valve &valve);

} // namespace keyround
