// SPDX-License-Identifier: GPL-3.0-or-later
// The pipe network as shut tracing sees it. Nodes and pieces of pipe are elements; a valve parts
// the two elements it stands between, every other contact is open; a segment is a connected set of
// elements without a valve between them (Walski 1993; Jun and Loganathan 2007). So a network is a
// graph of segments joined by valves, and everything that is asked of it is asked of that graph.
// It is connectivity, not pressure.
//
// A network is built by buildNetwork() from the layers (build_network.h), or by HandNetwork below.
// It is a value of plain indices; what it was built from may be gone afterwards. Whether a valve is
// open and can be closed is not part of it: see ValveStates in shut.h.
#pragma once

#include "core/common/ids.h"
#include "core/common/result.h"
#include "core/common/units.h"
#include "core/geo/point.h"
#include "core/inventory/features.h"

#include <QHash>
#include <QString>

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

namespace keyround {

using NetIndex = std::uint32_t;
inline constexpr NetIndex noIndex = std::numeric_limits<NetIndex>::max();

/// Rows of indices by owner, in one array.
struct IndexRows
{
    std::vector<NetIndex> starts; ///< one more than there are owners
    std::vector<NetIndex> items;

    [[nodiscard]] std::span<const NetIndex> of(NetIndex owner) const
    {
        return std::span(items).subspan(starts[owner], starts[owner + 1] - starts[owner]);
    }
};
/// Item i goes to the row of owners[i]; noIndex to none. Rows keep the order of the items.
[[nodiscard]] IndexRows rowsByOwner(std::size_t ownerCount, const std::vector<NetIndex> &owners);

/// Who hangs on something. Critical ones are among the services.
struct Load
{
    int services = 0;
    int critical = 0;
    int hydrants = 0;

    Load &operator+=(const Load &more);
    Load &operator-=(const Load &less);
    friend Load operator+(Load a, const Load &b) { return a += b; }
    friend Load operator-(Load a, const Load &b) { return a -= b; }
    friend bool operator==(const Load &, const Load &) = default;
};

struct NetMain
{
    QString number;
    NominalSize size;
    GeoLine line; ///< empty in a network entered by hand without places
};
struct NetNode
{
    QString name; ///< in networks entered by hand
    GeoPoint place;
    NetIndex segment = noIndex;
};
/// A main, or a stretch of one, from node to node.
struct NetPipe
{
    NetIndex main = noIndex;
    NetIndex from = noIndex;
    NetIndex to = noIndex;
    double fromAlong = 0; ///< metres from the main's first point
    double toAlong = 0;
    NetIndex firstPiece = noIndex; ///< its pieces follow one another, from `from` to `to`
    NetIndex pieceCount = 0;
};
/// A stretch of pipe without a valve on it.
struct NetPiece
{
    NetIndex pipe = noIndex;
    double fromAlong = 0; ///< metres from the main's first point
    double toAlong = 0;
    NetIndex segment = noIndex;
};
struct NetValve
{
    ValveId id; ///< null in networks entered by hand
    QString number;
    GeoPoint place; ///< where the valve itself was measured
    NominalSize size;
    bool normallyClosed = false;
    bool blowOff = false;
    NetIndex pipe = noIndex;
    double along = 0;            ///< metres from the main's first point
    NetIndex sideFrom = noIndex; ///< segment towards the pipe's `from` node
    NetIndex sideTo = noIndex;

    [[nodiscard]] bool closesNothing() const { return sideFrom == sideTo; }
    [[nodiscard]] NetIndex across(NetIndex segment) const
    {
        return segment == sideFrom ? sideTo : sideFrom;
    }
};
struct NetService
{
    FeatureId id;
    QString number;
    GeoPoint place;
    bool critical = false;
    NetIndex segment = noIndex; ///< noIndex: not placed, see the report
};
struct NetHydrant
{
    FeatureId id;
    QString number;
    GeoPoint place;
    NetIndex segment = noIndex;
};
struct NetSource
{
    FeatureId id;
    QString number;
    QString name;
    SourceKind kind = SourceKind::Plant;
    GeoPoint place;
    NetIndex segment = noIndex;
};

struct PipeNetwork
{
    std::vector<NetMain> mains; ///< in the order of the layer
    std::vector<NetNode> nodes;
    std::vector<NetPipe> pipes;
    std::vector<NetPiece> pieces;
    std::vector<NetValve> valves;     ///< placed ones only, in the order of the layer
    std::vector<NetService> services; ///< all, in the order of the layer
    std::vector<NetHydrant> hydrants;
    std::vector<NetSource> sources;

    NetIndex segmentCount = 0;
    std::vector<Load> loads; ///< by segment
    IndexRows valvesOf;      ///< by segment; a valve that closes nothing stands there twice
    IndexRows piecesOf;
    IndexRows nodesOf;
    IndexRows servicesOf;
    IndexRows hydrantsOf;
    IndexRows sourcesOf;
    IndexRows pipesOfMain; ///< by main, in order along it
    IndexRows pipesOfNode; ///< a pipe that returns to its node stands there twice

    QHash<QString, NetIndex> valveByNumber; ///< the first of a number
    QHash<QString, NetIndex> mainByNumber;

    /// noIndex when there is none of this number in the network.
    [[nodiscard]] NetIndex valve(const QString &number) const;
    [[nodiscard]] NetIndex main(const QString &number) const;
    /// For the map. Empty when the main has no line.
    [[nodiscard]] GeoLine lineOf(const NetPiece &piece) const;
    [[nodiscard]] double lengthOf(const NetPiece &piece) const
    {
        return piece.toAlong - piece.fromAlong;
    }
};

struct NetSpots;

/// A network entered by hand, by names: for check cases and for trying things out. A valve sits
/// where a pipe meets a node. Unknown and doubled names are told of by build(); nothing is guessed.
class HandNetwork
{
public:
    void addNode(const QString &name, const GeoPoint &place = {});
    /// Nodes that are not there yet are added.
    void addPipe(const QString &name, const QString &from, const QString &to);
    /// At a pipe whose ends are one node the valve sits at its first end.
    void addValve(const QString &number, const QString &pipe, const QString &node,
                  bool normallyClosed = false);
    /// Customers on a pipe or at a node, numbered "PIPE/1" and so on. A name that is both a pipe's
    /// and a node's is refused by build().
    void addServices(const QString &pipeOrNode, int count, bool critical = false);
    void addHydrant(const QString &number, const QString &pipeOrNode);
    void addSource(const QString &number, const QString &node);
    [[nodiscard]] Result<PipeNetwork> build() const;

private:
    struct Pipe
    {
        QString name;
        NetIndex from = 0;
        NetIndex to = 0;
    };
    struct ValveAt
    {
        QString number;
        QString pipe;
        QString node;
        bool normallyClosed = false;
    };
    struct Hanging
    {
        QString number; ///< empty for services
        QString at;
        int count = 1;
        bool critical = false;
    };
    NetIndex nodeNamed(const QString &name);
    [[nodiscard]] Status sitValves(PipeNetwork &network, NetSpots &spots) const;

    std::vector<NetNode> m_nodes;
    QHash<QString, NetIndex> m_nodeByName;
    std::vector<Pipe> m_pipes;
    std::vector<ValveAt> m_valves;
    std::vector<Hanging> m_services;
    std::vector<Hanging> m_hydrants;
    std::vector<Hanging> m_sources;
    QString m_doubled; ///< the first node that was added twice
};

} // namespace keyround
