// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/visit_store.h"

#include "core/storage/codes.h"
#include "core/storage/log_fields.h"
#include "core/storage/project.h"
#include "core/storage/visit_check.h"
#include "core/storage/visit_reader.h"

#include <QCryptographicHash>
#include <QJsonDocument>

#include <limits>

namespace keyround {

namespace {

const QString clockKind = QStringLiteral("clock_note");

// Extended result code SQLITE_CONSTRAINT_FOREIGNKEY; PostgreSQL would say 23503.
constexpr QLatin1String noSuchParent("FOREIGN KEY");

QString sha256(const QByteArray &bytes)
{
    return QString::fromLatin1(QCryptographicHash::hash(bytes, QCryptographicHash::Sha256).toHex());
}

// Numbers that JSON cannot hold, places off the globe, own problems without words: what could not
// be read back.
Status checkDetails(const Visit &visit)
{
    for (const Pass &pass : visit.passes) {
        const auto torque = pass.torque ? std::optional(pass.torque->newtonMetres) : std::nullopt;
        if (Status finite = checkFinite(torque, QStringLiteral("A torque")); !finite) {
            return finite;
        }
    }
    for (const QString &own : visit.ownProblems) {
        if (own.isEmpty()) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("A visit was not stored: one of the utility's own problems "
                                       "has no words."));
        }
    }
    if (visit.lidFix) {
        const auto metres =
            visit.lidFix->accuracy ? std::optional(visit.lidFix->accuracy->value) : std::nullopt;
        return checkPlace(visit.lidFix->place, QStringLiteral("The fix at the lid")).and_then([&] {
            return checkFinite(metres, QStringLiteral("The accuracy of the fix at the lid"));
        });
    }
    return {};
}

Status checkVisit(const Visit &visit)
{
    const bool stamped =
        visit.stamp.value > 0 &&
        visit.stamp.value <= static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max());
    if (visit.id.isNull() || visit.valve.isNull() || !stamped || visit.supersedes == visit.id) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A visit was not stored: it needs an id, a valve and a stamp, "
                                   "and cannot correct itself."));
    }
    return checkDetails(visit);
}

// The two statements of adding, prepared once for many.
struct Adding
{
    Statement insert;
    Statement hashOf;
};

// U+001F parts the fields: it occurs in none of them but the JSON, where it is escaped.
QString draftHash(const QString &round, const QString &valve, const QString &content,
                  const Moment &saved)
{
    const QStringList all{round, valve, content, QString::number(saved.utcMilliseconds),
                          QString::number(saved.offsetSeconds)};
    return sha256(all.join(QChar(0x1F)).toUtf8());
}

Result<Adding> prepareAdding(const QString &connection)
{
    return Statement::prepare(
               connection,
               QStringLiteral(
                   "INSERT INTO visits (id, valve_id, round_id, supersedes, stamp, body, "
                   "hash) VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING"))
        .and_then([&connection](Statement insert) {
            return Statement::prepare(connection,
                                      QStringLiteral("SELECT hash FROM visits WHERE id = ?"))
                .map([&insert](Statement hashOf) {
                    return Adding{std::move(insert), std::move(hashOf)};
                });
        });
}

std::optional<QString> optionalId(const QUuid &uuid)
{
    return uuid.isNull() ? std::nullopt : std::optional<QString>(idColumn(uuid));
}

Result<VisitStore::Added> addOne(Adding &adding, const Visit &visit)
{
    if (Status sound = checkVisit(visit); !sound) {
        return tl::unexpected(sound.error());
    }
    const QByteArray body = canonicalJson(visit);
    const QString hash = sha256(body);
    // A row that is there already is looked for first: the insert below does nothing on it, but
    // how many rows it touched is not told alike by every database.
    if (Status status = adding.hashOf.run(visit.id.text()); !status) {
        return tl::unexpected(status.error());
    }
    const Result<std::optional<QString>> present = adding.hashOf.firstText();
    if (!present) {
        return tl::unexpected(present.error());
    }
    if (present->has_value()) {
        if (**present == hash) {
            return VisitStore::Added::AlreadyThere;
        }
        return fail(ErrorCode::Damaged,
                    QStringLiteral("The project has a visit %1 with other content already. Nothing "
                                   "was changed. Keep both files, and compare the visit in them.")
                        .arg(visit.id.text()));
    }
    Status status = adding.insert.run(
        visit.id.text(), visit.valve.text(), optionalId(visit.round.uuid),
        optionalId(visit.supersedes.uuid), visit.stamp, QString::fromUtf8(body), hash);
    if (!status) {
        Error error = status.error();
        if (error.message.contains(noSuchParent)) {
            error = Error{ErrorCode::NotFound,
                          QStringLiteral("A visit was not stored: its valve (%1) is not in this "
                                         "project. Load the valves first.")
                              .arg(visit.valve.text())};
        }
        return tl::unexpected(std::move(error));
    }
    return VisitStore::Added::New;
}

