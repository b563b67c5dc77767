// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/visit_commands.h"

#include "app/shell/kept_folder.h"
#include "core/storage/kept_stops.h"
#include "core/storage/photo_store.h"
#include "core/storage/round_store.h"

namespace keyround {

namespace {

KeptStops keptStops(Session &session)
{
    return {keptStopsFolder(), session.project().path()};
}

} // namespace

Result<VisitId> recordVisit(Session &session, Visit visit)
{
    Project &project = session.project();
    const Moment now = session.now();
    visit.id = VisitId{newUuid7(now.utcMilliseconds)};
    visit.recordedBy = session.author().person;
    visit.device = session.author().device;
    const ClockCheck clock = checkClock(now, project.lastStamp());
    int photosMoved = 0;
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
        const auto moved = project.photos().moveToVisit(visit.valve, visit.round, visit.id, now);
        if (!moved) {
            return tl::unexpected(moved.error());
        }
        photosMoved = *moved;
        if (clock.fault != ClockFault::None) {
            if (Status noted = project.visits().noteClock(visit.id, clock, session.author());
                !noted) {
                return noted;
            }
        }
        return project.visits().dropDraft(visit.round, visit.valve);
    });
    if (!stored) {
        return tl::unexpected(stored.error());
    }
    keptStops(session).forget(visit.round, visit.valve);
    if (photosMoved > 0) {
        Q_EMIT session.notifier().photosChanged();
    }
    session.tookVisit(visit);
    Q_EMIT session.notifier().draftsChanged();
    Q_EMIT session.notifier().roundsChanged();
    return visit.id;
}

Status saveStopDraft(Session &session, const RoundId &round, const ValveId &valve,
                     const QJsonObject &content)
{
    const StopDraft draft{round, valve, content, session.now()};
    Status saved = session.project().visits().saveDraft(draft);
    if (saved) {
        keptStops(session).forget(round, valve);
        Q_EMIT session.notifier().draftsChanged();
    } else if (keptStops(session).keep(draft)) {
        return fail(saved.error().code,
                    QObject::tr("%1 Meanwhile it is kept on this computer, and goes into the "
                                "project when that can be written.")
                        .arg(saved.error().message));
    }
    return saved;
}

Status dropStopDraft(Session &session, const RoundId &round, const ValveId &valve)
{
    // Its photos go too, or the next visit of this valve would be given them.
    bool hadPhotos = false;
    Status dropped = session.project().transaction([&]() -> Status {
        PhotoStore &photos = session.project().photos();
        const auto waiting = photos.of({valve, round, VisitId{}});
        if (!waiting) {
            return tl::unexpected(waiting.error());
        }
        for (const Photo &photo : *waiting) {
            hadPhotos = true;
            if (Status struck = photos.strike(photo, session.author(), session.now()); !struck) {
                return struck;
            }
        }
        return session.project().visits().dropDraft(round, valve);
    });
    if (dropped) {
        keptStops(session).forget(round, valve);
        if (hadPhotos) {
            Q_EMIT session.notifier().photosChanged();
        }
        Q_EMIT session.notifier().draftsChanged();
    }
    return dropped;
}

namespace {

constexpr const char *skipKey = "skipped";

/// Takes away the round's skip marks and marks it finished; part of one transaction.
Status closeRound(Session &session, const RoundId &round)
{
    Project &project = session.project();
    for (const StopDraft &draft : session.drafts()) {
        if (draft.round != round) {
            continue;
        }
        if (Status dropped = project.visits().dropDraft(round, draft.valve); !dropped) {
            return dropped;
        }
    }
    return project.rounds().setState(round, RoundState::Finished);
}

} // namespace

Status skipStop(Session &session, const RoundId &round, const ValveId &valve)
{
    for (const StopDraft &draft : session.drafts()) {
        if (draft.round == round && draft.valve == valve) {
            return {}; // half-typed, or marked already
        }
    }
    return saveStopDraft(session, round, valve, {{QLatin1String(skipKey), true}});
}

bool isSkipMark(const QJsonObject &content)
{
    return content.value(QLatin1String(skipKey)).toBool();
}

std::vector<ValveId> halfTypedStops(Session &session, const RoundId &round)
{
    std::vector<ValveId> begun;
    for (const StopDraft &draft : session.drafts()) {
        if (draft.round == round && !isSkipMark(draft.content)) {
            begun.push_back(draft.valve);
        }
    }
    return begun;
}

RoundOutcome outcomeOf(Session &session, const Round &round)
{
    return outcomeOf(round, session.histories());
}

Result<QString> finishRound(Session &session, const RoundId &round)
{
    QStringList begun;
    for (const ValveId &id : halfTypedStops(session, round)) {
        const Valve *valve = session.valve(id);
        begun << (valve != nullptr ? valve->number : id.text());
    }
    if (!begun.isEmpty()) {
        return fail(ErrorCode::Refused,
                    QObject::tr("Half-typed stops are waiting: valve %1. Record or drop them in "
                                "the Truck, then finish the round.")
                        .arg(begun.join(QStringLiteral(", "))));
    }
    const Status done = session.project().transaction([&] { return closeRound(session, round); });
    if (!done) {
        return tl::unexpected(done.error());
    }
    Q_EMIT session.notifier().draftsChanged();
    Q_EMIT session.notifier().roundsChanged();
    auto backUp = session.project().backUp(session.now());
    if (!backUp) {
        return fail(backUp.error().code,
                    QObject::tr("The round is finished, but no back-up was made: %1")
                        .arg(backUp.error().message));
    }
    return backUp;
}

} // namespace keyround
