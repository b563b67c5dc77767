// SPDX-License-Identifier: GPL-3.0-or-later
// A small town for tests of the app, invented from nothing and laid on open ocean (40 N, 150 W)
// so that it cannot be mistaken for a real place: six avenues by five streets in blocks of 120 m
// by 100 m, a river between the third and the fourth avenue that only the southernmost and the
// northernmost street cross, 28 valves at corners, one of them known by its address only, mains,
// hydrants, services, two years of visits, a policy and a yard south-west of the grid.
//
// The day is Monday 2026-03-16, 06:45, five hours behind UTC.
#pragma once

#include "app/shell/session.h"

#include <QTemporaryDir>

namespace keyround {

/// Call in initTestCase: the tests' settings never touch the user's.
void keepSettingsApart();

/// 2026-03-16T06:45:00-05:00, standing still: hand it to the session.
[[nodiscard]] Moment smallTownMoment();
[[nodiscard]] std::unique_ptr<Clock> smallTownClock();

struct SmallTown
{
    QTemporaryDir folder; ///< holds the project file as long as the town lives
    QString path;
    /// A valve without a position, one that does not turn, one never visited, one with a long
    /// address and remark, one left closed though normally open.
    QString withoutPlace;
    QString doesNotTurn;
    QString neverVisited;
    QString longWords;
    QString leftClosed;
};

/// The corner of an avenue (0 to 5, west to east) and a street (0 to 4, south to north).
[[nodiscard]] GeoPoint smallTownCorner(int avenue, int street);

/// Makes a project in a temporary folder, opens it in the session and fills it through the
/// stores. Ends the program with the store's message when that fails.
[[nodiscard]] std::unique_ptr<SmallTown> makeSmallTown(Session &session);

/// Makes the town's mains a network for shut tracing: on every main a valve 10 m from each end,
/// numbered "G-" with the main's own ("G-N21-S", "G-N21-N" on main M-N21; west and east on the
/// others), a tank T-1 at the south-west corner, and a dead end M-DEAD north of the north-west
/// corner with its valve G-DEAD and three services. G-N21-N does not turn; the others were never
/// visited.
void addSmallTownNetwork(Session &session);

} // namespace keyround
