// SPDX-License-Identifier: GPL-3.0-or-later
// Size classes, by what a stop takes (common practice, no source).
#pragma once

#include "core/common/units.h"

namespace keyround {

enum class SizeClass { UpTo8, From10To14, From16, Unknown };
/// Sizes between the classes (9 in) go with the smaller valves.
[[nodiscard]] SizeClass sizeClassOf(const NominalSize &size);
/// "up to 8 in"; Unknown stands for "any size".
[[nodiscard]] QString wordFor(SizeClass size);

} // namespace keyround
