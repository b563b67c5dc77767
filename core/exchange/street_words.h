// SPDX-License-Identifier: GPL-3.0-or-later
// What street layers write for class, one-way, speed and access, as ours. OpenStreetMap's tags as
// its wiki describes them; numbers of the United States functional classes 1 to 7 as in the Federal
// Highway Administration's guide to functional classification (from memory); the other words are
// common practice, no source.
#pragma once

#include "core/common/result.h"
#include "core/streets/street.h"

#include <optional>

namespace keyround {

/// Unknown when the word is not known.
[[nodiscard]] StreetClass streetClassFrom(const QString &word);

/// Empty when the word is not known. F and T alone are not taken: they mean from-to and to-from in
/// one office and false and true in the next.
[[nodiscard]] std::optional<OneWay> oneWayFrom(const QString &word);

enum class SpeedUnit { MilesPerHour, KilometresPerHour };
[[nodiscard]] std::optional<SpeedUnit> speedUnitFromHeading(const QString &heading);
/// Metres per second; a unit in the text ("30 mph") wins. Empty for 0 and for words that give no
/// number ("none", "signals"); an error for what cannot be a speed.
[[nodiscard]] Result<std::optional<double>> parseSpeed(const QString &text, SpeedUnit bare);

/// False for what forbids driving in: no, private, and the like. Empty when it says nothing.
[[nodiscard]] std::optional<bool> drivableFrom(const QString &access);

} // namespace keyround