Error damagedVisit(const QString &id, const QString &why)
{
    return Error{ErrorCode::Damaged, QStringLiteral("Visit %1 %2: it was damaged on the disk. Keep "
                                                    "this file, and open the newest back-up.")
                                         .arg(id, why)};
}

Error offItsHash(const QString &id)
{
    return damagedVisit(id, QStringLiteral("does not match its hash"));
}

template <typename... Values>
Result<std::vector<Visit>> readVisits(const Project &project, const QString &connection,
                                      const QString &condition, const Values &...values)
{
    const bool skipDamaged = !project.setAside().isEmpty();
    std::vector<Visit> visits;
    const Status status = readRows(
        connection,
        QStringLiteral("SELECT %1 FROM visits %2 ORDER BY stamp, id")
            .arg(visitColumns(), condition),
        [&](const Statement &row) -> Status {
            Result<Visit> visit = readVisit(row);
            if (visit) {
                visits.push_back(std::move(*visit));
            } else if (!(skipDamaged && !bodyMatchesHash(row))) {
                return tl::unexpected(visit.error());
            }
            return {};
        },
        values...);
    return status.map([&visits] { return std::move(visits); });
}

} // namespace

QString visitColumns()
{
    return QStringLiteral("id, valve_id, round_id, supersedes, stamp, body, hash");
}

QString draftColumns()
{
    return QStringLiteral("round_id, valve_id, content, saved_utc_ms, saved_offset_s, hash");
}

bool draftMatchesHash(const Statement &row)
{
    const QString hash = row.text(5);
    return hash.isEmpty() ||
           hash == draftHash(row.text(0), row.text(1), row.text(2), row.moment(3));
}

bool bodyMatchesHash(const Statement &row)
{
    return sha256(row.text(5).toUtf8()) == row.text(6);
}

Result<Visit> readVisit(const Statement &row)
{
    const auto damaged = [&row](const QString &why) {
        return tl::unexpected(damagedVisit(row.text(0), why));
    };
    if (!bodyMatchesHash(row)) {
        return tl::unexpected(offItsHash(row.text(0)));
    }
    Result<Visit> visit = visitFromJson(row.text(5).toUtf8());
    if (!visit) {
        return damaged(QStringLiteral("cannot be read"));
    }
    if (visit->id.text() != row.text(0) || visit->valve.text() != row.text(1) ||
        idColumn(visit->round.uuid) != row.text(2) ||
        idColumn(visit->supersedes.uuid) != row.text(3) || visit->stamp != row.stamp(4)) {
        return damaged(QStringLiteral("does not match the columns beside it"));
    }
    return visit;
}

QString visitName(const QString &connection, const QString &id, const QString &valveId)
{
    const auto number =
        readText(connection, QStringLiteral("SELECT number FROM valves WHERE id = ?"), valveId);
    return QStringLiteral("visit %1 of valve %2")
        .arg(id, number ? number->value_or(valveId) : valveId);
}

VisitStore::VisitStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Result<std::vector<Visit>> VisitStore::all() const
{
    if (std::optional<std::vector<Visit>> read = m_project.takeVisitsOfOpening()) {
        return std::move(*read);
    }
    Result<StoredVisits> read = readStoredVisits(m_connection);
    if (!read) {
        return tl::unexpected(read.error());
    }
    if (read->unreadable) {
        return tl::unexpected(*read->unreadable);
    }
    if (!read->off.empty() && m_project.setAside().isEmpty()) {
        return tl::unexpected(offItsHash(read->off.front().id));
    }
    return std::move(read->visits);
}

Result<std::vector<Visit>> VisitStore::ofValve(const ValveId &valve) const
{
    return readVisits(m_project, m_connection, QStringLiteral("WHERE valve_id = ?"), valve.text());
}

Result<VisitStore::Added> VisitStore::add(const Visit &visit)
{
    return addAll({visit}).map(
        [](int added) { return added > 0 ? Added::New : Added::AlreadyThere; });
}

