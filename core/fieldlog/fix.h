// SPDX-License-Identifier: GPL-3.0-or-later
// A position fix: a place as a receiver told it, how good it is, and how old. A fix is current only
// for a few seconds after it arrived; an old or lost one keeps its place for people to read and is
// never taken for where the laptop is now.
//
// Ages are counted on a clock that never steps (milliseconds since some start, handed in), not on
// the laptop's wall clock, which can be set back. Places are WGS 84.
#pragma once

#include "core/common/clock.h"
#include "core/common/units.h"
#include "core/geo/point.h"

#include <QString>

#include <optional>

namespace keyround {

/// How a fix was come by. The kinds are those of the GGA sentence's quality figure (NMEA 0183;
/// meanings read in receivers' published descriptions of that sentence, not in the standard).
enum class FixQuality {
    NotSaid,      ///< the source does not say
    Satellite,    ///< 1
    Differential, ///< 2
    Precise,      ///< 3
    RtkFixed,     ///< 4
    RtkFloat,     ///< 5
    DeadReckoned, ///< 6: carried on from an earlier fix, not measured
    Manual,       ///< 7: typed into the receiver
    Simulated,    ///< 8
};
[[nodiscard]] QString wordFor(FixQuality quality); ///< "satellite fix"
[[nodiscard]] QString keyFor(FixQuality quality);  ///< "rtk_fixed": storage and JSON
[[nodiscard]] std::optional<FixQuality> fixQualityFromKey(const QString &key);
/// From GGA's figure; empty for 0 (no fix) and for figures that do not exist.
[[nodiscard]] std::optional<FixQuality> fixQualityFromGga(int figure);
/// From RMC's mode letter (A D P R F E M S); empty for N (no fix) and unknown letters.
[[nodiscard]] std::optional<FixQuality> fixQualityFromMode(char letter);
/// False for dead reckoning, typed and simulated places: no evidence of where the lid is.
[[nodiscard]] bool isMeasured(FixQuality quality);

enum class FixSource { Receiver, Log, System };
[[nodiscard]] QString wordFor(FixSource source);
[[nodiscard]] QString keyFor(FixSource source); ///< "log": storage and JSON
[[nodiscard]] std::optional<FixSource> fixSourceFromKey(const QString &key);

struct PositionFix
{
    GeoPoint place;
    FixQuality quality = FixQuality::NotSaid;
    std::optional<double> hdop; ///< horizontal dilution of precision
    std::optional<int> satellites;
    /// Radius that the source claims, or estimated by estimatedAccuracy().
    std::optional<Metres> accuracy;
    std::optional<double> speed;   ///< metres a second over ground
    std::optional<double> heading; ///< degrees from true north; only while moving
    Moment at;                     ///< the laptop's wall clock when it arrived
    std::int64_t arrived = 0;      ///< the same on the steady clock, milliseconds
    QDateTime receiverTime;        ///< UTC; null where not said or not to be believed
    FixSource source = FixSource::Receiver;
};

/// HDOP times a range error for the quality: 5 m satellite, 2 m differential and precise, 0.5 m and
/// 0.05 m with RTK (common practice, no source). Empty without HDOP and for places not measured.
[[nodiscard]] std::optional<Metres> estimatedAccuracy(FixQuality quality,
                                                      const std::optional<double> &hdop);

enum class FixState {
    NoReceiver, ///< none is set up
    Waiting,    ///< set up; no fix so far
    Current,
    Old,  ///< no fix for some seconds
    Lost, ///< the receiver says it has none, or nothing has come for long
};
[[nodiscard]] QString wordFor(FixState state);

struct FixRules
{
    Seconds current{5};       ///< a receiver that tells once a second may miss a few
    Seconds lost{60};         ///< from then on the fix is called lost
    double jumpSpeed = 60;    ///< metres a second; a truck is slower
    Metres jumpFree{50};      ///< shorter jumps are scatter
    Metres agreement{30};     ///< between two sentences of one second
    Seconds timeToBelieve{2}; ///< a new place after a jump must hold so long
};

/// Zero for a fix from the future (cannot be on a steady clock).
[[nodiscard]] Seconds ageOf(const PositionFix &fix, std::int64_t steadyNow);

/// The state with a source set up: `says` is false once the source has said that it has no fix.
[[nodiscard]] FixState stateOf(const std::optional<PositionFix> &last, bool says,
                               std::int64_t steadyNow, const FixRules &rules = {});

/// "satellite fix, 9 satellites, about 15 ft, 2 s old"
[[nodiscard]] QString wordsFor(const PositionFix &fix, std::int64_t steadyNow, UnitSystem units);

/// The date that a two-digit year means: satellite navigation began in 1980, so 80 to 99 are the
/// last century (Qt 6.4 reads 94 as 2094).
[[nodiscard]] QDate receiverDate(const QDate &read);

} // namespace keyround
