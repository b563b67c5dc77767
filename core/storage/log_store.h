// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the log. What happened beside visits, as rows that are added and never changed,
// each with an id made where it was written, a stamp, and a hash of its content; so two laptops'
// logs come together as a union. What a row says is its kind's own: see shut_store.h.
#pragma once

#include "core/common/clock.h"
#include "core/common/result.h"

#include <QJsonObject>
#include <QStringList>
#include <QUuid>

#include <vector>

namespace keyround {

class Project;
class Statement;

struct LogRow
{
    QUuid id;
    QString kind;
    QString subject; ///< the id of what it is about; may be empty
    HybridTime stamp;
    QJsonObject body; ///< without id, kind, subject and stamp, which are hashed with it
};

/// Adds a row. One that is there already with the same content is no error; one with the same id
/// and other content is (Damaged).
[[nodiscard]] Status addLogRow(Project &project, const QString &connection, const LogRow &row);

/// Rows of a kind, by stamp; Damaged where one does not match its hash.
[[nodiscard]] Result<std::vector<LogRow>> logRows(const QString &connection, const QString &kind);

/// Rows of these kinds about one subject, by stamp.
[[nodiscard]] Result<std::vector<LogRow>>
logRowsAbout(const QString &connection, const QStringList &kinds, const QString &subject);

/// The columns in the order that logRowMatchesHash() takes them.
[[nodiscard]] QString logColumns();
[[nodiscard]] bool logRowMatchesHash(const Statement &row);

/// The rows that do not match their hash, each in words.
[[nodiscard]] Status findDamagedLogRows(const QString &connection, QStringList &faults);

} // namespace keyround
