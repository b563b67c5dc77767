// SPDX-License-Identifier: GPL-3.0-or-later
// What a drive graph is made of, for the files that build it and that find ways on it.
#pragma once

#include "core/streets/arc_table.h"
#include "core/streets/cell_overlay.h"
#include "core/streets/drive_graph.h"
#include "core/streets/stop_directions.h"
#include "core/streets/way_search.h"

#include <future>
#include <limits>
#include <memory>
#include <optional>
#include <vector>

namespace keyround {

/// The way found so far from one snapped place to another.
struct BestWay
{
    double seconds = std::numeric_limits<double>::infinity();
    double metres = std::numeric_limits<double>::infinity(); ///< on the target's piece
    bool isDirect = false;   ///< along the piece that both lie on, in one direction
    bool isForward = false;  ///< the target's piece is driven so
    double leaveSeconds = 0; ///< of a direct way
    double arriveSeconds = 0;

    void consider(const BestWay &other)
    {
        if (other.seconds < seconds) {
            *this = other;
        }
    }
};

struct DriveGraph::Data
{
    std::vector<DrivenPiece> pieces;
    TurnRules rules;
    ArcTable table;
    SegmentIndex index;
    DriveGraphReport report;
    GeoLine nodes;
    /// Of a large graph made in the background from the moment when it is built, of a small one
    /// when first asked for. The last member, so that nothing it reads is gone before it is made.
    std::shared_future<std::unique_ptr<const CellOverlay>> overlay;

    struct Nearest
    {
        LinePosition position;
        SegmentRef segment;
    };
    [[nodiscard]] std::optional<Nearest> nearest(const GeoPoint &place) const;
    [[nodiscard]] StopDirections directionsAt(const Snap &snap) const
    {
        return stopDirections(pieces[snap.edge], snap.side, rules);
    }
    void search(WaySearch &search, const Snap &from, const std::vector<Snap> &to) const;
    [[nodiscard]] BestWay best(const WaySearch &search, const Snap &from, const Snap &to) const;
    [[nodiscard]] BestWay direct(const Snap &from, const Snap &to) const;
    [[nodiscard]] double metresOf(WaySearch &search, const BestWay &best, const Snap &from,
                                  const Snap &to) const;
    [[nodiscard]] CellOverlay::Stop overlayStop(const Snap &snap) const;
    [[nodiscard]] bool isFarFlung(const std::vector<Snap> &from, const std::vector<Snap> &to) const;
    void fillByCells(WayTable &ways, const std::vector<Snap> &from,
                     const std::vector<Snap> &to) const;
    void draw(Way &way, const WaySearch &search, const BestWay &best, const Snap &from,
              const Snap &to) const;
};

} // namespace keyround
