// SPDX-License-Identifier: GPL-3.0-or-later
// The backlog over the coming days: crews, skills, days off, dates, hours, what people were told,
// and drawing up again. On an invented place without streets.
#include "core/dayplan/coming_days.h"
#include "tests/core/dayplan/day_fixtures.h"

#include <QSet>
#include <QtTest>

#include <random>

using namespace keyround;
using namespace keyround::tests;

namespace {

const QString large = QStringLiteral("large valves");

BacklogCandidate backlogValve(unsigned number, GeoPoint place, double minutes, double priority)
{
    return {candidate(number, place, minutes, priority), {}, StreetClass::Residential};
}

std::vector<BacklogCandidate> thrown(unsigned count, unsigned seed)
{
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> metres(-4000.0, 4000.0);
    std::uniform_int_distribution<int> level(0, 5);
    std::vector<BacklogCandidate> made;
    for (unsigned i = 0; i < count; ++i) {
        const double x = metres(random);
        made.push_back(backlogValve(i, at(x, metres(random)), 25, level(random)));
    }
    return made;
}

CrewDayRequest dayOf(const Crew &crew, const QDate &date, QTime to = QTime(11, 0))
{
    CrewDayRequest day;
    day.round = dayFrom(at(0, 0), QTime(7, 0), to);
    day.round.date = date;
    day.round.crew = crew.name;
    day.skills = crew.skills;
    return day;
}

Crew crewOf(const QString &name, const QStringList &skills = {}, const QList<QDate> &off = {})
{
    Crew crew;
    crew.name = name;
    crew.skills = skills;
    crew.daysOff = off;
    return crew;
}

/// Two crews over a week: A has Wednesday off, B can do large valves.
ComingDaysRequest week(unsigned valves)
{
    ComingDaysRequest request;
    const Crew a = crewOf(QStringLiteral("A"), {}, {monday.addDays(2)});
    const Crew b = crewOf(QStringLiteral("B"), {QStringLiteral("Large Valves")});
    for (int i = 0; i < 5; ++i) {
        const QDate date = monday.addDays(i);
        for (const Crew &crew : {a, b}) {
            if (worksOn(crew, date)) {
                request.days.push_back(dayOf(crew, date));
            }
        }
    }
    request.backlog = thrown(valves, 7);
    for (unsigned i = 0; i < valves; i += 6) {
        request.backlog[i].stop.skills = {large};
    }
    request.effort = 20;
    return request;
}

/// Where each valve is; -1 for one that is left out. Valves twice or nowhere make it fail.
QHash<ValveId, int> placesOf(const ComingDays &days, std::size_t expected)
{
    QHash<ValveId, int> places;
    std::size_t count = 0;
    for (std::size_t i = 0; i < days.days.size(); ++i) {
        for (const ValveId &valve : days.days[i].round.stops) {
            places.insert(valve, static_cast<int>(i));
            ++count;
        }
    }
    for (const LeftOut &left : days.leftOut) {
        places.insert(left.valve, -1);
        ++count;
    }
    return count == expected && static_cast<std::size_t>(places.size()) == expected
               ? places
               : QHash<ValveId, int>();
}

QString reasonIn(const ComingDays &days, const ValveId &valve)
{
    DayPlan all;
    all.leftOut = days.leftOut;
    return reasonOf(all, valve);
}

} // namespace

class ComingDaysTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void twoCrewsOverAWeek()
    {
        const ComingDaysRequest request = week(60);
        QCOMPARE(request.days.size(), std::size_t{9}); // A is off on Wednesday
        const auto days = planComingDays({}, request, {});
        QVERIFY2(days, days ? "" : qPrintable(days.error().message));
        QCOMPARE(days->days.size(), request.days.size());
        const auto places = placesOf(*days, 60);
        QCOMPARE(places.size(), 60);
        double priority = 0;
        for (const ComingDay &day : days->days) {
            QVERIFY(!day.plan.overrunsShift);
            QCOMPARE(idsOf(day.plan), day.round.stops);
            QVERIFY(day.plan.leastDriveSeconds <= day.plan.driveSeconds + 1e-6);
            priority += day.plan.priority;
        }
        QCOMPARE(days->priority, priority);
        QCOMPARE(days->moved, 0);
        for (unsigned i = 0; i < 60; i += 6) { // large valves: B's or nobody's
            const int day = places.value(valveId(i));
            QVERIFY(day < 0 ||
                    days->days[static_cast<std::size_t>(day)].round.crew == QStringLiteral("B"));
        }
        // 9 days of 4 hours at 25 minutes hold at most 81 stops, and 60 of them fit with driving.
        QVERIFY(days->leftOut.size() <= 2);
    }

    // What is worth twice as much is never left out for less when there are too many; each that is
    // left out says what lets it in.
    void tooManyLeavesTheLeastOut()
    {
        ComingDaysRequest request = week(60);
        request.days.resize(2);
        QHash<ValveId, double> priorities;
        for (BacklogCandidate &valve : request.backlog) {
            valve.stop.skills.clear();
            priorities.insert(valve.stop.valve, valve.stop.priority);
        }
        const auto days = planComingDays({}, request, {});
        QVERIFY(days);
        QCOMPARE(placesOf(*days, 60).size(), 60);
        QVERIFY(days->leftOut.size() > 30);
        double most = 0;
        for (const LeftOut &left : days->leftOut) {
            most = std::max(most, priorities.value(left.valve));
            QVERIFY2(left.reason.contains(QStringLiteral("more on 2026-05-04")),
                     qPrintable(left.reason));
        }
        for (const ComingDay &day : days->days) {
            for (const ValveId &valve : day.round.stops) {
                QVERIFY(priorities.value(valve) + 0.1 > (most + 0.1) / 2);
            }
        }
    }

    void barsAndDates()
    {
        ComingDaysRequest request;
        for (int i = 0; i < 5; ++i) {
            request.days.push_back(dayOf(crewOf(QStringLiteral("A")), monday.addDays(i)));
        }
        for (unsigned i = 1; i <= 8; ++i) {
            request.backlog.push_back(backlogValve(i, at(100.0 * i, 0), 20, 1));
        }
        auto stop = [&](std::size_t i) -> StopCandidate & { return request.backlog[i - 1].stop; };
        stop(1).heldBy = QStringLiteral("Notice not given.");
        stop(2).skills = {large};
        stop(3).notBefore = monday.addDays(3);
        stop(4).notBefore = monday.addDays(9);
        stop(5).place = {};
        stop(6).minutes = 300; // a shift has 240
        request.backlog[6].street = QStringLiteral("Main Street");
        request.backlog[7].street = QStringLiteral("Oak Street");
        BusyHours rule;
        rule.street = QStringLiteral("MAIN street");
        rule.weekdays = {1, 2, 3, 4};
        rule.from = QTime(0, 0);
        rule.to = QTime(23, 59);
        BusyHours always = rule;
        always.street = QStringLiteral("Oak Street");
        always.weekdays = {};
        request.busyHours = {rule, always};
        const auto days = planComingDays({}, request, {});
        QVERIFY(days);
        const auto places = placesOf(*days, 8);
        QCOMPARE(places.size(), 8);
        QCOMPARE(reasonIn(*days, valveId(1)), QStringLiteral("Notice not given."));
        QCOMPARE(reasonIn(*days, valveId(2)), QStringLiteral("Needs a crew with: large valves."));
        QVERIFY(places.value(valveId(3)) >= 3);
        QVERIFY(reasonIn(*days, valveId(4)).startsWith(QStringLiteral("Not before 2026-05-13")));
        QVERIFY(reasonIn(*days, valveId(5)).contains(QStringLiteral("no place")));
        QVERIFY2(reasonIn(*days, valveId(6)).contains(QStringLiteral("longer than a whole shift")),
                 qPrintable(reasonIn(*days, valveId(6))));
        QCOMPARE(places.value(valveId(7)), 4); // Friday alone is open
        QVERIFY2(reasonIn(*days, valveId(8)).contains(QStringLiteral("on Oak Street")),
                 qPrintable(reasonIn(*days, valveId(8))));
    }

    // What people were told stays, in its order, though it is a bad one and others come; a day
    // under way is not touched at all.
    void toldAndUnderWayDaysStay()
    {
        ComingDaysRequest request = week(40);
        Round &told = request.days[2].round;
        told.isTold = true;
        told.stops = {valveId(3), valveId(20), valveId(4)};
        Round &underWay = request.days[0].round;
        underWay.state = RoundState::UnderWay;
        underWay.stops = {valveId(9), valveId(99), valveId(1)}; // 99 is not in the backlog
        const Round before = underWay;
        const auto days = planComingDays({}, request, {});
        QVERIFY(days);
        QCOMPARE(days->days[0].round, before);
        QCOMPARE(idsOf(days->days[0].plan), (std::vector<ValveId>{valveId(9), valveId(1)}));
        QVERIFY(days->days[0]
                    .plan.notes.join(QLatin1Char(' '))
                    .contains(QStringLiteral("1 of this day's stops")));
        std::vector<ValveId> old;
        for (const ValveId &valve : days->days[2].round.stops) {
            if (std::find(told.stops.begin(), told.stops.end(), valve) != told.stops.end()) {
                old.push_back(valve);
            }
        }
        QCOMPARE(old, told.stops);
        QVERIFY(!days->days[2].plan.overrunsShift);
        QCOMPARE(placesOf(*days, 41).size(), 41);
    }

    // A told day that has become impossible keeps its stops, and says what it overruns.
    void toldStaysThoughImpossible()
    {
        ComingDaysRequest request;
        for (int i = 0; i < 2; ++i) {
            request.days.push_back(dayOf(crewOf(QStringLiteral("A")), monday.addDays(i)));
        }
        request.days[0].round.isTold = true;
        request.days[0].round.stops = {valveId(1), valveId(2), valveId(99)};
        request.backlog = {backlogValve(1, at(100, 0), 300, 1), backlogValve(2, at(200, 0), 20, 1)};
        const auto days = planComingDays({}, request, {});
        QVERIFY(days);
        QCOMPARE(days->days[0].round.stops, request.days[0].round.stops);
        QVERIFY(days->days[0].plan.overrunsShift);
        QVERIFY(days->leftOut.empty());
    }

    // Monday is over: half of its stops were not done. They come again, and the days that were
    // drawn up before keep most of what they had.
    void unfinishedStopsFlowBack()
    {
        ComingDaysRequest request = week(60);
        const auto first = planComingDays({}, request, {});
        QVERIFY(first);
        QSet<ValveId> done;
        std::vector<ValveId> unfinished;
        ComingDaysRequest next = request;
        next.days.clear();
        next.backlog.clear();
        for (std::size_t i = 0; i < first->days.size(); ++i) {
            const Round &round = first->days[i].round;
            if (round.date == monday) {
                for (std::size_t k = 0; k < round.stops.size(); ++k) {
                    if (k % 2 == 0) {
                        done.insert(round.stops[k]);
                    } else {
                        unfinished.push_back(round.stops[k]);
                    }
                }
                continue;
            }
            next.days.push_back(request.days[i]);
            next.days.back().round = round;
        }
        for (const BacklogCandidate &valve : request.backlog) {
            if (!done.contains(valve.stop.valve)) {
                next.backlog.push_back(valve);
            }
        }
        const auto second = planComingDays({}, next, {});
        QVERIFY(second);
        const auto places = placesOf(*second, next.backlog.size());
        QVERIFY(!places.isEmpty());
        QVERIFY(!unfinished.empty());
        for (const ValveId &valve : unfinished) {
            QVERIFY(places.contains(valve));
        }
        int moved = 0;
        for (std::size_t i = 0; i < next.days.size(); ++i) {
            for (const ValveId &valve : next.days[i].round.stops) {
                const int now = places.value(valve, -1);
                moved += now >= 0 && now != static_cast<int>(i) ? 1 : 0;
            }
        }
        QCOMPARE(second->moved, moved);
        QVERIFY2(moved <= 10, qPrintable(QString::number(moved))); // of about 45
    }

    // A pair held by hand stays on its day and together.
    void heldPairStays()
    {
        ComingDaysRequest request = week(40);
        request.days[3].round.stops = {valveId(2), valveId(31)};
        request.days[3].round.heldToNext = {valveId(2)};
        const auto days = planComingDays({}, request, {});
        QVERIFY(days);
        const auto &stops = days->days[3].round.stops;
        const auto one = std::find(stops.begin(), stops.end(), valveId(2));
        QVERIFY(one != stops.end() && one + 1 != stops.end());
        QCOMPARE(*(one + 1), valveId(31));
    }

    void stoppingKeepsTheBestSoFar()
    {
        ComingDaysRequest request = week(60);
        request.effort = 2000;
        const auto atOnce =
            planComingDays({}, request, {}, [](double, const QString &) { return false; });
        QVERIFY(!atOnce);
        QCOMPARE(atOnce.error().code, ErrorCode::Cancelled);
        double last = 0;
        const auto later = planComingDays({}, request, {}, [&](double done, const QString &) {
            last = std::max(last, done);
            return done < 0.3;
        });
        QVERIFY2(later, later ? "" : qPrintable(later.error().message));
        QVERIFY(last < 0.9);
        QCOMPARE(placesOf(*later, 60).size(), 60);
    }

    void edges()
    {
        const auto nothing = planComingDays({}, {}, {});
        QVERIFY(nothing && nothing->days.empty() && nothing->leftOut.empty());
        ComingDaysRequest request;
        request.backlog = thrown(2, 1);
        const auto noDay = planComingDays({}, request, {});
        QVERIFY(noDay);
        QCOMPARE(noDay->leftOut.size(), std::size_t{2});
        request.days.push_back(dayOf(crewOf(QStringLiteral("A")), monday));
        request.days[0].round.start = {};
        const auto bad = planComingDays({}, request, {});
        QVERIFY(!bad);
        QVERIFY(bad.error().message.startsWith(QStringLiteral("2026-05-04, A: ")));
    }

    void sameInputSamePlan()
    {
        const ComingDaysRequest request = week(40);
        const auto a = planComingDays({}, request, {});
        const auto b = planComingDays({}, request, {});
        QVERIFY(a && b);
        for (std::size_t i = 0; i < a->days.size(); ++i) {
            QCOMPARE(a->days[i].round.stops, b->days[i].round.stops);
        }
    }
};

QTEST_GUILESS_MAIN(ComingDaysTest)
#include "test_coming_days.moc"
