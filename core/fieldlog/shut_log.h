// SPDX-License-Identifier: GPL-3.0-or-later
// A shut as it happens: where the break is, and what was done with each valve, when and by whom.
// Written step by step and never changed; how the shut stands follows from its steps.
#pragma once

#include "core/common/clock.h"
#include "core/common/ids.h"
#include "core/geo/point.h"

#include <QHash>
#include <QString>

#include <vector>

namespace keyround {

/// Where a shut was begun.
struct ShutBegun
{
    ShutId id;
    GeoPoint place;
    QString main;  ///< its number; may be empty
    QString words; ///< "break on main WM-00012, Larch Street"
    Moment at;
    QString person;
    QString device;
    HybridTime stamp;
    friend bool operator==(const ShutBegun &, const ShutBegun &) = default;
};

enum class ShutAction {
    Closed,     ///< the valve was closed for this shut
    DidNotHold, ///< it was tried, and does not shut or does not turn
    Reopened,   ///< opened again, or what closing it took was undone
    Noted,      ///< words only
    Ended,      ///< the shut is over
};
[[nodiscard]] QString wordFor(ShutAction action);
[[nodiscard]] QString keyFor(ShutAction action); ///< "did_not_hold": storage and JSON

struct ShutTick
{
    TickId id;
    ShutId shut;
    ShutAction action = ShutAction::Noted;
    ValveId valve; ///< null for Noted and Ended
    QString words;
    Moment at;
    QString person;
    QString device;
    HybridTime stamp;
    friend bool operator==(const ShutTick &, const ShutTick &) = default;
};

struct ShutLog
{
    ShutBegun begun;
    std::vector<ShutTick> ticks; ///< by stamp
};

/// How a shut stands now.
struct ShutStanding
{
    std::vector<ValveId> closed;        ///< closed for it and not reopened, in the order of closing
    QHash<ValveId, QString> didNotHold; ///< with the words given
    bool isEnded = false;
};
[[nodiscard]] ShutStanding standingOf(const ShutLog &log);

/// The order in which what is closed is opened again: the last one closed first, so that the water
/// comes back from one side (common practice, no source; the utility's procedure decides).
[[nodiscard]] std::vector<ValveId> reopeningOrder(const ShutStanding &standing);

} // namespace keyround
