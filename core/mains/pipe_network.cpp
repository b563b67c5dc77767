// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/pipe_network.h"

#include "core/geo/polyline.h"

namespace keyround {

IndexRows rowsByOwner(std::size_t ownerCount, const std::vector<NetIndex> &owners)
{
    IndexRows rows;
    rows.starts.assign(ownerCount + 1, 0);
    for (const NetIndex owner : owners) {
        if (owner != noIndex) {
            ++rows.starts[owner + 1];
        }
    }
    for (std::size_t i = 1; i <= ownerCount; ++i) {
        rows.starts[i] += rows.starts[i - 1];
    }
    rows.items.resize(rows.starts.back());
    std::vector<NetIndex> next(rows.starts.begin(), rows.starts.end() - 1);
    for (std::size_t i = 0; i < owners.size(); ++i) {
        if (owners[i] != noIndex) {
            rows.items[next[owners[i]]++] = static_cast<NetIndex>(i);
        }
    }
    return rows;
}

Load &Load::operator+=(const Load &more)
{
    services += more.services;
    critical += more.critical;
    hydrants += more.hydrants;
    return *this;
}

Load &Load::operator-=(const Load &less)
{
    services -= less.services;
    critical -= less.critical;
    hydrants -= less.hydrants;
    return *this;
}

NetIndex PipeNetwork::valve(const QString &number) const
{
    return valveByNumber.value(number, noIndex);
}

NetIndex PipeNetwork::main(const QString &number) const
{
    return mainByNumber.value(number, noIndex);
}

GeoLine PipeNetwork::lineOf(const NetPiece &piece) const
{
    const GeoLine &line = mains[pipes[piece.pipe].main].line;
    return line.empty() ? GeoLine{} : stretchOf(line, piece.fromAlong, piece.toAlong);
}

} // namespace keyround
