// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/geo/polyline.h"
#include "core/mains/join_mains.h"

#include <QByteArray>

#include <cmath>

namespace keyround {

namespace {

/// Shorter than any pipe: what is left of a line whose points are all in one place.
constexpr double noLength = 0.001;

/// The line's bytes, the same for both directions of drawing.
QByteArray shapeOf(const GeoLine &line)
{
    const auto bytes = [](const GeoLine &points) {
        QByteArray all;
        all.reserve(static_cast<qsizetype>(points.size() * 2 * sizeof(double)));
        for (const GeoPoint &point : points) {
            const double pair[2] = {point.latitude, point.longitude};
            all.append(reinterpret_cast<const char *>(pair), sizeof pair);
        }
        return all;
    };
    const GeoLine back(line.rbegin(), line.rend());
    return std::min(bytes(line), bytes(back));
}

} // namespace

KnownMains::KnownMains(const std::vector<Main> &mains, PipeNetwork &network, NetworkNotes &notes)
    : m_standsFor(mains.size())
{
    network.mains.reserve(mains.size());
    for (NetIndex i = 0; i < mains.size(); ++i) {
        m_standsFor[i] = i;
        takeLine(mains[i], network, notes);
        if (network.mainByNumber.contains(mains[i].number)) {
            notes.numberTwice(NetworkNotes::Thing::Main, mains[i].number,
                              mains[i].line.empty() ? GeoPoint{} : mains[i].line.front());
        } else {
            network.mainByNumber.insert(mains[i].number, i);
        }
    }
    findTwins(network, notes);
    findParts(mains, network, notes);
}

void KnownMains::takeLine(const Main &main, PipeNetwork &network, NetworkNotes &notes)
{
    NetMain taken{main.number, main.size, {}};
    std::size_t noPlaces = 0;
    for (const GeoPoint &point : main.line) {
        if (!point.isValid() || std::isnan(point.latitude) || std::isnan(point.longitude)) {
            ++noPlaces;
        } else if (taken.line.empty() || taken.line.back() != point) {
            taken.line.push_back(point);
        }
    }
    const GeoPoint first = taken.line.empty() ? GeoPoint{} : taken.line.front();
    const bool manyPlaces = main.line.size() >= 2 + noPlaces;
    if (taken.line.size() < 2 || lengthOf(taken.line).value < noLength) {
        notes.mainNotUsable(main.number, manyPlaces, first);
        taken.line.clear();
        m_standsFor[network.mains.size()] = noIndex;
    } else if (noPlaces > 0) {
        notes.mainPlacesLeftOut(main.number, noPlaces, first);
    }
    network.mains.push_back(std::move(taken));
}

void KnownMains::findTwins(PipeNetwork &network, NetworkNotes &notes)
{
    QHash<QByteArray, NetIndex> byShape;
    byShape.reserve(static_cast<qsizetype>(network.mains.size()));
    for (NetIndex i = 0; i < network.mains.size(); ++i) {
        NetMain &main = network.mains[i];
        if (main.line.empty()) {
            continue;
        }
        const QByteArray shape = shapeOf(main.line);
        const auto before = byShape.constFind(shape);
        if (before == byShape.constEnd()) {
            byShape.insert(shape, i);
            continue;
        }
        notes.mainTwice(main.number, network.mains[*before].number, true, main.line.front());
        m_standsFor[i] = *before;
        main.line.clear();
    }
}

/// A row of several lines comes from the importer as NUMBER, NUMBER-2, NUMBER-3. A utility may
/// number its mains like that by itself, so the parts must be alike in all else.
void KnownMains::findParts(const std::vector<Main> &mains, const PipeNetwork &network,
                           NetworkNotes &notes)
{
    const auto alike = [](Main a, const Main &b) {
        a.id = b.id;
        a.number = b.number;
        a.line = b.line;
        return a == b;
    };
    for (NetIndex i = 0; i < mains.size(); ++i) {
        if (network.main(mains[i].number) != i) {
            continue;
        }
        QStringList numbers;
        for (int part = 2;; ++part) {
            const QString number = QStringLiteral("%1-%2").arg(mains[i].number).arg(part);
            const NetIndex other = network.main(number);
            if (other == noIndex || !alike(mains[i], mains[other])) {
                break;
            }
            numbers << number;
            m_parts[i].push_back(other);
        }
        if (!numbers.isEmpty()) {
            notes.mainInParts(mains[i].number, numbers,
                              mains[i].line.empty() ? GeoPoint{} : mains[i].line.front());
        }
    }
}

NetIndex KnownMains::find(const PipeNetwork &network, const QString &number) const
{
    const NetIndex row = network.main(number);
    return row == noIndex ? noIndex : m_standsFor[row];
}

std::vector<NetIndex> KnownMains::partsOf(const PipeNetwork &network, NetIndex main) const
{
    std::vector<NetIndex> parts{main};
    for (const NetIndex part : m_parts.value(main)) {
        if (!network.mains[part].line.empty()) {
            parts.push_back(part);
        }
    }
    return parts;
}

NetIndex pipeAt(const PipeNetwork &network, NetIndex main, double along)
{
    const auto pipes = network.pipesOfMain.of(main);
    NetIndex found = pipes.front();
    for (const NetIndex pipe : pipes) {
        if (network.pipes[pipe].fromAlong <= along) {
            found = pipe;
        }
    }
    return found;
}

} // namespace keyround
