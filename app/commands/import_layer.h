// SPDX-License-Identifier: GPL-3.0-or-later
// Bringing a layer in from a file, in two steps: prepare reads and compares and writes nothing;
// apply writes all of it in one transaction. Window and console take the same road.
#pragma once

#include "app/shell/session.h"
#include "core/exchange/read_layer.h"
#include "core/inventory/layer_diff.h"

#include <variant>

namespace keyround {

/// What an import would do, ready to be shown and then applied.
struct ImportPlan
{
    LayerKind kind = LayerKind::Valves;
    ReadRequest request;
    ColumnMatch columns; ///< as used
    QString layout;      ///< the key under which the match is remembered
    LayerDiff diff;      ///< by number (visits: by their ids)
    std::vector<RowNote> rejected;
    std::vector<RowNote> warnings;
    std::vector<GeoPoint> places; ///< one a row, for the preview on the map
    std::variant<std::vector<ValveRow>, std::vector<Street>, std::vector<Main>,
                 std::vector<Hydrant>, std::vector<Service>, std::vector<Source>,
                 std::vector<Visit>>
        rows;
    [[nodiscard]] size_t rowCount() const;
};

[[nodiscard]] Result<ImportPlan> prepareImport(Session &session, LayerKind kind,
                                               const ReadRequest &asked,
                                               const Progress &progress = {});

/// Writes the plan's rows, remembers the column match for files of this layout, and tells the
/// notifier. Rows that did not change are not written again; missing ones are kept.
[[nodiscard]] Status applyImport(Session &session, const ImportPlan &plan,
                                 const Progress &progress = {});

/// The columns that a file of this layout was matched with before, else guessed ones.
[[nodiscard]] ColumnMatch suggestedColumns(Session &session, LayerKind kind,
                                           const QStringList &columns);

/// "412 new, 3 changed, 785 unchanged, 2 not in the file (kept), 5 rows not taken".
[[nodiscard]] QString summaryOf(const ImportPlan &plan);

} // namespace keyround
