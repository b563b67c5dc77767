// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/figure_words.h"

#include <algorithm>
#include <cmath>

namespace keyround {

QString percentWords(double share)
{
    const double percent = 100.0 * share;
    if (share > 0 && percent < 0.5) {
        return QStringLiteral("under 1 %");
    }
    if (share < 1 && percent >= 99.5) {
        return QStringLiteral("over 99 %");
    }
    return QStringLiteral("%1 %").arg(percent, 0, 'f', 0);
}

QString percentWords(const Interval &shares)
{
    // Outward, so that the words never promise more than the interval.
    const double from = std::floor(100.0 * shares.from + 1e-9);
    const double to = std::ceil(100.0 * shares.to - 1e-9);
    return QStringLiteral("%1 to %2 %").arg(from, 0, 'f', 0).arg(to, 0, 'f', 0);
}

QString valvesWords(std::size_t count)
{
    return count == 1 ? QStringLiteral("1 valve") : QStringLiteral("%1 valves").arg(count);
}

QString kindWords(ValveType type, SizeClass size)
{
    return QStringLiteral("%1, %2").arg(
        type == ValveType::Unknown ? QStringLiteral("type not known") : wordFor(type),
        size == SizeClass::Unknown ? QStringLiteral("size not known") : wordFor(size));
}

} // namespace keyround
