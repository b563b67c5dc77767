// SPDX-License-Identifier: GPL-3.0-or-later
// bench_shift_fit [--budget-ms N] [--counted] [--seed N] FILE.oplib...: a closed tour from the
// depot, of at most COST_LIMIT, that earns the highest score. Prints
// `name n score cost milliseconds`. The files are TSPLIB's with COST_LIMIT, NODE_SCORE_SECTION and
// DEPOT_SECTION (the first place where that is missing).
#include "core/routing/day_route.h"
#include "tests/bench/timing.h"
#include "tests/support/tsplib.h"

#include <cstdio>
#include <cstring>

using namespace keyround;

namespace {

struct FitInstance
{
    std::string name;
    Matrix lengths;
    DayTask task;
};

std::optional<FitInstance> readFit(const char *path)
{
    auto tsp = tests::readTsplib(path);
    if (!tsp) {
        return {};
    }
    FitInstance instance;
    instance.lengths = std::move(tsp->lengths);
    instance.name = tsp->name;
    std::vector<double> scores(instance.lengths.size(), 0.0);
    double limit = -1;
    std::size_t depot = 1;
    std::ifstream in(path);
    for (std::string line; std::getline(in, line);) {
        const auto colon = line.find(':');
        const std::string key = tests::tsplib::keyword(line.substr(0, colon));
        if (key == "COST_LIMIT" && colon != std::string::npos) {
            limit = std::strtod(line.c_str() + colon + 1, nullptr);
        } else if (key == "NODE_SCORE_SECTION") {
            for (std::size_t i = 0; i < scores.size(); ++i) {
                std::size_t number = 0;
                double score = 0;
                if (!(in >> number >> score) || number == 0 || number > scores.size()) {
                    return {};
                }
                scores[number - 1] = score;
            }
        } else if (key == "DEPOT_SECTION") {
            in >> depot;
        }
    }
    if (limit < 0 || depot == 0 || depot > scores.size()) {
        return {};
    }
    instance.task.shift.start = depot - 1;
    instance.task.shift.finish = depot - 1;
    instance.task.shift.end = limit;
    for (std::size_t i = 0; i < scores.size(); ++i) {
        if (i != depot - 1 && scores[i] > 0) {
            TimedStop stop;
            stop.place = i;
            stop.priority = scores[i];
            instance.task.stops.push_back(stop);
        }
    }
    return instance;
}

} // namespace

int main(int count, char **arguments)
{
    DayRouteOptions options;
    options.budgetMilliseconds = 1000;
    int first = 1;
    for (; first < count && std::strncmp(arguments[first], "--", 2) == 0; ++first) {
        const std::string option = arguments[first];
        if (option == "--counted") {
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
        std::fprintf(stderr, "usage: bench_shift_fit [--budget-ms N | --counted] [--seed N] "
                             "FILE.oplib...\n--counted: the program's own effort instead of "
                             "1000 ms.\n");
        return 2;
    }
    for (int i = first; i < count; ++i) {
        const auto instance = readFit(arguments[i]);
        if (!instance) {
            std::fprintf(stderr, "%s: not an orienteering instance of a kind that is read here\n",
                         arguments[i]);
            return 1;
        }
        DayRoute day;
        const bench::Taken taken = bench::medianTaken(
            1, [&] { day = bestDay(instance->lengths, instance->task, options); });
        std::printf("%s %zu %.10g %.10g %.0f\n", instance->name.c_str(), instance->lengths.size(),
                    day.priority, day.times.drive, taken.processor);
        std::fflush(stdout);
    }
    return 0;
}
