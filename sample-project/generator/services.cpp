// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/services.h"

#include <algorithm>
#include <cmath>

namespace keyround::sample {

namespace {

constexpr int servicesWanted = 3960;

std::string padded(int number, std::size_t width)
{
    std::string digits = std::to_string(number);
    digits.insert(0, width - std::min(width, digits.size()), '0');
    return digits;
}

std::string phone(Random &random)
{
    return "555-01" + padded(random.whole(0, 99), 2);
}

bool hasCustomers(const Town &town, const MainPiece &main)
{
    const StreetPiece &street = town.streets[static_cast<std::size_t>(main.street)];
    return main.from >= 0 && main.inches <= 12 && !street.bridge && street.rank != Rank::Service &&
           lengthOf(main.line) > 120;
}

/// Fewer and larger customers in the works district.
double density(const Town &town, const MainPiece &main)
{
    const StreetPiece &street = town.streets[static_cast<std::size_t>(main.street)];
    if (street.district == District::Works)
        return 0.25;
    return street.rank == Rank::Arterial ? 0.6 : 1.0;
}

ServicePoint serviceAt(const Town &town, const MainPiece &main, double at, Random &random)
{
    const StreetPiece &street = town.streets[static_cast<std::size_t>(main.street)];
    const bool left = random.chance(0.5);
    const double reach = random.between(32, 52) * (left ? 1.0 : -1.0);
    ServicePoint service;
    service.spot = rounded(alongLine(main.line, at) + leftOfLine(main.line, at) * reach);
    service.address = addressOn(street, service.spot, left);
    service.mainNumber = main.number;
    return service;
}

const std::vector<std::string> &criticalNames()
{
    static const std::vector<std::string> names{"Riverside Clinic",
                                                "West Bank Dialysis Center",
                                                "Copperleaf Hospital",
                                                "Mallow School",
                                                "North Hill School",
                                                "East Bank School",
                                                "Juniper High School",
                                                "Old Grid Care Home",
                                                "Hilltop Care Home",
                                                "Kestrel Care Home",
                                                "Fire Station 1",
                                                "Fire Station 2",
                                                "Fire Station 3",
                                                "Downtown Laundry",
                                                "Works District Bottling Plant",
                                                "Works District Dairy",
                                                "Works District Cold Store",
                                                "Feldspar Paint Works",
                                                "Town Hall",
                                                "Courthouse Annex",
                                                "Police Desk",
                                                "Central Kitchens",
                                                "Quartz Surgery Center",
                                                "East Side Birthing Center",
                                                "Animal Hospital",
                                                "Greenhouse Growers",
                                                "Data Hall",
                                                "Concrete Batch Plant",
                                                "Swimming Hall",
                                                "Bus Depot",
                                                "Senior Apartments East",
                                                "Senior Apartments West"};
    return names;
}

/// The nearest three valves on mains carry the name of the customer whom they hold back.
void nameAtNearestValves(Town &town, Spot spot, const std::string &name)
{
    std::vector<std::pair<double, std::size_t>> around;
    for (std::size_t i = 0; i < town.valves.size(); ++i) {
        const ValvePoint &valve = town.valves[i];
        const double off = distance(valve.spot, spot);
        if (off < 520 && valve.role == Role::MainLine && !valve.retired)
            around.emplace_back(off, i);
    }
    std::sort(around.begin(), around.end());
    for (std::size_t i = 0; i < std::min<std::size_t>(3, around.size()); ++i) {
        std::string &critical = town.valves[around[i].second].critical;
        critical += critical.empty() ? name : "; " + name;
    }
}

} // namespace

void connectServices(Town &town, Random &random)
{
    double weighted = 0;
    for (const MainPiece &main : town.mains) {
        if (hasCustomers(town, main))
            weighted += (lengthOf(main.line) - 80.0) * density(town, main);
    }
    const double spacing = weighted / servicesWanted;
    double owed = 0;
    for (const MainPiece &main : town.mains) {
        if (!hasCustomers(town, main))
            continue;
        const double usable = lengthOf(main.line) - 80.0;
        owed += usable * density(town, main) / spacing;
        const int count = static_cast<int>(owed);
        owed -= count;
        for (int n = 0; n < count; ++n) {
            const double at = 40.0 + usable * (n + random.between(0.2, 0.8)) / count;
            ServicePoint service = serviceAt(town, main, at, random);
            const int serial = static_cast<int>(town.services.size()) + 1;
            service.number = "S" + padded(serial, 5);
            service.customer = "Customer " + padded(serial, 5);
            if (random.chance(0.62))
                service.phone = phone(random);
            town.services.push_back(std::move(service));
        }
    }
}

void placeCriticalCustomers(Town &town, Random &random)
{
    const std::vector<std::string> &names = criticalNames();
    std::vector<std::size_t> hosts;
    for (std::size_t i = 0; i < town.mains.size(); ++i) {
        if (hasCustomers(town, town.mains[i]) && lengthOf(town.mains[i].line) > 250)
            hosts.push_back(i);
    }
    random.shuffle(hosts);
    for (std::size_t n = 0; n < names.size() && n < hosts.size(); ++n) {
        const MainPiece &main = town.mains[hosts[n]];
        ServicePoint service =
            serviceAt(town, main, lengthOf(main.line) * random.between(0.35, 0.65), random);
        const std::string name = names[n] + " (invented)";
        service.number = "S" + padded(static_cast<int>(town.services.size()) + 1, 5);
        service.customer = name;
        service.phone = phone(random);
        service.critical = true;
        nameAtNearestValves(town, service.spot, name);
        town.services.push_back(std::move(service));
    }
}

} // namespace keyround::sample
