// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/count_slips.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

bool isSlip(std::span<const double> turns, std::size_t i, double apart)
{
    constexpr std::size_t agreeingAfterFirst = 3;
    const auto agree = [=](double a, double b) { return std::abs(a - b) <= apart; };
    if (i + 1 >= turns.size()) {
        return false;
    }
    if (i == 0) {
        return turns.size() > agreeingAfterFirst && !agree(turns[0], turns[1]) &&
               agree(turns[1], turns[2]) && agree(turns[1], turns[3]) && agree(turns[2], turns[3]);
    }
    if (!agree(turns[i - 1], turns[i + 1]) || agree(turns[i], turns[i - 1]) ||
        agree(turns[i], turns[i + 1])) {
        return false;
    }
    // Of 27, 277, 27, 277, 27 the wild ones are those that fewer counts agree with.
    const auto like = [&](double value) {
        return std::ranges::count_if(turns, [&](double other) { return agree(value, other); });
    };
    return like(turns[i]) < like(turns[i - 1]);
}

} // namespace

std::vector<bool> countSlips(std::span<const double> turns, double apart)
{
    std::vector<bool> slips(turns.size());
    for (std::size_t i = 0; i < turns.size(); ++i) {
        slips[i] = isSlip(turns, i, apart);
    }
    return slips;
}

} // namespace keyround
