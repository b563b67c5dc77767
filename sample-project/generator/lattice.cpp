// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/lattice.h"

#include "sample-project/generator/joined_sets.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyround::sample {

namespace {

constexpr double pi = std::numbers::pi;

double eased(double value, double from, double to)
{
    const double part = std::clamp((value - from) / (to - from), 0.0, 1.0);
    return part * part * (3.0 - 2.0 * part);
}

int nodeOf(int column, int row)
{
    return row * static_cast<int>(netColumns().size()) + column;
}

/// The corners of the net stay desert.
bool isBuilt(int column, int row)
{
    const Spot flat = flatOf(column, row);
    const double east = (flat.x + 200.0) / 6300.0;
    const double north = (flat.y - 150.0) / 5300.0;
    return east * east + north * north < 1.0;
}

std::vector<NetEdge> allEdges()
{
    const int columns = static_cast<int>(netColumns().size());
    const int rows = static_cast<int>(netRows().size());
    std::vector<NetEdge> edges;
    for (int row = 0; row < rows; ++row) {
        for (int column = 0; column < columns; ++column) {
            for (const bool north : {false, true}) {
                const int toColumn = column + (north ? 0 : 1);
                const int toRow = row + (north ? 1 : 0);
                if (toColumn >= columns || toRow >= rows || !isBuilt(column, row) ||
                    !isBuilt(toColumn, toRow))
                    continue;
                const bool crossing = !north && column == lastWesternColumn;
                if (crossing && row != firstBridgeRow && row != secondBridgeRow)
                    continue;
                const Spot middle = (flatOf(column, row) + flatOf(toColumn, toRow)) * 0.5;
                const Rank rank = north ? netColumns()[static_cast<std::size_t>(column)].rank
                                        : netRows()[static_cast<std::size_t>(row)].rank;
                edges.push_back({column, row, north, rank, districtAt(middle), crossing});
            }
        }
    }
    return edges;
}

double shareKept(const NetEdge &edge)
{
    switch (edge.district) {
    case District::Downtown:
        return 1.0;
    case District::OldGrid:
        return 0.86;
    case District::Works:
        return 0.25;
    default:
        return 0.42;
    }
}

} // namespace

double riverAt(double y)
{
    return 330.0 * std::sin(2.0 * pi * y / 6400.0 + 0.5) + 90.0 * std::sin(2.0 * pi * y / 2300.0);
}

const std::vector<NetLine> &netColumns()
{
    static const std::vector<NetLine> columns{
        {-5700, Rank::Local},     {-5150, Rank::Local},    {-4600, Rank::Local},
        {-4100, Rank::Arterial},  {-3720, Rank::Local},    {-3360, Rank::Local},
        {-3000, Rank::Collector}, {-2650, Rank::Local},    {-2300, Rank::Local},
        {-1950, Rank::Local},     {-1600, Rank::Local},    {-1250, Rank::Local},
        {-800, Rank::Collector},  {800, Rank::Collector},  {1300, Rank::Local},
        {1800, Rank::Local},      {2300, Rank::Local},     {2850, Rank::Arterial},
        {3400, Rank::Local},      {3950, Rank::Collector}, {4550, Rank::Local},
        {5150, Rank::Local}};
    return columns;
}

const std::vector<NetLine> &netRows()
{
    static const std::vector<NetLine> rows{
        {-4250, Rank::Local},    {-3750, Rank::Local},   {-3250, Rank::Collector},
        {-2750, Rank::Local},    {-2300, Rank::Local},   {-1900, Rank::Local},
        {-1540, Rank::Local},    {-1180, Rank::Local},   {-800, Rank::Arterial},
        {-440, Rank::Local},     {-80, Rank::Local},     {300, Rank::Local},
        {700, Rank::Collector},  {1200, Rank::Local},    {1700, Rank::Local},
        {2200, Rank::Local},     {2750, Rank::Arterial}, {3300, Rank::Local},
        {3900, Rank::Collector}, {4500, Rank::Local}};
    return rows;
}

Spot flatOf(int column, int row)
{
    return {netColumns()[static_cast<std::size_t>(column)].at,
            netRows()[static_cast<std::size_t>(row)].at};
}

Spot bent(Spot flat)
{
    // Near the river the streets follow it; the pull is gone some 2,500 ft away.
    const double pull = std::exp(-(flat.x / 1500.0) * (flat.x / 1500.0));
    Spot spot{flat.x + riverAt(flat.y) * pull, flat.y};
    const double curving = std::max({eased(-flat.x, 3900, 4900), eased(flat.x, 900, 1900),
                                     eased(flat.y, 2400, 3500), eased(-flat.y, 2900, 3900)});
    spot.x += curving * 120.0 * std::sin(2.0 * pi * flat.y / 2500.0 + flat.x / 1900.0);
    spot.y += curving * 125.0 * std::sin(2.0 * pi * flat.x / 2700.0 + flat.y / 2100.0 + 1.3);
    return spot;
}

District districtAt(Spot flat)
{
    if (flat.x > -3400 && flat.x < -1200 && flat.y > -1920 && flat.y < 720)
        return District::Downtown;
    if (flat.x > 2850 && flat.y < -1500)
        return District::Works;
    if (flat.x > 0)
        return District::EastSide;
    if (flat.x < -4100 || flat.y > 2760 || flat.y < -3260)
        return District::WestSide;
    return District::OldGrid;
}

std::vector<NetEdge> chosenEdges(Random &random)
{
    std::vector<NetEdge> kept;
    std::vector<NetEdge> open;
    JoinedSets joined(netColumns().size() * netRows().size());
    const auto join = [&joined](const NetEdge &edge) {
        return joined.join(nodeOf(edge.column, edge.row), nodeOf(edge.column + (edge.north ? 0 : 1),
                                                                 edge.row + (edge.north ? 1 : 0)));
    };
    for (const NetEdge &edge : allEdges()) {
        if (edge.rank != Rank::Local || edge.district == District::Downtown) {
            join(edge);
            kept.push_back(edge);
        } else {
            open.push_back(edge);
        }
    }
    random.shuffle(open);
    for (const NetEdge &edge : open) {
        const bool wanted = random.chance(shareKept(edge));
        if (join(edge) || wanted)
            kept.push_back(edge);
    }
    std::stable_sort(kept.begin(), kept.end(), [](const NetEdge &a, const NetEdge &b) {
        return nodeOf(a.column, a.row) * 2 + (a.north ? 1 : 0) <
               nodeOf(b.column, b.row) * 2 + (b.north ? 1 : 0);
    });
    return kept;
}

} // namespace keyround::sample
