// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/mains.h"
#include "sample-project/generator/valves.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace keyround::sample {

namespace {

std::string padded(int number, std::size_t width)
{
    std::string digits = std::to_string(number);
    digits.insert(0, width - std::min(width, digits.size()), '0');
    return digits;
}

/// A branch square off a main at a length along it; its valve stands 4 ft down the branch.
int branchOff(Town &town, int main, double at, double reach, int inches, int year, Role role,
              Random &random)
{
    Line &host = town.mains[static_cast<std::size_t>(main)].line;
    const double side = random.chance(0.5) ? 1.0 : -1.0;
    const Spot out = leftOfLine(host, at) * side;
    const Spot tee = insertVertex(host, at);
    // Where the branch runs under its street it ends behind the far curb.
    const Line &street =
        town.streets[static_cast<std::size_t>(town.mains[static_cast<std::size_t>(main)].street)]
            .line;
    while (distanceToLine(tee + out * reach, street) < 21.0)
        reach += 3.0;
    const int branch =
        addBranch(town, main, {tee, rounded(tee + out * reach)}, inches, year, random);
    const Spot spot = rounded(alongLine(town.mains[static_cast<std::size_t>(branch)].line, 4));
    town.valves.push_back(valveOn(town, branch, spot, role, random));
    return branch;
}

bool isPlainMain(const Town &town, const MainPiece &main)
{
    const StreetPiece &street = town.streets[static_cast<std::size_t>(main.street)];
    return main.from >= 0 && !street.bridge && street.rank != Rank::Service;
}

void setHydrants(Town &town, Random &random)
{
    const int mains = static_cast<int>(town.mains.size());
    for (int i = 0; i < mains; ++i) {
        const MainPiece main = town.mains[static_cast<std::size_t>(i)];
        const double length = lengthOf(main.line);
        if (!isPlainMain(town, main) || main.inches < 6 || length < 170)
            continue;
        const int count = static_cast<int>(std::floor(length / 900.0 + random.share()));
        for (int n = 0; n < count; ++n) {
            const double at = length * (n + random.between(0.25, 0.75)) / count;
            const int year =
                random.chance(0.2) ? std::min(2022, main.year + random.whole(10, 30)) : main.year;
            const int lead =
                branchOff(town, i, at, random.between(13, 21), 6, year, Role::HydrantLead, random);
            HydrantPoint hydrant;
            hydrant.number = "H" + padded(static_cast<int>(town.hydrants.size()) + 1, 4);
            hydrant.spot = town.mains[static_cast<std::size_t>(lead)].line.back();
            hydrant.address = addressOn(town.streets[static_cast<std::size_t>(main.street)],
                                        hydrant.spot, random.chance(0.5));
            hydrant.mainNumber = town.mains[static_cast<std::size_t>(lead)].number;
            hydrant.year = year;
            town.hydrants.push_back(std::move(hydrant));
        }
    }
}

void setFireLines(Town &town, Random &random)
{
    const int mains = static_cast<int>(town.mains.size());
    for (int i = 0; i < mains; ++i) {
        const MainPiece main = town.mains[static_cast<std::size_t>(i)];
        const StreetPiece &street = town.streets[static_cast<std::size_t>(main.street)];
        const double share = street.district == District::Works      ? 0.45
                             : street.district == District::Downtown ? 0.13
                                                                     : 0.0;
        const double length = lengthOf(main.line);
        if (!isPlainMain(town, main) || main.inches < 8 || length < 250 || !random.chance(share))
            continue;
        // One draw a statement: the order of a call's arguments is each compiler's own.
        const double at = length * random.between(0.3, 0.7);
        const double reach = random.between(45, 70);
        const int inches = random.chance(0.5) ? 6 : 8;
        const int year = std::min(2022, main.year + random.whole(0, 25));
        branchOff(town, i, at, reach, inches, year, Role::FireLine, random);
    }
}

/// A small valve round a large one, to fill and to even the pressure before the large is opened.
void setBypasses(Town &town, Random &random)
{
    const std::size_t valves = town.valves.size();
    for (std::size_t i = 0; i < valves; ++i) {
        const ValvePoint large = town.valves[i];
        if (large.inches < 16 || large.role != Role::MainLine || !random.chance(0.4))
            continue;
        Line &host = town.mains[static_cast<std::size_t>(large.main)].line;
        double at = 0;
        double least = 1e9;
        for (double length = 0; length < lengthOf(host); length += 1.0) {
            const double off = distance(alongLine(host, length), large.spot);
            if (off < least) {
                least = off;
                at = length;
            }
        }
        if (at < 8 || at > lengthOf(host) - 8)
            continue;
        const Spot out = leftOfLine(host, at) * 5.0;
        const Spot before = insertVertex(host, at - 6);
        const Spot after = insertVertex(host, at + 6);
        const Line way{before, rounded(before + out), rounded(after + out), after};
        const int branch = addBranch(town, large.main, way, 4, large.year, random);
        const Spot spot = rounded((way[1] + way[2]) * 0.5);
        town.valves.push_back(valveOn(town, branch, spot, Role::Bypass, random));
    }
}

std::string surfaceFor(const Town &town, const ValvePoint &valve, Random &random)
{
    const MainPiece &main = town.mains[static_cast<std::size_t>(valve.main)];
    const StreetPiece &street = town.streets[static_cast<std::size_t>(main.street)];
    if (street.rank == Rank::Service || street.cutOff)
        return "Gravel";
    if (valve.role == Role::HydrantLead)
        return random.chance(0.6) ? "Grass" : random.chance(0.5) ? "Sidewalk" : "Asphalt";
    if (street.district == District::Downtown)
        return random.chance(0.3) ? "Concrete" : random.chance(0.1) ? "Brick" : "Asphalt";
    return random.chance(0.12) ? "Grass" : random.chance(0.08) ? "Concrete" : "Asphalt";
}

std::string tiesFor(Random &random)
{
    static const std::vector<std::string> marks{
        "hydrant",      "power pole",       "back of curb", "catch basin", "corner of building",
        "property pin", "edge of driveway", "street light"};
    static const std::vector<std::string> ways{"N", "S", "E", "W", "NE", "SW"};
    const auto one = [&random] {
        std::string tie = std::to_string(random.whole(3, 38));
        tie += random.chance(0.5) ? ".5 ft " : " ft ";
        tie += random.pick(ways);
        tie += " of ";
        tie += random.pick(marks);
        return tie;
    };
    const std::string first = one();
    return random.chance(0.7) ? first + "; " + one() : first;
}

} // namespace

