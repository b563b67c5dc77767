// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/field_report_commands.h"

#include "core/geo/bearing.h"
#include "core/storage/field_report_store.h"
#include "core/storage/valve_store.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

Result<ReportSigned> signedNow(Session &session)
{
    const Moment now = session.now();
    return session.project().nextStamp(now).map([&](HybridTime stamp) {
        return ReportSigned{now, session.author().person, session.author().device, stamp};
    });
}

template <typename ReportId> ReportId newId(const Session &session)
{
    return ReportId{newUuid7(session.now().utcMilliseconds)};
}

Status decide(Session &session, const QUuid &report, Decided decided, const ValveId &valve,
              const QString &why)
{
    auto by = signedNow(session);
    if (!by) {
        return tl::unexpected(by.error());
    }
    return session.project().fieldReports().add(
        ReportDecision{newId<DecisionId>(session), report, decided, valve, why, *by});
}

Status refuseIfDecided(const std::vector<ReportDecision> &decisions)
{
    if (decidedOf(decisions) == Decided::Open) {
        return {};
    }
    const ReportDecision &last = decisions.back();
    return fail(ErrorCode::Refused, QObject::tr("This report was %1 already, by %2 on %3.")
                                        .arg(wordFor(last.decided), last.by.person,
                                             last.by.at.localDate().toString(Qt::ISODate)));
}

Status refuseWithoutReason(const QString &why)
{
    return why.trimmed().isEmpty()
               ? fail(ErrorCode::BadInput,
                      QObject::tr("Say why it is refused: the crew that reported it reads this."))
               : Status{};
}

Result<ProposalId> store(Session &session, PlaceProposal proposal)
{
    const Valve *valve = session.valve(proposal.valve);
    if (valve == nullptr) {
        return fail(ErrorCode::NotFound, QObject::tr("This valve is no longer in the project."));
    }
    proposal.listed = valve->place.isValid() ? std::optional(valve->place) : std::nullopt;
    const bool isThere =
        std::ranges::any_of(session.fieldReports().places, [&](const ReportedPlace &one) {
            return one.proposal.valve == proposal.valve &&
                   one.proposal.proposed == proposal.proposed &&
                   decidedOf(one.decisions) == Decided::Open;
        });
    if (isThere) {
        return fail(ErrorCode::Refused, QObject::tr("This place of valve %1 waits for the office "
                                                    "already.")
                                            .arg(valve->number));
    }
    auto by = signedNow(session);
    if (!by) {
        return tl::unexpected(by.error());
    }
    proposal.by = *by;
    proposal.id = newId<ProposalId>(session);
    if (Status added = session.project().fieldReports().add(proposal); !added) {
        return tl::unexpected(added.error());
    }
    Q_EMIT session.notifier().fieldReportsChanged();
    return proposal.id;
}

} // namespace

Result<ProposalId> proposePlace(Session &session, const ValveId &valve, const PositionFix &fix,
                                const QString &words)
{
    if (!isMeasured(fix.quality)) {
        return fail(ErrorCode::Refused,
                    QObject::tr("This position was not measured (%1): it says nothing of where "
                                "the lid is. Wait for a satellite fix.")
                        .arg(wordFor(fix.quality)));
    }
    PlaceProposal proposal;
    proposal.valve = valve;
    proposal.proposed = fix.place;
    proposal.evidence = evidenceOf(fix);
    proposal.words = words.trimmed();
    return store(session, std::move(proposal));
}

Result<ProposalId> proposePlace(Session &session, const ValveId &valve, const GeoPoint &place,
                                const QString &words)
{
    PlaceProposal proposal;
    proposal.valve = valve;
    proposal.proposed = place;
    proposal.words = words.trimmed();
    return store(session, std::move(proposal));
}

Result<CandidateId> reportCandidate(Session &session, ValveCandidate candidate)
{
    candidate.number = candidate.number.trimmed();
    candidate.words = candidate.words.trimmed();
    if (candidate.number.isEmpty() && candidate.words.isEmpty() && !candidate.size.isKnown()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("Say something of this valve that the office can go by: the number "
                                "on its lid, its size, or what it is near."));
    }
    auto by = signedNow(session);
    if (!by) {
        return tl::unexpected(by.error());
    }
    candidate.by = *by;
    candidate.id = newId<CandidateId>(session);
    if (Status added = session.project().fieldReports().add(candidate); !added) {
        return tl::unexpected(added.error());
    }
    Q_EMIT session.notifier().fieldReportsChanged();
    return candidate.id;
}

Status noteOnCandidate(Session &session, const CandidateId &candidate, const QString &words)
{
    if (words.trimmed().isEmpty()) {
        return fail(ErrorCode::BadInput, QObject::tr("A note needs words."));
    }
    auto by = signedNow(session);
    if (!by) {
        return tl::unexpected(by.error());
    }
    Status added = session.project().fieldReports().add(
        CandidateNote{newId<CandidateNoteId>(session), candidate, words.trimmed(), *by});
    if (added) {
        Q_EMIT session.notifier().fieldReportsChanged();
    }
    return added;
}

Valve valveFrom(const ReportedValve &report)
{
    const ValveCandidate &candidate = report.candidate;
    Valve valve;
    valve.number = candidate.number;
    valve.place = candidate.place;
    valve.size = candidate.size;
    QStringList words;
    if (!candidate.words.isEmpty()) {
        words << candidate.words;
    }
    for (const CandidateNote &note : report.notes) {
        words << note.words;
    }
    valve.remarks = words.join(QStringLiteral("; "));
    return valve;
}

DecidePlace::DecidePlace(Session &session, const ProposalId &proposal, Decided decided, QString why)
    : Command(session, decided == Decided::Accepted ? QObject::tr("Accept a proposed place")
                                                    : QObject::tr("Refuse a proposed place")),
      m_proposal(proposal), m_decided(decided), m_why(std::move(why))
{
}

