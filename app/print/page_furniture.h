// SPDX-License-Identifier: GPL-3.0-or-later
// The head of every page, as the open project has it.
#pragma once

#include "app/print/sheet_printer.h"
#include "app/shell/session.h"

namespace keyround {

[[nodiscard]] PageFurniture furnitureOf(Session &session);

} // namespace keyround
