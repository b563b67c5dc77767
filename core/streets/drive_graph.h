// SPDX-License-Identifier: GPL-3.0-or-later
// The drive graph: streets cut where they meet into arcs with seconds, snapping of places onto
// it, and the seconds, metres and lines of the ways between places. Seconds are lengths over the
// layer's speed, or the class's default where the layer gives none, times the factor of the class,
// and the seconds of turning; nothing for the metres between a place and its street. Junctions: see
// cut_streets.h. Turns, U-turns and sides: turn_rules.h. What the seconds of a pair of places can
// know of the direction in which the truck stands at them, and what not: stop_directions.h.
#pragma once

#include "core/streets/snap.h"
#include "core/streets/street.h"
#include "core/streets/turn_rules.h"

#include <array>
#include <memory>
#include <optional>
#include <vector>

namespace keyround {

/// Metres per second when a layer gives no speed (common practice, no source): motorway 55 mph,
/// arterial 35, collector 30, residential and unclassified 25, service road 10, path 5.
[[nodiscard]] double defaultSpeed(StreetClass kind);

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

/// The part of a way that runs on streets of one class.
struct DrivenOnClass
{
    double metres = 0;
    double seconds = 0; ///< without turns
};

struct Way
{
    double seconds = 0;                 ///< infinite when there is no way
    double metres = 0;                  ///< the length of the line (infinite with seconds)
    GeoLine line;                       ///< filled by wayBetween() only, as what follows
    double turnSeconds = 0;             ///< of `seconds`, those that are not spent driving along
    std::vector<DrivenOnClass> byClass; ///< one for each StreetClass, in its order
};

/// Seconds and metres from places to places, row after row; infinite where there is no way.
struct WayTable
{
    std::size_t columns = 0;
    std::vector<double> seconds;
    std::vector<double> metres;

    [[nodiscard]] double secondsAt(std::size_t row, std::size_t column) const
    {
        return seconds[row * columns + column];
    }
    [[nodiscard]] double metresAt(std::size_t row, std::size_t column) const
    {
        return metres[row * columns + column];
    }
};
/// How a table is worked out. Both are exact; their metres may differ where two ways take the same
/// seconds.
enum class TableMethod {
    Fitting, ///< the faster of the two for places so far apart
    Rows,    ///< a bounded search for each row
    Cells,   ///< by what crossing each part of the town takes (cell_overlay.h)
};

/// Driven seconds are length over speed times the factor of the street's class: 1 until a utility's
/// own rounds have taught better.
using ClassFactors = std::array<double, streetClassCount>;
inline constexpr ClassFactors noClassFactors{1, 1, 1, 1, 1, 1, 1};

struct DriveGraphOptions
{
    double joinMetres = 1.0; ///< end points this near are one junction (JunctionRule::EndPoints)
    TurnRules turns = {};
    ClassFactors factors = noClassFactors; ///< one that is not above zero counts as 1
};

class DriveGraph
{
public:
    DriveGraph();
    ~DriveGraph();
    DriveGraph(DriveGraph &&) noexcept;
    DriveGraph &operator=(DriveGraph &&) noexcept;

    /// What tables of ways over a large graph (5,000 nodes) need goes on being made in the
    /// background; the first such table waits for it, and so does whoever lets the graph go.
    [[nodiscard]] static DriveGraph build(const std::vector<Street> &streets,
                                          const DriveGraphOptions &options = {});

    [[nodiscard]] bool isEmpty() const;
    [[nodiscard]] const DriveGraphReport &report() const;

    /// The nearest drivable piece within reach that belongs to the largest part; empty when the
    /// place is farther than maxMetres from all of them.
    [[nodiscard]] std::optional<Snap> snap(const GeoPoint &place, double maxMetres = 500.0) const;

    /// Metres from a place to the nearest street of the largest part, however far; empty where
    /// there are no streets or the place is none.
    [[nodiscard]] std::optional<double> nearestStreetMetres(const GeoPoint &place) const;
    /// Which of the streets given to build() a place was snapped to.
    [[nodiscard]] std::size_t streetOf(const Snap &snap) const;

    /// Ways from one snapped place to many, without their lines: one bounded search.
    [[nodiscard]] std::vector<Way> waysFrom(const Snap &from, const std::vector<Snap> &to) const;
    /// Ways from many to many, on all processors.
    [[nodiscard]] WayTable wayTable(const std::vector<Snap> &from, const std::vector<Snap> &to,
                                    TableMethod method = TableMethod::Fitting) const;
    /// The way between two snapped places with its line along the streets.
    [[nodiscard]] Way wayBetween(const Snap &from, const Snap &to) const;

private:
    struct Data;
    std::unique_ptr<Data> m_data;
};

} // namespace keyround
