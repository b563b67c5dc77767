// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/clock_check.h"

#include <QTest>

using namespace keyround;

namespace {

constexpr std::int64_t someDay = 1773661500000; // 2026-03-16T11:45:00Z
constexpr std::int64_t day = 86400000;

HybridTime stampAt(std::int64_t milliseconds)
{
    return HybridTime{static_cast<std::uint64_t>(milliseconds) << 16U};
}

} // namespace

class TestClockCheck : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void finds_data();
    void finds();
    void keysComeBack();
};

void TestClockCheck::finds_data()
{
    QTest::addColumn<qint64>("now");
    QTest::addColumn<qint64>("last"); // 0: nothing on record
    QTest::addColumn<int>("fault");
    QTest::addColumn<QString>("says");
    const auto row = [](const char *name, qint64 now, qint64 last, ClockFault fault,
                        const char *says) {
        QTest::newRow(name) << now << last << static_cast<int>(fault) << QString::fromLatin1(says);
    };
    row("a good clock", someDay + day, someDay, ClockFault::None, "");
    row("nothing on record", someDay, 0, ClockFault::None, "");
    row("the same moment", someDay, someDay, ClockFault::None, "");
    row("two minutes behind", someDay - 120000, someDay, ClockFault::None, "");
    row("a little more", someDay - 181000, someDay, ClockFault::BehindLastRecord,
        "3 minutes behind the last record");
    row("an hour behind", someDay - 3600000, someDay, ClockFault::BehindLastRecord,
        "1 hour behind");
    row("days behind", someDay - 5 * day, someDay, ClockFault::BehindLastRecord, "5 days behind");
    row("the battery was flat", 946684800000, someDay, ClockFault::BeforeProgram, "years behind");
    row("flat, and nothing on record", 946684800000, 0, ClockFault::BeforeProgram, "years behind");
    row("a season unused", someDay + 200 * day, someDay, ClockFault::None, "");
    row("a wrong year", someDay + 3660 * day, someDay, ClockFault::FarAhead,
        "10 years after the last record");
}

void TestClockCheck::finds()
{
    QFETCH(const qint64, now);
    QFETCH(const qint64, last);
    QFETCH(const int, fault);
    QFETCH(const QString, says);
    const ClockCheck check =
        checkClock(Moment{now, -5 * 3600}, last == 0 ? HybridTime{} : stampAt(last));
    QCOMPARE(static_cast<int>(check.fault), fault);
    const QString words = wordsFor(check);
    QCOMPARE(words.isEmpty(), says.isEmpty());
    QVERIFY2(words.contains(says), qPrintable(words));
    if (last != 0) {
        QCOMPARE(check.secondsAfterLast, (now - last) / 1000);
    }
}

void TestClockCheck::keysComeBack()
{
    for (const ClockFault fault :
         {ClockFault::BehindLastRecord, ClockFault::BeforeProgram, ClockFault::FarAhead}) {
        QVERIFY(!keyFor(fault).isEmpty());
        QVERIFY(clockFaultFromKey(keyFor(fault)) == fault);
    }
    QVERIFY(keyFor(ClockFault::None).isEmpty());
    QVERIFY(clockFaultFromKey(QStringLiteral("?")) == ClockFault::None);
}

QTEST_GUILESS_MAIN(TestClockCheck)
#include "test_clock_check.moc"
