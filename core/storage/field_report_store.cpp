// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/field_report_store.h"

#include "core/storage/codes.h"
#include "core/storage/log_fields.h"
#include "core/storage/log_store.h"

#include <QHash>

#include <utility>

namespace keyround {

namespace {

const QString proposalKind = QStringLiteral("place_proposal");
const QString candidateKind = QStringLiteral("valve_candidate");
const QString noteKind = QStringLiteral("candidate_note");
const QString decisionKind = QStringLiteral("report_decision");

void putSigned(QJsonObject &json, const ReportSigned &by)
{
    putMoment(json, by.at);
    putWho(json, by);
}

ReportSigned signedIn(const LogRow &row)
{
    ReportSigned by;
    by.at = momentIn(row.body);
    takeWho(row, by);
    return by;
}

QJsonObject placeJson(const GeoPoint &place)
{
    return {{QStringLiteral("latitude"), place.latitude},
            {QStringLiteral("longitude"), place.longitude}};
}

std::optional<GeoPoint> placeIn(const QJsonObject &json, const char *key)
{
    const QJsonObject object = json.value(QLatin1String(key)).toObject();
    const GeoPoint place{object.value(QLatin1String("latitude")).toDouble(),
                         object.value(QLatin1String("longitude")).toDouble()};
    return place.isValid() ? std::optional(place) : std::nullopt;
}

void putEvidence(QJsonObject &json, const PlaceEvidence &evidence)
{
    if (!evidence.isFix) {
        return;
    }
    QJsonObject fix{{QStringLiteral("quality"), keyFor(evidence.quality)},
                    {QStringLiteral("source"), keyFor(evidence.source)}};
    if (evidence.accuracy) {
        fix[QStringLiteral("accuracy_m")] = evidence.accuracy->value;
    }
    if (evidence.satellites) {
        fix[QStringLiteral("satellites")] = *evidence.satellites;
    }
    json[QStringLiteral("fix")] = fix;
}

Result<PlaceEvidence> evidenceIn(const QJsonObject &json)
{
    PlaceEvidence evidence;
    if (!json.contains(QLatin1String("fix"))) {
        return evidence;
    }
    const QJsonObject fix = json.value(QLatin1String("fix")).toObject();
    const auto quality = fixQualityFromKey(textIn(fix, "quality"));
    const auto source = fixSourceFromKey(textIn(fix, "source"));
    if (!quality || !source) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("A reported place is of a kind of fix that does not exist "
                                   "(\"%1\", \"%2\"). The file is damaged: open the newest "
                                   "back-up.")
                        .arg(textIn(fix, "quality"), textIn(fix, "source")));
    }
    evidence.isFix = true;
    evidence.quality = *quality;
    evidence.source = *source;
    if (const QJsonValue metres = fix.value(QLatin1String("accuracy_m")); metres.isDouble()) {
        evidence.accuracy = Metres{metres.toDouble()};
    }
    if (const QJsonValue count = fix.value(QLatin1String("satellites")); count.isDouble()) {
        evidence.satellites = count.toInt();
    }
    return evidence;
}

Status refuseWithoutPlace(const GeoPoint &place)
{
    if (place.isValid()) {
        return {};
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("A place of latitude %1, longitude %2 does not exist. Take the fix "
                               "again, or point at the place on the map.")
                    .arg(place.latitude)
                    .arg(place.longitude));
}

Result<PlaceProposal> proposalFrom(const LogRow &row)
{
    auto evidence = evidenceIn(row.body);
    if (!evidence) {
        return tl::unexpected(evidence.error());
    }
    PlaceProposal proposal;
    proposal.id = ProposalId{row.id};
    proposal.valve = ValveId::fromText(row.subject);
    proposal.listed = placeIn(row.body, "listed");
    proposal.proposed = placeIn(row.body, "proposed").value_or(GeoPoint{});
    proposal.evidence = *evidence;
    proposal.words = textIn(row.body, "words");
    proposal.by = signedIn(row);
    return proposal;
}

Result<ValveCandidate> candidateFrom(const LogRow &row)
{
    auto evidence = evidenceIn(row.body);
    if (!evidence) {
        return tl::unexpected(evidence.error());
    }
    ValveCandidate candidate;
    candidate.id = CandidateId{row.id};
    candidate.place = placeIn(row.body, "place").value_or(GeoPoint{});
    candidate.evidence = *evidence;
    candidate.number = textIn(row.body, "number");
    candidate.size = {row.body.value(QLatin1String("size_quarter_in")).toInt()};
    candidate.words = textIn(row.body, "words");
    candidate.round = RoundId::fromText(row.subject);
    candidate.by = signedIn(row);
    return candidate;
}

CandidateNote noteFrom(const LogRow &row)
{
    return {CandidateNoteId{row.id}, CandidateId::fromText(row.subject), textIn(row.body, "words"),
            signedIn(row)};
}

