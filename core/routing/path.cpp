// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/path.h"

#include <algorithm>
#include <utility>

namespace keyround {

Path::Path(const PathCosts &costs, std::vector<std::uint32_t> order)
    : m_costs(&costs), m_order(std::move(order)), m_index(m_order.size()),
      m_ahead(m_order.size(), 0.0), m_back(m_order.size(), 0.0)
{
    refresh(0, lastIndex());
}

void Path::assign(const std::vector<std::uint32_t> &order)
{
    m_order = order;
    refresh(0, lastIndex());
}

void Path::refresh(std::size_t from, std::size_t to)
{
    for (std::size_t i = from; i <= to; ++i) {
        m_index[m_order[i]] = i;
    }
    // Sums after the change shift too; they are added anew, so that no error builds up.
    for (std::size_t i = std::max<std::size_t>(from, 1); i < m_order.size(); ++i) {
        m_ahead[i] = m_ahead[i - 1] + hop(i - 1, i);
        m_back[i] = m_back[i - 1] + hop(i, i - 1);
    }
}

void Path::reverse(std::size_t i, std::size_t j)
{
    const auto begin = m_order.begin();
    std::reverse(begin + static_cast<std::ptrdiff_t>(i),
                 begin + static_cast<std::ptrdiff_t>(j + 1));
    refresh(i, j);
}

void Path::move(std::size_t i, std::size_t j, std::size_t k, bool turned)
{
    const auto at = [this](std::size_t index) {
        return m_order.begin() + static_cast<std::ptrdiff_t>(index);
    };
    if (turned) {
        std::reverse(at(i), at(j + 1));
    }
    if (k > j) {
        std::rotate(at(i), at(j + 1), at(k + 1));
        refresh(i, k);
    } else {
        std::rotate(at(k + 1), at(i), at(j + 1));
        refresh(k + 1, j);
    }
}

} // namespace keyround
