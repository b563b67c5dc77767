// SPDX-License-Identifier: GPL-3.0-or-later
// Days thrown by dice: what must hold of every plan, whatever went in.
#include "core/dayplan/held_stops.h"
#include "tests/core/dayplan/day_fixtures.h"
#include "tests/support/grid_town.h"

#include <QRegularExpression>
#include <QtTest>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

using namespace keyround;
using namespace keyround::tests;

namespace {

/// A town of blocks, and stops thrown onto it.
struct RandomDay
{
    DriveGraph graph;
    Round day;
    std::vector<StopCandidate> candidates;
};

RandomDay randomDay(unsigned seed, std::size_t count, int shiftMinutes, bool streets)
{
    RandomDay made;
    if (streets) {
        const auto rule = JunctionRule::SharedNodes;
        made.graph = DriveGraph::build(gridTown(14, 14, 0.3, 0.1, rule, seed).streets);
    }
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> metres(0.0, 1300.0);
    std::uniform_int_distribution<int> level(0, 4);
    std::uniform_real_distribution<double> minutes(4.0, 45.0);
    const auto anywhere = [&] {
        const double x = metres(random);
        return at(x, metres(random));
    };
    made.day = dayFrom(anywhere(), QTime(7, 0), QTime(7, 0).addSecs(shiftMinutes * 60));
    made.day.finish = anywhere();
    for (unsigned i = 0; i < count; ++i) {
        const GeoPoint place = i % 17 == 16 ? GeoPoint{} : anywhere();
        made.candidates.push_back(candidate(i, place, minutes(random), level(random)));
    }
    return made;
}

/// Hours for a third of the stops, a break or two, some stops that must go, some held and pinned.
void complicate(RandomDay &input, unsigned seed)
{
    std::mt19937 random(seed);
    const auto oneIn = [&](unsigned n) { return random() % n == 0; };
    const auto time = [&](int from, int to) {
        return QTime(0, 0).addSecs(
            60 * (from + static_cast<int>(random() % static_cast<unsigned>(to - from))));
    };
    for (StopCandidate &stop : input.candidates) {
        if (oneIn(3)) {
            const QTime from = time(6 * 60, 12 * 60);
            stop.hours =
                closedBetween(from, from.addSecs(60 * (20 + static_cast<int>(random() % 200))));
        }
        stop.mustGo = oneIn(10);
        if (stop.place.isValid() && oneIn(3)) {
            input.day.stops.push_back(stop.valve);
        }
    }
    for (int breaks = static_cast<int>(random() % 3); breaks > 0; --breaks) {
        const QTime earliest = time(breaks == 1 ? 600 : 450, breaks == 1 ? 700 : 540);
        input.day.breaks.insert(input.day.breaks.begin(), {earliest, earliest.addSecs(3600), 20});
    }
    std::sort(input.day.breaks.begin(), input.day.breaks.end(),
              [](const ShiftBreak &a, const ShiftBreak &b) { return a.earliest < b.earliest; });
    for (const ValveId &valve : input.day.stops) {
        if (oneIn(4)) {
            input.day.heldToNext.insert(valve);
        }
    }
    input.day.firstIsPinned = oneIn(3);
    input.day.lastIsPinned = oneIn(3);
}

/// Twenty cases are enough for one run of the tests; RC_PARAMS asks for more.
void limitCases()
{
    if (!qEnvironmentVariableIsSet("RC_PARAMS")) {
        qputenv("RC_PARAMS", "max_success=20");
    }
}

double secondsAt(const QTime &time)
{
    return time.msecsSinceStartOfDay() / 1000.0;
}

constexpr double rounding = 1.01; // two times of whole seconds

bool liesInHours(const StopCandidate &stop, const QTime &begin)
{
    if (stop.hours.closedBy.empty()) {
        return true;
    }
    return std::any_of(stop.hours.open.begin(), stop.hours.open.end(), [&](const WorkSpan &span) {
        return begin >= span.from &&
               secondsAt(begin) + stop.minutes * 60.0 <= secondsAt(span.to) + rounding;
    });
}

QString countFault(const RandomDay &input, const DayPlan &plan)
{
    std::set<QString> seen;
    for (const PlannedStop &stop : plan.stops) {
        seen.insert(stop.valve.text());
    }
    for (const LeftOut &left : plan.leftOut) {
        if (left.reason.isEmpty()) {
            return QStringLiteral("left out without a reason");
        }
        seen.insert(left.valve.text());
    }
    const bool all = seen.size() == input.candidates.size() &&
                     plan.stops.size() + plan.leftOut.size() == input.candidates.size();
    return all ? QString() : QStringLiteral("a candidate is lost or doubled");
}

/// Follows the day along its legs, waits and breaks.
QString clockFault(const RandomDay &input, const DayPlan &plan)
{
    double clock = secondsAt(input.day.shift.from);
    double metres = 0;
    double driving = 0;
    std::size_t pause = 0;
    const auto takeBreaks = [&](int after) {
        while (pause < plan.breaks.size() && plan.breaks[pause].afterStop == after) {
            const PlannedBreak &taken = plan.breaks[pause];
            const ShiftBreak &wanted = input.day.breaks[pause];
            if (taken.from < wanted.earliest || (!taken.isLate && taken.from > wanted.latest)) {
                return false;
            }
            clock = std::max(clock, secondsAt(wanted.earliest)) + taken.minutes * 60.0;
            ++pause;
        }
        return true;
    };
    if (!takeBreaks(-1)) {
        return QStringLiteral("a break lies outside of its time");
    }
    for (std::size_t i = 0; i < plan.stops.size(); ++i) {
        const PlannedStop &stop = plan.stops[i];
        clock += stop.driveSeconds;
        if (std::abs(secondsAt(stop.arrive) - clock) > 0.51) {
            return QStringLiteral("arrives at another time than the driving says");
        }
        clock += stop.waitSeconds;
        if (std::abs(secondsAt(stop.begin) - clock) > 0.51) {
            return QStringLiteral("begins at another time than the wait says");
        }
        clock += stop.stopMinutes * 60.0;
        if (!takeBreaks(static_cast<int>(i))) {
            return QStringLiteral("a break lies outside of its time");
        }
        if (std::abs(secondsAt(stop.leave) - clock) > 0.51) {
            return QStringLiteral("leaves at another time than work and break say");
        }
        driving += stop.driveSeconds;
        metres += stop.driveMetres;
    }
    if (std::abs(secondsAt(plan.finish) - clock - plan.returnSeconds) > 0.51 ||
        std::abs(plan.driveSeconds - driving - plan.returnSeconds) > 1e-6 ||
        std::abs(plan.driveMetres - metres - plan.returnMetres) > 1e-6) {
        return QStringLiteral("the totals are not the sums");
    }
    if (pause != plan.breaks.size() ||
        (pause < input.day.breaks.size() && input.day.breaks[pause].earliest < plan.finish)) {
        return QStringLiteral("a break is lost");
    }
    return {};
}

/// Shift, hours and what is held by hand.
QString promiseFault(const RandomDay &input, const DayPlan &plan)
{
    const QSet<ValveId> held = heldValves(input.day);
    bool mayMiss = false; // only stops that must go may break anything
    for (const StopCandidate &stop : input.candidates) {
        const bool mustGo = stop.mustGo || held.contains(stop.valve);
        mayMiss = mayMiss || (mustGo && stop.place.isValid());
        const auto planned =
            std::find_if(plan.stops.begin(), plan.stops.end(),
                         [&](const PlannedStop &other) { return other.valve == stop.valve; });
        if (planned == plan.stops.end()) {
            if (mustGo && stop.place.isValid() &&
                !reasonOf(plan, stop.valve).startsWith(QStringLiteral("No way"))) {
                return QStringLiteral("a stop that must go is given up");
            }
            continue;
        }
        if (planned->missesHours.isEmpty() != liesInHours(stop, planned->begin)) {
            return QStringLiteral("missed hours are not said, or said for nothing");
        }
        if (!planned->missesHours.isEmpty() && !mayMiss && !mustGo) {
            return QStringLiteral("hours are missed for a stop that need not go");
        }
    }
    if (plan.finish > input.day.shift.to && !plan.overrunsShift) {
        return QStringLiteral("an overrun is not said");
    }
    if (plan.overrunsShift && !mayMiss) {
        return QStringLiteral("the shift is broken for stops that need not go");
    }
    const std::vector<ValveId> ids = idsOf(plan);
    const auto &stops = input.day.stops;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        const auto here = std::find(ids.begin(), ids.end(), stops[i]);
        if (input.day.heldToNext.contains(stops[i]) && here != ids.end() &&
            (here + 1 == ids.end() || *(here + 1) != stops[i + 1])) {
            return QStringLiteral("a held pair is broken");
        }
    }
    const auto isIn = [&](const ValveId &valve) {
        return std::find(ids.begin(), ids.end(), valve) != ids.end();
    };
    if (input.day.firstIsPinned && !stops.empty() && isIn(stops.front()) &&
        ids.front() != stops.front()) {
        return QStringLiteral("the first stop is not the pinned one");
    }
    // Where one stretch holds both, it comes first.
    const bool oneStretch =
        input.day.firstIsPinned &&
        std::all_of(stops.begin(), stops.end(), [&](const ValveId &valve) {
            return valve == stops.back() || input.day.heldToNext.contains(valve);
        });
    if (input.day.lastIsPinned && !stops.empty() && isIn(stops.back()) &&
        ids.back() != stops.back() && !oneStretch) {
        return QStringLiteral("the last stop is not the pinned one");
    }
    return {};
}

