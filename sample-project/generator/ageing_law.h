// SPDX-License-Identifier: GPL-3.0-or-later
// The known law by which the invented town's valves age; README.md beside the generator repeats
// it in words. Invented figures, chosen so that the visits come near the demonstration mix of
// TRADE.md section 7 (common practice, no source: about 70 % operable, 12 % tight, 8 % box or
// access, 5 % not found, 4 % inoperable, 1 % in the wrong position). Times are years.
#pragma once

#include "sample-project/generator/town.h"

namespace keyround::sample {

struct WeibullLaw
{
    double shape = 1;
    double scale = 1; ///< years
};

/// Years from installation, or from the last repair, until the valve no longer turns or no longer
/// shuts. A repair makes it as good as new.
[[nodiscard]] constexpr WeibullLaw lifeOf(Kind kind, int inches)
{
    switch (kind) {
    case Kind::Gate:
        return inches <= 8 ? WeibullLaw{1.6, 52} : WeibullLaw{1.6, 44};
    case Kind::GearedGate:
        return {1.4, 38};
    case Kind::Butterfly:
        break;
    }
    return {1.3, 46};
}

/// How a valve is when its life is over. The shares sum to 1.
struct EndShares
{
    double seized = 0;      ///< does not turn
    double closesShort = 0; ///< stops before it is shut
    double spins = 0;       ///< turns without end
};
[[nodiscard]] constexpr EndShares endSharesOf(Kind kind)
{
    return kind == Kind::Butterfly ? EndShares{0.55, 0.45, 0.0} : EndShares{0.50, 0.35, 0.15};
}

/// Before the simulated visits broken valves were mended when they were met: mean time until then.
inline constexpr double meanYearsBrokenBefore = 2.2;
/// In the simulated years a valve found out of order is repaired with this share, after this mean.
inline constexpr double shareRepaired = 0.80;
inline constexpr double meanYearsToRepair = 0.75;

/// Reaching a valve goes wrong at a constant rate, whatever its age.
inline constexpr double blockedPerYear = 0.09;
inline constexpr double blockedAtStart = 0.12;
/// Mean time from the visit that met the hindrance until it is gone.
inline constexpr double meanYearsToClear = 0.7;
/// Shares of: not found, paved over, box full, no access. They sum to 1.
inline constexpr double blockedShares[4] = {0.34, 0.16, 0.36, 0.14};

/// Share of valves hard to turn after a time without a full cycle: 1 - exp(-rate * years), at
/// most the cap.
inline constexpr double tightPerYear = 0.115;
inline constexpr double tightCap = 0.40;

} // namespace keyround::sample
