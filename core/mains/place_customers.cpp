// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/place_things.h"

#include <QSet>

namespace keyround {

namespace {

using Thing = NetworkNotes::Thing;

QString plural(Thing thing)
{
    return thing == Thing::Service   ? QStringLiteral("service")
           : thing == Thing::Hydrant ? QStringLiteral("hydrant")
                                     : QStringLiteral("source");
}

/// Places things of one kind; keeps watch on their numbers and on the decisions about them.
class Placer
{
public:
    Placer(const PlacingTable &table, Thing thing, const std::vector<NetworkFixes::On> &fixes)
        : m_table(table), m_thing(thing), m_byHand(mainsByHand(fixes))
    {
    }

    void see(const QString &number, const GeoPoint &place)
    {
        if (m_seen.contains(number)) {
            m_table.notes.numberTwice(m_thing, number, place);
        }
        m_seen.insert(number);
    }

    /// The main that a person chose for it, if that can be used.
    [[nodiscard]] NetIndex chosenMain(const QString &number)
    {
        const auto fix = m_byHand.constFind(number);
        return fix == m_byHand.constEnd() ? noIndex : m_table.known.find(m_table.network, *fix);
    }

    /// On a main, or on the part of its row that is nearest.
    [[nodiscard]] NetSpot spotOn(NetIndex main, const QString &number, const GeoPoint &place,
                                 double *offset = nullptr)
    {
        const PipeNetwork &network = m_table.network;
        MainLines::Hit best{main, m_table.lines.length(main) / 2, 0};
        if (!place.isValid()) {
            m_table.notes.withoutPlace(m_thing, number, network.mains[main].number);
        } else {
            best.offset = std::numeric_limits<double>::infinity();
            for (const NetIndex part : m_table.known.partsOf(network, main)) {
                const MainLines::Hit hit = m_table.lines.on(part, place);
                best = hit.offset < best.offset ? hit : best;
            }
        }
        if (offset != nullptr) {
            *offset = best.offset;
        }
        return {noIndex, pipeAt(network, best.main, best.along), best.along};
    }

    /// On the nearest main in reach; not placed, and said, when there is none.
    [[nodiscard]] NetSpot nearestSpot(const QString &number, const GeoPoint &place, double reach,
                                      bool critical = false)
    {
        if (!place.isValid()) {
            m_table.notes.withoutPlace(m_thing, number);
            return {};
        }
        const auto hit = m_table.lines.nearest(place);
        if (!hit || hit->offset > reach) {
            m_table.notes.notPlaced(m_thing, number, place,
                                    hit ? m_table.network.mains[hit->main].number : QString(),
                                    hit ? hit->offset : 0.0, critical);
            return {};
        }
        return {noIndex, pipeAt(m_table.network, hit->main, hit->along), hit->along};
    }

