// SPDX-License-Identifier: GPL-3.0-or-later
// A day worked out in time, by hand: waits for a street's hours, breaks, what is missed, and the
// figures of a plan. Without streets, 900 m are 140 s: metres times 1.4 at 9 m/s.
#include "core/dayplan/plan_figures.h"
#include "tests/core/dayplan/day_fixtures.h"

#include <QtTest>

#include <cmath>

using namespace keyround;
using namespace keyround::tests;

namespace {

DayPlan timed(const Round &day, const std::vector<StopCandidate> &stops)
{
    const auto plan = timeRound({}, day, stops, false, {});
    return plan ? *plan : DayPlan();
}

} // namespace

class DayClockTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    // Two stops of 30 min, 900 m and 1800 m out. Main Street is busy until 08:00; the break of 20
    // min may begin from 08:10 on, and is waited for.
    //   07:00:00 leave; 07:02:20 at the first; 08:00:00 work; 08:30:00 done, break until 08:50:00;
    //   08:52:20 at the second; 09:22:20 done; 280 s back: 09:27:00.
    void waitAndBreakByHand()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(10, 0));
        day.breaks = {{QTime(8, 10), QTime(9, 0), 20}};
        auto first = candidate(1, at(900, 0), 30, 2);
        first.hours = closedBetween(QTime(6, 0), QTime(8, 0));
        const DayPlan plan = timed(day, {first, candidate(2, at(1800, 0), 30, -3)});
        QCOMPARE(plan.stops.size(), std::size_t{2});
        const PlannedStop &one = plan.stops[0];
        QCOMPARE(one.arrive, QTime(7, 2, 20));
        QCOMPARE(one.begin, QTime(8, 0));
        QVERIFY(std::abs(one.waitSeconds - 3460) < 0.01);
        QCOMPARE(one.leave, QTime(8, 50)); // after the break
        QVERIFY(one.missesHours.isEmpty());
        QCOMPARE(plan.breaks.size(), std::size_t{1});
        QCOMPARE(plan.breaks[0].from, QTime(8, 30));
        QCOMPARE(plan.breaks[0].minutes, 20.0);
        QCOMPARE(plan.breaks[0].afterStop, 0);
        QVERIFY(!plan.breaks[0].isLate);
        const PlannedStop &two = plan.stops[1];
        QCOMPARE(two.arrive, QTime(8, 52, 20));
        QCOMPARE(two.begin, two.arrive);
        QCOMPARE(two.leave, QTime(9, 22, 20));
        QCOMPARE(plan.finish, QTime(9, 27));
        QVERIFY(!plan.overrunsShift);
        QVERIFY(std::abs(plan.driveSeconds - 560) < 0.01);
        QVERIFY(std::abs(plan.waitSeconds - 3460) < 0.01);
        QCOMPARE(plan.priority, 2.0); // below 0 counts as 0

        const PlanFigures figures = figuresOf(plan);
        QCOMPARE(figures.valves, 2);
        QVERIFY(std::abs(figures.driveMinutes - 560 / 60.0) < 1e-3);
        QCOMPARE(figures.workMinutes, 60.0);
        QVERIFY(std::abs(figures.waitMinutes - 3460 / 60.0) < 1e-3);
        QCOMPARE(figures.priority, 2.0);
        QCOMPARE(figures.finish, QTime(9, 27));
        // The day adds up: driving, work, waiting and the break fill it from begin to finish.
        QVERIFY(std::abs(figures.driveMinutes + figures.workMinutes + figures.waitMinutes + 20 -
                         147.0) < 0.01);
    }

    // Work of 30 min must end by 07:20 and cannot; later the street is not open before midnight.
    void reachedTooLateIsSaid()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(9, 0));
        auto stop = candidate(1, at(900, 0), 30, 1);
        stop.hours = closedBetween(QTime(7, 20), QTime(0, 0));
        const DayPlan plan = timed(day, {stop});
        QCOMPARE(plan.stops[0].begin, QTime(7, 2, 20)); // worked at once
        QCOMPARE(plan.stops[0].missesHours,
                 QStringLiteral("Work from 07:02 to 07:32 lies in busy hours: 07:20-00:00 on Main "
                                "Street, every day."));
        QCOMPARE(plan.notes.filter(plan.stops[0].missesHours).size(), 1);
    }

    // 07:00 to 08:00 are open, and the work takes 57 min: reached at 07:02:20 it still fits; one
    // minute more and it does not.
    void hoursAreForTheWorkNotItsBeginning()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(9, 0));
        auto stop = candidate(1, at(900, 0), 57, 1);
        stop.hours = closedBetween(QTime(8, 0), QTime(20, 0));
        QVERIFY(timed(day, {stop}).stops[0].missesHours.isEmpty());
        stop.minutes = 58;
        const DayPlan later = timed(day, {stop});
        QVERIFY(later.stops[0].missesHours.isEmpty());
        QCOMPARE(later.stops[0].begin, QTime(20, 0)); // waits, and the shift is overrun
        QVERIFY(later.overrunsShift);
    }

    void longerThanEveryOpenStretchIsSaid()
    {
        const Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(9, 0));
        auto stop = candidate(1, at(900, 0), 70, 1);
        BusyHours rule;
        rule.from = QTime(8, 0);
        rule.to = QTime(0, 0);
        BusyHours early;
        early.from = QTime(0, 0);
        early.to = QTime(7, 0);
        stop.hours = workHours({rule, early}, {}, StreetClass::Unknown, monday);
        const DayPlan plan = timed(day, {stop});
        QVERIFY(plan.stops[0].missesHours.startsWith(
            QStringLiteral("Its 70 min are longer than any time that busy hours leave open")));
        early.to = QTime(8, 0);
        stop.hours = workHours({rule, early}, {}, StreetClass::Unknown, monday);
        QVERIFY(timed(day, {stop})
                    .stops[0]
                    .missesHours.startsWith(
                        QStringLiteral("Busy hours leave no time for work here on this day")));
    }

    void lateBreakIsSaid()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(10, 0));
        day.breaks = {{QTime(7, 10), QTime(7, 20), 15}};
        const DayPlan plan = timed(day, {candidate(1, at(900, 0), 60, 1)});
        // Before the first stop it is in time: the crew waits ten minutes for it.
        QCOMPARE(plan.breaks[0].afterStop, -1);
        QVERIFY(!plan.breaks[0].isLate);
        day.breaks = {{QTime(6, 0), QTime(6, 30), 15}};
        const DayPlan late = timed(day, {candidate(1, at(900, 0), 60, 1)});
        QVERIFY(late.breaks[0].isLate);
        QVERIFY(late.notes.join(QLatin1Char(' ')).contains(QStringLiteral("later than 06:30")));
    }

    // A round that is over before its break does not take it.
    void breakAfterTheRoundFallsAway()
    {
        Round day = dayFrom(at(0, 0), QTime(7, 0), QTime(15, 0));
        day.breaks = {{QTime(11, 30), QTime(13, 0), 30}};
        QVERIFY(timed(day, {candidate(1, at(900, 0), 60, 1)}).breaks.empty());
    }
};

QTEST_GUILESS_MAIN(DayClockTest)
#include "test_day_clock.moc"