Status DecidePlace::moveValve(const std::optional<GeoPoint> &expected, const GeoPoint &to,
                              const QString &why)
{
    const ReportedPlace *report = session().fieldReports().find(m_proposal);
    const Valve *present = report == nullptr ? nullptr : session().valve(report->proposal.valve);
    if (present == nullptr) {
        return fail(ErrorCode::NotFound, QObject::tr("This valve is no longer in the project."));
    }
    if (expected && present->place != *expected) {
        return fail(ErrorCode::Refused,
                    QObject::tr("Valve %1 has been moved again since: it stays where it is now.")
                        .arg(present->number));
    }
    m_before = present->place;
    Valve moved = *present;
    moved.place = to;
    return session().project().valves().update(moved, session().author(), session().now(), why);
}

Status DecidePlace::apply()
{
    const ReportedPlace *report = session().fieldReports().find(m_proposal);
    if (report == nullptr) {
        return fail(ErrorCode::NotFound, QObject::tr("This report is not in the project."));
    }
    if (Status refused = refuseIfDecided(report->decisions); !refused) {
        return refused;
    }
    const PlaceProposal proposal = report->proposal;
    if (m_decided == Decided::Refused) {
        if (Status refused = refuseWithoutReason(m_why); !refused) {
            return refused;
        }
        return decide(session(), m_proposal.uuid, m_decided, {}, m_why);
    }
    return session().project().transaction([&]() -> Status {
        QString why = QObject::tr("reported by %1: %2")
                          .arg(proposal.by.person, wordsFor(proposal.evidence, session().units()));
        for (const QString &words : {proposal.words, m_why}) {
            why += words.isEmpty() ? QString() : QStringLiteral("; ") + words;
        }
        if (Status moved = moveValve({}, proposal.proposed, why); !moved) {
            return moved;
        }
        return decide(session(), m_proposal.uuid, m_decided, proposal.valve, m_why);
    });
}

Status DecidePlace::revert()
{
    return session().project().transaction([&]() -> Status {
        const ReportedPlace *report = session().fieldReports().find(m_proposal);
        if (report == nullptr) {
            return fail(ErrorCode::NotFound, QObject::tr("This report is not in the project."));
        }
        if (m_decided == Decided::Accepted) {
            const GeoPoint back = m_before;
            if (Status moved =
                    moveValve(report->proposal.proposed, back, QStringLiteral("undo: ") + m_why);
                !moved) {
                return moved;
            }
            m_before = back;
        }
        return decide(session(), m_proposal.uuid, Decided::Open, {}, QStringLiteral("undo"));
    });
}

void DecidePlace::announce()
{
    if (m_decided == Decided::Accepted) {
        Q_EMIT session().notifier().valvesChanged();
    }
    Q_EMIT session().notifier().fieldReportsChanged();
}

DecideCandidate::DecideCandidate(Session &session, const CandidateId &candidate,
                                 std::optional<Valve> becomes, QString why)
    : Command(session, becomes
                           ? QObject::tr("Take valve %1 into the inventory").arg(becomes->number)
                           : QObject::tr("Refuse a reported valve")),
      m_candidate(candidate), m_valve(std::move(becomes)), m_why(std::move(why))
{
    if (m_valve) {
        // One identity: what was kept for the candidate (photos) is kept for the valve, and two
        // offices that accept it make one valve.
        m_valve->id = ValveId{candidate.uuid};
    }
}

Status DecideCandidate::apply()
{
    const ReportedValve *report = session().fieldReports().find(m_candidate);
    if (report == nullptr) {
        return fail(ErrorCode::NotFound, QObject::tr("This report is not in the project."));
    }
    if (Status refused = refuseIfDecided(report->decisions); !refused) {
        return refused;
    }
    if (!m_valve) {
        if (Status refused = refuseWithoutReason(m_why); !refused) {
            return refused;
        }
        return decide(session(), m_candidate.uuid, Decided::Refused, {}, m_why);
    }
    if (m_valve->number.trimmed().isEmpty()) {
        return fail(ErrorCode::BadInput, QObject::tr("Give the valve a number first."));
    }
    const QString why = QObject::tr("reported by %1").arg(report->candidate.by.person);
    const Status stored = session().project().transaction([&]() -> Status {
        ValveStore &valves = session().project().valves();
        m_valve->retired = false;
        Status status = m_isStored
                            ? valves.update(*m_valve, session().author(), session().now(), why)
                            : valves.add(*m_valve, session().author(), session().now(), why);
        return status ? decide(session(), m_candidate.uuid, Decided::Accepted, m_valve->id, m_why)
                      : status;
    });
    m_isStored = m_isStored || stored.has_value();
    return stored;
}

Status DecideCandidate::revert()
{
    return session().project().transaction([&]() -> Status {
        if (m_valve) {
            const Valve *present = session().valve(m_valve->id);
            if (present == nullptr) {
                return fail(
                    ErrorCode::NotFound,
                    QObject::tr("Valve %1 is no longer in this project.").arg(m_valve->number));
            }
            m_valve = *present; // what was changed since comes back with a redo
            Valve retired = *present;
            retired.retired = true;
            if (Status status = session().project().valves().update(
                    retired, session().author(), session().now(), QStringLiteral("undo"));
                !status) {
                return status;
            }
        }
        return decide(session(), m_candidate.uuid, Decided::Open, {}, QStringLiteral("undo"));
    });
}

void DecideCandidate::announce()
{
    if (m_valve) {
        Q_EMIT session().notifier().valvesChanged();
    }
    Q_EMIT session().notifier().fieldReportsChanged();
}

} // namespace keyround
