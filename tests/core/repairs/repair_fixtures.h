// SPDX-License-Identifier: GPL-3.0-or-later
// Invented valves, visits and rows for the tests of repairs.
#pragma once

#include "core/repairs/backlog.h"

#include <QtTest>

namespace keyround::fixtures {

inline QDate day(const char *date)
{
    return QDate::fromString(QLatin1String(date), Qt::ISODate);
}

inline Moment at(const char *date, int hour = 9)
{
    return Moment::from(QDateTime(day(date), QTime(hour, 0), Qt::UTC));
}

/// A town of a few valves with its rows, as a project would hold them.
struct RepairTown
{
    std::vector<Valve> valves;
    std::vector<Visit> visits;
    std::vector<ShutLog> shuts;
    std::vector<Replacement> replacements;
    std::vector<RepairEvent> events;
    RepairHabits habits = startingRepairHabits();
    int made = 0;

    Valve &valve(const char *number, const char *critical = "")
    {
        Valve valve;
        valve.id = {uuid7FromParts(1000 + ++made, 0, 0)};
        valve.number = QLatin1String(number);
        valve.type = ValveType::Gate;
        valve.listedTurns = QuarterTurns::ofTurns(20);
        valve.criticalCustomers = QLatin1String(critical);
        valves.push_back(valve);
        return valves.back();
    }
    /// At the last valve.
    Visit &visit(const char *date, int turns, QList<Problem> problems = {})
    {
        Visit visit;
        visit.id = {uuid7FromParts(2000 + ++made, 0, 0)};
        visit.valve = valves.back().id;
        visit.arrived = at(date);
        visit.stamp = {static_cast<std::uint64_t>(made)};
        if (turns > 0) {
            visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(turns)},
                            {PassDirection::Opening, QuarterTurns::ofTurns(turns)}};
        }
        visit.problems = std::move(problems);
        visits.push_back(visit);
        return visits.back();
    }
    RepairEvent &add(RepairEvent event, const char *date)
    {
        event.id = {uuid7FromParts(3000 + ++made, 0, 0)};
        event.at = at(date);
        event.stamp = {static_cast<std::uint64_t>(made)};
        events.push_back(std::move(event));
        return events.back();
    }
    RepairEvent &step(RepairStep step, const char *date)
    {
        RepairEvent event;
        event.request = book().requests.back().id;
        event.step = step;
        event.on = day(date);
        return add(event, date);
    }
    [[nodiscard]] Histories histories() const
    {
        return readHistories(valves, visits, replacements, Tolerance());
    }
    [[nodiscard]] RepairBook book() const { return makeRepairBook(events); }
    [[nodiscard]] std::vector<RepairProposal> proposals() const
    {
        return repairProposals(book(), valves, histories(), shuts, habits);
    }
    void accept(const RepairProposal &proposal, const char *date)
    {
        for (const RepairEvent &event : eventsFor(proposal)) {
            add(event, date);
        }
    }
    [[nodiscard]] RepairRequest only() const
    {
        const RepairBook all = book();
        return all.requests.size() == 1 ? all.requests.front() : RepairRequest{};
    }
};

} // namespace keyround::fixtures
