// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/main_lines.h"

#include "core/geo/polyline.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace keyround {

MainLines::MainLines(const std::vector<NetMain> &mains) : m_mains(mains), m_alongs(mains.size())
{
    std::vector<SegmentIndex::Entry> entries;
    for (NetIndex i = 0; i < mains.size(); ++i) {
        const GeoLine &line = mains[i].line;
        m_alongs[i].push_back(0.0);
        for (NetIndex k = 0; k + 1 < line.size(); ++k) {
            entries.push_back({{i, k}, line[k], line[k + 1]});
            m_alongs[i].push_back(m_alongs[i].back() + distanceBetween(line[k], line[k + 1]).value);
        }
    }
    m_index = SegmentIndex(entries);
}

MainLines::Hit MainLines::hitOn(const LocalPlane &plane, NetIndex main, std::size_t segment) const
{
    const GeoLine &line = m_mains[main].line;
    const PlanePoint a = plane.toPlane(line[segment]);
    const PlanePoint b = plane.toPlane(line[segment + 1]);
    const double share = nearestShare(a, b, {});
    const double before = m_alongs[main][segment];
    return {main, before + share * (m_alongs[main][segment + 1] - before),
            std::hypot(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)};
}

std::vector<MainLines::Hit> MainLines::within(const GeoPoint &place, double metres) const
{
    const LocalPlane plane(place);
    std::vector<Hit> hits;
    for (const SegmentRef &ref : m_index.within(place, metres)) {
        const Hit hit = hitOn(plane, ref.line, ref.segment);
        if (hit.offset <= metres) {
            hits.push_back(hit);
        }
    }
    const auto order = [](const Hit &hit) {
        return std::make_tuple(hit.offset, hit.main, hit.along);
    };
    std::sort(hits.begin(), hits.end(),
              [&](const Hit &a, const Hit &b) { return order(a) < order(b); });
    std::vector<Hit> best;
    for (const Hit &hit : hits) {
        if (std::none_of(best.begin(), best.end(),
                         [&](const Hit &other) { return other.main == hit.main; })) {
            best.push_back(hit);
        }
    }
    return best;
}

std::optional<MainLines::Hit> MainLines::nearest(const GeoPoint &place) const
{
    // Several, because the index measures on a plane that is off by a little far from its middle.
    constexpr unsigned enough = 4;
    const LocalPlane plane(place);
    std::optional<Hit> nearest;
    for (const SegmentRef &ref : m_index.nearest(place, enough)) {
        const Hit hit = hitOn(plane, ref.line, ref.segment);
        if (!nearest || std::tie(hit.offset, hit.main, hit.along) <
                            std::tie(nearest->offset, nearest->main, nearest->along)) {
            nearest = hit;
        }
    }
    return nearest;
}

MainLines::Hit MainLines::on(NetIndex main, const GeoPoint &place) const
{
    const LocalPlane plane(place);
    Hit nearest = hitOn(plane, main, 0);
    for (std::size_t k = 1; k + 1 < m_mains[main].line.size(); ++k) {
        const Hit hit = hitOn(plane, main, k);
        if (hit.offset < nearest.offset) {
            nearest = hit;
        }
    }
    return nearest;
}

} // namespace keyround
