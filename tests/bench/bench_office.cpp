// SPDX-License-Identifier: GPL-3.0-or-later
// bench_office [--valves N] [--each N] [--keep FILE]: a project of 50,000 valves and 1,000,000
// visits, all invented: how long until the file is open, until the first figure of the Office, and
// for any other figure after it. Goals: 2 s, 3 s, 1 s each. With --keep the file stays and is used
// again the next time.
#include "core/condition/history.h"
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
    tell("valves read", bench::medianTaken(1, [&] { read = *project->valves().all(); }));
    std::vector<Visit> visits;
    tell("visits read", bench::medianTaken(1, [&] { visits = *project->visits().all(); }));
    Histories histories;
    tell("histories read",
         bench::medianTaken(1, [&] { histories = readHistories(read, visits, {}, Tolerance{}); }));
    std::printf("%zu valves, %zu visits\n", read.size(), visits.size());
    return 0;
}
