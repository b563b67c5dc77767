// SPDX-License-Identifier: GPL-3.0-or-later
// Keys for the lines of a layer. A layer is compared with its last import by key, so a key must
// name one line: rows that share an id, and the parts of one row, get a suffix; a line drawn twice
// is refused.
#pragma once

#include "core/exchange/row_parsing.h"

#include <QSet>

namespace keyround {

class LineKeys
{
public:
    /// The key for a part of a row with the given id (may be empty); the error is the reason.
    [[nodiscard]] tl::expected<QString, QString> take(const QString &id, const GeoLine &line,
                                                      qint64 row);

private:
    QHash<QString, qint64> m_rowsByLine; ///< by id and shape
    QSet<QString> m_keys;
};

/// Takes the lines of one row: `use(key, line)` for every part; rejects and notes go where they
/// belong.
template <typename Row, typename Use>
void takeLines(const LayerReader &reader, const SourceRow &row, const QString &idField,
               LineKeys &keys, Imported<Row> &result, Use use)
{
    const auto lines = reader.lines(row);
    if (!lines) {
        result.rejected.push_back(lines.error());
        return;
    }
    if (lines->size() > 1) {
        result.warnings.push_back(reader.note(
            row, idField,
            QStringLiteral("the row has %1 lines; each came in by itself").arg(lines->size())));
    }
    for (const GeoLine &line : *lines) {
        const auto key = keys.take(row.text(idField), line, row.number());
        if (key) {
            use(*key, line);
        } else {
            result.rejected.push_back(reader.note(row, idField, key.error()));
        }
    }
}

} // namespace keyround
