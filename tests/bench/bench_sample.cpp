// SPDX-License-Identifier: GPL-3.0-or-later
// The sample town as a person meets it: how long its project takes to open (read, judged, its due
// list and drive graph made), and how long a round of 40 of its valves takes to plan, the table of
// ways included, with the growth from 10 to 80.
//
// Usage: bench_sample PROJECT.keyround      (packaging/start makes one: build/sample.keyround)
#include "app/commands/round_commands.h"
#include "tests/bench/timing.h"

#include <QCoreApplication>

#include <cstdio>

using namespace keyround;

namespace {

constexpr int runs = 7;

void openAndRead(Session &session, const QString &path)
{
    if (const Status opened = session.openProject(path); !opened) {
        qFatal("%s", qPrintable(opened.error().message));
    }
    session.setDay(QDate(2026, 3, 16));
    (void)session.dueList();
    (void)session.mains();
    (void)session.services();
    (void)session.hydrants();
    (void)session.driveGraph();
}

std::vector<ValveId> firstDue(Session &session, size_t count)
{
    std::vector<ValveId> valves;
    for (const DueEntry &entry : session.dueList()) {
        if (wantsVisit(entry.state) && session.valve(entry.valve)->place.isValid() &&
            valves.size() < count) {
            valves.push_back(entry.valve);
        }
    }
    return valves;
}

void planRounds(Session &session)
{
    for (const size_t count : {10U, 20U, 40U, 80U}) {
        const std::vector<ValveId> valves = firstDue(session, count);
        Round day;
        day.start = session.settings().yard.value_or(session.valve(valves.front())->place);
        day.finish = day.start;
        day.shift = {QTime(0, 0), QTime(23, 59)};
        size_t planned = 0;
        const bench::Taken taken = bench::medianTaken(runs, [&] {
            const auto drawn = drawUpRound(session, day, valves);
            planned = drawn ? drawn->plan.stops.size() : 0;
        });
        std::printf("%2zu valves asked for, %zu fit the day: planned in %.0f ms (processor %.0f)\n",
                    count, planned, taken.wall, taken.processor);
    }
}

} // namespace

int main(int argc, char *argv[])
{
    const QCoreApplication application(argc, argv);
    if (argc != 2) {
        std::fprintf(stderr, "usage: bench_sample PROJECT.keyround\n");
        return 2;
    }
    Session session;
    const bench::Taken opening = bench::medianTaken(runs, [&] {
        session.closeProject();
        openAndRead(session, QString::fromLocal8Bit(argv[1]));
    });
    std::printf("opened with %zu valves and %zu visits in %.0f ms (processor %.0f)\n",
                session.valves().size(), session.visits().size(), opening.wall, opening.processor);
    planRounds(session);
    return 0;
}
