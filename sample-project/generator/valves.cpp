// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/valves.h"

#include "sample-project/generator/mains.h"

#include <algorithm>
#include <cmath>

namespace keyround::sample {

namespace {

struct Leg
{
    int main = 0;
    bool atStart = false;
};

std::vector<std::vector<Leg>> legsByCorner(const Town &town)
{
    std::vector<std::vector<Leg>> legs(town.corners.size());
    for (std::size_t i = 0; i < town.mains.size(); ++i) {
        const MainPiece &main = town.mains[i];
        if (main.from < 0)
            continue;
        legs[static_cast<std::size_t>(main.from)].push_back({static_cast<int>(i), true});
        legs[static_cast<std::size_t>(main.to)].push_back({static_cast<int>(i), false});
    }
    return legs;
}

Spot onLeg(const Town &town, const Leg &leg, double fromCorner)
{
    const Line &line = town.mains[static_cast<std::size_t>(leg.main)].line;
    return rounded(alongLine(line, leg.atStart ? fromCorner : lengthOf(line) - fromCorner));
}

Kind kindFor(int inches, int year, Random &random)
{
    if (inches >= 16)
        return random.chance(year < 1970 ? 0.25 : 0.6) ? Kind::Butterfly : Kind::GearedGate;
    if (inches == 12 && year > 1980 && random.chance(0.22))
        return Kind::Butterfly;
    return Kind::Gate;
}

/// Turns from open to closed as the valve really has them. A direct gate has 3 turns an inch and
/// 2 to 3 more, a geared one that times its ratio; butterflies lie within what makers print
/// (TRADE.md section 1).
double turnsOf(Kind kind, int inches, Random &random)
{
    const double stem = 3.0 * inches + random.between(2.0, 3.0);
    switch (kind) {
    case Kind::Gate:
        return std::round((stem + random.normal(0, 0.35)) * 2.0) / 2.0;
    case Kind::GearedGate:
        return std::round(stem * random.pick<int>({2, 2, 3, 4}));
    case Kind::Butterfly:
        break;
    }
    return static_cast<double>(random.whole(14 + inches / 2, 28 + inches));
}

double listed(const ValvePoint &valve, Random &random)
{
    // The stem's turns, where somebody forgot the gear.
    if (valve.kind == Kind::GearedGate && random.chance(0.12))
        return 3.0 * valve.inches + 2;
    const double drawn = random.share();
    if (drawn < 0.14)
        return 0;
    if (drawn < 0.155) // taken for the size beside it
        return 3.0 * (valve.inches > 4 ? valve.inches - 2 : 6) + 2;
    if (drawn < 0.165 && std::lround(valve.trueTurns) < 100) { // two digits changed places
        const long turns = std::lround(valve.trueTurns);
        const long tens = turns / 10;
        return static_cast<double>(turns % 10 * 10 + tens);
    }
    if (drawn < 0.175) // counted there and back
        return std::round(valve.trueTurns) * 2;
    return std::round(valve.trueTurns + (random.chance(0.2) ? random.whole(-1, 1) : 0));
}

std::size_t valvesWanted(std::size_t legs, int year, Random &random)
{
    const double newer = year >= 1975 ? 0.2 : 0.0;
    if (legs >= 4)
        return random.weighted({0.03, 0.12, 0.40 - newer, 0.38 + newer / 2, 0.07 + newer / 2});
    if (legs == 3)
        return random.weighted({0.03, 0.32 - newer, 0.52, 0.13 + newer});
    return random.chance(0.10) ? 1 : 0;
}

void setAtCorner(Town &town, const std::vector<Leg> &legs, Random &random)
{
    std::vector<Leg> order = legs;
    random.shuffle(order);
    const int year = town.mains[static_cast<std::size_t>(order.front().main)].year;
    std::size_t wanted = valvesWanted(order.size(), year, random);
    for (const Leg &leg : order) {
        const MainPiece &main = town.mains[static_cast<std::size_t>(leg.main)];
        const double length = lengthOf(main.line);
        if (town.streets[static_cast<std::size_t>(main.street)].bridge) {
            // Both ends of a bridge can be shut, always.
            town.valves.push_back(
                valveOn(town, leg.main, onLeg(town, leg, 45), Role::MainLine, random));
            continue;
        }
        // A main into the next zone has its boundary valve here.
        if (wanted == 0 || length < 90 || (leg.atStart && crossesZones(town, main)))
            continue;
        --wanted;
        town.valves.push_back(valveOn(town, leg.main, onLeg(town, leg, random.between(13, 27)),
                                      Role::MainLine, random));
    }
}

} // namespace

ValvePoint valveOn(const Town &town, int main, Spot spot, Role role, Random &random)
{
    const MainPiece &host = town.mains[static_cast<std::size_t>(main)];
    ValvePoint valve;
    valve.spot = spot;
    valve.main = main;
    valve.inches = role == Role::BlowOff ? 4 : host.inches;
    valve.role = role;
    valve.year = random.chance(0.12) ? std::min(2022, host.year + random.whole(8, 30)) : host.year;
    valve.kind = kindFor(valve.inches, valve.year, random);
    valve.zone = host.zone;
    valve.trueTurns = turnsOf(valve.kind, valve.inches, random);
    valve.listedTurns = listed(valve, random);
    valve.closesLeft = random.chance(valve.year < 1962 ? 0.10 : 0.02);
    valve.turnsOtherWay = random.chance(0.006);
    valve.normallyClosed = role == Role::Boundary || role == Role::Bypass || role == Role::BlowOff;
    return valve;
}

void setValves(Town &town, Random &random)
{
    for (const std::vector<Leg> &legs : legsByCorner(town)) {
        if (legs.size() >= 2) {
            setAtCorner(town, legs, random);
        } else if (legs.size() == 1) {
            const Leg leg = legs.front();
            const MainPiece &main = town.mains[static_cast<std::size_t>(leg.main)];
            const bool source =
                town.corners[static_cast<std::size_t>(leg.atStart ? main.from : main.to)].isSource;
            if (source)
                town.valves.push_back(
                    valveOn(town, leg.main, onLeg(town, leg, 60), Role::MainLine, random));
            else if (main.inches <= 8 && random.chance(0.55))
                town.valves.push_back(
                    valveOn(town, leg.main, onLeg(town, leg, 3), Role::BlowOff, random));
        }
    }
    for (std::size_t i = 0; i < town.mains.size(); ++i) {
        const MainPiece &main = town.mains[i];
        const double length = lengthOf(main.line);
        // Mains between zones: the boundary valve stands at the corner where the other zone starts.
        if (crossesZones(town, main))
            town.valves.push_back(valveOn(town, static_cast<int>(i),
                                          rounded(alongLine(main.line, 34)), Role::Boundary,
                                          random));
        else if (length > 1000 && !town.streets[static_cast<std::size_t>(main.street)].bridge)
            town.valves.push_back(valveOn(town, static_cast<int>(i),
                                          rounded(alongLine(main.line, length * 0.5)),
                                          Role::MainLine, random));
    }
}

} // namespace keyround::sample
