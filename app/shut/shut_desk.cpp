// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/shut_desk.h"

#include "app/dialogs/typed_values.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace keyround {

namespace {

/// Kept in a note's words, so that a look at a valve that stands closed is part of the record.
QString checkedWords(const QString &number)
{
    return QObject::tr("Valve %1 was looked at: it is closed.").arg(number);
}

QString listed(QStringList numbers)
{
    if (numbers.size() < 2) {
        return numbers.join(QString());
    }
    const QString last = numbers.takeLast();
    return QObject::tr("%1 and %2").arg(numbers.join(QStringLiteral(", ")), last);
}

QString numberOf(Session &session, const ValveId &id)
{
    const Valve *valve = session.valve(id);
    return valve != nullptr ? valve->number : QObject::tr("(no longer in the inventory)");
}

QStringList numbersOf(Session &session, const std::vector<ValveId> &ids)
{
    QStringList numbers;
    for (const ValveId &id : ids) {
        numbers << numberOf(session, id);
    }
    return numbers;
}

/// A shut is kept as "break on main M-1"; the plan's words are those after "break".
QString begunPrefix()
{
    return QStringLiteral("break ");
}

QString ownWords(const QString &begun)
{
    return begun.startsWith(begunPrefix()) ? begun.mid(begunPrefix().size()) : begun;
}

std::vector<NetIndex> toCloseIn(const ShutPlan &plan)
{
    std::vector<NetIndex> valves;
    for (const auto *steps : {&plan.close, &plan.closeDeadSide}) {
        for (const ShutStep &step : *steps) {
            valves.push_back(step.valve);
        }
    }
    std::ranges::sort(valves);
    return valves;
}

} // namespace

QString wordFor(ShutRow::Part part)
{
    switch (part) {
    case ShutRow::Part::Close:
        return QObject::tr("Close");
    case ShutRow::Part::CloseDeadSide:
        return QObject::tr("Close against drain-back");
    case ShutRow::Part::AlreadyClosed:
        return QObject::tr("Stands closed");
    case ShutRow::Part::PassedOver:
        return QObject::tr("Passed over");
    case ShutRow::Part::NotNeeded:
        break;
    }
    return QObject::tr("No longer needed");
}

QString wordFor(ShutRow::State state)
{
    switch (state) {
    case ShutRow::State::ToDo:
        return QObject::tr("to do");
    case ShutRow::State::Closed:
        return QObject::tr("closed");
    case ShutRow::State::DoesNotHold:
        return QObject::tr("does not hold");
    case ShutRow::State::Reopened:
        return QObject::tr("reopened");
    case ShutRow::State::Checked:
        break;
    }
    return QObject::tr("looked at: closed");
}

QString standingWords(Session &session, const ShutLog &log)
{
    const ShutStanding standing = standingOf(log);
    QStringList parts;
    if (standing.closed.empty()) {
        parts << QObject::tr("no valve closed");
    } else {
        QStringList numbers = numbersOf(session, standing.closed);
        constexpr qsizetype shown = 6;
        const qsizetype more = numbers.size() - shown;
        numbers = numbers.mid(0, shown);
        parts << QObject::tr("%1 closed: %2%3")
                     .arg(standing.closed.size() == 1
                              ? QObject::tr("1 valve")
                              : QObject::tr("%1 valves").arg(standing.closed.size()),
                          numbers.join(QStringLiteral(", ")),
                          more > 0 ? QObject::tr(" and %1 more").arg(more) : QString());
    }
    if (!standing.didNotHold.isEmpty()) {
        parts << (standing.didNotHold.size() == 1
                      ? QObject::tr("1 does not hold")
                      : QObject::tr("%1 do not hold").arg(standing.didNotHold.size()));
    }
    if (standing.isEnded) {
        parts << QObject::tr("ended");
    }
    return parts.join(QStringLiteral("; "));
}

ShutDesk::ShutDesk(Session &session, QObject *parent) : QObject(parent), m_session(session)
{
    listen();
}

void ShutDesk::listen()
{
    const Notifier &notifier = m_session.notifier();
    for (auto signal :
         {&Notifier::valvesChanged, &Notifier::layersChanged, &Notifier::networkFixesChanged,
          &Notifier::visitsChanged, &Notifier::shutsChanged, &Notifier::settingsChanged}) {
        connect(&notifier, signal, this, &ShutDesk::refresh);
    }
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_crew.reset();
        clear();
    });
}

