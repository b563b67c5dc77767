// SPDX-License-Identifier: GPL-3.0-or-later
// From sentences to fixes that can be believed: what a receiver says, one sentence after the other,
// becomes the last good fix and whether the receiver still has one.
//
// Held against it: a sentence that says "no fix" though it carries a place (a void RMC, a GGA of
// quality 0, which Qt reads as 0 north 0 east); two sentences of one second that disagree; the same
// second told again and again by a receiver that stands still inside; a jump no truck can make,
// until the new place has held for some seconds.
#pragma once

#include "core/fieldlog/fix.h"
#include "core/fieldlog/nmea.h"

namespace keyround {

/// One GGA or RMC: its words, and the place that was read from it where it has one.
struct FixReading
{
    NmeaFixWords words;
    std::optional<GeoPoint> place;
    std::optional<double> speed;   ///< metres a second
    std::optional<double> heading; ///< degrees from true north
    QDate date;                    ///< null where the sentence has none
};

class FixTrack
{
public:
    enum class Outcome {
        Fix,       ///< last() is this place
        NoFix,     ///< the receiver says that it has none
        Repeated,  ///< of a second that was told before: no news
        Disagrees, ///< with the other sentence of its second: neither is taken
        Jumped,    ///< too far for the time: waits until it holds
        Unusable,  ///< without time or place
    };

    explicit FixTrack(FixSource source, FixRules rules = {}) : m_source(source), m_rules(rules) {}

    Outcome take(const FixReading &reading, const Moment &now, std::int64_t steadyNow);
    /// A fix from elsewhere (the system's source) that is a whole already.
    Outcome take(PositionFix fix);

    [[nodiscard]] const std::optional<PositionFix> &last() const { return m_last; }
    /// False once the receiver has said that it has no fix, until it has one again.
    [[nodiscard]] bool says() const { return m_says; }
    [[nodiscard]] FixState state(std::int64_t steadyNow) const
    {
        return stateOf(m_last, m_says, steadyNow, m_rules);
    }

private:
    /// What was told of one second of the receiver's day.
    struct Second
    {
        QTime time;
        std::optional<GeoPoint> gga;
        std::optional<GeoPoint> rmc;
        bool isVoid = false;
        PositionFix fix;
    };

    [[nodiscard]] static Second secondAt(const QTime &time);
    [[nodiscard]] Outcome admit(const PositionFix &fix);
    [[nodiscard]] bool isJump(const PositionFix &from, const PositionFix &to) const;
    void addTo(Second &second, const FixReading &reading) const;

    FixSource m_source;
    FixRules m_rules;
    Second m_second;
    QDate m_date; ///< of the newest RMC
    std::optional<PositionFix> m_last;
    std::optional<PositionFix> m_before;  ///< the last one before the second under way
    std::optional<PositionFix> m_suspect; ///< first fix of a place that was jumped to
    std::optional<PositionFix> m_suspectNewest;
    bool m_says = true;
};

[[nodiscard]] QString wordFor(FixTrack::Outcome outcome);

} // namespace keyround
