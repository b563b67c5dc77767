// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/round_desk.h"

#include "app/commands/push_command.h"
#include "app/commands/round_commands.h"
#include "app/shell/session.h"
#include "app/yard/round_edit.h"

#include <QScopedValueRollback>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

bool isVisitedOn(const ValveHistory &history, const RoundId &round)
{
    return std::ranges::any_of(
        history.visits, [&round](const ReadVisit &read) { return read.visit.round == round; });
}

} // namespace

RoundDesk::RoundDesk(Session &session, QObject *parent) : QObject(parent), m_session(session)
{
    Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_leftOut.clear();
        const std::vector<Round> &rounds = m_session.rounds();
        const auto open = std::ranges::find_if(
            rounds, [](const Round &each) { return each.state != RoundState::Finished; });
        m_round = open != rounds.end() ? *open : blank();
        reload();
    });
    for (const auto change : {&Notifier::valvesChanged, &Notifier::layersChanged,
                              &Notifier::visitsChanged, &Notifier::roundsChanged}) {
        connect(&notifier, change, this, &RoundDesk::reload);
    }
    connect(&notifier, &Notifier::settingsChanged, this, [this] {
        if (!isStored()) {
            m_round = blank();
        }
        reload();
    });
    m_round = blank();
    reload();
}

Round RoundDesk::blank() const
{
    const ProjectSettings &settings = m_session.settings();
    return emptyRound(settings, crewNames(settings).value(0), m_session.today());
}

bool RoundDesk::canChange() const
{
    return m_session.isOpen() && m_round.state != RoundState::Finished;
}

bool RoundDesk::canOrder() const
{
    return m_session.isOpen() && m_round.state == RoundState::Planned;
}

bool RoundDesk::isStop(const ValveId &valve) const
{
    return std::ranges::find(m_round.stops, valve) != m_round.stops.end();
}

std::vector<LeftOut> RoundDesk::leftOut() const
{
    std::vector<LeftOut> still = m_leftOut.value(m_round.id);
    std::erase_if(still, [this](const LeftOut &each) { return isStop(each.valve); });
    return still;
}

void RoundDesk::choose(const RoundId &id)
{
    if (const Round *found = m_session.round(id)) {
        m_round = *found;
        reload();
    }
}

void RoundDesk::startNew()
{
    const Round made = blank();
    startNew(made.crew, made.date);
}

void RoundDesk::startNew(const QString &crew, const QDate &date)
{
    m_round = emptyRound(m_session.settings(), crew, date);
    m_undone = {};
    reload();
}

void RoundDesk::reload()
{
    if (isStored()) {
        if (const Round *stored = m_session.round(m_round.id)) {
            m_round = *stored;
        } else {
            // Making it was undone: the day stays on the desk as a draft, until it is made again.
            m_undone = std::exchange(m_round.id, {});
            m_round.stops.clear();
            m_round.state = RoundState::Planned;
        }
    } else if (const Round *again = m_session.round(m_undone)) {
        m_round = *again;
    }
    readVisited();
    workOut();
    Q_EMIT changed();
}

void RoundDesk::readVisited()
{
    m_visited.clear();
    if (!isStored() || m_round.state == RoundState::Planned) {
        return;
    }
    for (const ValveId &stop : m_round.stops) {
        if (isVisitedOn(m_session.history(stop), m_round.id)) {
            m_visited.insert(stop);
        }
    }
}

void RoundDesk::workOut()
{
    m_plan = {};
    m_planTrouble.clear();
    if (m_round.stops.empty()) {
        return;
    }
    auto plan = timesOf(m_session, m_round);
    if (plan) {
        m_plan = std::move(*plan);
    } else {
        m_planTrouble = plan.error().message;
    }
}

Status RoundDesk::refuseUnlessChangeable() const
{
    if (canChange()) {
        return {};
    }
    return fail(ErrorCode::Refused,
                tr("The round of %1 is finished and stays as it was driven. Make a new round.")
                    .arg(m_round.date.toString(Qt::ISODate)));
}

Status RoundDesk::store(Round after, const QString &text)
{
    const Round *stored = m_session.round(m_round.id);
    const std::optional<Round> before = stored != nullptr ? std::optional(*stored) : std::nullopt;
    if (after.id.isNull()) {
        after.id = RoundId{newUuid7(m_session.now().utcMilliseconds)};
    }
    const Round previous = std::exchange(m_round, after);
    Status done =
        pushCommand(m_session, std::make_unique<ChangeRound>(m_session, before, after, text));
    if (!done) {
        m_round = previous;
        reload();
    }
    return done;
}