Result<ReportDecision> decisionFrom(const LogRow &row)
{
    const QString key = textIn(row.body, "decided");
    const auto decided = decidedFromKey(key);
    if (!decided) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("A decision of the office is \"%1\", which does not exist. The "
                                   "file is damaged: open the newest back-up.")
                        .arg(key));
    }
    return ReportDecision{DecisionId{row.id},
                          QUuid::fromString(row.subject),
                          *decided,
                          ValveId::fromText(textIn(row.body, "valve")),
                          textIn(row.body, "why"),
                          signedIn(row)};
}

} // namespace

FieldReportStore::FieldReportStore(Project &project, QString connection)
    : m_project(project), m_connection(std::move(connection))
{
}

Status FieldReportStore::add(const PlaceProposal &proposal)
{
    if (Status refused = refuseWithoutPlace(proposal.proposed); !refused) {
        return refused;
    }
    QJsonObject json{{QStringLiteral("proposed"), placeJson(proposal.proposed)},
                     {QStringLiteral("words"), proposal.words}};
    if (proposal.listed) {
        json[QStringLiteral("listed")] = placeJson(*proposal.listed);
    }
    putEvidence(json, proposal.evidence);
    putSigned(json, proposal.by);
    return addLogRow(
        m_project, m_connection,
        {proposal.id.uuid, proposalKind, idColumn(proposal.valve.uuid), proposal.by.stamp, json});
}

Status FieldReportStore::add(const ValveCandidate &candidate)
{
    if (Status refused = refuseWithoutPlace(candidate.place); !refused) {
        return refused;
    }
    QJsonObject json{{QStringLiteral("place"), placeJson(candidate.place)},
                     {QStringLiteral("number"), candidate.number},
                     {QStringLiteral("size_quarter_in"), candidate.size.quarterInches},
                     {QStringLiteral("words"), candidate.words}};
    putEvidence(json, candidate.evidence);
    putSigned(json, candidate.by);
    return addLogRow(m_project, m_connection,
                     {candidate.id.uuid, candidateKind, idColumn(candidate.round.uuid),
                      candidate.by.stamp, json});
}

Status FieldReportStore::add(const CandidateNote &note)
{
    QJsonObject json{{QStringLiteral("words"), note.words}};
    putSigned(json, note.by);
    return addLogRow(m_project, m_connection,
                     {note.id.uuid, noteKind, idColumn(note.candidate.uuid), note.by.stamp, json});
}

Status FieldReportStore::add(const ReportDecision &decision)
{
    QJsonObject json{{QStringLiteral("decided"), keyFor(decision.decided)},
                     {QStringLiteral("valve"), idColumn(decision.valve.uuid)},
                     {QStringLiteral("why"), decision.why}};
    putSigned(json, decision.by);
    return addLogRow(
        m_project, m_connection,
        {decision.id.uuid, decisionKind, idColumn(decision.report), decision.by.stamp, json});
}

Status FieldReportStore::takeProposals(FieldReports &reports) const
{
    const auto rows = logRows(m_connection, proposalKind);
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    for (auto row = rows->rbegin(); row != rows->rend(); ++row) {
        auto proposal = proposalFrom(*row);
        if (!proposal) {
            return tl::unexpected(proposal.error());
        }
        reports.places.push_back({std::move(*proposal), {}});
    }
    return {};
}

Status FieldReportStore::takeCandidates(FieldReports &reports) const
{
    const auto rows = logRows(m_connection, candidateKind);
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    const auto notes = logRows(m_connection, noteKind);
    if (!notes) {
        return tl::unexpected(notes.error());
    }
    QHash<CandidateId, std::size_t> byId;
    for (auto row = rows->rbegin(); row != rows->rend(); ++row) {
        auto candidate = candidateFrom(*row);
        if (!candidate) {
            return tl::unexpected(candidate.error());
        }
        byId.insert(candidate->id, reports.valves.size());
        reports.valves.push_back({std::move(*candidate), {}, {}});
    }
    for (const LogRow &row : *notes) {
        CandidateNote note = noteFrom(row);
        if (const auto at = byId.constFind(note.candidate); at != byId.constEnd()) {
            reports.valves[*at].notes.push_back(std::move(note));
        }
    }
    return {};
}

Result<FieldReports> FieldReportStore::all() const
{
    FieldReports reports;
    if (Status taken = takeProposals(reports); !taken) {
        return tl::unexpected(taken.error());
    }
    if (Status taken = takeCandidates(reports); !taken) {
        return tl::unexpected(taken.error());
    }
    const auto rows = logRows(m_connection, decisionKind);
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    QHash<QUuid, std::vector<ReportDecision> *> byReport;
    for (ReportedPlace &place : reports.places) {
        byReport.insert(place.proposal.id.uuid, &place.decisions);
    }
    for (ReportedValve &valve : reports.valves) {
        byReport.insert(valve.candidate.id.uuid, &valve.decisions);
    }
    for (const LogRow &row : *rows) {
        auto decision = decisionFrom(row);
        if (!decision) {
            return tl::unexpected(decision.error());
        }
        if (auto *decisions = byReport.value(decision->report); decisions != nullptr) {
            decisions->push_back(std::move(*decision));
        }
    }
    return reports;
}

} // namespace keyround
