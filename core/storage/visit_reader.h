// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: all visits of a file in one pass, each checked against its hash and the columns
// beside it, as fast as the computer's processors together allow: a million visits in the time that
// a person waits for a file to open.
//
// One thread steps through the table and hands on blocks of rows, as bytes; the others hash and
// read them. Whatever is not quite as it should be sends its block through readVisit(), row by row,
// which says what is wrong with which row. Where RawQuery is not possible all are read that way.
//
// Errors: Damaged where the table holds other rows than its index; Cancelled where the progress
// says so.
#pragma once

#include "core/common/progress.h"
#include "core/common/result.h"
#include "core/fieldlog/visit.h"

#include <functional>
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
/// `meanwhile` is what the calling thread does, with the same connection, while the others are
/// still at their blocks; where it fails, nothing is read.
[[nodiscard]] Result<StoredVisits> readStoredVisits(
    const QString &connection, const std::function<Status()> &meanwhile = [] { return Status(); },
    const Progress &progress = {});

} // namespace keyround
