// SPDX-License-Identifier: GPL-3.0-or-later
// How long the map takes to paint 50,000 valves on an invented grid of streets and mains: all of
// them at once, a part with bow-ties, and a part with their numbers. Goal: 20 pictures a second,
// 50 ms each. A drag paints less: it moves the kept picture.
#include "app/map/map_painter.h"
#include "tests/bench/timing.h"

#include <QApplication>
#include <QImage>
#include <QPainter>

#include <cstdio>
#include <random>

using namespace keyround;

namespace {

constexpr int side = 158;           // streets each way
constexpr double blockMetres = 100; // 15.7 km across
constexpr std::size_t valveCount = 50000;
constexpr int runs = 9;

template <typename Drawn> PlaneIndex indexOf(const std::vector<Drawn> &lines)
{
    std::vector<PlaneBox> boxes;
    for (const Drawn &each : lines) {
        boxes.push_back(boxOf(each.line));
    }
    return PlaneIndex(boxes);
}

MapContent inventedTown()
{
    MapContent town;
    town.plane = LocalPlane(GeoPoint{40.0, -150.0});
    const double end = (side - 1) * blockMetres;
    for (int i = 0; i < side; ++i) {
        const double at = i * blockMetres;
        town.names.push_back({QStringLiteral("Invented Street %1").arg(i), {{0, at}, {end, at}}});
        town.names.push_back({QStringLiteral("Invented Avenue %1").arg(i), {{at, 0}, {at, end}}});
        for (int j = 0; j + 1 < side; ++j) {
            const double from = j * blockMetres;
            for (const PlaneLine &line : {PlaneLine{{from, at}, {from + blockMetres, at}},
                                          PlaneLine{{at, from}, {at, from + blockMetres}}}) {
                town.streets.push_back({StreetClass::Residential, line});
                town.mains.push_back({i % 10 == 0, line});
            }
        }
    }
    std::mt19937 random(7);
    std::vector<PlaneBox> boxes;
    for (std::size_t i = 0; i < valveCount; ++i) {
        const auto column = static_cast<int>(random() % side);
        const PlanePoint place{column * blockMetres, static_cast<double>(random() % 1570000) / 100};
        MapContent::DrawnValve valve;
        valve.id = ValveId{uuid7FromParts(1, 0, i)};
        valve.number = QStringLiteral("V-%1").arg(i, 5, 10, QLatin1Char('0'));
        valve.at = place;
        valve.turn = 90;
        valve.normallyClosed = i % 12 == 0;
        valve.condition = static_cast<Condition>(random() % 6);
        town.valves.push_back(valve);
        boxes.push_back(boxAround(place, 0));
        town.bounds.take(place);
    }
    town.streetIndex = indexOf(town.streets);
    town.nameIndex = indexOf(town.names);
    town.mainIndex = indexOf(town.mains);
    town.valveIndex = PlaneIndex(boxes);
    return town;
}

void timeView(const MapContent &town, const char *what, MapView view, const QSize &size)
{
    QImage image(size, QImage::Format_ARGB32_Premultiplied);
    const double taken = bench::medianMilliseconds(runs, [&] {
        QPainter painter(&image);
        paintMap(painter, QRectF(QPointF(0, 0), QSizeF(size)), town, view);
    });
    const MapFrame frame{QRectF(QPointF(0, 0), QSizeF(size)), view};
    std::printf("%-34s %5zu valves, %5zu pieces of street seen: %6.1f ms\n", what,
                town.valveIndex.within(frame.seen(20)).size(),
                town.streetIndex.within(frame.seen(30)).size(), taken);
}

} // namespace

int main(int argc, char **argv)
{
    const QApplication application(argc, argv);
    const MapContent town = inventedTown();
    const QSize size(1366, 768);
    MapView view = viewOf(town.bounds, size);
    timeView(town, "all of 50,000, marks alone", view, size);

    MapContent valvesOnly = town;
    valvesOnly.streetIndex = PlaneIndex();
    valvesOnly.mainIndex = PlaneIndex();
    valvesOnly.nameIndex = PlaneIndex();
    timeView(valvesOnly, "all of 50,000, without streets", view, size);

    view.pixelsPerMetre = 0.3;
    timeView(town, "a quarter, bow-ties", view, size);
    view.pixelsPerMetre = 1.6;
    timeView(town, "a few blocks, numbers", view, size);
    return 0;
}
