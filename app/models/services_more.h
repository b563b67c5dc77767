// SPDX-License-Identifier: GPL-3.0-or-later
// Of each valve of the pipe network, how many services more would be without water if it did not
// hold when something breaks on its worse side: for the order of risk. Empty without mains or
// services.
#pragma once

#include "core/common/ids.h"

#include <QHash>

namespace keyround {

class Session;

[[nodiscard]] QHash<ValveId, int> servicesMore(Session &session);

} // namespace keyround
