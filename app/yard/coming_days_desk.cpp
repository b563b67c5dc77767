// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/coming_days_desk.h"

#include "app/commands/coming_days.h"
#include "app/commands/push_command.h"
#include "app/shell/session.h"
#include "app/yard/round_edit.h"

#include <QSet>
#include <QSettings>

#include <algorithm>

namespace keyround {

namespace {

const QString countKey = QStringLiteral("yard/coming-days");

bool isOf(const Round &round, const QString &crew, const QDate &date)
{
    return round.date == date && round.crew.compare(crew, Qt::CaseInsensitive) == 0;
}

} // namespace

ComingDaysDesk::ComingDaysDesk(Session &session, QObject *parent)
    : QObject(parent), m_session(session),
      m_dayCount(std::clamp(QSettings().value(countKey, 5).toInt(), 1, mostDays))
{
    Notifier &notifier = session.notifier();
    // All that a time depends on besides the round itself.
    for (const auto change : {&Notifier::valvesChanged, &Notifier::layersChanged,
                              &Notifier::visitsChanged, &Notifier::settingsChanged}) {
        connect(&notifier, change, this, [this] { m_timed.clear(); });
    }
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_timed.clear();
        m_leftOut.clear();
        m_moved = 0;
    });
}

void ComingDaysDesk::setDayCount(int count)
{
    m_dayCount = std::clamp(count, 1, mostDays);
    QSettings().setValue(countKey, m_dayCount);
    refresh();
}

void ComingDaysDesk::gatherDates()
{
    const ProjectSettings &settings = m_session.settings();
    m_crews = crewNames(settings);
    QSet<QDate> dates;
    for (const QString &name : std::as_const(m_crews)) {
        Crew crew = crewNamed(settings, name);
        crew.daysOff += settings.holidays;
        for (const QDate &date : workingDays(crew, m_session.today(), m_dayCount)) {
            dates.insert(date);
        }
    }
    m_dates = QList<QDate>(dates.begin(), dates.end());
    std::ranges::sort(m_dates);
    for (const Round &round : m_session.rounds()) {
        const bool isKnown = m_crews.contains(round.crew, Qt::CaseInsensitive);
        if (!isKnown && m_dates.contains(round.date)) {
            m_crews << round.crew;
        }
    }
}

DayCell ComingDaysDesk::gatherCell(const QString &crew, const QDate &date)
{
    Crew known = crewNamed(m_session.settings(), crew);
    known.daysOff += m_session.settings().holidays;
    DayCell cell{crew, date, worksOn(known, date), std::nullopt, {}, {}};
    for (const Round &round : m_session.rounds()) {
        // An open round goes before a finished one of the same day.
        if (isOf(round, crew, date) && (!cell.round || cell.round->state == RoundState::Finished)) {
            cell.round = round;
        }
    }
    if (!cell.round || cell.round->stops.empty()) {
        return cell;
    }
    auto timed = m_timed.find(cell.round->id);
    if (timed == m_timed.end() || timed->round != *cell.round) {
        auto plan = timesOf(m_session, *cell.round);
        const QString trouble = plan ? QString() : plan.error().message;
        timed = m_timed.insert(cell.round->id,
                               {*cell.round, plan ? std::move(*plan) : DayPlan{}, trouble});
    }
    cell.plan = timed->plan;
    cell.trouble = timed->trouble;
    return cell;
}

void ComingDaysDesk::refresh()
{
    m_cells.clear();
    m_crews.clear();
    m_dates.clear();
    if (m_session.isOpen()) {
        gatherDates();
        for (const QString &crew : std::as_const(m_crews)) {
            for (const QDate &date : std::as_const(m_dates)) {
                m_cells.push_back(gatherCell(crew, date));
            }
        }
    }
    Q_EMIT changed();
}

const DayCell &ComingDaysDesk::cell(const CellAt &at) const
{
    return m_cells.at(static_cast<size_t>(at.crew * m_dates.size() + at.day));
}

CellAt ComingDaysDesk::cellOf(const RoundId &round) const
{
    for (int crew = 0; crew < m_crews.size(); ++crew) {
        for (int day = 0; day < m_dates.size(); ++day) {
            const auto &there = cell({crew, day}).round;
            if (there && there->id == round && !round.isNull()) {
                return {crew, day};
            }
        }
    }
    return {};
}

bool ComingDaysDesk::hasRounds() const
{
    return std::ranges::any_of(m_cells, [](const DayCell &cell) { return cell.round.has_value(); });
}

std::vector<LeftOut> ComingDaysDesk::leftOut() const
{
    std::vector<LeftOut> still = m_leftOut;
    std::erase_if(still, [this](const LeftOut &each) {
        return std::ranges::any_of(m_cells, [&](const DayCell &cell) {
            return cell.round && stopIndex(*cell.round, each.valve) >= 0;
        });
    });
    return still;
}

