// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the one connection to a project file, in the modes that lost nothing when power
// cuts were simulated (journal_mode=TRUNCATE, synchronous=EXTRA), holding the file's lock from
// opening to closing; and its transactions.
//
// Integrity on opening: PRAGMA integrity_check up to 64 MiB; above, quick_check of every table but
// visits (it does not compare indexes with tables, which is what takes the time), and the visits'
// indexes counted against each other. Neither sees most flipped bits in text: the hashes of visits
// do, and Project::open() reads each visit against its own, and their number against an index.
#pragma once

#include "core/common/result.h"
#include "core/storage/migration.h"

#include <QString>

#include <functional>
#include <memory>

namespace keyround {

class Connection
{
public:
    /// Opens, locks, checks, and brings the file to the last of the migrations; before that a
    /// copy is set aside beside the file (NAME.schema-N.keyround).
    [[nodiscard]] static Result<std::unique_ptr<Connection>>
    open(const QString &path, const std::vector<Migration> &migrations);
    /// Makes a file that was not there; on failure it is not there again.
    [[nodiscard]] static Result<std::unique_ptr<Connection>>
    create(const QString &path, const std::vector<Migration> &migrations);
    ~Connection();
    Connection(const Connection &) = delete;
    Connection &operator=(const Connection &) = delete;

    [[nodiscard]] QString name() const { return m_name; }
    [[nodiscard]] QString path() const { return m_path; }

    /// All of the work is stored, or none. A nested call is a part of the outer: when it fails,
    /// what it did is undone and the outer may go on or fail in its turn.
    [[nodiscard]] Status transaction(const std::function<Status()> &work);

    /// A whole copy by VACUUM INTO, flushed to the disk before it gets its name. The target must
    /// not exist. Not within a transaction.
    [[nodiscard]] Status copyTo(const QString &target);

private:
    explicit Connection(QString path);
    [[nodiscard]] Status openDatabase();
    [[nodiscard]] Status takeLock();
    [[nodiscard]] Status setModes();
    [[nodiscard]] Status checkIntegrity();
    [[nodiscard]] Status migrate(const std::vector<Migration> &migrations);
    [[nodiscard]] Status begin();
    [[nodiscard]] Status end(Status outcome);

    QString m_path;
    QString m_name;
    int m_depth = 0;
    bool m_lost = false; ///< the database itself gave up the running transaction
};

/// FOLDER/BASE+SUFFIX, or with a number before the suffix when that exists.
[[nodiscard]] QString freePath(const QString &folder, const QString &base, const QString &suffix);
/// Where opening sets the copy aside before it brings the file to a newer schema.
[[nodiscard]] QString pathOfOldSchema(const QString &path, int schema);

} // namespace keyround
