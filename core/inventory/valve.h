// SPDX-License-Identifier: GPL-3.0-or-later
// A valve as the utility knows it: what it is, where it is, how it should be. What happened to it
// is in fieldlog; what that says of it is in condition.
#pragma once

#include "core/common/ids.h"
#include "core/common/units.h"
#include "core/geo/point.h"

#include <QString>

#include <optional>

namespace keyround {

enum class ValveType { Unknown, Gate, GearedGate, Butterfly, Ball, Plug, Other };
enum class ClosingDirection { Clockwise, Counterclockwise };
enum class NormalPosition { Open, Closed };
enum class ValveRole { MainLine, HydrantLead, Boundary, BlowOff, Bypass, FireLine, Service, Other };

struct Valve
{
    ValveId id;
    QString number; ///< the utility's own, unique, kept letter for letter (leading zeros too)
    GeoPoint place; ///< not valid when only an address or ties are known
    QString address;
    QString ties; ///< measured distances to lasting marks, as written down
    std::optional<Metres> depthToNut;
    NominalSize size;
    ValveType type = ValveType::Unknown;
    QString nut; ///< the operating nut's size and shape, as the utility writes it
    QString lid; ///< the size of the box's lid, as the utility writes it
    std::optional<QuarterTurns> listedTurns; ///< the inventory's count from open to closed
    ClosingDirection closes = ClosingDirection::Clockwise;
    NormalPosition normally = NormalPosition::Open;
    ValveRole role = ValveRole::MainLine;
    std::optional<int> installYear;
    QString surface;           ///< asphalt, concrete, verge: free text of the utility
    QString zone;              ///< pressure zone
    QString criticalCustomers; ///< who cannot go without: empty when nobody
    QString remarks;
    bool retired = false; ///< no longer in the ground; kept with its history

    [[nodiscard]] bool isCritical() const { return !criticalCustomers.isEmpty(); }
    friend bool operator==(const Valve &, const Valve &) = default;
};

[[nodiscard]] QString wordFor(ValveType type);
[[nodiscard]] QString wordFor(ClosingDirection direction);
[[nodiscard]] QString wordFor(NormalPosition position);
[[nodiscard]] QString wordFor(ValveRole role);

} // namespace keyround