Status RoundDesk::drawUp(const Progress &progress)
{
    if (!canOrder()) {
        return fail(ErrorCode::Refused, tr("This round has begun. Start a new round to draw one "
                                           "up, or add and drop stops by hand."));
    }
    if (!m_round.start.isValid() || !m_round.finish.isValid()) {
        return fail(ErrorCode::BadInput,
                    tr("The round has no start or no finish yet. Say where the yard is, or give "
                       "both places as latitude, longitude."));
    }
    auto drawn = drawUpRound(m_session, m_round, {}, progress);
    if (!drawn) {
        return tl::unexpected<Error>(drawn.error());
    }
    m_leftOut.insert(drawn->round.id, drawn->plan.leftOut);
    return store(std::move(drawn->round), tr("Draw up the round"));
}

Status RoundDesk::bestOrder()
{
    if (!canOrder()) {
        return fail(ErrorCode::Refused,
                    tr("This round has begun: move its stops by hand instead."));
    }
    auto plan = timesOf(m_session, m_round, true);
    if (!plan) {
        return tl::unexpected<Error>(plan.error());
    }
    std::vector<ValveId> order;
    for (const PlannedStop &stop : plan->stops) {
        order.push_back(stop.valve);
    }
    Round after = withOrder(m_round, order);
    return after == m_round ? Status{} : store(std::move(after), tr("Best order"));
}

Status RoundDesk::change(Round after, const QString &text)
{
    if (Status allowed = refuseUnlessChangeable(); !allowed) {
        return allowed;
    }
    return after == m_round ? Status{} : store(std::move(after), text);
}

Status RoundDesk::addStops(const QList<ValveId> &valves)
{
    if (Status allowed = refuseUnlessChangeable(); !allowed) {
        return allowed;
    }
    for (const ValveId &id : valves) {
        const Valve *valve = m_session.valve(id);
        if (valve != nullptr && !isStop(id) && !valve->place.isValid()) {
            return fail(ErrorCode::BadInput,
                        tr("Valve %1 has no position, so it cannot be driven to. Give its place "
                           "on the card first.")
                            .arg(valve->number));
        }
    }
    Round after = withStopsAdded(m_round, valves);
    const auto added = static_cast<int>(after.stops.size() - m_round.stops.size());
    return added == 0 ? Status{} : store(std::move(after), tr("Add %n stops", nullptr, added));
}

Status RoundDesk::dropStops(const QList<ValveId> &valves)
{
    if (Status allowed = refuseUnlessChangeable(); !allowed) {
        return allowed;
    }
    for (const ValveId &id : valves) {
        if (m_visited.contains(id)) {
            const Valve *valve = m_session.valve(id);
            return fail(ErrorCode::Refused,
                        tr("Valve %1 was visited on this round already and stays a stop of it.")
                            .arg(valve != nullptr ? valve->number : id.text()));
        }
    }
    Round after = withStopsDropped(m_round, valves);
    const auto dropped = static_cast<int>(m_round.stops.size() - after.stops.size());
    return dropped == 0 ? Status{} : store(std::move(after), tr("Drop %n stops", nullptr, dropped));
}

Status RoundDesk::moveStop(int from, int to)
{
    if (Status allowed = refuseUnlessChangeable(); !allowed) {
        return allowed;
    }
    if (from < 0 || from >= static_cast<int>(m_round.stops.size())) {
        return {};
    }
    const Valve *valve = m_session.valve(m_round.stops[static_cast<size_t>(from)]);
    return change(withStopMoved(m_round, from, to),
                  tr("Move stop %1").arg(valve != nullptr ? valve->number : QString()));
}

Status RoundDesk::moveBefore(int from, int before)
{
    return moveStop(from, landingBefore(m_round, from, before));
}

Status RoundDesk::changeDay(Round after, const QString &text)
{
    if (Status allowed = refuseUnlessChangeable(); !allowed) {
        return allowed;
    }
    if (after.shift.to <= after.shift.from) {
        return fail(ErrorCode::BadInput,
                    tr("The shift must end after it begins, on the same day."));
    }
    if (after == m_round) {
        return {};
    }
    if (!isStored()) {
        m_round = std::move(after);
        reload();
        return {};
    }
    return store(std::move(after), text);
}

} // namespace keyround
