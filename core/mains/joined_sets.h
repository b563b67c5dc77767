// SPDX-License-Identifier: GPL-3.0-or-later
// Sets of indices that grow together; the lowest index stands for its set, whatever the order of
// joining. Used within core/mains only.
#pragma once

#include "core/mains/pipe_network.h"

#include <algorithm>
#include <numeric>
#include <vector>

namespace keyround {

class NetSets
{
public:
    explicit NetSets(std::size_t count) : m_parent(count)
    {
        std::iota(m_parent.begin(), m_parent.end(), 0U);
    }
    NetIndex root(NetIndex item)
    {
        while (m_parent[item] != item) {
            m_parent[item] = m_parent[m_parent[item]];
            item = m_parent[item];
        }
        return item;
    }
    void join(NetIndex a, NetIndex b)
    {
        a = root(a);
        b = root(b);
        m_parent[std::max(a, b)] = std::min(a, b);
    }

private:
    std::vector<NetIndex> m_parent;
};

} // namespace keyround
