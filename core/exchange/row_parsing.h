// SPDX-License-Identifier: GPL-3.0-or-later
// How every reader fills one field of a row: what cannot be understood is noted and left out; the
// row comes in without it.
#pragma once

#include "core/exchange/layer_reader.h"

#include <QHash>

namespace keyround {

/// The value of a field, or empty when the cell is blank or not understood (then noted).
template <typename Parser>
[[nodiscard]] auto parsedField(const LayerReader &reader, const SourceRow &row,
                               const QString &field, std::vector<RowNote> &warnings, Parser parse)
    -> typename decltype(parse(QString()))::value_type
{
    const QString text = row.text(field);
    if (text.isEmpty()) {
        return {};
    }
    auto value = parse(text);
    if (!value) {
        warnings.push_back(reader.note(
            row, field, value.error().message + QStringLiteral(" The row came in without it.")));
        return {};
    }
    return *value;
}

/// Lengths in a column: the unit by its heading (depth_ft, "depth (m)", depth_in) or by the cell
/// ("3.5 ft"), else feet.
enum class LengthUnit { Feet, Metres, Inches, Unknown };
[[nodiscard]] LengthUnit unitFromHeading(const QString &heading);
[[nodiscard]] Result<std::optional<Metres>> parseLength(const QString &text, LengthUnit unit);

/// Keeps the first row of each number and refuses the others.
class FirstOfEach
{
public:
    /// The row that has the number already, or 0 when this row is the first.
    [[nodiscard]] qint64 take(const QString &number, qint64 row)
    {
        const auto seen = m_rows.constFind(number);
        if (seen != m_rows.constEnd()) {
            return *seen;
        }
        m_rows.insert(number, row);
        return 0;
    }

private:
    QHash<QString, qint64> m_rows;
};

/// The number of a row that must have one of its own; the error is the reason for the reject.
[[nodiscard]] tl::expected<QString, RowNote> ownNumber(const LayerReader &reader,
                                                       const SourceRow &row, FirstOfEach &seen);

/// A cell of yes or no; empty when it is neither.
[[nodiscard]] std::optional<bool> yesOrNo(const QString &text);

/// A key for a line that has no number of its own: the same line gives the same key.
[[nodiscard]] QString keyOfLine(const GeoLine &line);

} // namespace keyround
