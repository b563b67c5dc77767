// SPDX-License-Identifier: GPL-3.0-or-later
// The force on the key, where the crew's tool shows it. Newton metres inside; foot-pounds or newton
// metres on the screen. A reading of a crew's tool: good to a few per cent at best.
#pragma once

#include "core/common/result.h"

#include <QString>

#include <compare>
#include <optional>

namespace keyround {

struct Torque
{
    double newtonMetres = 0;
    friend auto operator<=>(const Torque &, const Torque &) = default;
};

enum class TorqueUnit { FootPounds, NewtonMetres };

/// Exact: 0.3048 m times 4.4482216152605 N.
inline constexpr double newtonMetresPerFootPound = 1.3558179483314004;

[[nodiscard]] QString wordFor(TorqueUnit unit); ///< "ft-lb", "N·m"
/// "120 ft-lb", "162.7 N·m": to a tenth.
[[nodiscard]] QString torqueText(Torque torque, TorqueUnit unit);

/// A number in this unit, or with its own unit behind it (ft-lb, lb-ft, Nm, N·m). Blank is none.
/// Refuses what is no number, not above nothing, or above 1,000 ft-lb: nothing that a crew turns by
/// hand or by machine takes that (common practice, no source), so it is a slip of the finger.
[[nodiscard]] Result<std::optional<Torque>> parseTorque(const QString &text, TorqueUnit unit);

/// True above 450 ft-lb, which butterfly operators must withstand at their stops (a maker's
/// specification seen for AWWA C504 operators): taken, and warned of.
[[nodiscard]] bool isMoreThanStopsBear(Torque torque);

} // namespace keyround
