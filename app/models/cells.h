// SPDX-License-Identifier: GPL-3.0-or-later
// What the item models share: keys that sort as people count, the condition's mark as an icon.
#pragma once

#include "core/common/natural_key.h"
#include "core/fieldlog/judgement.h"

#include <QIcon>
#include <QString>

namespace keyround {

/// The condition's shape as drawn on the map, for a cell; the word stands beside it.
[[nodiscard]] QIcon conditionIcon(Condition condition);

/// "2026-03-16", or a dash where there is no date.
[[nodiscard]] QString dateCell(const QDate &date);

} // namespace keyround
