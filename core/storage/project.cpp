// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/project.h"

#include "core/storage/back_ups.h"
#include "core/storage/connection.h"
#include "core/storage/edit_hash.h"
#include "core/storage/field_report_store.h"
#include "core/storage/half_typed_store.h"
#include "core/storage/layer_store.h"
#include "core/storage/log_store.h"
#include "core/storage/network_fix_store.h"
#include "core/storage/photo_store.h"
#include "core/storage/repair_store.h"
#include "core/storage/round_store.h"
#include "core/storage/settings_store.h"
#include "core/storage/shut_store.h"
#include "core/storage/site_store.h"
#include "core/storage/statement.h"
#include "core/storage/valve_store.h"
#include "core/storage/visit_check.h"
#include "core/storage/visit_reader.h"
#include "core/storage/visit_store.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>

#include <algorithm>
#include <limits>
#include <utility>

namespace keyround {

struct Project::Data
{
    std::unique_ptr<Connection> connection;
    std::unique_ptr<ValveStore> valves;
    std::unique_ptr<LayerStore> layers;
    std::unique_ptr<VisitStore> visits;
    std::unique_ptr<RoundStore> rounds;
    std::unique_ptr<SettingsStore> settings;
    std::unique_ptr<ShutStore> shuts;
    std::unique_ptr<NetworkFixStore> networkFixes;
    std::unique_ptr<SiteStore> sites;
    std::unique_ptr<PhotoStore> photos;
    std::unique_ptr<RepairStore> repairs;
    std::unique_ptr<FieldReportStore> fieldReports;
    std::unique_ptr<HalfTypedStore> halfTyped;
    HybridTime lastStamp;
    QStringList setAside;
    std::optional<std::vector<Visit>> visitsOfOpening;
};

namespace {

Result<HybridTime> highestStamp(const QString &connection)
{
    HybridTime highest;
    const auto take = [&highest](const Statement &row) -> Status {
        highest = std::max(highest, row.stamp(0)); // no rows: NULL, which reads as 0
        return {};
    };
    return readRows(connection, QStringLiteral("SELECT MAX(stamp) FROM visits"), take)
        .and_then([&] {
            return readRows(connection, QStringLiteral("SELECT MAX(stamp) FROM valve_edits"), take);
        })
        .and_then([&] {
            return readRows(connection, QStringLiteral("SELECT MAX(stamp) FROM log_rows"), take);
        })
        .map([&highest] { return highest; });
}

QStringList namesOf(const QString &connection, const std::vector<StoredVisits::Off> &rows)
{
    QStringList names;
    for (const StoredVisits::Off &row : rows) {
        names << visitName(connection, row.id, row.valve);
    }
    return names;
}

Status verifyEdits(const QString &connection, QStringList &faults)
{
    return readRows(connection, QStringLiteral("SELECT %1 FROM valve_edits").arg(editColumns()),
                    [&faults](const Statement &row) -> Status {
                        ValveEdit edit;
                        const Status read = readEdit(row, edit);
                        if (!read || editHash(edit, row.stamp(10)) != row.text(11)) {
                            faults << QStringLiteral("Edit %1 of the edit record does not match "
                                                     "its hash: it was damaged on the disk.")
                                          .arg(row.text(0));
                        }
                        return {};
                    });
}

Status verifyVisits(const QString &connection, QStringList &faults)
{
    return readRows(connection, QStringLiteral("SELECT %1 FROM visits").arg(visitColumns()),
                    [&faults](const Statement &row) -> Status {
                        if (const Result<Visit> visit = readVisit(row); !visit) {
                            faults << visit.error().message;
                        }
                        return {};
                    });
}

// The other rows that carry a hash: few beside visits.
Result<QStringList> rowsOffTheirHash(const QString &connection)
{
    QStringList faults;
    const Status read = verifyEdits(connection, faults)
                            .and_then([&] { return findDamagedLogRows(connection, faults); })
                            .and_then([&] { return findDamagedDrafts(connection, faults); });
    return read.map([&faults] { return std::move(faults); });
}

template <typename T> void noteFault(const Result<T> &read, QStringList &faults)
{
    if (!read) {
        faults << read.error().message;
    }
}

} // namespace

Project::Project(std::unique_ptr<Data> data) : m_data(std::move(data))
{
    const QString name = m_data->connection->name();
    m_data->valves = std::make_unique<ValveStore>(*this, name);
    m_data->layers = std::make_unique<LayerStore>(*this, name);
    m_data->visits = std::make_unique<VisitStore>(*this, name);
    m_data->rounds = std::make_unique<RoundStore>(*this, name);
    m_data->settings = std::make_unique<SettingsStore>(*this, name);
    m_data->shuts = std::make_unique<ShutStore>(*this, name);
    m_data->networkFixes = std::make_unique<NetworkFixStore>(*this, name);
    m_data->sites = std::make_unique<SiteStore>(*this, name);
    m_data->photos = std::make_unique<PhotoStore>(*this, name);
    m_data->repairs = std::make_unique<RepairStore>(*this, name);
    m_data->fieldReports = std::make_unique<FieldReportStore>(*this, name);
    m_data->halfTyped = std::make_unique<HalfTypedStore>(*this, name);
}

Project::~Project() = default;

Result<std::unique_ptr<Project>> Project::create(const QString &path, UnitSystem units)
{
    Result<std::unique_ptr<Connection>> connection = Connection::create(path, shippedMigrations());
    if (!connection) {
        return tl::unexpected(connection.error());
    }
    auto data = std::make_unique<Data>();
    data->connection = std::move(*connection);
    std::unique_ptr<Project> project(new Project(std::move(data)));
    ProjectSettings settings;
    settings.units = units;
    if (Status saved = project->settings().save(settings); !saved) {
        const QString made = project->path();
        project.reset();
        QFile::remove(made);
        return tl::unexpected(saved.error());
    }
    return project;
}

Result<std::unique_ptr<Project>> Project::open(const QString &path, DamagedVisits damaged,
                                               const Progress &progress)
{
    Result<std::unique_ptr<Connection>> connection = Connection::open(path, shippedMigrations());
    if (!connection) {
        return tl::unexpected(connection.error());
    }
    auto data = std::make_unique<Data>();
    data->connection = std::move(*connection);
    Result<QStringList> others;
    const auto readOthers = [&] {
        others = rowsOffTheirHash(data->connection->name());
        return others.map([](const QStringList &) {});
    };
    Result<StoredVisits> read = readStoredVisits(data->connection->name(), readOthers, progress);
    if (!read) {
        return tl::unexpected(read.error());
    }
    if (!others->isEmpty() && damaged == DamagedVisits::Refuse) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("%1 was damaged on the disk: %2 (%3 in all). It was left as it "
                                   "is. Keep it, and recover it row by row or restore the newest "
                                   "back-up.")
                        .arg(QDir::toNativeSeparators(path), others->front())
                        .arg(others->size()));
    }
    QStringList off = namesOf(data->connection->name(), read->off);
    if (!off.isEmpty() && damaged == DamagedVisits::Refuse) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("%1 was damaged on the disk: %2 (%n in all) does not match its "
                                   "hash. It was left as it is. Keep it, and open the newest copy "
                                   "from the folder %3.")
                        .replace(QStringLiteral("%n"), QString::number(off.size()))
                        .arg(QDir::toNativeSeparators(path), off.front(),
                             QFileInfo(path).completeBaseName() + QStringLiteral(".backups")));
    }
    data->setAside = std::move(off);
    if (!read->unreadable) {
        data->visitsOfOpening = std::move(read->visits);
    }
    const Result<HybridTime> highest = highestStamp(data->connection->name());
    if (!highest) {
        return tl::unexpected(highest.error());
    }
    data->lastStamp = *highest;
    return std::unique_ptr<Project>(new Project(std::move(data)));
}

