// SPDX-License-Identifier: GPL-3.0-or-later
// Moments and order. A moment keeps the wall clock as UTC with the zone's offset, for people; the
// hybrid logical clock (Kulkarni et al. 2014) orders rows of several laptops even when a wall
// clock is wrong. Nothing in core reads the machine's clock: callers hand the moment in.
#pragma once

#include <QDateTime>

#include <compare>
#include <cstdint>

namespace keyround {

/// A point in time as the laptop's clock told it.
struct Moment
{
    std::int64_t utcMilliseconds = 0; ///< since 1970-01-01T00:00:00Z
    int offsetSeconds = 0;            ///< east of UTC is positive

    [[nodiscard]] bool isNull() const { return utcMilliseconds == 0; }
    [[nodiscard]] QDateTime local() const;
    [[nodiscard]] QDate localDate() const; ///< cheap: asked a million times for one figure
    [[nodiscard]] static Moment from(const QDateTime &dateTime);
    /// ISO 8601 with the offset, to the millisecond; and back (null when it is no time).
    [[nodiscard]] QString iso() const;
    [[nodiscard]] static Moment fromIso(const QString &text);

    friend auto operator<=>(const Moment &, const Moment &) = default;
};

/// 48 bits of milliseconds and 16 bits of counter in one number; larger is later.
struct HybridTime
{
    std::uint64_t value = 0;

    [[nodiscard]] std::int64_t milliseconds() const
    {
        return static_cast<std::int64_t>(value >> 16U);
    }
    friend auto operator<=>(const HybridTime &, const HybridTime &) = default;
};

/// The stamp for a new row, later than every stamp seen, and near the wall clock when that is
/// right.
[[nodiscard]] HybridTime nextHybridTime(HybridTime lastSeen, std::int64_t wallMilliseconds);

/// Where the program takes the time from; tests hand in one that stands still.
class Clock
{
public:
    Clock() = default;
    Clock(const Clock &) = delete;
    Clock &operator=(const Clock &) = delete;
    virtual ~Clock() = default;
    [[nodiscard]] virtual Moment now() const = 0;
};

class SystemClock final : public Clock
{
public:
    [[nodiscard]] Moment now() const override;
};

/// A clock that shows what it was told.
class FixedClock final : public Clock
{
public:
    explicit FixedClock(Moment moment) : m_moment(moment) {}
    [[nodiscard]] Moment now() const override { return m_moment; }
    void set(Moment moment) { m_moment = moment; }
    void advanceSeconds(std::int64_t seconds) { m_moment.utcMilliseconds += seconds * 1000; }

private:
    Moment m_moment;
};

} // namespace keyround
