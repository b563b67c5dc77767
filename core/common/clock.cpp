// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/clock.h"

#include <algorithm>

namespace keyround {

QDateTime Moment::local() const
{
    return QDateTime::fromMSecsSinceEpoch(utcMilliseconds, Qt::OffsetFromUTC, offsetSeconds);
}

QDate Moment::localDate() const
{
    // By hand: a QDateTime with an offset lives on the heap.
    constexpr std::int64_t dayMilliseconds = 86'400'000;
    constexpr qint64 julianDayOf1970 = 2'440'588;
    const std::int64_t there = utcMilliseconds + std::int64_t{offsetSeconds} * 1000;
    const std::int64_t days = there / dayMilliseconds - (there % dayMilliseconds < 0 ? 1 : 0);
    return QDate::fromJulianDay(julianDayOf1970 + days);
}

Moment Moment::from(const QDateTime &dateTime)
{
    return Moment{dateTime.toMSecsSinceEpoch(), dateTime.offsetFromUtc()};
}

QString Moment::iso() const
{
    return local().toString(Qt::ISODateWithMs);
}

Moment Moment::fromIso(const QString &text)
{
    const QDateTime parsed = QDateTime::fromString(text, Qt::ISODateWithMs);
    return parsed.isValid() ? from(parsed) : Moment{};
}

HybridTime nextHybridTime(HybridTime lastSeen, std::int64_t wallMilliseconds)
{
    const std::uint64_t wall =
        static_cast<std::uint64_t>(std::max<std::int64_t>(0, wallMilliseconds)) << 16U;
    return HybridTime{std::max(wall, lastSeen.value + 1)};
}

Moment SystemClock::now() const
{
    return Moment::from(QDateTime::currentDateTime());
}

} // namespace keyround
