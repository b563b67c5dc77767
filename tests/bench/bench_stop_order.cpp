// SPDX-License-Identifier: GPL-3.0-or-later
// bench_stop_order [--kicks N] FILE.tsp...: for each instance of TSPLIB its name, its size, the
// length of the tour found, how far that is above the optimum when it is known here, and the
// milliseconds of processor time it took.
#include "core/routing/stop_order.h"
#include "tests/bench/timing.h"
#include "tests/support/tsplib.h"

#include <cstdio>
#include <cstring>
#include <map>

using namespace keyround;

namespace {

/// TSPLIB's list of best known solutions (G. Reinelt, Heidelberg).
const std::map<std::string, double> &optima()
{
    static const std::map<std::string, double> known{
        {"dantzig42", 699}, {"gr120", 6942},  {"ulysses16", 6859}, {"ulysses22", 7013},
        {"d493", 35002},    {"eil51", 426},   {"berlin52", 7542},  {"st70", 675},
        {"eil76", 538},     {"pr76", 108159}, {"kroA100", 21282},  {"lin105", 14379},
        {"ch130", 6110},    {"pr152", 73682}, {"kroA200", 29368},  {"pcb442", 50778},
        {"ftv33", 1286},    {"ftv64", 1839},  {"ftv170", 2755},    {"pr1002", 259045}};
    return known;
}

} // namespace

int main(int count, char **arguments)
{
    OrderRequest usual;
    int first = 1;
    if (count > 2 && std::strcmp(arguments[1], "--kicks") == 0) {
        usual.kicksPerStop = std::strtoul(arguments[2], nullptr, 10);
        first = 3;
    }
    if (first >= count) {
        std::fprintf(stderr, "usage: bench_stop_order [--kicks N] FILE.tsp...\n");
        return 2;
    }
    for (int i = first; i < count; ++i) {
        const auto instance = tests::readTsplib(arguments[i]);
        if (!instance) {
            std::fprintf(stderr, "%s: not a TSPLIB instance of a kind that is read here\n",
                         arguments[i]);
            return 1;
        }
        // Some files carry their name with the extension.
        const std::string name = instance->name.substr(0, instance->name.find(".tsp"));
        OrderRequest request = tests::closedTour(*instance);
        request.kicksPerStop = usual.kicksPerStop;
        StopOrder found;
        const bench::Taken taken =
            bench::medianTaken(1, [&] { found = bestOrder(instance->lengths, request); });
        const auto optimum = optima().find(name);
        const QString gap = optimum == optima().end()
                                ? QStringLiteral("-")
                                : QStringLiteral("%1%").arg(
                                      100.0 * (found.seconds / optimum->second - 1.0), 0, 'f', 2);
        std::printf("%s %zu %.0f %s %.0f\n", name.c_str(), instance->lengths.size(), found.seconds,
                    qPrintable(gap), taken.processor);
    }
    return 0;
}