QString faultOf(const RandomDay &input, const DayPlan &plan)
{
    if (plan.leastDriveSeconds > plan.driveSeconds + 1e-6) {
        return QStringLiteral("the bound is above the plan's driving");
    }
    for (const QString &fault :
         {countFault(input, plan), clockFault(input, plan), promiseFault(input, plan)}) {
        if (!fault.isEmpty()) {
            return fault;
        }
    }
    return {};
}

} // namespace

class PlanRandomTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase() { limitCases(); }

    void everyPlanKeepsItsPromises()
    {
        const bool held = rc::check("a plan keeps shift, hours, breaks, holds and sums", [] {
            const auto seed = *rc::gen::inRange(1U, 100000U);
            const auto count = *rc::gen::inRange<std::size_t>(0, 24);
            const auto minutes = *rc::gen::inRange(15, 500);
            const auto streets = *rc::gen::arbitrary<bool>();
            RandomDay input = randomDay(seed, count, minutes, streets);
            if (*rc::gen::arbitrary<bool>()) {
                complicate(input, seed);
            }
            const auto plan = planDay(input.graph, input.day, input.candidates, {});
            RC_ASSERT(plan.has_value());
            if (plan->stops.empty() && plan->returnSeconds > minutes * 60.0) {
                return; // the way from start to finish alone is longer than the shift
            }
            RC_ASSERT(faultOf(input, *plan).toStdString() == std::string());
        });
        QVERIFY(held);
    }

    // A round in a new order: nobody is lost, holds are kept, and it is no worse.
    void reorderingKeepsItsPromises()
    {
        for (unsigned seed = 1; seed <= 5; ++seed) {
            RandomDay input = randomDay(seed, 16, 400, true);
            complicate(input, seed);
            std::vector<StopCandidate> stops;
            for (const ValveId &valve : input.day.stops) {
                stops.push_back(*std::find_if(
                    input.candidates.begin(), input.candidates.end(),
                    [&](const StopCandidate &other) { return other.valve == valve; }));
            }
            input.candidates = stops;
            const auto kept = timeRound(input.graph, input.day, stops, false, {});
            const auto better = timeRound(input.graph, input.day, stops, true, {});
            QVERIFY(kept && better);
            QCOMPARE(idsOf(*kept), input.day.stops);
            for (const DayPlan *plan : {&*kept, &*better}) {
                QVERIFY2(clockFault(input, *plan).isEmpty(), qPrintable(clockFault(input, *plan)));
                QVERIFY(plan->leastDriveSeconds <= plan->driveSeconds + 1e-6);
            }
            QCOMPARE(countFault(input, *better), QString());
            QCOMPARE(promiseFault(input, *better), QString());
            const auto missed = [](const DayPlan &plan) {
                return std::count_if(
                    plan.stops.begin(), plan.stops.end(),
                    [](const PlannedStop &stop) { return !stop.missesHours.isEmpty(); });
            };
            QVERIFY(missed(*better) + (better->overrunsShift ? 1 : 0) <=
                    missed(*kept) + (kept->overrunsShift ? 1 : 0));
        }
    }

    // What is left out of a day with slack could not have been added anywhere in the round.
    void nothingThatFitsIsLeftOut()
    {
        for (unsigned seed = 1; seed <= 2; ++seed) {
            const RandomDay input = randomDay(seed, 24, 240, true);
            const auto plan = planDay(input.graph, input.day, input.candidates, {});
            QVERIFY(plan);
            const auto candidateOf = [&](const ValveId &valve) {
                return *std::find_if(input.candidates.begin(), input.candidates.end(),
                                     [&](const StopCandidate &c) { return c.valve == valve; });
            };
            std::vector<StopCandidate> stops;
            for (const ValveId &valve : idsOf(*plan)) {
                stops.push_back(candidateOf(valve));
            }
            for (const LeftOut &left : plan->leftOut) {
                const StopCandidate missing = candidateOf(left.valve);
                for (std::size_t k = 0; missing.place.isValid() && k <= stops.size(); ++k) {
                    std::vector<StopCandidate> more = stops;
                    more.insert(more.begin() + static_cast<std::ptrdiff_t>(k), missing);
                    const auto longer = timeRound(input.graph, input.day, more, false, {});
                    QVERIFY(longer && longer->overrunsShift);
                }
            }
        }
    }

    // A day of which one stop alone is left out: with so many minutes more of shift as its reason
    // says, it is in.
    void theMinutesThatAreSaidLetItIn()
    {
        int tried = 0;
        for (unsigned seed = 1; seed <= 6; ++seed) {
            RandomDay input = randomDay(seed, 10, 900, true);
            input.day.shift.to = QTime(23, 0);
            const auto whole = planDay(input.graph, input.day, input.candidates, {});
            QVERIFY(whole && whole->leftOut.empty());
            input.day.shift.to = whole->finish.addSecs(-150);
            const auto plan = planDay(input.graph, input.day, input.candidates, {});
            QVERIFY(plan);
            if (plan->leftOut.size() != 1) {
                continue;
            }
            static const QRegularExpression words(QStringLiteral(
                "^Does not fit the shift: (\\d+) minutes? more would let it in\\.$"));
            const auto match = words.match(plan->leftOut[0].reason);
            QVERIFY2(match.hasMatch(), qPrintable(plan->leftOut[0].reason));
            const int minutes = match.captured(1).toInt();
            input.day.shift.to = input.day.shift.to.addSecs(60 * minutes);
            const auto longer = planDay(input.graph, input.day, input.candidates, {});
            QVERIFY(longer);
            QCOMPARE(longer->leftOut.size(), std::size_t{0});
            ++tried;
        }
        QVERIFY2(tried >= 3, "the dice left out more than one stop too often");
    }

    void sameInputSamePlan()
    {
        const RandomDay input = randomDay(4, 30, 300, true);
        const auto a = planDay(input.graph, input.day, input.candidates, {});
        const auto b = planDay(input.graph, input.day, input.candidates, {});
        QVERIFY(a && b);
        QCOMPARE(idsOf(*a), idsOf(*b));
    }
};

QTEST_GUILESS_MAIN(PlanRandomTest)
#include "test_plan_random.moc"
