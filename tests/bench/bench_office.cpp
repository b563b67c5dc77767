// SPDX-License-Identifier: GPL-3.0-or-later
// bench_office [--valves N] [--each N] [--keep FILE]: a project of 50,000 valves and 1,000,000
// visits, all invented: how long until the file is open, until the first figure of the Office, and
// for any other figure after it. Goals: 2 s, 3 s, 1 s each. With --keep the file stays and is used
// again the next time.
#include "core/condition/ageing.h"
#include "core/condition/changes.h"
#include "core/condition/condition_bands.h"
#include "core/condition/fleet_turns.h"
#include "core/schedule/outlook.h"
#include "core/schedule/pace.h"
#include "core/schedule/what_next.h"
#include "core/storage/project.h"
#include "core/storage/valve_store.h"
#include "core/storage/visit_store.h"
#include "tests/bench/big_fleet.h"
#include "tests/bench/timing.h"

#include <QFileInfo>
#include <QTemporaryDir>

#include <cstdio>
#include <cstdlib>
#include <cstring>

using namespace keyround;

namespace {

bool fill(const QString &path, int valves, int each)
{
    const bench::BigFleet fleet = bench::bigFleet(valves, each);
    const auto project = Project::create(path, UnitSystem::Us);
    const Author author{QStringLiteral("bench"), QStringLiteral("bench")};
    return project && (*project)->transaction([&] {
        return (*project)
            ->valves()
            .addAll(fleet.valves, author, Moment{1'700'000'000'000, 0}, QStringLiteral("bench"))
            .and_then([&] { return (*project)->visits().addAll(fleet.visits).map([](int) {}); });
    });
}

void tell(const char *what, const bench::Taken &taken)
{
    std::printf("%-34s %7.0f ms wall, %7.0f ms processor\n", what, taken.wall, taken.processor);
    std::fflush(stdout);
}

void tellFigures(const std::vector<Valve> &valves, const Histories &histories, const Span &span)
{
    constexpr int runs = 3;
    const Policy policy = startingPolicy();
    const QDate today = span.to;
    std::size_t seen = 0; // so that nothing is left out
    tell("condition by month", bench::medianTaken(runs, [&] {
             seen += conditionOverTime(valves, histories, span, PeriodLength::Month).periods.size();
         }));
    tell("changes by month", bench::medianTaken(runs, [&] {
             seen += conditionChanges(valves, histories, span, PeriodLength::Month).all.size();
         }));
    tell("pace, all years", bench::medianTaken(runs, [&] {
             seen += paceOf(valves, histories, policy, span, today).years.size();
         }));
    for (const AgeingBy by : {AgeingBy::All, AgeingBy::TypeAndSize, AgeingBy::InstallDecade}) {
        tell(qPrintable(QStringLiteral("ageing by ") + wordFor(by)), bench::medianTaken(runs, [&] {
                 seen += ageingOf(valves, histories, by, UnitSystem::Us).groups.size();
             }));
    }
    tell("turns", bench::medianTaken(
                      runs, [&] { seen += fleetTurns(valves, histories, span).drifting.size(); }));
    LifeLaws laws;
    tell("laws of life", bench::medianTaken(runs, [&] { laws = fitLifeLaws(valves, histories); }));
    tell("what next, with the due list", bench::medianTaken(runs, [&] {
             seen += whatNext(dueList(valves, histories, policy, today), valves, histories, laws,
                              {}, today)
                         .size();
         }));
    tell("outlook, four plans", bench::medianTaken(runs, [&] {
             seen += outlook(valves, histories, policy, laws, usualPlans(valves, histories, today),
                             today)
                         .plans.size();
         }));
    std::printf("%zu rows in all\n", seen);
}

} // namespace

int main(int count, char **arguments)
{
    int valves = 50'000;
    int each = 20;
    const QTemporaryDir folder;
    QString path = folder.filePath(QStringLiteral("bench.keyround"));
    for (int i = 1; i + 1 < count; i += 2) {
        if (std::strcmp(arguments[i], "--valves") == 0) {
            valves = std::atoi(arguments[i + 1]);
        } else if (std::strcmp(arguments[i], "--each") == 0) {
            each = std::atoi(arguments[i + 1]);
        } else if (std::strcmp(arguments[i], "--keep") == 0) {
            path = QString::fromLocal8Bit(arguments[i + 1]);
        }
    }
    bool good = true;
    if (!QFileInfo::exists(path)) {
        tell("filled", bench::medianTaken(1, [&] { good = fill(path, valves, each); }));
    }
    if (!good) {
        std::fprintf(stderr, "the project could not be made\n");
        return 1;
    }
    std::printf("%.0f MB\n", static_cast<double>(QFileInfo(path).size()) / 1e6);
    std::unique_ptr<Project> project;
    tell("opened", bench::medianTaken(3, [&] {
             project.reset();
             auto opened = Project::open(path);
             good = opened.has_value();
             project = good ? std::move(*opened) : nullptr;
         }));
    if (!good) {
        std::fprintf(stderr, "the project could not be opened\n");
        return 1;
    }
    std::vector<Valve> read;
    std::vector<Visit> visits;
    Histories histories;
    ConditionOverTime first;
    const Span span{QDate(2006, 1, 1), QDate(2025, 12, 31)};
    tell("first figure, with what it needs", bench::medianTaken(1, [&] {
             read = *project->valves().all();
             visits = *project->visits().all();
             histories = readHistories(read, visits, {}, Tolerance{});
             first = conditionOverTime(read, histories, span, PeriodLength::Quarter);
         }));
    tellFigures(read, histories, span);
    std::printf("%zu valves, %zu visits\n", read.size(), visits.size());
    return 0;
}
