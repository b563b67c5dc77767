// SPDX-License-Identifier: GPL-3.0-or-later
// bench_windows [--budget-ms N] [--counted] [--seed N] [--makespan] FILE...: one closed tour over
// all places of each file, in their windows. Prints `name n makespan travel feasible milliseconds`.
// Reads the layout in which the instances of Dumas and others and of Ascheuer, Fischetti and
// Groetschel are passed on by M. Lopez-Ibanez and C. Blum: the number of places, the table of
// seconds (service is part of them), then the window `a b` of each place; place 0 is the depot,
// which is left when its window opens and must be reached again before it closes.
#include "core/routing/day_route.h"
#include "tests/bench/timing.h"

#include <cstdio>
#include <cstring>
#include <fstream>
#include <string>

using namespace keyround;

namespace {

struct WindowsInstance
{
    Matrix seconds;
    DayTask task;
};

std::optional<WindowsInstance> readWindows(const char *path)
{
    std::ifstream in(path);
    std::size_t count = 0;
    constexpr std::size_t most = 5000;
    if (!(in >> count) || count == 0 || count > most) {
        return {};
    }
    WindowsInstance instance;
    instance.seconds = Matrix(count);
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = 0; j < count; ++j) {
            double hop = 0;
            in >> hop;
            instance.seconds.set(i, j, i == j ? 0.0 : hop);
        }
    }
    for (std::size_t i = 0; i < count; ++i) {
        TimeWindow window;
        in >> window.from >> window.to;
        if (i == 0) {
            instance.task.shift.finish = 0;
            instance.task.shift.begin = window.from;
            instance.task.shift.end = window.to;
        } else {
            TimedStop stop;
            stop.place = i;
            stop.mustGo = true;
            stop.windows = {window};
            instance.task.stops.push_back(stop);
        }
    }
    return in ? std::optional<WindowsInstance>(std::move(instance)) : std::nullopt;
}

} // namespace

int main(int count, char **arguments)
{
    DayRouteOptions options;
    options.budgetMilliseconds = 1000;
    int first = 1;
    for (; first < count && std::strncmp(arguments[first], "--", 2) == 0; ++first) {
        const std::string option = arguments[first];
        if (option == "--makespan") {
            options.objective = DayObjective::EarliestFinish;
        } else if (option == "--counted") {
            options.budgetMilliseconds.reset();
        } else if (option == "--budget-ms" && first + 1 < count) {
            options.budgetMilliseconds = std::strtod(arguments[++first], nullptr);
        } else if (option == "--seed" && first + 1 < count) {
            options.seed = std::strtoull(arguments[++first], nullptr, 10);
        } else {
            first = count;
        }
    }
    if (first >= count) {
        std::fprintf(stderr,
                     "usage: bench_windows [--budget-ms N | --counted] [--seed N] [--makespan] "
                     "FILE...\nFILE: the number of places, the table of seconds between them, then "
                     "a line `from to` a place;\nplace 0 is the depot. --counted: the program's "
                     "own effort instead of 1000 ms.\n");
        return 2;
    }
    for (int i = first; i < count; ++i) {
        const auto instance = readWindows(arguments[i]);
        if (!instance) {
            std::fprintf(stderr, "%s: not a file of the layout that is read here\n", arguments[i]);
            return 1;
        }
        DayRoute day;
        const bench::Taken taken = bench::medianTaken(
            1, [&] { day = bestDay(instance->seconds, instance->task, options); });
        const std::string path = arguments[i];
        std::printf("%s %zu %.10g %.10g %s %.0f\n", path.substr(path.rfind('/') + 1).c_str(),
                    instance->seconds.size(), day.times.finish - instance->task.shift.begin,
                    day.times.drive, day.keepsMustGo ? "yes" : "no", taken.processor);
        std::fflush(stdout);
    }
    return 0;
}
