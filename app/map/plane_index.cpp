// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/plane_index.h"

#include <boost/geometry.hpp>
#include <boost/geometry/index/rtree.hpp>

#include <algorithm>
#include <iterator>
#include <utility>

namespace keyround {

namespace {

namespace bg = boost::geometry;
using TreePoint = bg::model::point<double, 2, bg::cs::cartesian>;
using TreeBox = bg::model::box<TreePoint>;
using TreeEntry = std::pair<TreeBox, std::size_t>;

TreeBox treeBox(const PlaneBox &box)
{
    return {TreePoint(box.west, box.south), TreePoint(box.east, box.north)};
}

} // namespace

void PlaneBox::take(const PlanePoint &point)
{
    west = std::min(west, point.x);
    east = std::max(east, point.x);
    south = std::min(south, point.y);
    north = std::max(north, point.y);
}

void PlaneBox::take(const PlaneBox &box)
{
    west = std::min(west, box.west);
    east = std::max(east, box.east);
    south = std::min(south, box.south);
    north = std::max(north, box.north);
}

PlaneBox boxOf(const PlaneLine &line)
{
    PlaneBox box;
    for (const PlanePoint &point : line) {
        box.take(point);
    }
    return box;
}

struct PlaneIndex::Tree
{
    bg::index::rtree<TreeEntry, bg::index::quadratic<16>> entries;
};

PlaneIndex::PlaneIndex(const std::vector<PlaneBox> &boxes)
{
    std::vector<TreeEntry> entries;
    entries.reserve(boxes.size());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        if (!boxes[i].isEmpty()) {
            entries.emplace_back(treeBox(boxes[i]), i);
        }
    }
    // The constructor with a range packs the tree, which is far quicker than insertion.
    m_tree = std::make_shared<const Tree>(Tree{decltype(Tree::entries)(entries)});
}

std::vector<std::size_t> PlaneIndex::within(const PlaneBox &box) const
{
    std::vector<std::size_t> found;
    if (!m_tree || box.isEmpty()) {
        return found;
    }
    const auto &tree = m_tree->entries;
    std::for_each(tree.qbegin(bg::index::intersects(treeBox(box))), tree.qend(),
                  [&](const TreeEntry &entry) { found.push_back(entry.second); });
    std::ranges::sort(found);
    return found;
}

} // namespace keyround
