// SPDX-License-Identifier: GPL-3.0-or-later
// How long it takes to draw up the coming days on streets: 300 valves of an invented backlog over
// 10 crew-days (two crews, one week), on an invented grid of about 100,000 pieces of street, the
// table of ways included; and again, with what was planned before.
#include "core/dayplan/coming_days.h"
#include "tests/bench/timing.h"
#include "tests/support/grid_town.h"

#include <cstdio>
#include <cstdlib>
#include <random>

using namespace keyround;

namespace {

ComingDaysRequest request(const LocalPlane &plane)
{
    ComingDaysRequest made;
    std::mt19937 random(3);
    std::uniform_real_distribution<double> metres(4000.0, 16000.0);
    for (unsigned i = 0; i < 300; ++i) {
        BacklogCandidate valve;
        valve.stop.valve = {uuid7FromParts(1, 0, i)};
        valve.stop.number = QString::number(i);
        const double x = metres(random);
        valve.stop.place = plane.toGeo(PlanePoint{x, metres(random)});
        valve.stop.minutes = 16.0;
        valve.stop.priority = static_cast<double>(i % 7);
        valve.street = i % 3 == 0 ? QStringLiteral("Main Street") : QString();
        made.backlog.push_back(valve);
    }
    BusyHours rush;
    rush.street = QStringLiteral("Main Street");
    rush.from = QTime(7, 0);
    rush.to = QTime(9, 0);
    made.busyHours = {rush};
    for (int i = 0; i < 10; ++i) {
        CrewDayRequest day;
        day.round.date = QDate(2026, 5, 4).addDays(i / 2);
        day.round.crew = i % 2 == 0 ? QStringLiteral("A") : QStringLiteral("B");
        day.round.start = plane.toGeo(PlanePoint{10000.0, 10000.0});
        day.round.finish = day.round.start;
        day.round.breaks = {ShiftBreak()};
        made.days.push_back(day);
    }
    return made;
}

} // namespace

int main(int count, char **arguments)
{
    const auto town = tests::gridTown(225, 225, 0.2, 0.02, JunctionRule::EndPoints, 1);
    const DriveGraph graph = DriveGraph::build(town.streets);
    ComingDaysRequest wanted = request(LocalPlane(GeoPoint{41.0, -90.0}));
    wanted.effort = count > 1 ? static_cast<std::size_t>(std::atoi(arguments[1])) : 0;
    for (const char *const which : {"new", "again"}) {
        ComingDays made;
        const bench::Taken taken = bench::medianTaken(1, [&] {
            if (auto days = planComingDays(graph, wanted, TravelSettings())) {
                made = std::move(*days);
            }
        });
        std::size_t planned = 0;
        for (std::size_t i = 0; i < made.days.size(); ++i) {
            planned += made.days[i].round.stops.size();
            wanted.days[i].round = made.days[i].round;
        }
        std::printf("300 valves, 10 crew-days, %s: %zu planned, priority %.0f, %.1f h driving, %d "
                    "moved, in %.0f ms (processor %.0f)\n",
                    which, planned, made.priority, made.driveSeconds / 3600.0, made.moved,
                    taken.wall, taken.processor);
    }
    return 0;
}
