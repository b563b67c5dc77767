// SPDX-License-Identifier: GPL-3.0-or-later
// The project file: one SQLite database, NAME.keyround, opened by one program at a time.
//
// It is made to lose nothing: journal_mode=TRUNCATE and synchronous=EXTRA, foreign keys on, one
// connection, an exclusive lock, an application_id, numbered migrations (resources/schema) with a
// copy set aside before each, an integrity check on opening. A file with a newer schema, a file
// that is not ours, a read-only or network place is refused with a message, and left as it was.
//
// Not thread-safe: all calls come from the thread that opened it.
#pragma once

#include "core/common/clock.h"
#include "core/common/progress.h"
#include "core/common/result.h"
#include "core/common/units.h"

#include <QString>
#include <QStringList>

#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace keyround {

class ValveStore;
class LayerStore;
class VisitStore;
class RoundStore;
class SettingsStore;
class ShutStore;
class NetworkFixStore;
class SiteStore;
class PhotoStore;
class RepairStore;
class FieldReportStore;
struct Visit;
class HalfTypedStore;

/// Who works on which machine: written beside every change.
struct Author
{
    QString person;
    QString device;
};

/// What to do about visits whose content does not match their hash: a bit flipped on the disk.
enum class DamagedVisits {
    Refuse,  ///< do not open: figures made without them could mislead
    SetAside ///< open, leave them out and name them (setAside())
};

class Project
{
public:
    [[nodiscard]] static Result<std::unique_ptr<Project>> create(const QString &path,
                                                                 UnitSystem units);
    /// `progress` is told on the calling thread; where it says so, nothing is opened (Cancelled).
    [[nodiscard]] static Result<std::unique_ptr<Project>>
    open(const QString &path, DamagedVisits damaged = DamagedVisits::Refuse,
         const Progress &progress = {});
    ~Project();
    Project(const Project &) = delete;
    Project &operator=(const Project &) = delete;

    [[nodiscard]] QString path() const;
    [[nodiscard]] ValveStore &valves();
    [[nodiscard]] LayerStore &layers();
    [[nodiscard]] VisitStore &visits();
    [[nodiscard]] RoundStore &rounds();
    [[nodiscard]] SettingsStore &settings();
    [[nodiscard]] ShutStore &shuts();
    [[nodiscard]] NetworkFixStore &networkFixes();
    [[nodiscard]] SiteStore &sites();
    [[nodiscard]] PhotoStore &photos();
    [[nodiscard]] RepairStore &repairs();
    [[nodiscard]] FieldReportStore &fieldReports();
    [[nodiscard]] HalfTypedStore &halfTyped();

    /// The visits that were set aside on opening, each named in words; empty in a sound file.
    [[nodiscard]] const QStringList &setAside() const;

    /// Runs the work in one transaction: all of it is stored, or none. Nested calls join the
    /// outer: one that fails is undone by itself, and the outer goes on or fails in its turn.
    [[nodiscard]] Status transaction(const std::function<Status()> &work);

    /// The next hybrid stamp, after every stamp in the file (see common/clock.h).
    [[nodiscard]] Result<HybridTime> nextStamp(const Moment &now);

    /// The latest stamp in the file, or handed out since; 0 in an empty one.
    [[nodiscard]] HybridTime lastStamp() const;

    /// Tells of a stamp that came in from elsewhere, so that the next one is later.
    void sawStamp(HybridTime stamp);

    /// A dated copy beside the project (NAME.backups/), by VACUUM INTO; returns its path. Older
    /// ones go as the settings say (see back_ups.h).
    [[nodiscard]] Result<QString> backUp(const Moment &now);

    /// For VisitStore: opening has read every visit to compare it with its hash, and hands them
    /// over to the first who asks. Empty afterwards, and when a visit was added.
    [[nodiscard]] std::optional<std::vector<Visit>> takeVisitsOfOpening();

    /// Reads everything, compares the hashes of visits and edits, and names each row that does not
    /// match or cannot be read; empty when all is well.
    [[nodiscard]] Result<QStringList> verify();

private:
    struct Data;
    explicit Project(std::unique_ptr<Data> data);
    std::unique_ptr<Data> m_data;
};

/// The schema version that this program writes.
[[nodiscard]] int currentSchemaVersion();

} // namespace keyround