    /// Tells of decisions about things or mains that are not there.
    void tellUnusedFixes()
    {
        for (auto fix = m_byHand.cbegin(); fix != m_byHand.cend(); ++fix) {
            const bool isThere = m_seen.contains(fix.key());
            if (isThere && chosenMain(fix.key()) != noIndex) {
                continue;
            }
            m_table.notes.fixNotUsed(
                QStringLiteral("%1 %2 on main %3").arg(plural(m_thing), fix.key(), fix.value()),
                fix.key(),
                isThere ? QStringLiteral("That main is not in the network any more.")
                        : QStringLiteral("There is no %1 of that number any more.")
                              .arg(plural(m_thing)));
        }
    }

private:
    const PlacingTable &m_table;
    Thing m_thing;
    QHash<QString, QString> m_byHand;
    QSet<QString> m_seen;
};

void placeServices(const PlacingTable &table, NetSpots &spots)
{
    Placer placer(table, Thing::Service, table.fixes.services);
    const double reach = table.options.serviceReach.value;
    for (const Service &service : table.input.services) {
        placer.see(service.number, service.place);
        const NetIndex chosen = placer.chosenMain(service.number);
        const NetIndex named = service.mainNumber.isEmpty()
                                   ? noIndex
                                   : table.known.find(table.network, service.mainNumber);
        NetSpot spot;
        if (chosen != noIndex) {
            spot = placer.spotOn(chosen, service.number, service.place);
        } else if (named != noIndex) {
            double offset = 0;
            spot = placer.spotOn(named, service.number, service.place, &offset);
            if (offset > reach) {
                table.notes.serviceFarFromItsMain(service.number, service.mainNumber, offset,
                                                  service.place);
            }
        } else {
            spot = placer.nearestSpot(service.number, service.place, reach, service.critical);
            if (spot.isPlaced() && !service.mainNumber.isEmpty()) {
                const NetIndex main = table.network.pipes[spot.pipe].main;
                table.notes.serviceMainUnknown(service.number, service.mainNumber,
                                               table.network.mains[main].number, service.place);
            }
        }
        table.network.services.push_back(
            {service.id, service.number, service.place, service.critical, noIndex});
        spots.services.push_back(spot);
    }
    placer.tellUnusedFixes();
}

void placeHydrants(const PlacingTable &table, NetSpots &spots)
{
    Placer placer(table, Thing::Hydrant, table.fixes.hydrants);
    for (const Hydrant &hydrant : table.input.hydrants) {
        placer.see(hydrant.number, hydrant.place);
        const NetIndex chosen = placer.chosenMain(hydrant.number);
        spots.hydrants.push_back(chosen != noIndex
                                     ? placer.spotOn(chosen, hydrant.number, hydrant.place)
                                     : placer.nearestSpot(hydrant.number, hydrant.place,
                                                          table.options.hydrantReach.value));
        table.network.hydrants.push_back({hydrant.id, hydrant.number, hydrant.place, noIndex});
    }
    placer.tellUnusedFixes();
}

/// The nearest dead end in reach: sources are drawn beside the end of their main.
NetIndex nearestEnd(const PlacingTable &table, const GeoPoint &place)
{
    const double reach = table.options.sourceReach.value;
    NetIndex best = noIndex;
    double least = std::numeric_limits<double>::infinity();
    for (const MainLines::Hit &hit : table.lines.within(place, reach)) {
        const NetPipe &pipe = table.network.pipes[pipeAt(table.network, hit.main, hit.along)];
        for (const NetIndex node : {pipe.from, pipe.to}) {
            const double off = distanceBetween(table.network.nodes[node].place, place).value;
            if (off <= reach && off < least && table.network.pipesOfNode.of(node).size() == 1) {
                best = node;
                least = off;
            }
        }
    }
    return best;
}

void placeSources(const PlacingTable &table, NetSpots &spots)
{
    Placer placer(table, Thing::Source, table.fixes.sources);
    for (const Source &source : table.input.sources) {
        placer.see(source.number, source.place);
        const NetIndex chosen = placer.chosenMain(source.number);
        NetSpot spot;
        if (chosen != noIndex) {
            spot = placer.spotOn(chosen, source.number, source.place);
        } else if (source.place.isValid()) {
            spot.node = nearestEnd(table, source.place);
        }
        if (!spot.isPlaced()) {
            spot = placer.nearestSpot(source.number, source.place, table.options.sourceReach.value);
        }
        table.network.sources.push_back(
            {source.id, source.number, source.name, source.kind, source.place, noIndex});
        spots.sources.push_back(spot);
    }
    placer.tellUnusedFixes();
}

} // namespace

QHash<QString, QString> mainsByHand(const std::vector<NetworkFixes::On> &fixes)
{
    QHash<QString, QString> mains;
    for (const NetworkFixes::On &fix : fixes) {
        mains.insert(fix.number, fix.main);
    }
    return mains;
}

void placeCustomers(const PlacingTable &table, NetSpots &spots)
{
    placeServices(table, spots);
    placeHydrants(table, spots);
    placeSources(table, spots);
}

} // namespace keyround
