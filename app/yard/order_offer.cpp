// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/order_offer.h"

#include "app/shell/session.h"
#include "app/yard/day_stretches.h"
#include "app/yard/round_desk.h"
#include "app/yard/round_edit.h"

#include <QtConcurrent>

#include <algorithm>

namespace keyround {

namespace {

constexpr double worthSeconds = 60.0;
constexpr int restMilliseconds = 120; // after the last change

int missesOf(const DayPlan &plan)
{
    const auto hours = std::ranges::count_if(
        plan.stops, [](const PlannedStop &stop) { return !stop.missesHours.isEmpty(); });
    const auto breaks =
        std::ranges::count_if(plan.breaks, [](const PlannedBreak &each) { return each.isLate; });
    return static_cast<int>(hours + breaks);
}

} // namespace

OrderGain gainOf(const DayPlan &now, const DayPlan &other)
{
    return {now.driveSeconds - other.driveSeconds, secondOf(now.finish) - secondOf(other.finish),
            missesOf(now) - missesOf(other)};
}

bool isWorthOffering(const OrderGain &gain)
{
    if (gain.misses != 0) {
        return gain.misses > 0;
    }
    return (gain.driving >= worthSeconds && gain.finish > -worthSeconds) ||
           (gain.finish >= worthSeconds && gain.driving > -worthSeconds);
}

QString wordsFor(const OrderGain &gain)
{
    QStringList words;
    if (gain.misses > 0) {
        words << QObject::tr("keeps out of busy hours that this one misses");
    }
    if (gain.driving >= worthSeconds) {
        words << QObject::tr("saves %1 of driving").arg(durationText(Seconds{gain.driving}));
    } else if (gain.finish >= worthSeconds) {
        words << QObject::tr("ends the day %1 earlier").arg(durationText(Seconds{gain.finish}));
    }
    return words.join(QObject::tr(" and "));
}

OrderOffer::OrderOffer(Session &session, RoundDesk &desk, QObject *parent)
    : QObject(parent), m_session(session), m_desk(desk)
{
    m_wait.setSingleShot(true);
    m_wait.setInterval(restMilliseconds);
    connect(&m_wait, &QTimer::timeout, this, &OrderOffer::begin);
    connect(&m_watcher, &QFutureWatcherBase::finished, this, &OrderOffer::take);
    connect(&desk, &RoundDesk::changed, this, &OrderOffer::deskChanged);
}

OrderOffer::~OrderOffer()
{
    m_watcher.disconnect(this);
    m_watcher.waitForFinished();
}

void OrderOffer::deskChanged()
{
    if (m_found && m_found->before != m_desk.round()) {
        setFound(std::nullopt);
    }
    m_wait.start();
}

void OrderOffer::begin()
{
    const Round &round = m_desk.round();
    if (!m_desk.canOrder() || round.stops.size() < 3 || m_desk.plan().stops.empty()) {
        setFound(std::nullopt);
        Q_EMIT searched();
        return;
    }
    if (m_isAtWork) {
        m_wait.start(); // the old search ends soon; what it finds is thrown away
        return;
    }
    m_isAtWork = true;
    m_watcher.setFuture(QtConcurrent::run([graph = m_session.sharedDriveGraph(), round,
                                           stops = stopsOf(m_session, round),
                                           travel = m_session.settings().travel]() -> Answer {
        auto plan = timeRound(*graph, round, stops, true, travel);
        return {round, plan ? std::optional(std::move(*plan)) : std::nullopt};
    }));
}

void OrderOffer::take()
{
    m_isAtWork = false;
    Answer answer = m_watcher.result();
    const Round &round = m_desk.round();
    if (answer.round != round) {
        if (!m_wait.isActive()) {
            m_wait.start();
        }
        return;
    }
    std::optional<Found> found;
    if (answer.plan && m_unwanted != round) {
        std::vector<ValveId> order;
        for (const PlannedStop &stop : answer.plan->stops) {
            order.push_back(stop.valve);
        }
        const OrderGain gain = gainOf(m_desk.plan(), *answer.plan);
        if (isWorthOffering(gain) && keepsMarks(round, order)) {
            found = Found{round, withOrder(round, order), std::move(*answer.plan), gain};
        }
    }
    setFound(std::move(found));
    Q_EMIT searched();
}

void OrderOffer::setFound(std::optional<Found> found)
{
    const bool wasThere = m_found.has_value();
    m_found = std::move(found);
    if (wasThere || m_found) {
        Q_EMIT changed();
    }
}

void OrderOffer::putAway()
{
    m_unwanted = m_desk.round();
    setFound(std::nullopt);
}

} // namespace keyround
