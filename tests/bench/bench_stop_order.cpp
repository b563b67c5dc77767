// SPDX-License-Identifier: GPL-3.0-or-later
// bench_stop_order FILE.tsp|FILE.atsp... [--open] [--budget-ms N] [--seed N] [--kicks N]: for each
// instance of TSPLIB one line "name n length bound milliseconds". --open begins at the first place
// and ends anywhere; --budget-ms searches by the clock, --kicks (for every stop) and the default by
// counts. The bound is a length that no order can beat. The milliseconds are the search's, by the
// clock on the wall; with --bound-ms, the milliseconds of the bound follow.
#include "core/routing/lower_bound.h"
#include "core/routing/stop_order.h"
#include "tests/bench/timing.h"
#include "tests/support/tsplib.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

using namespace keyround;

namespace {

struct Options
{
    std::vector<std::string> files;
    bool open = false;
    bool boundTimes = false;
    OrderRequest usual;
};

bool readOptions(int count, char **arguments, Options &options)
{
    for (int i = 1; i < count; ++i) {
        const std::string argument = arguments[i];
        if (argument == "--open") {
            options.open = true;
        } else if (argument == "--bound-ms") {
            options.boundTimes = true;
        } else if (argument.rfind("--", 0) == 0) {
            char *end = nullptr;
            const double value = ++i < count ? std::strtod(arguments[i], &end) : -1.0;
            if (value < 0 || end == nullptr || *end != '\0') {
                return false;
            }
            if (argument == "--budget-ms") {
                options.usual.budgetMilliseconds = value;
            } else if (argument == "--seed") {
                options.usual.seed = static_cast<std::uint64_t>(value);
            } else if (argument == "--kicks") {
                options.usual.kicksPerStop = static_cast<std::size_t>(value);
            } else {
                return false;
            }
        } else {
            options.files.push_back(argument);
        }
    }
    return !options.files.empty();
}

/// Where all lengths are whole numbers, so is that of every order, and the bound may be rounded up
/// (less than its own rounding error, which is below a ten-thousandth). Otherwise it is rounded
/// down, so that what is printed is a bound still.
double wholeBound(const Matrix &lengths, double bound)
{
    for (std::size_t i = 0; i < lengths.size(); ++i) {
        for (std::size_t j = 0; j < lengths.size(); ++j) {
            if (lengths.at(i, j) != std::floor(lengths.at(i, j))) {
                return std::floor(bound);
            }
        }
    }
    return std::ceil(bound - 1e-4);
}

} // namespace

int main(int count, char **arguments)
{
    Options options;
    if (!readOptions(count, arguments, options)) {
        std::fprintf(stderr, "usage: bench_stop_order FILE.tsp|FILE.atsp... [--open] "
                             "[--budget-ms N] [--seed N] [--kicks N] [--bound-ms]\n");
        return 2;
    }
    for (const std::string &file : options.files) {
        const auto instance = tests::readTsplib(file);
        if (!instance) {
            std::fprintf(stderr, "%s: not a TSPLIB instance of a kind that is read here\n",
                         file.c_str());
            return 1;
        }
        OrderRequest request =
            options.open ? tests::openTour(*instance) : tests::closedTour(*instance);
        request.kicksPerStop = options.usual.kicksPerStop;
        request.budgetMilliseconds = options.usual.budgetMilliseconds;
        request.seed = options.usual.seed;
        StopOrder found;
        const bench::Taken taken =
            bench::medianTaken(1, [&] { found = bestOrder(instance->lengths, request); });
        double bound = 0;
        const bench::Taken boundTaken =
            bench::medianTaken(1, [&] { bound = lowerBound(instance->lengths, request); });
        std::printf("%s %zu %.0f %.0f %.0f", instance->name.c_str(), instance->lengths.size(),
                    found.seconds, wholeBound(instance->lengths, bound), taken.wall);
        if (options.boundTimes) {
            std::printf(" %.1f", boundTaken.processor);
        }
        std::printf("\n");
        std::fflush(stdout);
    }
    return 0;
}
