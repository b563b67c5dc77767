// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: does a stored visit still match its hash? One answer for opening, reading and
// verifying.
#pragma once

#include "core/storage/statement.h"
#include "core/storage/visit_store.h"

namespace keyround {

/// The columns in the order that readVisit() takes them.
[[nodiscard]] QString visitColumns();

/// Cheap: only the hash over the body. False: a bit flipped in one or the other.
[[nodiscard]] bool bodyMatchesHash(const Statement &row);

/// The columns in the order that draftMatchesHash() takes them.
[[nodiscard]] QString draftColumns();

/// For a row of stop_drafts. One that was saved
/// before there were hashes passes.
[[nodiscard]] bool draftMatchesHash(const Statement &row);

/// The half-typed stops that do not match their hash, each in words.
[[nodiscard]] Status findDamagedDrafts(const QString &connection, QStringList &faults);

/// Hash, content, and the columns that repeat a part of it. The error names the visit.
[[nodiscard]] Result<Visit> readVisit(const Statement &row);

/// "visit 0190... of valve 0123": for a message about a row whose content cannot be trusted.
[[nodiscard]] QString visitName(const QString &connection, const QString &id,
                                const QString &valveId);

} // namespace keyround
