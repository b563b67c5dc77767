// SPDX-License-Identifier: GPL-3.0-or-later
// Getting out of a damaged project file what can still be read: table by table, row by row, over
// bad pages, also when the database itself refuses the file. The damaged file is only read; what
// comes out is a new project file, and a list of what was doubtful.
//
// What is trusted: a visit, an edit, a half-typed stop and a row of the log come over only when
// they match their hash; one that does not is left out and listed with all that it says, so that a
// person can judge it. Rows of the inventory, rounds and settings carry no hash: they come over as
// they read, and a value that cannot be one is listed.
//
// How: first through SQLite, on a copy, with its own roll-back done, in the order of rowids, one
// rowid at a time where a page cannot be read. Where that leaves gaps, each page of the file is
// looked at by itself (table_pages.h) for rows that match a hash.
#pragma once

#include "core/common/result.h"

#include <QJsonObject>
#include <QString>
#include <QStringList>

#include <vector>

namespace keyround {

struct RecoveredTable
{
    QString table;
    int rows = 0;        ///< in the new file
    int doubtful = 0;    ///< listed, and not in the new file or changed in it
    bool whole = true;   ///< false: a part of the table could not be read
    bool hashed = false; ///< its rows carry a hash
};

struct DoubtfulRow
{
    QString table;
    QString what;    ///< in words: which row, and what is wrong with it
    QString content; ///< all that it says, column by column; empty where nothing can be read
};

struct Recovery
{
    QString from;
    QString to;
    std::vector<RecoveredTable> tables;
    std::vector<DoubtfulRow> doubtful;
    QStringList notes; ///< about the file as a whole

    /// Nothing was doubtful and nothing is missing, as far as can be known.
    [[nodiscard]] bool isWhole() const;
    [[nodiscard]] int rowsIn(const QString &table) const;
};

/// Reads the file at `from`, in whatever state, and makes a new project at `to`, which must not
/// exist; photos come along. On failure there is no new file. NotFound: no such file; Refused: not
/// a place to write; Damaged: not one row could be read.
[[nodiscard]] Result<Recovery> recoverProject(const QString &from, const QString &to);

/// For the console and for the report that is kept beside the new file.
[[nodiscard]] QJsonObject toJson(const Recovery &recovery);

/// Writes the report beside the new file (NAME.recovery.json); its path.
[[nodiscard]] Result<QString> keepRecoveryReport(const Recovery &recovery);

} // namespace keyround
