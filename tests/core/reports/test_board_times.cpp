// SPDX-License-Identifier: GPL-3.0-or-later
// The years that a board report can be about, and which is offered first.
#include "core/reports/board_times.h"

#include <QtTest>

using namespace keyround;

class TestBoardTimes : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void untilTheEndOfMarchTheYearBefore()
    {
        for (const QDate &today : {QDate(2026, 1, 1), QDate(2026, 3, 31)}) {
            const BoardTimes times = boardTimes(QDate(2019, 7, 4), today);
            QCOMPARE(times.years.size(), std::size_t{8});
            QCOMPARE(times.years[0].name, QStringLiteral("2026 so far"));
            QCOMPARE(times.years[0].span.to, today);
            QCOMPARE(times.years.back().span.from, QDate(2019, 1, 1));
            const BoardTime &usual = times.years[times.usual];
            QCOMPARE(usual.name, QStringLiteral("2025"));
            QCOMPARE(usual.span.from, QDate(2025, 1, 1));
            QCOMPARE(usual.span.to, QDate(2025, 12, 31));
            QVERIFY(usual.words.contains(QStringLiteral("the whole year")));
            QVERIFY(times.why.contains(QStringLiteral("March")));
        }
    }

    static void fromAprilOnThisYearSoFar()
    {
        const BoardTimes times = boardTimes(QDate(2019, 7, 4), QDate(2026, 4, 1));
        const BoardTime &usual = times.years[times.usual];
        QCOMPARE(usual.name, QStringLiteral("2026 so far"));
        QCOMPARE(usual.span.from, QDate(2026, 1, 1));
        QCOMPARE(usual.span.to, QDate(2026, 4, 1));
        // On its last day the year is whole.
        QCOMPARE(boardTimes(QDate(2026, 1, 5), QDate(2026, 12, 31)).years[0].name,
                 QStringLiteral("2026"));
    }

    static void noVisitBeforeThisYear()
    {
        for (const QDate &first : {QDate(), QDate(2026, 1, 8), QDate(2027, 1, 8)}) {
            const BoardTimes times = boardTimes(first, QDate(2026, 2, 1));
            QCOMPARE(times.years.size(), std::size_t{1});
            QCOMPARE(times.usual, std::size_t{0});
            QVERIFY(times.why.contains(QStringLiteral("No visit")));
        }
    }
};

QTEST_GUILESS_MAIN(TestBoardTimes)
#include "test_board_times.moc"
