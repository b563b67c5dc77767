// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/clock.h"

#include <QTest>
#include <QTimeZone>

#include <rapidcheck.h>

using namespace keyround;

class TestClock : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void momentKeepsTheOffset();
    void isoComesBack();
    void textThatIsNoTime();
    void stampsRiseAndStayNear();
    void stampsOfTwoLaptops();
    void fixedClockStandsStill();
};

void TestClock::momentKeepsTheOffset()
{
    // RFC 9562 appendix A.6 names this instant: 2022-02-22T14:22:22-05:00.
    const Moment moment{1645557742000, -5 * 3600};
    QCOMPARE(moment.iso(), QStringLiteral("2022-02-22T14:22:22.000-05:00"));
    QCOMPARE(moment.localDate(), QDate(2022, 2, 22));
    // Near midnight the day is the yard's, not that of UTC.
    const Moment late{1645586542000, -5 * 3600}; // 22:22:22 in the yard, 03:22:22 next day in UTC
    QCOMPARE(late.localDate(), QDate(2022, 2, 22));
    QCOMPARE(late.local().toUTC().date(), QDate(2022, 2, 23));
    QVERIFY(Moment().isNull());
}

void TestClock::isoComesBack()
{
    QVERIFY(rc::check("a moment's text reads back the same", [] {
        const Moment moment{*rc::gen::inRange<std::int64_t>(1, 4102444800000), // to the year 2100
                            *rc::gen::inRange(-14 * 4, 14 * 4 + 1) * 900};
        const Moment read = Moment::fromIso(moment.iso());
        RC_ASSERT(read == moment);
    }));
}

void TestClock::textThatIsNoTime()
{
    for (const char *text : {"", "yesterday", "2022-02-30T10:00:00.000Z", "2022-02-22T25:00:00"}) {
        QVERIFY2(Moment::fromIso(QString::fromLatin1(text)).isNull(), text);
    }
}

// Kulkarni, Demirbas, Madappa, Avva, Leone: Logical Physical Clocks (OPODIS 2014): a stamp is
// later than all that was seen, never behind the wall clock, and ahead of the highest wall clock
// by no more than the events counted.
void TestClock::stampsRiseAndStayNear()
{
    QVERIFY(rc::check("stamps rise and stay near the highest wall clock", [] {
        const auto walls = *rc::gen::container<std::vector<std::int64_t>>(
            rc::gen::inRange<std::int64_t>(1750000000000, 1750000000010));
        HybridTime last;
        std::int64_t highest = 0;
        for (const std::int64_t wall : walls) {
            const HybridTime next = nextHybridTime(last, wall);
            highest = std::max(highest, wall);
            RC_ASSERT(next > last);
            RC_ASSERT(next.milliseconds() >= wall);
            RC_ASSERT(next.milliseconds() ==
                      highest); // fewer than 65 536 events in one millisecond
            last = next;
        }
    }));
    QCOMPARE(nextHybridTime({}, 1750000000000).milliseconds(), std::int64_t{1750000000000});
    QVERIFY(nextHybridTime({}, -5) > HybridTime{}); // a clock before 1970 does no harm
}

void TestClock::stampsOfTwoLaptops()
{
    // B's clock is an hour behind; what it writes after reading A's row still comes later.
    const HybridTime a = nextHybridTime({}, 1750003600000);
    const HybridTime b = nextHybridTime(a, 1750000000000);
    QVERIFY(b > a);
    QCOMPARE(b.milliseconds(), a.milliseconds());
    // A counter that is full runs into the next millisecond.
    const HybridTime full{(std::uint64_t{1750000000000} << 16U) | 0xFFFFU};
    QCOMPARE(nextHybridTime(full, 1750000000000).milliseconds(), std::int64_t{1750000000001});
}

void TestClock::fixedClockStandsStill()
{
    FixedClock clock(Moment{1000, 0});
    QVERIFY(clock.now() == clock.now());
    clock.advanceSeconds(2);
    QCOMPARE(clock.now().utcMilliseconds, std::int64_t{3000});
    QVERIFY(!SystemClock().now().isNull());
}

QTEST_GUILESS_MAIN(TestClock)
#include "test_clock.moc"
