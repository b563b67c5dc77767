// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: all visits of a file in one pass, each checked against its hash and the columns
// beside it, as fast as the computer's processors together allow: a million visits in the time that
// a person waits for a file to open.
//
// One thread asks the database for blocks of rows, whole as bytes; the others hash and read them.
// Whatever is not quite as it should be sends its block through readVisit(), row by row, which says
// what is wrong with which row. SQLite's row ids and its group_concat() serve for the blocks;
// another database would read row by row.
#pragma once

#include "core/common/result.h"
#include "core/fieldlog/visit.h"

#include <optional>
#include <vector>

namespace keyround {

struct StoredVisits
{
    struct Off
    {
        QString id;
        QString valve;
    };
    std::vector<Visit> visits; ///< by stamp, then by id; without those of `off`
    std::vector<Off> off;      ///< rows whose body does not match its hash
    /// The first row that matches its hash and still cannot be read.
    std::optional<Error> unreadable;
};
[[nodiscard]] Result<StoredVisits> readStoredVisits(const QString &connection);

} // namespace keyround