void ShutDesk::adopt(const BreakAt &at, const QString &main)
{
    m_at = at;
    m_main = main;
    m_shut = {};
    m_change.clear();
    replan();
    Q_EMIT breakChanged();
}

Status ShutDesk::breakAt(const GeoPoint &place, Metres reach)
{
    const auto at = breakNear(m_session.network().network, place, reach, m_session.units());
    if (!at) {
        return tl::unexpected(at.error());
    }
    adopt(*at, {});
    return {};
}

Status ShutDesk::breakTyped(const QString &text)
{
    const QString typed = text.trimmed();
    if (typed.isEmpty()) {
        return fail(ErrorCode::BadInput, tr("Type the number of a main, or a place as latitude, "
                                            "longitude; or click the main on the map."));
    }
    const PipeNetwork &network = m_session.network().network;
    if (network.main(typed) == noIndex && typed.contains(QLatin1Char(','))) {
        const auto place = placeTyped(typed);
        return place ? breakAt(*place) : tl::unexpected(place.error());
    }
    const auto at = breakOnMain(network, typed, {}, m_session.units());
    if (!at) {
        return tl::unexpected(at.error());
    }
    adopt(*at, typed);
    return {};
}

Status ShutDesk::open(const ShutId &shut)
{
    const ShutLog *log = m_session.shut(shut);
    if (log == nullptr) {
        return fail(ErrorCode::NotFound, tr("This shut is not in the project."));
    }
    const auto at = breakOf(m_session, log->begun);
    m_shut = shut;
    m_main = log->begun.main;
    m_change.clear();
    if (at) {
        m_at = *at;
        m_at->words = ownWords(log->begun.words);
    } else {
        // The mains have changed since: what was closed must still be seen and opened.
        m_at = BreakAt{{}, log->begun.place, ownWords(log->begun.words), false};
    }
    replan();
    Q_EMIT breakChanged();
    if (!at) {
        return fail(ErrorCode::NotFound,
                    tr("The main of this shut is no longer found: %1 What was closed is listed.")
                        .arg(at.error().message));
    }
    return {};
}

void ShutDesk::clear()
{
    m_at.reset();
    m_plan.reset();
    m_rows.clear();
    m_shut = {};
    m_change.clear();
    Q_EMIT breakChanged();
}

void ShutDesk::setCrew(const std::optional<GeoPoint> &place)
{
    m_crew = place;
    refresh();
}

const ShutRow *ShutDesk::row(const ValveId &valve) const
{
    const auto found = std::ranges::find(m_rows, valve, &ShutRow::valve);
    return found == m_rows.end() ? nullptr : &*found;
}

const ShutLog *ShutDesk::log() const
{
    return m_shut.isNull() ? nullptr : m_session.shut(m_shut);
}

bool ShutDesk::isEnded() const
{
    const ShutLog *known = log();
    return known != nullptr && standingOf(*known).isEnded;
}

QString ShutDesk::title() const
{
    if (!m_at) {
        return {};
    }
    return tr("Break %1").arg(m_at->words);
}

ValveStates ShutDesk::states() const
{
    ValveStates states = m_session.valveStates();
    const ShutLog *known = log();
    if (known == nullptr) {
        return states;
    }
    for (const ValveId &id : standingOf(*known).closed) {
        const NetIndex index = m_session.networkIndex(id);
        if (index == noIndex) {
            continue;
        }
        ValveState &state = states[index];
        const Valve *valve = m_session.valve(id);
        if (valve == nullptr || valve->normally == NormalPosition::Open) {
            state.closed = false;
        }
        state.holds = Holds::Works;
        state.why = tr("it was closed for this shut");
    }
    return states;
}

void ShutDesk::replan()
{
    m_plan = m_at->segments.empty() ? ShutPlan{} : shutFor(m_session, *m_at, states(), m_crew);
    m_plan->at = *m_at;
    fillRows();
    orderReopening();
}

