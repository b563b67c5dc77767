// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/segment_index.h"

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/point.hpp>
#include <boost/geometry/geometries/segment.hpp>
#include <boost/geometry/index/rtree.hpp>

#include <algorithm>
#include <iterator>

namespace keyround {

namespace {

using TreePoint = boost::geometry::model::point<double, 2, boost::geometry::cs::cartesian>;
using TreeBox = boost::geometry::model::box<TreePoint>;
using TreeSegment = boost::geometry::model::segment<TreePoint>;
using TreeValue = std::pair<TreeSegment, SegmentRef>;

struct SameRef
{
    bool operator()(const TreeValue &a, const TreeValue &b) const
    {
        return a.second.line == b.second.line && a.second.segment == b.second.segment;
    }
};

using RTree = boost::geometry::index::rtree<TreeValue, boost::geometry::index::rstar<16>,
                                            boost::geometry::index::indexable<TreeValue>, SameRef>;

/// The middle of the lines by count, so that one stray line far off does not bend the plane.
GeoPoint middleOf(const std::vector<SegmentIndex::Entry> &entries)
{
    std::vector<double> latitudes;
    std::vector<double> longitudes;
    latitudes.reserve(entries.size());
    longitudes.reserve(entries.size());
    for (const SegmentIndex::Entry &entry : entries) {
        latitudes.push_back(entry.a.latitude);
        longitudes.push_back(entry.a.longitude);
    }
    const auto half = static_cast<std::ptrdiff_t>(entries.size() / 2);
    std::nth_element(latitudes.begin(), latitudes.begin() + half, latitudes.end());
    std::nth_element(longitudes.begin(), longitudes.begin() + half, longitudes.end());
    return {latitudes[static_cast<std::size_t>(half)], longitudes[static_cast<std::size_t>(half)]};
}

std::vector<SegmentRef> refsOf(const std::vector<TreeValue> &found)
{
    std::vector<SegmentRef> refs;
    refs.reserve(found.size());
    for (const TreeValue &value : found) {
        refs.push_back(value.second);
    }
    return refs;
}

} // namespace

struct SegmentIndex::Tree
{
    RTree rtree;
};

SegmentIndex::SegmentIndex() = default;
SegmentIndex::~SegmentIndex() = default;
SegmentIndex::SegmentIndex(SegmentIndex &&) noexcept = default;
SegmentIndex &SegmentIndex::operator=(SegmentIndex &&) noexcept = default;

SegmentIndex::SegmentIndex(const std::vector<Entry> &entries)
{
    if (entries.empty()) {
        return;
    }
    m_plane = LocalPlane(middleOf(entries));
    std::vector<TreeValue> values;
    values.reserve(entries.size());
    for (const Entry &entry : entries) {
        const PlanePoint a = m_plane.toPlane(entry.a);
        const PlanePoint b = m_plane.toPlane(entry.b);
        values.emplace_back(TreeSegment(TreePoint(a.x, a.y), TreePoint(b.x, b.y)), entry.ref);
    }
    m_tree = std::make_unique<Tree>(Tree{RTree(values)});
}

std::vector<SegmentRef> SegmentIndex::within(const GeoPoint &place, double metres) const
{
    if (!m_tree) {
        return {};
    }
    const double reach = metres * 1.05; // more than the plane's error within a county
    const PlanePoint p = m_plane.toPlane(place);
    const TreeBox box(TreePoint(p.x - reach, p.y - reach), TreePoint(p.x + reach, p.y + reach));
    std::vector<TreeValue> found;
    m_tree->rtree.query(boost::geometry::index::intersects(box), std::back_inserter(found));
    return refsOf(found);
}

std::vector<SegmentRef> SegmentIndex::nearest(const GeoPoint &place, unsigned count) const
{
    if (!m_tree) {
        return {};
    }
    const PlanePoint p = m_plane.toPlane(place);
    std::vector<TreeValue> found;
    const auto query = boost::geometry::index::nearest(TreePoint(p.x, p.y), count);
    std::copy(m_tree->rtree.qbegin(query), m_tree->rtree.qend(), std::back_inserter(found));
    return refsOf(found);
}

} // namespace keyround
