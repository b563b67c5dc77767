// SPDX-License-Identifier: GPL-3.0-or-later
// Street names from trees, minerals and birds. No list of any real town's streets was used.
#pragma once

#include <set>
#include <string>
#include <vector>

namespace keyround::sample {

enum class NameStock { Trees, Minerals, Birds };

/// Hands out names, never the same twice: "Alder Street", later "Alder Court".
class StreetNames
{
public:
    std::string take(NameStock stock, const std::vector<std::string> &suffixes);

private:
    std::size_t m_used[3] = {0, 0, 0};
    std::set<std::string> m_given;
};

} // namespace keyround::sample
