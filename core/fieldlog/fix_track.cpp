// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/fix_track.h"

#include <algorithm>

namespace keyround {

namespace {

/// Seconds from one fix to the next by the receiver's own time, which a slow laptop or a replayed
/// log does not stretch; by arrival where the receiver tells none.
double secondsBetween(const PositionFix &from, const PositionFix &to)
{
    if (from.receiverTime.isValid() && to.receiverTime.isValid()) {
        return static_cast<double>(from.receiverTime.msecsTo(to.receiverTime)) / 1000.0;
    }
    return static_cast<double>(to.arrived - from.arrived) / 1000.0;
}

} // namespace

QString wordFor(FixTrack::Outcome outcome)
{
    switch (outcome) {
    case FixTrack::Outcome::Fix:
        return QStringLiteral("taken");
    case FixTrack::Outcome::NoFix:
        return QStringLiteral("says it has no fix");
    case FixTrack::Outcome::Repeated:
        return QStringLiteral("nothing new");
    case FixTrack::Outcome::Disagrees:
        return QStringLiteral("disagrees with the other sentence of its second: not taken");
    case FixTrack::Outcome::Jumped:
        return QStringLiteral("a jump: not taken until the place holds");
    case FixTrack::Outcome::Unusable:
        break;
    }
    return QStringLiteral("without time or place");
}

FixTrack::Second FixTrack::secondAt(const QTime &time)
{
    Second second;
    second.time = time;
    return second;
}

FixTrack::Outcome FixTrack::take(const FixReading &reading, const Moment &now,
                                 std::int64_t steadyNow)
{
    const NmeaFixWords &words = reading.words;
    if (!words.hasFix) {
        m_says = false;
        m_suspect.reset();
        if (words.time.isValid()) {
            if (m_second.time == words.time) {
                m_last = m_before; // what its other sentence brought
            }
            m_second = secondAt(words.time);
            m_second.isVoid = true;
            m_before = m_last;
        }
        return Outcome::NoFix;
    }
    if (!words.time.isValid() || !reading.place || !reading.place->isValid()) {
        return Outcome::Unusable;
    }
    if (reading.date.isValid()) {
        m_date = receiverDate(reading.date);
    }
    if (m_second.time != words.time) {
        m_second = secondAt(words.time);
        m_before = m_last;
        m_second.fix.at = now;
        m_second.fix.arrived = steadyNow;
        m_second.fix.source = m_source;
    }
    auto &told = words.quality ? m_second.gga : m_second.rmc;
    if (m_second.isVoid) {
        return Outcome::NoFix; // its other sentence said so
    }
    if (told) {
        return Outcome::Repeated;
    }
    told = reading.place;
    addTo(m_second, reading);
    if (m_second.gga && m_second.rmc &&
        distanceBetween(*m_second.gga, *m_second.rmc) > m_rules.agreement) {
        m_last = m_before; // what its first sentence brought is not to be believed either
        m_says = false;
        return Outcome::Disagrees;
    }
    return admit(m_second.fix);
}

FixTrack::Outcome FixTrack::take(PositionFix fix)
{
    if (!fix.place.isValid()) {
        return Outcome::Unusable;
    }
    fix.source = m_source;
    return admit(fix);
}

void FixTrack::addTo(Second &second, const FixReading &reading) const
{
    PositionFix &fix = second.fix;
    if (reading.words.quality) { // GGA: the better word on the fix
        fix.place = *reading.place;
        fix.quality = fixQualityFromGga(*reading.words.quality).value_or(FixQuality::NotSaid);
        fix.satellites = reading.words.satellites;
        fix.hdop = reading.words.hdop;
    } else {
        if (!second.gga) {
            fix.place = *reading.place;
            fix.quality = fixQualityFromMode(reading.words.mode).value_or(FixQuality::NotSaid);
        }
        fix.speed = reading.speed;
        constexpr double moving = 1.0; // slower, the direction is scatter
        fix.heading = reading.speed.value_or(0) >= moving ? reading.heading : std::nullopt;
    }
    fix.accuracy = estimatedAccuracy(fix.quality, fix.hdop);
    if (m_date.isValid()) {
        fix.receiverTime = QDateTime(m_date, second.time, Qt::UTC);
    }
}

bool FixTrack::isJump(const PositionFix &from, const PositionFix &to) const
{
    const double metres = distanceBetween(from.place, to.place).value;
    constexpr double shortest = 0.1; // one second told twice is no reason to divide by nothing
    const double seconds = std::max(shortest, std::abs(secondsBetween(from, to)));
    return metres > m_rules.jumpFree.value && metres / seconds > m_rules.jumpSpeed;
}

FixTrack::Outcome FixTrack::admit(const PositionFix &fix)
{
    // After a long silence the truck may be anywhere: nothing to hold the place against.
    const bool isFresh = m_last && ageOf(*m_last, fix.arrived) <= m_rules.lost;
    if (isFresh && isJump(*m_last, fix)) {
        if (!m_suspect || isJump(*m_suspectNewest, fix)) {
            m_suspect = fix;
        }
        m_suspectNewest = fix;
        if (std::abs(secondsBetween(*m_suspect, fix)) < m_rules.timeToBelieve.value) {
            return Outcome::Jumped;
        }
    }
    m_suspect.reset();
    m_suspectNewest.reset();
    m_last = fix;
    m_says = true;
    return Outcome::Fix;
}

} // namespace keyround
