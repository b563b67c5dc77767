// SPDX-License-Identifier: GPL-3.0-or-later
// make-sample-town OUT_DIR: builds the invented town and writes its files.
#include "sample-project/generator/mains.h"
#include "sample-project/generator/services.h"
#include "sample-project/generator/streets.h"
#include "sample-project/generator/valves.h"
#include "sample-project/generator/visits.h"
#include "sample-project/generator/writers.h"

#include <cstdio>
#include <filesystem>
#include <string>
#include <system_error>

namespace {

keyround::sample::Town buildTown()
{
    using namespace keyround::sample;
    // Each part has dice of its own, so that a change in one leaves the others as they are.
    Town town;
    Random streets(townSeed + 10);
    layOutStreets(town, streets);
    Random mains(townSeed + 20);
    layMains(town, mains);
    markSources(town);
    Random valves(townSeed + 30);
    setValves(town, valves);
    setBranches(town, valves);
    numberValves(town, valves);
    Random services(townSeed + 40);
    connectServices(town, services);
    placeCriticalCustomers(town, services);
    Random visits(townSeed + 50);
    simulateVisits(town, visits);
    return town;
}

} // namespace

int main(int argc, char **argv)
{
    if (argc != 2 || std::string(argv[1]).starts_with("-")) {
        std::fputs("Usage: make-sample-town OUT_DIR\n"
                   "Writes the invented town's files into the folder, which is made if need be.\n",
                   stderr);
        return 2;
    }
    const std::string folder = argv[1];
    std::error_code problem;
    std::filesystem::create_directories(folder, problem);
    if (!std::filesystem::is_directory(folder)) {
        std::fprintf(stderr, "%s: the folder cannot be made: %s\n", folder.c_str(),
                     problem.message().c_str());
        return 1;
    }
    const keyround::sample::Town town = buildTown();
    const std::string error = keyround::sample::writeTown(town, folder);
    if (!error.empty()) {
        std::fprintf(stderr, "%s\n", error.c_str());
        return 1;
    }
    std::printf(
        "%zu valves, %zu street pieces, %zu mains, %zu sources, %zu hydrants, %zu services, "
        "%zu visits\n",
        town.valves.size(), town.streets.size(), town.mains.size(), town.sources.size(),
        town.hydrants.size(), town.services.size(), town.visits.size());
    return 0;
}
