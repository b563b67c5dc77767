// SPDX-License-Identifier: GPL-3.0-or-later
// Which corners are joined to which: sets of numbers from 0 that grow together.
#pragma once

#include <cstddef>
#include <numeric>
#include <vector>

namespace keyround::sample {

class JoinedSets
{
public:
    explicit JoinedSets(std::size_t count) : m_parent(count)
    {
        std::iota(m_parent.begin(), m_parent.end(), 0);
    }
    /// The number that stands for all that are joined to this one.
    [[nodiscard]] int root(int a) const
    {
        while (m_parent[static_cast<std::size_t>(a)] != a)
            a = m_parent[static_cast<std::size_t>(a)];
        return a;
    }
    /// True when the two were apart.
    bool join(int a, int b)
    {
        const int rootA = root(a);
        const int rootB = root(b);
        m_parent[static_cast<std::size_t>(rootA)] = rootB;
        return rootA != rootB;
    }

private:
    std::vector<int> m_parent;
};

} // namespace keyround::sample
