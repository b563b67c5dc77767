// SPDX-License-Identifier: GPL-3.0-or-later
// Order as people count.
#pragma once

#include <QString>

namespace keyround {

/// A key under which "V-9" sorts before "V-10": letters folded, runs of digits padded.
[[nodiscard]] QString naturalKey(const QString &text);

} // namespace keyround
