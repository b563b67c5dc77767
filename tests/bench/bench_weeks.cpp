// SPDX-License-Identifier: GPL-3.0-or-later
// The backlog over many crew-days: by default 2,000 valves and 40 crew-days of 8 h, 12 minutes a
// stop, on an invented grid of streets; or, with --points, places of a file and straight lines.
// Prints one line; --growth prints one for each size, with budgets that grow alike.
#include "core/routing/crew_days.h"
#include "tests/bench/timing.h"
#include "tests/support/grid_town.h"

#include "core/streets/drive_graph.h"

#include <QFile>
#include <QStringList>

#include <cmath>
#include <cstdio>
#include <cstring>
#include <optional>

using namespace keyround;

namespace {

constexpr double shiftHours = 8.0;
constexpr double metresPerSecond = 9.0;
constexpr double detour = 1.4;

const char usage[] =
    "usage: bench_weeks [--points FILE] [--valves N] [--crew-days N] [--crews N] [--minutes N]\n"
    "                   [--metres N] [--straight] [--budget-ms N] [--ruins N] [--seed N]\n"
    "                   [--growth]\n"
    "FILE: a place a line, \"x_metres y_metres [priority [minutes]]\"; blank lines and those that\n"
    "begin with # are skipped. The yard is in the middle of all places. Straight lines are driven\n"
    "at 9 m/s, 1.4 times their length.\n"
    "--ruins N counts the search (ruins a valve) instead of timing it: the same plan everywhere.\n";

struct Settings
{
    std::optional<QString> points;
    std::size_t valves = 2000;
    std::size_t crewDays = 40;
    std::size_t crews = 4;
    double minutes = 12;
    double metres = 12000;
    bool straight = false;
    bool growth = false;
    BacklogOptions options;
};

struct Spot
{
    double x = 0;
    double y = 0;
    double priority = 1;
    double minutes = 12;
};

std::optional<Settings> readArguments(int count, char **arguments)
{
    Settings settings;
    settings.options.budgetMilliseconds = 60000.0;
    for (int i = 1; i < count; ++i) {
        const QString name = QString::fromLocal8Bit(arguments[i]);
        if (name == QLatin1String("--straight")) {
            settings.straight = true;
            continue;
        }
        if (name == QLatin1String("--growth")) {
            settings.growth = true;
            continue;
        }
        if (++i >= count) {
            return std::nullopt;
        }
        const QString value = QString::fromLocal8Bit(arguments[i]);
        bool isNumber = false;
        const double number = value.toDouble(&isNumber);
        const auto whole = static_cast<std::size_t>(isNumber && number > 0 ? number : 0);
        if (name == QLatin1String("--points")) {
            settings.points = value;
            continue;
        }
        if (!isNumber || number < 0) {
            return std::nullopt;
        }
        if (name == QLatin1String("--valves")) {
            settings.valves = whole;
        } else if (name == QLatin1String("--crew-days")) {
            settings.crewDays = whole;
        } else if (name == QLatin1String("--crews")) {
            settings.crews = std::max<std::size_t>(1, whole);
        } else if (name == QLatin1String("--minutes")) {
            settings.minutes = number;
        } else if (name == QLatin1String("--metres")) {
            settings.metres = number;
        } else if (name == QLatin1String("--budget-ms")) {
            settings.options.budgetMilliseconds = number;
        } else if (name == QLatin1String("--ruins")) {
            settings.options.budgetMilliseconds.reset();
            settings.options.ruinsPerJob = whole;
        } else if (name == QLatin1String("--seed")) {
            settings.options.seed = whole;
        } else {
            return std::nullopt;
        }
    }
    return settings;
}

/// Invented places: seven of ten have priority 1, two 5, one 20.
std::vector<Spot> inventedSpots(const Settings &settings, std::size_t count)
{
    std::mt19937 random(static_cast<unsigned>(settings.options.seed));
    std::uniform_real_distribution<double> anywhere(0.0, settings.metres);
    std::uniform_int_distribution<int> tenth(0, 9);
    std::vector<Spot> spots;
    for (std::size_t i = 0; i < count; ++i) {
        const double x = anywhere(random);
        const double y = anywhere(random);
        const int dice = tenth(random);
        spots.push_back({x, y, dice < 7 ? 1.0 : dice < 9 ? 5.0 : 20.0, settings.minutes});
    }
    return spots;
}

std::optional<std::vector<Spot>> readSpots(const Settings &settings)
{
    QFile file(*settings.points);
    if (!file.open(QIODevice::ReadOnly | QIODevice::Text)) {
        std::fprintf(stderr, "%s: cannot be read\n", qPrintable(*settings.points));
        return std::nullopt;
    }
    std::vector<Spot> spots;
    for (int line = 1; !file.atEnd(); ++line) {
        const QString text = QString::fromUtf8(file.readLine()).simplified();
        if (text.isEmpty() || text.startsWith(QLatin1Char('#'))) {
            continue;
        }
        const QStringList words = text.split(QLatin1Char(' '));
        Spot spot;
        spot.minutes = settings.minutes;
        double *const fields[] = {&spot.x, &spot.y, &spot.priority, &spot.minutes};
        bool fine = words.size() >= 2 && words.size() <= 4;
        for (qsizetype i = 0; fine && i < words.size(); ++i) {
            *fields[i] = words[i].toDouble(&fine);
            fine = fine && std::isfinite(*fields[i]) && (i < 2 || *fields[i] >= 0);
        }
        if (!fine) {
            std::fprintf(stderr, "%s, line %d: not \"x_metres y_metres [priority [minutes]]\"\n",
                         qPrintable(*settings.points), line);
            return std::nullopt;
        }
        spots.push_back(spot);
    }
    if (spots.empty()) {
        std::fprintf(stderr, "%s: no places in it\n", qPrintable(*settings.points));
        return std::nullopt;
    }
    return spots;
}

SecondsTable straightSeconds(const std::vector<Spot> &places)
{
    SecondsTable seconds(places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t j = 0; j < places.size(); ++j) {
            const double metres = std::hypot(places[i].x - places[j].x, places[i].y - places[j].y);
            seconds.set(i, j, metres * detour / metresPerSecond);
        }
    }
    return seconds;
}