Result<int> VisitStore::addAll(const std::vector<Visit> &visits)
{
    int added = 0;
    (void)m_project.takeVisitsOfOpening(); // it would lack these
    const Status status = m_project.transaction([&]() -> Status {
        Result<Adding> adding = prepareAdding(m_connection);
        if (!adding) {
            return tl::unexpected(adding.error());
        }
        for (const Visit &visit : visits) {
            const Result<Added> outcome = addOne(*adding, visit);
            if (!outcome) {
                return tl::unexpected(outcome.error());
            }
            added += *outcome == Added::New ? 1 : 0;
            m_project.sawStamp(visit.stamp);
        }
        return {};
    });
    return status.map([added] { return added; });
}

Status VisitStore::noteClock(const VisitId &visit, const ClockCheck &check, const Author &author)
{
    return m_project.nextStamp(check.now).and_then([&](HybridTime stamp) {
        QJsonObject body{
            {QStringLiteral("fault"), keyFor(check.fault)},
            {QStringLiteral("after_last_record_s"), static_cast<qint64>(check.secondsAfterLast)}};
        putMoment(body, check.now);
        putWho(body, author);
        return addLogRow(
            m_project, m_connection,
            {newUuid7(check.now.utcMilliseconds), clockKind, visit.text(), stamp, body});
    });
}

Result<std::vector<ClockNote>> VisitStore::clockNotes() const
{
    return logRows(m_connection, clockKind).map([](const std::vector<LogRow> &rows) {
        std::vector<ClockNote> notes;
        for (const LogRow &row : rows) {
            notes.push_back({VisitId::fromText(row.subject),
                             clockFaultFromKey(textIn(row.body, "fault")), momentIn(row.body),
                             row.body.value(QLatin1String("after_last_record_s")).toInteger()});
        }
        return notes;
    });
}

Status VisitStore::saveDraft(const StopDraft &draft)
{
    const QString content =
        QString::fromUtf8(QJsonDocument(draft.content).toJson(QJsonDocument::Compact));
    const QString hash = draftHash(draft.round.text(), draft.valve.text(), content, draft.savedAt);
    return m_project.transaction([&] {
        return runOnce(
            m_connection,
            QStringLiteral("INSERT INTO stop_drafts (round_id, valve_id, content, "
                           "saved_utc_ms, saved_offset_s, hash) VALUES (?, ?, ?, ?, ?, ?) "
                           "ON CONFLICT (round_id, valve_id) DO UPDATE SET "
                           "content = excluded.content, "
                           "saved_utc_ms = excluded.saved_utc_ms, "
                           "saved_offset_s = excluded.saved_offset_s, "
                           "hash = excluded.hash"),
            draft.round.text(), draft.valve.text(), content, draft.savedAt.utcMilliseconds,
            draft.savedAt.offsetSeconds, hash);
    });
}

Status findDamagedDrafts(const QString &connection, QStringList &faults)
{
    return readRows(connection, QStringLiteral("SELECT %1 FROM stop_drafts").arg(draftColumns()),
                    [&faults](const Statement &row) -> Status {
                        if (!draftMatchesHash(row)) {
                            faults << QStringLiteral("The half-typed stop of valve %1 does not "
                                                     "match its hash")
                                          .arg(row.text(1));
                        }
                        return {};
                    });
}

Result<std::vector<StopDraft>> VisitStore::drafts() const
{
    return readAll<StopDraft>(
        m_connection,
        QStringLiteral("SELECT %1 FROM stop_drafts ORDER BY saved_utc_ms, valve_id")
            .arg(draftColumns()),
        [](const Statement &row, StopDraft &draft) -> Status {
            QJsonParseError parsed;
            const QJsonDocument content = QJsonDocument::fromJson(row.text(2).toUtf8(), &parsed);
            if (parsed.error != QJsonParseError::NoError || !draftMatchesHash(row)) {
                return fail(ErrorCode::Damaged,
                            QStringLiteral("A half-typed stop cannot be read: it was damaged on "
                                           "the disk. Keep this file, and open the newest "
                                           "back-up."));
            }
            draft = {RoundId::fromText(row.text(0)), ValveId::fromText(row.text(1)),
                     content.object(), row.moment(3)};
            return {};
        });
}

Status VisitStore::dropDraft(const RoundId &round, const ValveId &valve)
{
    return m_project.transaction([&] {
        return runOnce(
            m_connection,
            QStringLiteral("DELETE FROM stop_drafts WHERE round_id = ? AND valve_id = ?"),
            round.text(), valve.text());
    });
}

} // namespace keyround
