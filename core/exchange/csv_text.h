// SPDX-License-Identifier: GPL-3.0-or-later
// Makes a table in text plain enough for GDAL: UTF-8, commas, every field quoted, one heading line.
// GDAL 3.6 alone would not do: it takes a bare quote inside an unquoted field (6",gate) for an
// opening one and swallows the next rows, guesses whether there are headings, and knows nothing of
// Windows-1252. Source of the rules: RFC 4180, and what spreadsheets write.
#pragma once

#include "core/common/result.h"

#include <QByteArray>
#include <QStringList>

#include <vector>

namespace keyround {

/// A second column added to tables of one: GDAL 3.6 does not open a table whose only heading is
/// quoted, and cuts an unquoted one at its blanks.
inline constexpr const char *csvPadding = "keyround-padding";

struct CsvText
{
    QByteArray plain; ///< UTF-8, comma, all fields quoted, LF
    QStringList headings;
    QString encoding;              ///< "UTF-8", "UTF-16" or "Windows-1252"
    qint64 rows = 0;               ///< without the headings and blank lines
    std::vector<qint64> shortRows; ///< rows with fewer fields than headings
    std::vector<qint64> longRows;  ///< rows with more, the surplus not blank; it is left out
};

/// `name` is for messages. Errors: no text, no headings, a quote that is never closed.
[[nodiscard]] Result<CsvText> readCsvText(const QByteArray &raw, const QString &name);

/// The mark that keeps a spreadsheet from running a field as a formula (ASVS 5.0 1.2.10), put on
/// and taken off. unguarded(guarded(x)) is x for every x.
[[nodiscard]] QString guarded(const QString &field);
[[nodiscard]] QString unguarded(const QString &field);

} // namespace keyround
