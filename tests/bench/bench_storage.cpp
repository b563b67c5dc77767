// SPDX-License-Identifier: GPL-3.0-or-later
// How long a project of the sample's size takes to fill, to open (lock, integrity, hashes) and to
// read whole: 1,200 valves, 6,000 visits, 4,000 services. Goal: open and read well under 1 s.
#include "core/storage/layer_store.h"
#include "core/storage/project.h"
#include "core/storage/valve_store.h"
#include "core/storage/visit_store.h"
#include "tests/bench/timing.h"

#include <QFileInfo>
#include <QTemporaryDir>

#include <cstdio>

using namespace keyround;

namespace {

constexpr std::int64_t someDay = 1750000000000;
constexpr int valveCount = 1200;
constexpr int visitCount = 6000;
constexpr int serviceCount = 4000;

bool fill(Project &project)
{
    std::vector<Valve> valves(valveCount);
    for (int i = 0; i < valveCount; ++i) {
        Valve &valve = valves[static_cast<std::size_t>(i)];
        valve.id = ValveId{newUuid7(someDay)};
        valve.number = QStringLiteral("V-%1").arg(i, 4, 10, QLatin1Char('0'));
        valve.place = GeoPoint{40.0 + i * 1e-5, -88.0 - i * 1e-5};
        valve.address = QStringLiteral("%1 Invented St").arg(i);
    }
    std::vector<Visit> visits(visitCount);
    for (int i = 0; i < visitCount; ++i) {
        Visit &visit = visits[static_cast<std::size_t>(i)];
        visit.id = VisitId{newUuid7(someDay)};
        visit.valve = valves[static_cast<std::size_t>(i % valveCount)].id;
        visit.arrived = Moment{someDay + i * 60000LL, -18000};
        visit.passes = {{PassDirection::Closing, {100}}, {PassDirection::Opening, {100}}};
        visit.problems = {Problem::HardToTurn};
        visit.remarks = QStringLiteral("an invented remark of some length");
        visit.stamp = HybridTime{static_cast<std::uint64_t>(i) + 1};
    }
    std::vector<Service> services(serviceCount);
    for (int i = 0; i < serviceCount; ++i) {
        Service &service = services[static_cast<std::size_t>(i)];
        service.id = FeatureId{newUuid7(someDay)};
        service.number = QString::number(i);
        service.place = GeoPoint{40.0 + i * 1e-5, -88.0};
        service.address = QStringLiteral("%1 Invented St").arg(i);
    }
    const Author author{QStringLiteral("bench"), QStringLiteral("bench")};
    return project
        .transaction([&] {
            return project.valves()
                .addAll(valves, author, Moment{someDay, 0}, QStringLiteral("bench"))
                .and_then([&] { return project.layers().put(services); })
                .and_then([&] { return project.visits().addAll(visits).map([](int) {}); });
        })
        .has_value();
}

} // namespace

int main()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("bench.keyround"));
    bool good = true;
    const double filled = bench::medianMilliseconds(1, [&] {
        const auto project = Project::create(path, UnitSystem::Us);
        good = project && fill(**project);
    });
    const double opened =
        bench::medianMilliseconds(5, [&] { good = Project::open(path).has_value() && good; });
    const auto project = Project::open(path);
    if (!project || !good) {
        std::fprintf(stderr, "the project could not be made\n");
        return 1;
    }
    std::size_t rows = 0;
    const double read = bench::medianMilliseconds(5, [&] {
        rows = (*project)->valves().all()->size() + (*project)->visits().all()->size() +
               (*project)->layers().services()->size();
    });
    std::printf(
        "project of %.1f MB, %zu rows: filled in %.0f ms, opened in %.0f ms, read in %.0f ms\n",
        static_cast<double>(QFileInfo(path).size()) / 1e6, rows, filled, opened, read);
    return 0;
}
