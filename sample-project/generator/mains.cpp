// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/mains.h"

#include "sample-project/generator/joined_sets.h"

#include <algorithm>
#include <cmath>

namespace keyround::sample {

namespace {

constexpr Spot besideStreet{9.0, -7.0};

std::string mainNumber(std::size_t count)
{
    std::string digits = std::to_string(count);
    digits.insert(0, 5 - std::min<std::size_t>(5, digits.size()), '0');
    return "WM-" + digits;
}

Zone zoneAt(Spot spot)
{
    if (spot.y > 3050 && std::abs(spot.x) > 500)
        return Zone::High;
    if (spot.x > -3250 && spot.x < 2050 && spot.y < 1900)
        return Zone::Low;
    return Zone::Middle;
}

Zone &zoneOf(Town &town, int corner)
{
    return town.corners[static_cast<std::size_t>(corner)].zone;
}

/// Which streets carry a main: nearly all; fewer where a zone would be crossed, but every corner
/// stays joined to the rest.
std::vector<std::size_t> streetsWithMains(Town &town, Random &random)
{
    JoinedSets sets(town.corners.size());
    std::vector<std::size_t> chosen;
    std::vector<std::size_t> doubtful;
    for (std::size_t i = 0; i < town.streets.size(); ++i) {
        const StreetPiece &street = town.streets[i];
        if (!street.carriesMain)
            continue;
        const bool crossing = zoneOf(town, street.from) != zoneOf(town, street.to);
        const double dropped = street.rank != Rank::Local ? (crossing ? 0.3 : 0.0)
                               : crossing                 ? 0.7
                                                          : 0.035;
        if (random.chance(dropped) && !street.bridge) {
            doubtful.push_back(i);
        } else {
            chosen.push_back(i);
            sets.join(street.from, street.to);
        }
    }
    for (const std::size_t i : doubtful) {
        if (sets.join(town.streets[i].from, town.streets[i].to))
            chosen.push_back(i);
    }
    std::sort(chosen.begin(), chosen.end());
    return chosen;
}

/// Gives the parts of a zone that no source feeds to the zone beside them, until none is left.
void feedEveryZone(Town &town, const std::vector<std::size_t> &streets)
{
    for (bool changed = true; changed;) {
        changed = false;
        JoinedSets sets(town.corners.size());
        for (const std::size_t i : streets) {
            const StreetPiece &street = town.streets[i];
            if (zoneOf(town, street.from) == zoneOf(town, street.to))
                sets.join(street.from, street.to);
        }
        std::vector<bool> fed(town.corners.size());
        for (std::size_t i = 0; i < town.corners.size(); ++i) {
            if (town.corners[i].isSource)
                fed[static_cast<std::size_t>(sets.root(static_cast<int>(i)))] = true;
        }
        for (const std::size_t i : streets) {
            const StreetPiece &street = town.streets[i];
            const int a = sets.root(street.from);
            const int b = sets.root(street.to);
            const bool fedA = fed[static_cast<std::size_t>(a)];
            const bool fedB = fed[static_cast<std::size_t>(b)];
            if (a == b || fedA == fedB)
                continue;
            const int dry = fedA ? b : a;
            const Zone zone = zoneOf(town, fedA ? street.from : street.to);
            for (std::size_t corner = 0; corner < town.corners.size(); ++corner) {
                if (sets.root(static_cast<int>(corner)) == dry)
                    town.corners[corner].zone = zone;
            }
            changed = true;
            break;
        }
    }
}

int yearFor(const StreetPiece &street, Random &random)
{
    const Spot middle = alongLine(street.line, lengthOf(street.line) / 2);
    const auto near = [&random](double year) {
        return std::clamp(static_cast<int>(std::lround(random.normal(year, 2.5))), 1948, 2022);
    };
    switch (street.district) {
    case District::Downtown:
        return random.chance(0.18) ? random.whole(1992, 2019) : near(1952);
    case District::OldGrid:
        return random.chance(0.10) ? random.whole(1990, 2020)
                                   : near(1957 + std::abs(middle.y) / 260.0);
    case District::WestSide:
        return near(1972 + (std::abs(middle.x) + std::abs(middle.y)) / 420.0);
    case District::EastSide:
        return near(1962 + middle.x / 105.0 + std::max(0.0, middle.y) / 420.0);
    case District::Works:
        return near(1979);
    case District::Outside:
        break;
    }
    return near(1996);
}

int inchesFor(const StreetPiece &street, bool deadEnd, int year, Random &random)
{
    const Spot middle = alongLine(street.line, lengthOf(street.line) / 2);
    if (street.rank == Rank::Service)
        return street.name == "Treatment Plant Road" ? 24 : 16;
    if (street.rank == Rank::Collector && middle.x < -4050 && std::abs(middle.y - 700) < 300)
        return 24;
    if (street.name == "Quartz Boulevard")
        return middle.y > -900 && middle.y < 2760 ? 20 : 12;
    if (street.name == "Juniper Parkway")
        return 16;
    if (street.rank == Rank::Arterial)
        return 12;
    if (street.rank == Rank::Collector)
        return year < 1975 ? 10 : random.chance(0.3) ? 12 : 8;
    if (street.district == District::Works)
        return 12;
    if (deadEnd)
        return year < 1962 || street.cutOff ? 4 : 6;
    if (street.district == District::Downtown)
        return random.chance(0.3) ? 6 : 8;
    if (year < 1956 && random.chance(0.25))
        return 4;
    return year < 1972 && random.chance(0.7) ? 6 : 8;
}

/// The lane beyond the wash has no street to it but a main: one across the open ground.
void bridgeTheWash(Town &town, Random &random)
{
    int lane = -1;
    for (std::size_t i = 0; i < town.streets.size() && lane < 0; ++i) {
        if (town.streets[i].cutOff)
            lane = static_cast<int>(i);
    }
    const int end = town.streets[static_cast<std::size_t>(lane)].from;
    const Spot spot = town.corners[static_cast<std::size_t>(end)].spot;
    int nearest = -1;
    for (const MainPiece &main : town.mains) {
        if (town.streets[static_cast<std::size_t>(main.street)].cutOff)
            continue;
        for (const int corner : {main.from, main.to}) {
            const Spot there = town.corners[static_cast<std::size_t>(corner)].spot;
            if (nearest < 0 ||
                distance(there, spot) <
                    distance(town.corners[static_cast<std::size_t>(nearest)].spot, spot))
                nearest = corner;
        }
    }
    MainPiece main;
    main.number = mainNumber(town.mains.size() + 1);
    main.from = nearest;
    main.to = end;
    main.street = lane;
    main.line = shifted({town.corners[static_cast<std::size_t>(nearest)].spot, spot}, besideStreet);
    main.inches = 6;
    main.year = 1996;
    main.material = materialFor(6, 1996, random);
    main.zone = zoneOf(town, nearest);
    for (const StreetPiece &street : town.streets) {
        if (street.cutOff) {
            zoneOf(town, street.from) = main.zone;
            zoneOf(town, street.to) = main.zone;
        }
    }
    for (MainPiece &other : town.mains) {
        if (town.streets[static_cast<std::size_t>(other.street)].cutOff)
            other.zone = main.zone;
    }
    town.mains.push_back(std::move(main));
}

} // namespace

std::string materialFor(int inches, int year, Random &random)
{
    if (year < 1956)
        return "CI";
    if (year < 1978)
        return inches >= 14 ? "STL" : random.chance(0.55) ? "AC" : "CI";
    if (inches >= 12)
        return "DI";
    return random.chance(0.8) ? "PVC" : "DI";
}

bool crossesZones(const Town &town, const MainPiece &main)
{
    return main.from >= 0 && main.to >= 0 &&
           town.corners[static_cast<std::size_t>(main.from)].zone !=
               town.corners[static_cast<std::size_t>(main.to)].zone;
}

int addBranch(Town &town, int fromMain, Line line, int inches, int year, Random &random)
{
    const MainPiece &host = town.mains[static_cast<std::size_t>(fromMain)];
    MainPiece branch;
    branch.number = mainNumber(town.mains.size() + 1);
    branch.from = -1;
    branch.to = -1;
    branch.street = host.street;
    branch.line = std::move(line);
    branch.inches = inches;
    branch.year = year;
    branch.material = materialFor(inches, year, random);
    branch.zone = host.zone;
    town.mains.push_back(std::move(branch));
    return static_cast<int>(town.mains.size()) - 1;
}

void layMains(Town &town, Random &random)
{
    for (Corner &corner : town.corners) {
        if (!corner.isSource)
            corner.zone = zoneAt(corner.spot);
    }
    const std::vector<std::size_t> chosen = streetsWithMains(town, random);
    feedEveryZone(town, chosen);
    std::vector<int> degree(town.corners.size());
    for (const std::size_t i : chosen) {
        ++degree[static_cast<std::size_t>(town.streets[i].from)];
        ++degree[static_cast<std::size_t>(town.streets[i].to)];
    }
    for (const std::size_t i : chosen) {
        const StreetPiece &street = town.streets[i];
        const bool deadEnd = degree[static_cast<std::size_t>(street.from)] == 1 ||
                             degree[static_cast<std::size_t>(street.to)] == 1;
        MainPiece main;
        main.number = mainNumber(town.mains.size() + 1);
        main.from = street.from;
        main.to = street.to;
        main.street = static_cast<int>(i);
        main.line = shifted(street.line, besideStreet);
        main.year = yearFor(street, random);
        main.inches = inchesFor(street, deadEnd, main.year, random);
        main.material = materialFor(main.inches, main.year, random);
        main.zone = zoneOf(town, street.to);
        town.mains.push_back(std::move(main));
    }
    bridgeTheWash(town, random);
}

void markSources(Town &town)
{
    for (const MainPiece &main : town.mains) {
        for (const bool atStart : {true, false}) {
            const int corner = atStart ? main.from : main.to;
            if (corner < 0 || !town.corners[static_cast<std::size_t>(corner)].isSource)
                continue;
            SourcePoint source;
            source.number = "SRC-" + std::to_string(town.sources.size() + 1);
            source.spot = atStart ? main.line.front() : main.line.back();
            // "North Tank Road" leads to the north tank.
            std::string name = town.streets[static_cast<std::size_t>(main.street)].name;
            name.resize(name.rfind(' '));
            source.kind = name == "Treatment Plant" ? "Treatment plant" : "Tank";
            source.name = name + " (invented)";
            town.sources.push_back(std::move(source));
        }
    }
}

} // namespace keyround::sample
