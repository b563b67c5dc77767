// SPDX-License-Identifier: GPL-3.0-or-later
// The drive graph: streets cut where they meet into arcs with seconds, snapping of places onto
// it, and the seconds, metres and lines of the ways between places. Seconds are lengths over the
// layer's speed, or the class's default where the layer gives none; no traffic, no turn costs,
// nothing for the metres between a place and its street. Junctions: see cut_streets.h.
#pragma once

#include "core/geo/point.h"
#include "core/streets/street.h"

#include <memory>
#include <optional>
#include <vector>

namespace keyround {

/// Metres per second when a layer gives no speed (common practice, no source): motorway 55 mph,
/// arterial 35, collector 30, residential and unclassified 25, service road 10, path 5.
[[nodiscard]] double defaultSpeed(StreetClass kind);

/// Where a place touches the graph: on an arc, part of the way along it.
struct Snap
{
    std::size_t edge = 0;    ///< index of a cut piece of street
    double along = 0;        ///< metres from the piece's first point
    double offsetMetres = 0; ///< how far the place lies from the street
    GeoPoint onStreet;
};

struct DriveGraphReport
{
    std::size_t nodes = 0;
    std::size_t pieces = 0;
    std::size_t leftOut = 0; ///< streets not drivable or with fewer than two points
    /// Pieces that cannot be driven to from the largest part and back, by street name and length.
    struct CutOff
    {
        QString name;
        double metres = 0;
        GeoPoint at;
    };
    std::vector<CutOff> cutOff;
};

struct Way
{
    double seconds = 0; ///< infinite when there is no way
    double metres = 0;  ///< the length of the line (infinite with seconds)
    GeoLine line;       ///< filled by wayBetween() only
};

struct DriveGraphOptions
{
    double joinMetres = 1.0; ///< end points this near are one junction (JunctionRule::EndPoints)
};

class DriveGraph
{
public:
    DriveGraph();
    ~DriveGraph();
    DriveGraph(DriveGraph &&) noexcept;
    DriveGraph &operator=(DriveGraph &&) noexcept;

    [[nodiscard]] static DriveGraph build(const std::vector<Street> &streets,
                                          const DriveGraphOptions &options = {});

    [[nodiscard]] bool isEmpty() const;
    [[nodiscard]] const DriveGraphReport &report() const;

    /// The nearest drivable piece within reach that belongs to the largest part; empty when the
    /// place is farther than maxMetres from all of them.
    [[nodiscard]] std::optional<Snap> snap(const GeoPoint &place, double maxMetres = 500.0) const;

    /// Ways from one snapped place to many, without their lines: one bounded search.
    [[nodiscard]] std::vector<Way> waysFrom(const Snap &from, const std::vector<Snap> &to) const;
    /// The way between two snapped places with its line along the streets.
    [[nodiscard]] Way wayBetween(const Snap &from, const Snap &to) const;

private:
    struct Data;
    std::unique_ptr<Data> m_data;
};

} // namespace keyround
