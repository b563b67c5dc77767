// SPDX-License-Identifier: GPL-3.0-or-later
// A round: one crew's day as it was decided (kept in the project), and as it works out in time
// (computed from it whenever it is looked at, never stored as truth).
#pragma once

#include "core/common/ids.h"
#include "core/common/units.h"
#include "core/geo/point.h"

#include <QDate>
#include <QSet>
#include <QString>
#include <QTime>

#include <optional>
#include <vector>

namespace keyround {

enum class RoundState { Planned, UnderWay, Finished };
[[nodiscard]] QString wordFor(RoundState state);

struct Shift
{
    QTime from{7, 0};
    QTime to{15, 30};
    friend bool operator==(const Shift &, const Shift &) = default;
};

/// A break of the shift, taken between two stops; it begins between these times.
struct ShiftBreak
{
    QTime earliest{11, 30};
    QTime latest{13, 0};
    double minutes = 30;
    friend bool operator==(const ShiftBreak &, const ShiftBreak &) = default;
};

struct Round
{
    RoundId id;
    QDate date;
    QString crew;
    Shift shift;
    GeoPoint start;
    GeoPoint finish;
    RoundState state = RoundState::Planned;
    std::vector<ValveId> stops;     ///< in the order of driving
    std::vector<ShiftBreak> breaks; ///< in the order of the day

    // What a planner has decided by hand, and drawing up again leaves as it is.
    QSet<ValveId> mustGo;     ///< stops that are never given up for others
    QSet<ValveId> heldToNext; ///< stops whose follower in `stops` stays their follower
    bool firstIsPinned = false;
    bool lastIsPinned = false;
    /// Crew and customers were told of this day: later drawing up of the coming days keeps its
    /// stops where they are.
    bool isTold = false;
    friend bool operator==(const Round &, const Round &) = default;
};

/// Minutes that a stop takes (defaults: common practice, no source; TRADE figures 15 to 30 min a
/// valve up to 12 in, 1 to 2 h from 16 in).
struct StopTimes
{
    double baseMinutes = 13;       ///< park, cones, lid, notes, take-down
    double secondsPerTurn = 4;     ///< one turn of the key by hand
    int passes = 2;                ///< close and open
    double largeExtraMinutes = 45; ///< added from largeFrom on
    NominalSize largeFrom = NominalSize::ofInches(16);
    double fallbackTurns = 30; ///< where no count is known
    /// Of baseMinutes, for cones and taking them down: gives way to a set-up that is worked out
    /// (common practice, no source).
    double baseZoneMinutes = 4;
    friend bool operator==(const StopTimes &, const StopTimes &) = default;
};

} // namespace keyround
