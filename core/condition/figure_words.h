// SPDX-License-Identifier: GPL-3.0-or-later
// How the figures speak: shares, spans of shares, counts, kinds of valves. One wording for charts,
// tables, the console and the board report.
#pragma once

#include "core/condition/share.h"
#include "core/inventory/size_class.h"
#include "core/inventory/valve.h"

namespace keyround {

/// "87 %"; never "100 %" for less than all, nor "0 %" for more than none: "over 99 %", "under 1 %".
[[nodiscard]] QString percentWords(double share);
/// "84 to 90 %".
[[nodiscard]] QString percentWords(const Interval &shares);
/// "1 valve", "1220 valves".
[[nodiscard]] QString valvesWords(std::size_t count);
/// "gate, up to 8 in"; what is not known says so.
[[nodiscard]] QString kindWords(ValveType type, SizeClass size);

} // namespace keyround
