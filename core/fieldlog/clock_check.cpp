// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/clock_check.h"

#include <array>
#include <cstdlib>

namespace keyround {

namespace {

struct Named
{
    ClockFault fault;
    const char *key;
};

constexpr std::array named{
    Named{ClockFault::BehindLastRecord, "behind_last_record"},
    Named{ClockFault::BeforeProgram, "before_program"},
    Named{ClockFault::FarAhead, "far_ahead"},
};

/// "3 years", "5 days", "2 hours", "4 minutes": the largest unit that counts at least two, or one.
QString span(std::int64_t seconds)
{
    struct Unit
    {
        std::int64_t seconds;
        const char *name;
    };
    static constexpr std::array units{Unit{31557600, "year"}, Unit{86400, "day"},
                                      Unit{3600, "hour"}, Unit{60, "minute"}};
    const std::int64_t length = std::abs(seconds);
    for (const Unit &unit : units) {
        if (const std::int64_t count = length / unit.seconds; count > 0) {
            return QStringLiteral("%1 %2%3").arg(count).arg(
                QLatin1String(unit.name), count == 1 ? QString() : QStringLiteral("s"));
        }
    }
    return QStringLiteral("%1 seconds").arg(length);
}

} // namespace

ClockCheck checkClock(const Moment &now, HybridTime last)
{
    ClockCheck check;
    check.now = now;
    if (last.value != 0) {
        check.secondsAfterLast = (now.utcMilliseconds - last.milliseconds()) / 1000;
    }
    if (now.local().date().year() < programYear) {
        check.fault = ClockFault::BeforeProgram;
    } else if (check.secondsAfterLast < -clockToleranceSeconds) {
        check.fault = ClockFault::BehindLastRecord;
    } else if (check.secondsAfterLast > std::int64_t{yearsUnusedAtMost} * 31557600) {
        check.fault = ClockFault::FarAhead;
    }
    return check;
}

QString wordsFor(const ClockCheck &check)
{
    const QString shown = check.now.local().toString(QStringLiteral("yyyy-MM-dd HH:mm"));
    switch (check.fault) {
    case ClockFault::None:
        break;
    case ClockFault::BehindLastRecord:
        return QStringLiteral("This computer's clock (%1) is %2 behind the last record. Set the "
                              "date and time before you record; what is recorded meanwhile is "
                              "marked as doubtful in time.")
            .arg(shown, span(check.secondsAfterLast));
    case ClockFault::BeforeProgram:
        return QStringLiteral("This computer's clock (%1) is years behind. Set the date and time "
                              "before you record; what is recorded meanwhile is marked as "
                              "doubtful in time.")
            .arg(shown);
    case ClockFault::FarAhead:
        return QStringLiteral("This computer's clock (%1) is %2 after the last record. Check the "
                              "date before you record; what is recorded meanwhile is marked as "
                              "doubtful in time.")
            .arg(shown, span(check.secondsAfterLast));
    }
    return {};
}

QString keyFor(ClockFault fault)
{
    for (const Named &one : named) {
        if (one.fault == fault) {
            return QLatin1String(one.key);
        }
    }
    return {};
}

ClockFault clockFaultFromKey(const QString &key)
{
    for (const Named &one : named) {
        if (key == QLatin1String(one.key)) {
            return one.fault;
        }
    }
    return ClockFault::None;
}

} // namespace keyround
