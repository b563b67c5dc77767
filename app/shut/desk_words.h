// SPDX-License-Identifier: GPL-3.0-or-later
// How a shut's steps are put into words, for the files that implement ShutDesk. What others need
// of it stands in shut_desk.h.
#pragma once

#include "core/common/ids.h"

#include <QStringList>

#include <vector>

namespace keyround {

class Session;

/// Kept in a note's words, so that a look at a valve that stands closed is part of the record.
[[nodiscard]] QString checkedWords(const QString &number);
/// "V1, V2 and V3".
[[nodiscard]] QString listed(QStringList numbers);
/// A valve's number; says so where it is no longer in the inventory.
[[nodiscard]] QString numberOf(Session &session, const ValveId &id);
[[nodiscard]] QStringList numbersOf(Session &session, const std::vector<ValveId> &ids);

} // namespace keyround
