// SPDX-License-Identifier: GPL-3.0-or-later
// The kinds of layer that come in from a utility's files, and the fields that each can fill.
#pragma once

#include <QMap>
#include <QString>
#include <QStringList>

#include <optional>
#include <span>

namespace keyround {

enum class LayerKind { Valves, Streets, Mains, Hydrants, Services, Sources, Visits };

[[nodiscard]] QString keyFor(LayerKind kind); ///< "valves", as on the console
[[nodiscard]] std::optional<LayerKind> layerKindFromKey(const QString &key);

/// A field that a column can be matched to, with the headings that usually carry it.
struct ImportField
{
    QString key; ///< as in --map key=column; for valves the keys of inventory/valve_fields.h,
                 ///< and "x", "y", "lat", "lon" for positions in plain tables
    QString label;
    bool required = false;
    QStringList headings; ///< lower case, letters and digits only
};
[[nodiscard]] const QList<ImportField> &importFields(LayerKind kind);

/// Field key to column name.
using ColumnMatch = QMap<QString, QString>;
/// Guesses from the headings; what cannot be guessed is absent.
[[nodiscard]] ColumnMatch guessColumns(LayerKind kind, const QStringList &columns);
/// One key for "files like this": the kind and its sorted column names.
[[nodiscard]] QString layoutKey(LayerKind kind, const QStringList &columns);

} // namespace keyround