void setBranches(Town &town, Random &random)
{
    setHydrants(town, random);
    setFireLines(town, random);
    setBypasses(town, random);
}

void numberValves(Town &town, Random &random)
{
    for (ValvePoint &valve : town.valves) {
        valve.page = static_cast<int>((valve.spot.y + 6000.0) / 1400.0) * 100 +
                     static_cast<int>((valve.spot.x + 8000.0) / 1600.0);
        const MainPiece &main = town.mains[static_cast<std::size_t>(valve.main)];
        const StreetPiece &street = town.streets[static_cast<std::size_t>(main.street)];
        if (random.chance(0.93))
            valve.address = addressOn(street, valve.spot, random.chance(0.5));
        if (random.chance(0.3))
            valve.ties = tiesFor(random);
        if (random.chance(0.66))
            valve.depthFeet = std::round(random.between(2.4, 6.4) * 10.0) / 10.0;
        valve.surface = surfaceFor(town, valve, random);
    }
    std::stable_sort(town.valves.begin(), town.valves.end(),
                     [](const ValvePoint &a, const ValvePoint &b) { return a.page < b.page; });
    int number = 0;
    for (ValvePoint &valve : town.valves) {
        number += random.chance(0.03) ? 2 : 1; // some numbers were never given out
        valve.number = padded(number, 5);
        valve.retired = random.chance(0.005) && valve.role == Role::MainLine;
        if (valve.retired)
            valve.remarks = "Cut and capped, left in ground";
        else if (random.chance(0.02))
            valve.remarks = random.pick<std::string>(
                {"Offset box, look to the north", "Key needs extension",
                 "Call school before closing", "Box raised after overlay"});
    }
    // Two are known from an old field book only.
    for (int n = 0; n < 2; ++n) {
        ValvePoint &valve = town.valves[static_cast<std::size_t>(
            random.whole(0, static_cast<int>(town.valves.size()) - 1))];
        valve.hasPlace = false;
        if (valve.ties.empty())
            valve.ties = tiesFor(random);
    }
}

} // namespace keyround::sample
