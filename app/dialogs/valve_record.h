// SPDX-License-Identifier: GPL-3.0-or-later
// What is on record of a valve, as plain words: its visits and the edits of its inventory row.
#pragma once

#include "core/common/units.h"
#include "core/condition/history.h"
#include "core/storage/valve_store.h"

#include <QStringList>

namespace keyround {

struct RecordEntry
{
    QString heading;
    QStringList lines;
};

/// Newest first.
[[nodiscard]] std::vector<RecordEntry> visitEntries(const ValveHistory &history);
/// One entry for each moment at which somebody changed something, in the order given.
[[nodiscard]] std::vector<RecordEntry> editEntries(const std::vector<ValveEdit> &edits);

/// "Closing 27, opening 27 turns"; "no pass made".
[[nodiscard]] QString passesText(const std::vector<Pass> &passes);

} // namespace keyround
