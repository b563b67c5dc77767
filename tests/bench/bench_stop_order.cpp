// SPDX-License-Identifier: GPL-3.0-or-later
// bench_stop_order FILE.tsp|FILE.atsp... [--open] [--budget-ms N] [--seed N] [--kicks N]: for each
// instance of TSPLIB one line "name n length milliseconds". --open begins at the first place and
// ends anywhere; --budget-ms searches by the clock, --kicks (for every stop) and the default by
// counts. The milliseconds are processor time of the search.
#include "core/routing/stop_order.h"
#include "tests/bench/timing.h"
#include "tests/support/tsplib.h"

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
    OrderRequest usual;
};

bool readOptions(int count, char **arguments, Options &options)
{
    for (int i = 1; i < count; ++i) {
        const std::string argument = arguments[i];
        if (argument == "--open") {
            options.open = true;
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

} // namespace

int main(int count, char **arguments)
{
    Options options;
    if (!readOptions(count, arguments, options)) {
        std::fprintf(stderr, "usage: bench_stop_order FILE.tsp|FILE.atsp... [--open] "
                             "[--budget-ms N] [--seed N] [--kicks N]\n");
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
        std::printf("%s %zu %.0f %.0f\n", instance->name.c_str(), instance->lengths.size(),
                    found.seconds, taken.processor);
    }
    return 0;
}
