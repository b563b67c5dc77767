// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/place_things.h"

#include <QSet>

#include <algorithm>
#include <cmath>
#include <tuple>

namespace keyround {

namespace {

/// Mains no farther than this beyond the nearest one are as near: lines drawn over each other.
constexpr double asNear = 0.15;

/// Where a valve may sit.
struct Seat
{
    NetIndex pipe = noIndex;
    ValveSpot spot = ValveSpot::Inside;
    double along = 0;

    friend bool operator==(const Seat &, const Seat &) = default;
};

class ValvePlacer
{
public:
    ValvePlacer(const PlacingTable &table, NetSpots &spots);
    void place(const Valve &valve);
    void tellUnusedFixes() const;

private:
    [[nodiscard]] std::optional<Seat> seatByHand(const Valve &valve) const;
    [[nodiscard]] std::vector<Seat> seatsAt(NetIndex main, double along) const;
    [[nodiscard]] std::vector<Seat> seatsNear(const Valve &valve);
    [[nodiscard]] std::vector<Seat> seatsAtNode(NetIndex node) const;
    [[nodiscard]] Seat chosenFrom(const Valve &valve, std::vector<Seat> seats);
    [[nodiscard]] bool isDeadEnd(const Seat &seat) const;
    [[nodiscard]] bool partNothing(const std::vector<Seat> &seats) const;
    [[nodiscard]] BranchChoice choiceOf(const Valve &valve, const Seat &seat) const;
    [[nodiscard]] const NetMain &mainOf(const Seat &seat) const
    {
        return m_network.mains[m_network.pipes[seat.pipe].main];
    }
    void sit(const Valve &valve, const Seat &seat);

