// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities as types. Lengths are metres and durations seconds everywhere inside; turns are
// whole quarter-turns, because a crew counts in quarters and halves and never finer; a nominal
// size is quarter inches, because US sizes are inches (2 1/4 exists) and a DN maps onto one.
// The screen speaks US units or metric by the project's setting.
#pragma once

#include <QString>

#include <compare>

namespace keyround {

struct Metres
{
    double value = 0;
    friend auto operator<=>(const Metres &, const Metres &) = default;
};
struct Seconds
{
    double value = 0;
    friend auto operator<=>(const Seconds &, const Seconds &) = default;
};

/// Turns of the key, in quarters: 27 turns are QuarterTurns{108}.
struct QuarterTurns
{
    int value = 0;
    [[nodiscard]] static constexpr QuarterTurns ofTurns(int turns) { return {turns * 4}; }
    [[nodiscard]] constexpr double turns() const { return value / 4.0; }
    friend auto operator<=>(const QuarterTurns &, const QuarterTurns &) = default;
};

/// A valve's or main's nominal size: 8 in is NominalSize{32}. Zero means not known.
struct NominalSize
{
    int quarterInches = 0;
    [[nodiscard]] static constexpr NominalSize ofInches(int inches) { return {inches * 4}; }
    [[nodiscard]] constexpr double inches() const { return quarterInches / 4.0; }
    [[nodiscard]] constexpr bool isKnown() const { return quarterInches > 0; }
    friend auto operator<=>(const NominalSize &, const NominalSize &) = default;
};

enum class UnitSystem { Us, Metric };

inline constexpr double metresPerFoot = 0.3048;                ///< international foot, exact
inline constexpr double metresPerSurveyFoot = 1200.0 / 3937.0; ///< US survey foot, exact
inline constexpr double metresPerMile = 1609.344;

/// "27", "26 1/2": turns as a crew says them.
[[nodiscard]] QString turnsText(QuarterTurns turns);
/// "8 in" or "DN 200"; empty when not known.
[[nodiscard]] QString sizeText(NominalSize size, UnitSystem units);
/// The DN that goes with a nominal size (ISO 6708 names; the pairs of common practice).
[[nodiscard]] int dnOf(NominalSize size);
/// The size whose DN this is; unknown when no pair has it.
[[nodiscard]] NominalSize sizeOfDn(int dn);
/// Short lengths in ft or m, long ones in mi or km.
[[nodiscard]] QString lengthText(Metres length, UnitSystem units);
/// "2 h 05", "14 min", "40 s".
[[nodiscard]] QString durationText(Seconds duration);

} // namespace keyround
