// SPDX-License-Identifier: GPL-3.0-or-later
// The half of ShutDesk that works out the plan and its rows from the log and what is known of the
// valves.
#include "app/shut/desk_words.h"
#include "app/shut/shut_desk.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace keyround {

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
               (row.part == ShutRow::Part::AlreadyClosed && row.state == ShutRow::State::Waiting);
    });
    return waits == m_rows.end() ? ValveId{} : waits->valve;
}

} // namespace keyround
