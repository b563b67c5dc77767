// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: a row of the edit record, read, and its hash (SHA-256 over the row as canonical
// JSON), for the store that writes it and the check that reads it again.
#pragma once

#include "core/storage/statement.h"
#include "core/storage/valve_store.h"

namespace keyround {

/// The columns in the order that readEdit() takes them; stamp and hash follow them.
[[nodiscard]] QString editColumns();
[[nodiscard]] Status readEdit(const Statement &row, ValveEdit &edit);
[[nodiscard]] QString editHash(const ValveEdit &edit, HybridTime stamp);

} // namespace keyround
