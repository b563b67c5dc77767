// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/tour.h"

#include <algorithm>
#include <utility>

namespace keyround {

Tour::Tour(std::vector<std::uint32_t> order) : m_order(std::move(order)), m_index(m_order.size())
{
    for (std::uint32_t i = 0; i < size(); ++i) {
        m_index[m_order[i]] = i;
    }
}

std::int64_t Tour::cost(const TourCosts &costs) const
{
    std::int64_t total = 0;
    for (std::uint32_t i = 0; i < size(); ++i) {
        total += costs.at(m_order[i], m_order[after(i)]);
    }
    return total;
}

void Tour::rearrange(Pieces pieces, bool mirrors)
{
    const auto begin = pieces.list.begin();
    const auto end = begin + static_cast<std::ptrdiff_t>(pieces.count);
    auto kept = end;
    for (auto piece = begin; piece != end; ++piece) {
        if ((mirrors || !piece->turned) && (kept == end || length(*piece) > length(*kept))) {
            kept = piece;
        }
    }
    std::rotate(begin, kept == end ? begin : kept, end);
    if (kept != end && begin->turned) {
        std::reverse(begin + 1, end);
        std::for_each(begin, end, [](Piece &piece) { piece.turned = !piece.turned; });
    }
    // With no piece to keep, everything is written anew from index 0 on.
    std::uint32_t target = kept == end ? 0 : after(begin->to);
    m_moved.clear();
    for (auto piece = kept == end ? begin : begin + 1; piece != end; ++piece) {
        std::uint32_t index = piece->turned ? piece->to : piece->from;
        for (std::uint32_t left = length(*piece); left > 0; --left) {
            m_moved.push_back(m_order[index]);
            index = piece->turned ? before(index) : after(index);
        }
    }
    for (const std::uint32_t place : m_moved) {
        m_order[target] = place;
        m_index[place] = target;
        target = after(target);
    }
}

} // namespace keyround