QString Project::path() const
{
    return m_data->connection->path();
}

ValveStore &Project::valves()
{
    return *m_data->valves;
}

LayerStore &Project::layers()
{
    return *m_data->layers;
}

VisitStore &Project::visits()
{
    return *m_data->visits;
}

RoundStore &Project::rounds()
{
    return *m_data->rounds;
}

SettingsStore &Project::settings()
{
    return *m_data->settings;
}

ShutStore &Project::shuts()
{
    return *m_data->shuts;
}

NetworkFixStore &Project::networkFixes()
{
    return *m_data->networkFixes;
}

SiteStore &Project::sites()
{
    return *m_data->sites;
}

PhotoStore &Project::photos()
{
    return *m_data->photos;
}

RepairStore &Project::repairs()
{
    return *m_data->repairs;
}

FieldReportStore &Project::fieldReports()
{
    return *m_data->fieldReports;
}

HalfTypedStore &Project::halfTyped()
{
    return *m_data->halfTyped;
}

const QStringList &Project::setAside() const
{
    return m_data->setAside;
}

std::optional<std::vector<Visit>> Project::takeVisitsOfOpening()
{
    return std::exchange(m_data->visitsOfOpening, std::nullopt);
}

Status Project::transaction(const std::function<Status()> &work)
{
    return m_data->connection->transaction(work);
}

