// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geo/polyline.h"
#include "core/mains/shut.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace keyround {

namespace {

struct NearMain
{
    NetIndex main = noIndex;
    LinePosition position;
};

/// Every main is looked at: a few milliseconds, once a break, and no index to keep.
NearMain nearestMain(const PipeNetwork &network, const GeoPoint &place)
{
    const LocalPlane plane(place);
    NearMain nearest;
    double least = std::numeric_limits<double>::infinity();
    for (NetIndex i = 0; i < network.mains.size(); ++i) {
        const GeoLine &line = network.mains[i].line;
        if (network.pipesOfMain.of(i).empty() || line.empty()) {
            continue;
        }
        PlanePoint a = plane.toPlane(line.front());
        for (std::size_t k = 1; k < line.size(); ++k) {
            const PlanePoint b = plane.toPlane(line[k]);
            const double share = nearestShare(a, b, {});
            const double off = std::hypot(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share);
            if (off < least) {
                least = off;
                nearest = {i, {k - 1, share, {}, off}};
            }
            a = b;
        }
    }
    return nearest;
}

/// In the order along the main.
std::vector<NetPiece> piecesOn(const PipeNetwork &network, NetIndex main)
{
    std::vector<NetPiece> pieces;
    for (const NetIndex pipe : network.pipesOfMain.of(main)) {
        const NetPipe &stretch = network.pipes[pipe];
        for (NetIndex k = 0; k < stretch.pieceCount; ++k) {
            pieces.push_back(network.pieces[stretch.firstPiece + k]);
        }
    }
    return pieces;
}

BreakAt onMain(const PipeNetwork &network, NetIndex main, double along, UnitSystem units)
{
    BreakAt at;
    NetIndex found = noIndex;
    for (const NetPiece &piece : piecesOn(network, main)) {
        if (found == noIndex || piece.fromAlong <= along) {
            found = piece.segment;
        }
    }
    at.segments = {found};
    const GeoLine &line = network.mains[main].line;
    if (!line.empty()) {
        at.place = pointAt(line, along);
    }
    at.words = QStringLiteral("on main %1, %2 from its first point")
                   .arg(network.mains[main].number, lengthText(Metres{along}, units));
    return at;
}

} // namespace

Result<BreakAt> breakNear(const PipeNetwork &network, const GeoPoint &place, Metres reach,
                          UnitSystem units)
{
    if (!place.isValid()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The place of the break is no latitude and longitude. Give "
                                   "degrees, latitude first: 38.7079,-116.0635."));
    }
    const NearMain near = nearestMain(network, place);
    if (near.main == noIndex) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("There are no mains to break. Import the mains first."));
    }
    const QString &number = network.mains[near.main].number;
    if (near.position.offsetMetres > reach.value) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("The nearest main, %1, is %2 from there. Give a place within %3 "
                                   "of a main, or the main's number.")
                        .arg(number, lengthText(Metres{near.position.offsetMetres}, units),
                             lengthText(reach, units)));
    }
    return onMain(network, near.main, distanceAlong(network.mains[near.main].line, near.position),
                  units);
}

Result<BreakAt> breakOnMain(const PipeNetwork &network, const QString &number,
                            std::optional<Metres> along, UnitSystem units)
{
    const NetIndex main = network.main(number);
    if (main == noIndex) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("There is no main %1. Check the number in the mains layer; it "
                                   "must match letter for letter.")
                        .arg(number));
    }
    const auto pipes = network.pipesOfMain.of(main);
    if (pipes.empty()) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("Main %1 is not part of the network: the network's report says "
                                   "why.")
                        .arg(number));
    }
    if (along) {
        const double length = network.pipes[pipes.back()].toAlong;
        return onMain(network, main, std::clamp(along->value, 0.0, length), units);
    }
    // The longest stretch between valves is where a break most likely is, and the one that the
    // main's number brings to mind.
    std::map<NetIndex, double> metresBySegment;
    for (const NetPiece &piece : piecesOn(network, main)) {
        metresBySegment[piece.segment] += network.lengthOf(piece);
    }
    const auto longest = std::ranges::max_element(
        metresBySegment, {}, [](const auto &segment) { return segment.second; });
    BreakAt at;
    at.segments = {longest->first};
    at.hasOtherStretches = metresBySegment.size() > 1;
    at.words = QStringLiteral("on main %1").arg(number);
    const GeoLine &line = network.mains[main].line;
    double most = -1;
    for (const NetPiece &piece : piecesOn(network, main)) {
        if (piece.segment == longest->first && !line.empty() && network.lengthOf(piece) > most) {
            most = network.lengthOf(piece);
            at.place = pointAt(line, (piece.fromAlong + piece.toAlong) / 2.0);
        }
    }
    return at;
}

BreakAt breakAtNode(const PipeNetwork &network, NetIndex node)
{
    const NetNode &at = network.nodes[node];
    const NetIndex pipe =
        network.pipesOfNode.of(node).empty() ? noIndex : network.pipesOfNode.of(node)[0];
    QString words = QStringLiteral("at node %1").arg(at.name);
    if (at.name.isEmpty() && pipe != noIndex) {
        words = QStringLiteral("where main %1 meets others")
                    .arg(network.mains[network.pipes[pipe].main].number);
    }
    return {{at.segment}, at.place, words, false};
}

BreakAt breakInSegment(const PipeNetwork &network, NetIndex segment)
{
    BreakAt at;
    at.segments = {segment};
    const auto pieces = network.piecesOf.of(segment);
    if (!pieces.empty()) {
        const NetPiece &piece = network.pieces[pieces.front()];
        const NetMain &main = network.mains[network.pipes[piece.pipe].main];
        at.words = QStringLiteral("on main %1").arg(main.number);
        if (!main.line.empty()) {
            at.place = pointAt(main.line, (piece.fromAlong + piece.toAlong) / 2);
        }
    }
    return at;
}

} // namespace keyround
