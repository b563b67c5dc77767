// SPDX-License-Identifier: GPL-3.0-or-later
// An invented fleet put together by hand, visit by visit, for figures that are counted by hand.
#pragma once

#include "core/condition/history.h"

namespace keyround::test {

inline QDate day(const char *date)
{
    return QDate::fromString(QLatin1String(date), Qt::ISODate);
}

struct SmallFleet
{
    std::vector<Valve> valves;
    std::vector<Visit> visits;
    std::vector<Replacement> replacements;

    /// A gate valve of 20 listed turns.
    ValveId add(const QString &number, int inches, const char *zone = "low",
                std::optional<int> year = {})
    {
        Valve valve;
        valve.id = {uuid7FromParts(static_cast<int>(valves.size()) + 1, 1, 0)};
        valve.number = number;
        valve.size = NominalSize::ofInches(inches);
        valve.type = ValveType::Gate;
        valve.zone = QLatin1String(zone);
        valve.listedTurns = QuarterTurns::ofTurns(20);
        valve.installYear = year;
        valves.push_back(valve);
        return valve.id;
    }
    /// Late in the evening by local time, when it is the next day in UTC. Twenty minutes.
    VisitId visit(const ValveId &valve, const QDate &date, double turns,
                  const QList<Problem> &problems = {},
                  const QString &crew = QStringLiteral("Crew 1"))
    {
        Visit visit;
        visit.id = {uuid7FromParts(static_cast<int>(visits.size()) + 1, 2, 0)};
        visit.valve = valve;
        visit.arrived = Moment::from(QDateTime(date, QTime(21, 30), Qt::OffsetFromUTC, -18000));
        visit.finished = visit.arrived;
        visit.finished.utcMilliseconds += 20 * 60 * 1000;
        visit.crew = crew;
        visit.stamp = {visits.size() + 1};
        if (turns > 0) {
            const QuarterTurns counted{static_cast<int>(turns * 4)};
            visit.passes = {{PassDirection::Closing, counted}, {PassDirection::Opening, counted}};
        }
        visit.problems = problems;
        visits.push_back(visit);
        return visit.id;
    }
    void replace(const ValveId &valve, const QDate &on)
    {
        Replacement replacement;
        replacement.id = {uuid7FromParts(static_cast<int>(replacements.size()) + 1, 3, 0)};
        replacement.valve = valve;
        replacement.on = on;
        replacement.oldListedTurns = QuarterTurns::ofTurns(20);
        replacement.stamp = {replacements.size() + 1};
        replacements.push_back(replacement);
    }
    [[nodiscard]] Histories read() const
    {
        return readHistories(valves, visits, replacements, Tolerance());
    }
};

} // namespace keyround::test