Result<HybridTime> Project::nextStamp(const Moment &now)
{
    // The stamp is kept in a signed column: 47 bits of milliseconds, which end in the year 6429.
    constexpr std::uint64_t highest = std::numeric_limits<std::int64_t>::max();
    const HybridTime next = nextHybridTime(m_data->lastStamp, now.utcMilliseconds);
    if (now.utcMilliseconds > static_cast<std::int64_t>(highest >> 16U) || next.value > highest) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("This computer's clock is thousands of years ahead. Set the "
                                   "date and time, then do it again."));
    }
    m_data->lastStamp = next;
    return next;
}

HybridTime Project::lastStamp() const
{
    return m_data->lastStamp;
}

void Project::sawStamp(HybridTime stamp)
{
    m_data->lastStamp = std::max(m_data->lastStamp, stamp);
}

Result<QString> Project::backUp(const Moment &now)
{
    const QFileInfo file(path());
    const QDir folder(backUpFolder(path()));
    if (!folder.mkpath(QStringLiteral("."))) {
        return fail(ErrorCode::StorageFault,
                    QStringLiteral("The back-up folder %1 could not be made. Check that the disk "
                                   "has room and may be written.")
                        .arg(QDir::toNativeSeparators(folder.path())));
    }
    const QString base = QStringLiteral("%1-%2").arg(
        file.completeBaseName(), now.local().toString(QStringLiteral("yyyy-MM-dd-HHmmss")));
    QString target = freePath(folder.path(), base, QStringLiteral(".keyround"));
    return m_data->connection->copyTo(target).map([&] {
        if (const auto told = settings().load()) {
            (void)pruneBackUps(path(), told->backUps, now.localDate());
        }
        return std::move(target);
    });
}

Result<QStringList> Project::verify()
{
    const QString connection = m_data->connection->name();
    QStringList faults;
    const Status read = readRows(connection, QStringLiteral("PRAGMA integrity_check"),
                                 [&faults](const Statement &row) -> Status {
                                     if (row.text(0) != QLatin1String("ok")) {
                                         faults << row.text(0);
                                     }
                                     return {};
                                 })
                            .and_then([&] { return verifyVisits(connection, faults); })
                            .and_then([&] { return verifyEdits(connection, faults); })
                            .and_then([&] { return findDamagedLogRows(connection, faults); });
    if (!read) {
        return tl::unexpected(read.error());
    }
    noteFault(valves().all(), faults);
    noteFault(layers().streets(), faults);
    noteFault(layers().mains(), faults);
    noteFault(layers().hydrants(), faults);
    noteFault(layers().services(), faults);
    noteFault(layers().sources(), faults);
    noteFault(networkFixes().load(), faults);
    noteFault(sites().load(), faults);
    noteFault(shuts().all(), faults);
    noteFault(shuts().notices(), faults);
    noteFault(repairs().replacements(), faults);
    noteFault(repairs().events(), faults);
    noteFault(fieldReports().all(), faults);
    noteFault(halfTyped().all(), faults);
    noteFault(rounds().all(), faults);
    noteFault(settings().load(), faults);
    noteFault(visits().drafts(), faults);
    const Result<std::vector<Photo>> taken = photos().all();
    noteFault(taken, faults);
    for (const Photo &photo : taken.value_or(std::vector<Photo>{})) {
        noteFault(photos().read(photo), faults);
    }
    return faults;
}

int currentSchemaVersion()
{
    return shippedMigrations().back().version;
}

} // namespace keyround
