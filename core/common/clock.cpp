// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/clock.h"

#include <algorithm>

namespace keyround {

QDateTime Moment::local() const
{
    return QDateTime::fromMSecsSinceEpoch(utcMilliseconds, Qt::OffsetFromUTC, offsetSeconds);
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
