// SPDX-License-Identifier: GPL-3.0-or-later
// Tables of ways by cells against a search for each row.
#include "core/streets/drive_graph.h"
#include "tests/core/streets/line_graph.h"

#include <QtTest>

#include <cmath>

using namespace keyround;

namespace {

DriveGraph townOfAllClasses(std::size_t columns, std::size_t rows, double missingShare,
                            unsigned seed)
{
    tests::GridTown town =
        tests::gridTown(columns, rows, 0.3, missingShare, JunctionRule::SharedNodes, seed);
    tests::giveClasses(town, seed);
    DriveGraphOptions options;
    options.turns = tests::mixedRules();
    return DriveGraph::build(town.streets, options);
}

/// Places all over a town, every second beside the one before, so that some share a street.
std::vector<Snap> placesIn(const DriveGraph &graph, std::size_t count, double metres, unsigned seed)
{
    const LocalPlane plane(GeoPoint{41.0, -90.0});
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> anywhere(0.0, metres);
    std::vector<Snap> snaps;
    while (snaps.size() < count) {
        const double x = anywhere(random);
        const double y = anywhere(random);
        snaps.push_back(*graph.snap(plane.toGeo(PlanePoint{x, y})));
        snaps.push_back(*graph.snap(plane.toGeo(PlanePoint{x + 15, y + 15})));
    }
    return snaps;
}

/// Empty when two tables agree to a microsecond and a millimetre and know every way.
QString difference(const WayTable &one, const WayTable &other)
{
    for (std::size_t i = 0; i < one.seconds.size(); ++i) {
        if (!(std::abs(one.seconds[i] - other.seconds[i]) < 1e-6) ||
            !(std::abs(one.metres[i] - other.metres[i]) < 1e-3)) {
            return QStringLiteral("entry %1: %2 s and %3 m, or %4 s and %5 m")
                .arg(i)
                .arg(one.seconds[i])
                .arg(one.metres[i])
                .arg(other.seconds[i])
                .arg(other.metres[i]);
        }
    }
    return {};
}

} // namespace

class WayTablesTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    // Towns of one leaf up to some dozens, whole and full of gaps.
    void byCellsAgainstRows()
    {
        const std::vector<std::pair<std::size_t, double>> towns{{5, 0.05}, {10, 0.1}, {14, 0.35},
                                                                {25, 0.1}, {33, 0.3}, {52, 0.1}};
        unsigned seed = 8;
        for (const auto &[size, missing] : towns) {
            const DriveGraph graph = townOfAllClasses(size, size + 2, missing, ++seed);
            const auto snaps = placesIn(graph, 100, 100.0 * static_cast<double>(size), seed);
            const std::vector<Snap> rows(snaps.begin(), snaps.begin() + 40);
            const WayTable byRows = graph.wayTable(rows, snaps, TableMethod::Rows);
            const WayTable byCells = graph.wayTable(rows, snaps, TableMethod::Cells);
            const WayTable again = graph.wayTable(rows, snaps, TableMethod::Cells);
            QCOMPARE(byCells.columns, snaps.size());
            QCOMPARE(byCells.seconds.size(), rows.size() * snaps.size());
            const QString differs = difference(byRows, byCells);
            QVERIFY2(differs.isEmpty(), qPrintable(differs));
            QVERIFY(byCells.seconds == again.seconds && byCells.metres == again.metres);
            QVERIFY(graph.wayTable({}, snaps, TableMethod::Cells).seconds.empty());
            QVERIFY(graph.wayTable(rows, {}, TableMethod::Cells).seconds.empty());
        }
    }

    // A town large enough for its cells to be made in the background: whatever way fits is taken,
    // before they are ready and after, and also where the graph has been moved meanwhile.
    void fittingOnALargeTown()
    {
        DriveGraph built = townOfAllClasses(74, 70, 0.1, 3);
        QVERIFY(built.report().nodes >= 5000);
        const DriveGraph graph = std::move(built);
        const auto far = placesIn(graph, 30, 7000.0, 4);
        const auto near = placesIn(graph, 30, 600.0, 5);
        for (const auto &snaps : {far, near}) {
            const WayTable byRows = graph.wayTable(snaps, snaps, TableMethod::Rows);
            const QString differs = difference(byRows, graph.wayTable(snaps, snaps));
            QVERIFY2(differs.isEmpty(), qPrintable(differs));
        }
    }

    // Nobody need ask for ways before a graph with cells in the making goes.
    void goesWhileCellsAreMade()
    {
        DriveGraph graph = townOfAllClasses(74, 70, 0.1, 6);
        graph = DriveGraph();
        QVERIFY(graph.isEmpty());
        QVERIFY(graph.wayTable({}, {}, TableMethod::Cells).seconds.empty());
    }
};

QTEST_GUILESS_MAIN(WayTablesTest)
#include "test_way_tables.moc"