SecondsTable streetSeconds(const std::vector<Spot> &places, double metres)
{
    const auto blocks = static_cast<std::size_t>(metres / 100.0) + 1;
    const auto town = tests::gridTown(blocks, blocks, 0.2, 0.02, JunctionRule::EndPoints, 1);
    const DriveGraph graph = DriveGraph::build(town.streets);
    const LocalPlane plane(GeoPoint{41.0, -90.0});
    std::vector<Snap> snaps;
    for (const Spot &spot : places) {
        // Every place of the invented town lies within 500 m of its streets.
        snaps.push_back(
            graph.snap(plane.toGeo(PlanePoint{spot.x, spot.y}), 5000.0).value_or(Snap()));
    }
    SecondsTable seconds(places.size());
    for (std::size_t i = 0; i < snaps.size(); ++i) {
        const std::vector<Way> ways = graph.waysFrom(snaps[i], snaps);
        for (std::size_t j = 0; j < snaps.size(); ++j) {
            seconds.set(i, j, ways[j].seconds);
        }
    }
    return seconds;
}

BacklogTask taskOf(const Settings &settings, const std::vector<Spot> &spots, std::size_t crewDays,
                   bool straight)
{
    BacklogTask task;
    std::vector<Spot> places(1);
    for (const Spot &spot : spots) {
        places[0].x += spot.x / static_cast<double>(spots.size());
        places[0].y += spot.y / static_cast<double>(spots.size());
    }
    places.insert(places.end(), spots.begin(), spots.end());
    task.seconds = straight ? straightSeconds(places) : streetSeconds(places, settings.metres);
    for (std::size_t d = 0; d < crewDays; ++d) {
        CrewDay crewDay;
        crewDay.shift = {0, 0, 0.0, shiftHours * 3600.0, {}};
        crewDay.day = static_cast<int>(d / settings.crews);
        crewDay.crew = static_cast<int>(d % settings.crews);
        task.crewDays.push_back(crewDay);
    }
    for (std::size_t i = 0; i < spots.size(); ++i) {
        BacklogJob job;
        job.place = i + 1;
        job.service = spots[i].minutes * 60.0;
        job.priority = spots[i].priority;
        task.jobs.push_back(job);
    }
    return task;
}

bool planAndPrint(const Settings &settings, const BacklogTask &task, const BacklogOptions &options)
{
    Result<BacklogPlan> plan = BacklogPlan();
    const bench::Taken taken = bench::medianTaken(1, [&] { plan = planBacklog(task, options); });
    if (!plan) {
        std::fprintf(stderr, "%s\n", qPrintable(plan.error().message));
        return false;
    }
    std::printf("done %zu of %zu priority %.0f drive_hours %.2f seconds %.2f", plan->done,
                task.jobs.size(), plan->priority, plan->driveSeconds / 3600.0, taken.wall / 1000.0);
    if (settings.growth) {
        std::printf(" crew_days %zu processor %.2f ruins %zu", task.crewDays.size(),
                    taken.processor / 1000.0, plan->ruins);
    }
    std::printf("\n");
    return true;
}

} // namespace

int main(int count, char **arguments)
{
    const auto settings = readArguments(count, arguments);
    if (!settings) {
        std::fputs(usage, stderr);
        return 2;
    }
    if (settings->growth) {
        for (const std::size_t scale : {1U, 2U, 4U}) {
            BacklogOptions options = settings->options;
            options.budgetMilliseconds = 5000.0 * static_cast<double>(scale);
            const auto spots = inventedSpots(*settings, 500 * scale);
            if (!planAndPrint(*settings, taskOf(*settings, spots, 10 * scale, settings->straight),
                              options)) {
                return 1;
            }
        }
        return 0;
    }
    const bool straight = settings->straight || settings->points;
    const auto spots = settings->points ? readSpots(*settings)
                                        : std::optional(inventedSpots(*settings, settings->valves));
    if (!spots) {
        return 1;
    }
    const BacklogTask task = taskOf(*settings, *spots, settings->crewDays, straight);
    return planAndPrint(*settings, task, settings->options) ? 0 : 1;
}