    const PlacingTable &m_table;
    PipeNetwork &m_network;
    NetSpots &m_spots;
    QHash<QString, NetworkFixes::ValveOn> m_byHand;
    QSet<QString> m_seen;
    QSet<NetIndex> m_hydrantPipes;
    QSet<NetIndex> m_sourceNodes;
};

ValvePlacer::ValvePlacer(const PlacingTable &table, NetSpots &spots)
    : m_table(table), m_network(table.network), m_spots(spots)
{
    for (const NetworkFixes::ValveOn &fix : table.fixes.valves) {
        m_byHand.insert(fix.valve, fix);
    }
    for (const NetSpot &spot : spots.hydrants) {
        if (spot.pipe != noIndex) {
            m_hydrantPipes.insert(spot.pipe);
        }
    }
    for (const NetSpot &spot : spots.sources) {
        if (spot.node != noIndex) {
            m_sourceNodes.insert(spot.node);
        }
    }
}

/// The ends of all pipes that meet at a node.
std::vector<Seat> ValvePlacer::seatsAtNode(NetIndex node) const
{
    std::vector<Seat> seats;
    for (const NetIndex index : m_network.pipesOfNode.of(node)) {
        const NetPipe &pipe = m_network.pipes[index];
        if (pipe.from == node) {
            seats.push_back({index, ValveSpot::AtFrom, pipe.fromAlong});
        }
        if (pipe.to == node) {
            seats.push_back({index, ValveSpot::AtTo, pipe.toAlong});
        }
    }
    std::sort(seats.begin(), seats.end(), [](const Seat &a, const Seat &b) {
        return std::tie(a.pipe, a.spot) < std::tie(b.pipe, b.spot);
    });
    seats.erase(std::unique(seats.begin(), seats.end()), seats.end());
    return seats;
}

/// Inside the pipe there, or at every pipe that meets at the junction there. A dead end is no
/// junction: whether the hydrant at it lies before or behind the valve is told by their places.
std::vector<Seat> ValvePlacer::seatsAt(NetIndex main, double along) const
{
    const NetIndex index = pipeAt(m_network, main, along);
    const NetPipe &pipe = m_network.pipes[index];
    const double reach = m_table.options.atJunction.value;
    const double toFrom = along - pipe.fromAlong;
    const double toTo = pipe.toAlong - along;
    const NetIndex node = toFrom <= toTo ? pipe.from : pipe.to;
    if (std::min(toFrom, toTo) > reach || m_network.pipesOfNode.of(node).size() == 1) {
        return {{index, ValveSpot::Inside, along}};
    }
    return seatsAtNode(node);
}

std::vector<Seat> ValvePlacer::seatsNear(const Valve &valve)
{
    std::vector<MainLines::Hit> hits =
        m_table.lines.within(valve.place, m_table.options.valveReach.value);
    if (hits.empty()) {
        const auto nearest = m_table.lines.nearest(valve.place);
        m_table.notes.notPlaced(NetworkNotes::Thing::Valve, valve.number, valve.place,
                                nearest ? m_network.mains[nearest->main].number : QString(),
                                nearest ? nearest->offset : 0.0);
        return {};
    }
    std::vector<Seat> seats;
    for (const MainLines::Hit &hit : hits) {
        if (hit.offset > hits.front().offset + asNear) {
            break;
        }
        for (const Seat &seat : seatsAt(hit.main, hit.along)) {
            if (std::find(seats.begin(), seats.end(), seat) == seats.end()) {
                seats.push_back(seat);
            }
        }
    }
    return seats;
}

/// True when the pipe leads from the seat to an end where nothing else is joined.
bool ValvePlacer::isDeadEnd(const Seat &seat) const
{
    const NetPipe &pipe = m_network.pipes[seat.pipe];
    const NetIndex far = seat.spot == ValveSpot::AtTo ? pipe.from : pipe.to;
    return m_network.pipesOfNode.of(far).size() == 1;
}

/// True when it is all the same where the valve sits: at a joint of two pipes with nothing on it.
bool ValvePlacer::partNothing(const std::vector<Seat> &seats) const
{
    if (seats.size() != 2) {
        return false;
    }
    const auto nodeOf = [this](const Seat &seat) {
        const NetPipe &pipe = m_network.pipes[seat.pipe];
        return seat.spot == ValveSpot::AtFrom ? pipe.from
               : seat.spot == ValveSpot::AtTo ? pipe.to
                                              : noIndex;
    };
    const NetIndex node = nodeOf(seats[0]);
    return node != noIndex && node == nodeOf(seats[1]) && !m_sourceNodes.contains(node);
}

BranchChoice ValvePlacer::choiceOf(const Valve &valve, const Seat &seat) const
{
    const NetMain &main = mainOf(seat);
    BranchChoice choice;
    choice.fix.valve = valve.number;
    choice.fix.main = main.number;
    choice.words = main.number;
    if (main.size.isKnown()) {
        choice.words += QStringLiteral(" (%1)").arg(sizeText(main.size, m_table.options.units));
    }
    if (seat.spot != ValveSpot::Inside) {
        // The branch at its pipe's end runs back towards the main's first point.
        const bool toFirst = seat.spot == ValveSpot::AtTo;
        choice.fix.branch = toFirst ? Branch::TowardsFirst : Branch::TowardsLast;
        choice.words += toFirst ? QStringLiteral(", towards its first point")
                                : QStringLiteral(", towards its last point");
    }
    return choice;
}

Seat ValvePlacer::chosenFrom(const Valve &valve, std::vector<Seat> seats)
{
    const auto only = [&seats](auto wanted) {
        return std::count_if(seats.begin(), seats.end(), wanted) == 1
                   ? std::find_if(seats.begin(), seats.end(), wanted)
                   : seats.end();
    };
    auto found = seats.size() == 1 ? seats.begin() : seats.end();
    if (found == seats.end() && valve.role == ValveRole::HydrantLead) {
        found = only([this](const Seat &seat) {
            return m_hydrantPipes.contains(seat.pipe) && isDeadEnd(seat);
        });
    }
    const bool onBranch = valve.role == ValveRole::HydrantLead ||
                          valve.role == ValveRole::BlowOff || valve.role == ValveRole::FireLine;
    if (found == seats.end() && onBranch) {
        found = only([this](const Seat &seat) { return isDeadEnd(seat); });
    }
    if (found == seats.end() && valve.size.isKnown()) {
        found = only([&](const Seat &seat) { return mainOf(seat).size == valve.size; });
    }
    if (found != seats.end()) {
        return *found;
    }
    // For the time being: the smallest pipe, as a branch mostly is; then the first of the layer.
    std::stable_sort(seats.begin(), seats.end(), [this](const Seat &a, const Seat &b) {
        return std::make_tuple(mainOf(a).size, m_network.pipes[a.pipe].main, a.pipe, a.spot) <
               std::make_tuple(mainOf(b).size, m_network.pipes[b.pipe].main, b.pipe, b.spot);
    });
    if (!partNothing(seats)) {
        std::vector<BranchChoice> choices;
        for (const Seat &seat : seats) {
            choices.push_back(choiceOf(valve, seat));
            choices.back().taken = choices.size() == 1;
        }
        m_table.notes.valveAmbiguous(valve.number, valve.place, std::move(choices));
    }
    return seats.front();
}

std::optional<Seat> ValvePlacer::seatByHand(const Valve &valve) const
{
    const auto fix = m_byHand.constFind(valve.number);
    const NetIndex main =
        fix == m_byHand.constEnd() ? noIndex : m_table.known.find(m_network, fix->main);
    if (main == noIndex) {
        return std::nullopt;
    }
    const double along = valve.place.isValid() ? m_table.lines.on(main, valve.place).along
                                               : m_table.lines.length(main) / 2;
    const std::vector<Seat> seats = seatsAt(main, along);
    for (const Seat &seat : seats) {
        const bool isOnMain = m_network.pipes[seat.pipe].main == main;
        const bool fits = fix->branch == Branch::Nearest || seat.spot == ValveSpot::Inside ||
                          (fix->branch == Branch::TowardsFirst) == (seat.spot == ValveSpot::AtTo);
        if (isOnMain && fits) {
            return seat;
        }
    }
    return Seat{pipeAt(m_network, main, along), ValveSpot::Inside, along};
}

void ValvePlacer::place(const Valve &valve)
{
    if (m_seen.contains(valve.number)) {
        m_table.notes.numberTwice(NetworkNotes::Thing::Valve, valve.number, valve.place);
    }
    m_seen.insert(valve.number);
    if (valve.retired) {
        m_table.notes.valveRetired(valve.number, valve.place);
    } else if (const auto byHand = seatByHand(valve)) {
        sit(valve, *byHand);
    } else if (!valve.place.isValid()) {
        m_table.notes.withoutPlace(NetworkNotes::Thing::Valve, valve.number);
    } else if (std::vector<Seat> seats = seatsNear(valve); !seats.empty()) {
        sit(valve, chosenFrom(valve, std::move(seats)));
    }
}

void ValvePlacer::sit(const Valve &valve, const Seat &seat)
{
    NetValve placed;
    placed.id = valve.id;
    placed.number = valve.number;
    placed.place = valve.place;
    placed.size = valve.size;
    placed.normallyClosed = valve.normally == NormalPosition::Closed;
    placed.blowOff = valve.role == ValveRole::BlowOff;
    placed.pipe = seat.pipe;
    placed.along = seat.along;
    m_network.valves.push_back(std::move(placed));
    m_spots.valves.push_back(seat.spot);
}

void ValvePlacer::tellUnusedFixes() const
{
    for (const NetworkFixes::ValveOn &fix : m_byHand) {
        const bool isThere = m_seen.contains(fix.valve);
        if (!isThere || m_table.known.find(m_network, fix.main) == noIndex) {
            m_table.notes.fixNotUsed(
                QStringLiteral("valve %1 on main %2").arg(fix.valve, fix.main), fix.valve,
                isThere ? QStringLiteral("That main is not in the network any more.")
                        : QStringLiteral("There is no valve of that number any more."));
        }
    }
}

} // namespace

void placeValves(const PlacingTable &table, NetSpots &spots)
{
    ValvePlacer placer(table, spots);
    table.network.valves.reserve(table.input.valves.size());
    for (const Valve &valve : table.input.valves) {
        placer.place(valve);
    }
    placer.tellUnusedFixes();
}

} // namespace keyround