void ShutDesk::refresh()
{
    if (!m_at) {
        Q_EMIT changed();
        return;
    }
    // The network may be another one: its segments are found again by the place or the main.
    const PipeNetwork &network = m_session.network().network;
    const auto again = m_at->place.isValid()
                           ? breakNear(network, m_at->place, breakReach, m_session.units())
                           : breakOnMain(network, m_main, {}, m_session.units());
    m_at->segments = again ? again->segments : std::vector<NetIndex>{};
    replan();
    Q_EMIT changed();
}

void ShutDesk::readLog(ShutRow &row) const
{
    const ShutLog *known = log();
    if (known == nullptr) {
        return;
    }
    const QString checked = checkedWords(row.number);
    for (const ShutTick &tick : known->ticks) {
        const bool isCheck = tick.action == ShutAction::Noted && tick.words.startsWith(checked);
        if (tick.valve != row.valve && !isCheck) {
            continue;
        }
        row.at = tick.at;
        row.person = tick.person;
        row.remark = isCheck ? tick.words.mid(checked.size()).trimmed() : tick.words;
        row.state = isCheck                                 ? ShutRow::State::Checked
                    : tick.action == ShutAction::Closed     ? ShutRow::State::Closed
                    : tick.action == ShutAction::DidNotHold ? ShutRow::State::DoesNotHold
                                                            : ShutRow::State::Reopened;
    }
}

void ShutDesk::fillSteps(ShutRow::Part part, const std::vector<ShutStep> &steps)
{
    const bool isToClose = part == ShutRow::Part::Close || part == ShutRow::Part::CloseDeadSide;
    for (const ShutStep &step : steps) {
        const NetValve &valve = m_session.network().network.valves[step.valve];
        ShutRow row;
        row.valve = valve.id;
        row.number = valve.number;
        row.part = part;
        row.holds = step.holds;
        row.why = step.why;
        if (isToClose) {
            row.order = 1 + static_cast<int>(m_rows.size());
        }
        readLog(row);
        row.mayFail = part != ShutRow::Part::PassedOver &&
                      (step.holds == Holds::Doubtful || step.holds == Holds::Unknown);
        const auto fails = std::ranges::find(m_plan->ifFails, step.valve, &IfItFails::valve);
        if (isToClose && fails != m_plan->ifFails.end()) {
            row.ifFails = fails->words;
        }
        m_rows.push_back(std::move(row));
    }
}

void ShutDesk::fillRows()
{
    m_rows.clear();
    fillSteps(ShutRow::Part::Close, m_plan->close);
    fillSteps(ShutRow::Part::CloseDeadSide, m_plan->closeDeadSide);
    fillSteps(ShutRow::Part::AlreadyClosed, m_plan->alreadyClosed);
    fillSteps(ShutRow::Part::PassedOver, m_plan->passedOver);
    const ShutLog *known = log();
    if (known == nullptr) {
        return;
    }
    for (const ShutTick &tick : known->ticks) {
        if (!tick.valve.isNull() && row(tick.valve) == nullptr) {
            ShutRow extra;
            extra.valve = tick.valve;
            extra.number = numberOf(m_session, tick.valve);
            extra.part = ShutRow::Part::NotNeeded;
            extra.why = tr("the shut as it is now does not need it");
            readLog(extra);
            m_rows.push_back(std::move(extra));
        }
    }
}

/// The sheet's list of reopening is the one on the screen.
void ShutDesk::orderReopening()
{
    const ShutLog *known = log();
    if (known == nullptr || standingOf(*known).closed.empty()) {
        return;
    }
    std::vector<ShutStep> steps;
    for (const ValveId &id : reopeningOrder(standingOf(*known))) {
        const NetIndex index = m_session.networkIndex(id);
        if (index != noIndex) {
            steps.push_back({index, Holds::Works,
                             steps.empty()
                                 ? tr("closed last: open first and slowly; let the air out")
                                 : tr("open once it is full and the air is out")});
        }
    }
    m_plan->reopen = std::move(steps);
}

std::vector<ShutRow> ShutDesk::toReopen() const
{
    std::vector<ShutRow> rows;
    const ShutLog *known = log();
    if (known == nullptr) {
        return rows;
    }
    for (const ValveId &id : reopeningOrder(standingOf(*known))) {
        if (const ShutRow *found = row(id)) {
            rows.push_back(*found);
            rows.back().order = static_cast<int>(rows.size());
        }
    }
    return rows;
}

