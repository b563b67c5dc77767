// SPDX-License-Identifier: GPL-3.0-or-later
// Settling which column fills which field: the match that was asked for, or the guess, checked
// against the columns that are there.
#pragma once

#include "core/common/result.h"
#include "core/exchange/layer_kind.h"

namespace keyround {

/// `asked` empty: guessed. Errors name a field or column that is not there, and its neighbours.
[[nodiscard]] Result<ColumnMatch> matchFor(LayerKind kind, const QStringList &columns,
                                           const ColumnMatch &asked, const QString &fileName);

} // namespace keyround
