// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: a line as Well-Known Text (OGC 06-103r4), longitude first, and back. Numbers are
// written with the fewest digits that read back as the same double, so nothing moves.
#pragma once

#include "core/common/result.h"
#include "core/geo/point.h"

#include <QString>

namespace keyround {

[[nodiscard]] QString lineText(const GeoLine &line);
/// Fails with Damaged when the text is no line.
[[nodiscard]] Result<GeoLine> lineFromText(const QString &text);

} // namespace keyround