ValveId ShutDesk::nextToClose() const
{
    const auto waits = std::ranges::find_if(m_rows, [](const ShutRow &row) {
        const bool isToClose =
            row.part == ShutRow::Part::Close || row.part == ShutRow::Part::CloseDeadSide;
        return (isToClose && row.state != ShutRow::State::Closed) ||
               (row.part == ShutRow::Part::AlreadyClosed && row.state == ShutRow::State::ToDo);
    });
    return waits == m_rows.end() ? ValveId{} : waits->valve;
}

Status ShutDesk::begin()
{
    if (!m_at) {
        return fail(ErrorCode::Refused, tr("No break is given yet. Click the main first."));
    }
    if (isBegun()) {
        return {};
    }
    BreakAt at = *m_at;
    at.words = begunPrefix() + at.words;
    const auto made = beginShut(m_session, at, m_main);
    if (!made) {
        return tl::unexpected(made.error());
    }
    m_shut = *made;
    m_change.clear();
    refresh();
    return {};
}

QString ShutDesk::changeSince(const ShutPlan &before, const ValveId &valve) const
{
    const std::vector<NetIndex> old = toCloseIn(before);
    const std::vector<NetIndex> now = toCloseIn(*m_plan);
    const NetIndex self = m_session.networkIndex(valve);
    const auto numbers = [&](const std::vector<NetIndex> &from,
                             const std::vector<NetIndex> &without) {
        QStringList list;
        for (const NetIndex index : from) {
            if (index != self && !std::ranges::binary_search(without, index)) {
                list << m_session.network().network.valves[index].number;
            }
        }
        return list;
    };
    const QStringList more = numbers(now, old);
    const QStringList spared = numbers(old, now);
    const int services = m_plan->outAltogether().services - before.outAltogether().services;
    if (more.isEmpty() && spared.isEmpty() && services == 0) {
        return {};
    }
    QStringList parts;
    if (!more.isEmpty()) {
        parts << tr("close %1 as well").arg(listed(more));
    }
    if (!spared.isEmpty()) {
        parts << tr("%1 need not be closed any more").arg(listed(spared));
    }
    if (services > 0) {
        parts << tr("%n more services without water", nullptr, services);
    } else if (services < 0) {
        parts << tr("%n fewer services without water", nullptr, -services);
    }
    return (services < 0 ? tr("The shut is smaller now: %1.") : tr("The shut has grown: %1."))
        .arg(parts.join(QStringLiteral("; ")));
}

Status ShutDesk::tick(const ValveId &valve, ShutAction action, const QString &remark)
{
    if (Status begun = begin(); !begun) {
        return begun;
    }
    const ShutPlan before = *m_plan;
    const QString number = numberOf(m_session, valve);
    Status ticked = tickShut(m_session, m_shut, action, valve, remark.trimmed());
    if (!ticked) {
        return ticked;
    }
    // The notifier has made the plan anew by now.
    const QString change = changeSince(before, valve);
    m_change = change.isEmpty()                   ? QString()
               : action == ShutAction::DidNotHold ? tr("%1 does not hold. ").arg(number) + change
                                                  : change;
    Q_EMIT changed();
    return {};
}

Status ShutDesk::check(const ValveId &valve, const QString &remark)
{
    const QString words = checkedWords(numberOf(m_session, valve));
    return note(remark.trimmed().isEmpty() ? words : words + QLatin1Char(' ') + remark.trimmed());
}

Status ShutDesk::note(const QString &words)
{
    m_change.clear();
    return begin().and_then(
        [&] { return tickShut(m_session, m_shut, ShutAction::Noted, {}, words); });
}

QString ShutDesk::stillClosedWords() const
{
    const ShutLog *known = log();
    const auto closed = known == nullptr ? std::vector<ValveId>{} : standingOf(*known).closed;
    return closed.empty() ? QString()
                          : tr("Still closed: %1.").arg(listed(numbersOf(m_session, closed)));
}

Status ShutDesk::end()
{
    if (!isBegun()) {
        return fail(ErrorCode::Refused, tr("This shut was not begun: there is nothing to end."));
    }
    m_change.clear();
    const QString closed = stillClosedWords();
    return tickShut(m_session, m_shut, ShutAction::Ended, {},
                    closed.isEmpty() ? tr("Everything closed for it is open again.") : closed);
}

} // namespace keyround
