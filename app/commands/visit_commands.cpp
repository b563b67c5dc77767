// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/visit_commands.h"

#include "core/storage/round_store.h"

namespace keyround {

Result<VisitId> recordVisit(Session &session, Visit visit)
{
    Project &project = session.project();
    const Moment now = session.now();
    visit.id = VisitId{newUuid7(now.utcMilliseconds)};
    visit.recordedBy = session.author().person;
    visit.device = session.author().device;
    const Status stored = project.transaction([&]() -> Status {
        auto stamp = project.nextStamp(now);
        if (!stamp) {
            return tl::unexpected(stamp.error());
        }
        visit.stamp = *stamp;
        if (auto added = project.visits().add(visit); !added) {
            return tl::unexpected(added.error());
        }
        const Round *round = session.round(visit.round);
        if (round != nullptr && round->state == RoundState::Planned) {
            if (Status state = project.rounds().setState(visit.round, RoundState::UnderWay);
                !state) {
                return state;
            }
        }
        return project.visits().dropDraft(visit.round, visit.valve);
    });
    if (!stored) {
        return tl::unexpected(stored.error());
    }
    Q_EMIT session.notifier().visitsChanged();
    Q_EMIT session.notifier().draftsChanged();
    Q_EMIT session.notifier().roundsChanged();
    return visit.id;
}

Status saveStopDraft(Session &session, const RoundId &round, const ValveId &valve,
                     const QJsonObject &content)
{
    const Status saved =
        session.project().visits().saveDraft({round, valve, content, session.now()});
    if (saved) {
        Q_EMIT session.notifier().draftsChanged();
    }
    return saved;
}

Status dropStopDraft(Session &session, const RoundId &round, const ValveId &valve)
{
    const Status dropped = session.project().visits().dropDraft(round, valve);
    if (dropped) {
        Q_EMIT session.notifier().draftsChanged();
    }
    return dropped;
}

RoundOutcome outcomeOf(Session &session, const Round &round)
{
    return outcomeOf(round, session.histories());
}

Result<QString> finishRound(Session &session, const RoundId &round)
{
    QStringList open;
    for (const StopDraft &draft : session.drafts()) {
        const Valve *valve = session.valve(draft.valve);
        if (draft.round == round && valve != nullptr) {
            open << valve->number;
        }
    }
    if (!open.isEmpty()) {
        return fail(ErrorCode::Refused,
                    QObject::tr("Half-typed stops are waiting: valve %1. Finish or drop them in "
                                "the Truck, then finish the round.")
                        .arg(open.join(QStringLiteral(", "))));
    }
    if (Status done = session.project().rounds().setState(round, RoundState::Finished); !done) {
        return tl::unexpected(done.error());
    }
    Q_EMIT session.notifier().roundsChanged();
    return session.project().backUp(session.now());
}

} // namespace keyround