QString ComingDaysDesk::sentence() const
{
    if (!hasRounds()) {
        return tr("Nothing is planned for the coming days yet");
    }
    int stops = 0;
    double driving = 0;
    int late = 0;
    for (const DayCell &cell : m_cells) {
        stops += cell.round ? static_cast<int>(cell.round->stops.size()) : 0;
        driving += cell.plan.driveSeconds;
        late += cell.plan.overrunsShift ? 1 : 0;
    }
    QStringList parts{tr("%1 stops").arg(stops),
                      tr("%1 driving").arg(durationText(Seconds{driving}))};
    if (late > 0) {
        parts << tr("%n days run past their shift", nullptr, late);
    }
    if (const size_t out = leftOut().size(); out > 0) {
        parts << tr("%1 due valves left out").arg(out);
    }
    if (m_moved > 0) {
        parts << tr("%1 moved to another day or crew at the last drawing up").arg(m_moved);
    }
    const auto crews = static_cast<int>(m_crews.size());
    return tr("%1, %2 days: ")
               .arg(crews == 1 ? tr("1 crew") : tr("%1 crews").arg(crews))
               .arg(m_dates.size()) +
           parts.join(QStringLiteral(" · "));
}

Status ComingDaysDesk::drawUp(const Progress &progress)
{
    const auto drawn = drawUpComingDays(m_session, {m_session.today(), m_dayCount, {}}, progress);
    if (!drawn) {
        return tl::unexpected<Error>(drawn.error());
    }
    m_leftOut = drawn->leftOut;
    m_moved = drawn->moved;
    if (Status kept = keepComingDays(m_session, *drawn); !kept) {
        return kept;
    }
    refresh();
    return {};
}

Status ComingDaysDesk::refuseMove(const QList<ValveId> &valves, const DayCell &to)
{
    const QString day = to.date.toString(Qt::ISODate);
    if (!to.canChange()) {
        return fail(ErrorCode::Refused,
                    to.works ? tr("The round of %1 (%2) is finished and stays as it was driven.")
                                   .arg(day, to.crew)
                             : tr("%2 does not work on %1. Choose another day, or change the "
                                  "crew's working days in the settings.")
                                   .arg(day, to.crew));
    }
    for (const ValveId &id : valves) {
        const Valve *valve = m_session.valve(id);
        if (valve == nullptr || !valve->place.isValid()) {
            return fail(ErrorCode::BadInput,
                        tr("Valve %1 has no position, so it cannot be driven to. Give its place "
                           "on the card first.")
                            .arg(valve != nullptr ? valve->number : id.text()));
        }
        for (const ReadVisit &read : m_session.history(id).visits) {
            const CellAt from = cellOf(read.visit.round);
            if (from.isValid() && stopIndex(*cell(from).round, id) >= 0) {
                return fail(
                    ErrorCode::Refused,
                    tr("Valve %1 was visited on the round of %2 already and stays a stop of it.")
                        .arg(valve->number, cell(from).date.toString(Qt::ISODate)));
            }
        }
    }
    return {};
}

Status ComingDaysDesk::move(const QList<ValveId> &valves, const CellAt &at)
{
    const DayCell to = cell(at);
    if (Status allowed = refuseMove(valves, to); !allowed) {
        return allowed;
    }
    Round target = to.round ? *to.round : emptyRound(m_session.settings(), to.crew, to.date);
    std::vector<ChangeRounds::Change> changes;
    QList<ValveId> moved;
    for (const ValveId &id : valves) {
        if (stopIndex(target, id) < 0) {
            moved << id;
        }
    }
    if (moved.isEmpty()) {
        return {};
    }
    for (const DayCell &from : m_cells) {
        if (!from.round || from.round->state == RoundState::Finished ||
            (to.round && from.round->id == to.round->id)) {
            continue;
        }
        const Round rest = withStopsDropped(*from.round, moved);
        for (const ValveId &id : std::as_const(moved)) {
            if (from.round->mustGo.contains(id)) {
                target.mustGo.insert(id);
            }
        }
        if (rest == *from.round) {
            continue;
        }
        const bool isGone = rest.stops.empty() && rest.state == RoundState::Planned && !rest.isTold;
        changes.push_back({*from.round, isGone ? std::nullopt : std::optional(rest)});
    }
    target = withStopsAdded(std::move(target), moved);
    if (target.state == RoundState::Planned) {
        if (const auto plan = timesOf(m_session, target, true)) {
            std::vector<ValveId> order;
            for (const PlannedStop &stop : plan->stops) {
                order.push_back(stop.valve);
            }
            target = withOrder(std::move(target), order);
        }
    }
    if (target.id.isNull()) {
        target.id = RoundId{newUuid7(m_session.now().utcMilliseconds)};
    }
    changes.push_back({to.round, target});
    const Valve *first = m_session.valve(moved.first());
    const QString what =
        moved.size() == 1 ? tr("valve %1").arg(first->number) : tr("%1 valves").arg(moved.size());
    return pushCommand(
        m_session, std::make_unique<ChangeRounds>(
                       m_session, std::move(changes),
                       tr("Move %1 to %2, %3").arg(what, to.date.toString(Qt::ISODate), to.crew)));
}

Status ComingDaysDesk::setTold(const CellAt &at, bool isTold)
{
    const auto &round = cell(at).round;
    if (!round) {
        return fail(ErrorCode::Refused,
                    tr("Nothing is planned on that day, so there is nothing to tell."));
    }
    return keyround::setTold(m_session, round->id, isTold);
}

} // namespace keyround
