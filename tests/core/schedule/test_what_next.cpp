// SPDX-License-Identifier: GPL-3.0-or-later
// Risk by hand: a chance that can be worked out, times services.
#include "core/schedule/what_next.h"
#include "tests/support/small_fleet.h"

#include <QtTest>

#include <cmath>

using namespace keyround;
using test::day;

namespace {

bool isNear(double a, double b)
{
    return std::abs(a - b) < 1e-9;
}

LifeLaws withoutMemory(double scale)
{
    LifeLaws laws;
    laws.all.shape = 1;
    laws.all.scale = scale;
    laws.all.lives = 100;
    laws.all.failuresAYear = 1 / scale;
    laws.all.meanYears = 30;
    laws.all.name = QStringLiteral("all valves");
    return laws;
}

std::vector<DueEntry> dueOf(const test::SmallFleet &fleet, DueState state)
{
    std::vector<DueEntry> due;
    for (const Valve &valve : fleet.valves) {
        DueEntry entry;
        entry.valve = valve.id;
        entry.state = state;
        due.push_back(entry);
    }
    return due;
}

} // namespace

class TestWhatNext : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void byHand()
    {
        test::SmallFleet fleet;
        const ValveId held = fleet.add(QStringLiteral("A"), 8, "low", 1990);
        const ValveId stuck = fleet.add(QStringLiteral("B"), 8, "low", 1990);
        const ValveId unknown = fleet.add(QStringLiteral("C"), 8);
        const ValveId blocked = fleet.add(QStringLiteral("D"), 8, "low", 1990);
        fleet.visit(held, day("2015-01-01"), 20);
        fleet.visit(stuck, day("2020-01-01"), 0, {Problem::CouldNotOperate});
        fleet.visit(blocked, day("2015-01-01"), 20);
        fleet.visit(blocked, day("2024-01-01"), 0, {Problem::NoAccess}); // a parked car
        QHash<ValveId, int> services{{held, 100}, {stuck, 30}, {unknown, 10}, {blocked, 0}};
        const auto entries = whatNext(dueOf(fleet, DueState::Overdue), fleet.valves, fleet.read(),
                                      withoutMemory(20), services, day("2025-01-01"));
        QCOMPARE(entries.size(), std::size_t{4});
        // Held ten years ago (3653 days) under a law without memory of 20 years.
        const double chance = 1 - std::exp(-3653 / 365.25 / 20);
        QCOMPARE(entries[0].due.valve, held);
        QVERIFY(isNear(entries[0].chanceOut, chance));
        QVERIFY(isNear(entries[0].risk, 100 * chance));
        QVERIFY(!entries[0].isKnownOut);
        QCOMPARE(entries[1].due.valve, stuck);
        QVERIFY(entries[1].isKnownOut);
        QCOMPARE(entries[1].chanceOut, 1.0);
        QCOMPARE(entries[1].risk, 30.0);
        // Neither age nor visit: the mean of all, and a guess that says so.
        QCOMPARE(entries[2].due.valve, unknown);
        QVERIFY(entries[2].isGuess);
        QVERIFY(isNear(entries[2].chanceOut, 1 - std::exp(-30.0 / 20)));
        QVERIFY(entries[2].words.contains(QStringLiteral("a guess")));
        // Nobody's water hangs on it, and a parked car is no failure.
        QCOMPARE(entries[3].due.valve, blocked);
        QVERIFY(isNear(entries[3].chanceOut, chance));
        QCOMPARE(entries[3].risk, 0.0);
        QVERIFY(entries[0].words.contains(QStringLiteral("up to 100 services more")));
        QVERIFY(whatNextSentence(entries).contains(QStringLiteral("1 of them known")));
        // Plain words, and one way to tell chances, small or large.
        QCOMPARE(entries[0].words,
                 QStringLiteral("39 % likely out of condition by now: held on 2015-01-01; judged "
                                "by other gates up to 8 in; up to 100 services more without "
                                "water"));
        QVERIFY(entries[2].words.startsWith(QStringLiteral(
            "78 % likely out of condition by now: never visited; judged by other gates up to 8 in, "
            "a guess")));
        QVERIFY(entries[1].words.startsWith(QStringLiteral("Out of condition (")));
    }

    static void fewIsKnownOfAll()
    {
        test::SmallFleet fleet;
        fleet.add(QStringLiteral("A"), 8, "low", 2024);
        fleet.valves.back().type = ValveType::Butterfly;
        LifeLaws laws = withoutMemory(2000);
        laws.all.isOfAll = true;
        const auto words = [&] {
            return whatNext(dueOf(fleet, DueState::Overdue), fleet.valves, fleet.read(), laws, {},
                            day("2025-01-01"))[0]
                .words;
        };
        QVERIFY2(words().startsWith(QStringLiteral("under 1 % likely out of condition by now: "
                                                   "never visited; judged by all valves, a "
                                                   "guess;")),
                 qPrintable(words()));
        laws.all.isOfAll = false;
        QVERIFY(words().contains(QStringLiteral("judged by other butterfly valves up to 8 in;")));
        laws.all.lives = 0;
        QVERIFY(words().contains(QStringLiteral("nothing to judge it by")));
    }

    static void withoutThePipeNetworkOnlyTheChanceIsKnown()
    {
        test::SmallFleet fleet;
        const ValveId young = fleet.add(QStringLiteral("A"), 8, "low", 2020);
        const ValveId old = fleet.add(QStringLiteral("B"), 8, "low", 1950);
        const QDate today = day("2025-01-01");
        const auto due = dueOf(fleet, DueState::Overdue);
        const auto entries =
            whatNext(due, fleet.valves, fleet.read(), withoutMemory(20), {}, today);
        QCOMPARE(entries[0].due.valve, old);
        QVERIFY(!entries[0].services && entries[0].risk == 0.0);
        QVERIFY(entries[0].words.contains(QStringLiteral("is not known")));
        QVERIFY(whatNextSentence(entries).contains(QStringLiteral("by chance alone")));
        // That nobody loses water is another thing than not knowing it.
        const auto known = whatNext(due, fleet.valves, fleet.read(), withoutMemory(20),
                                    {{young, 0}, {old, 0}}, today);
        QCOMPARE(known[0].services, std::optional(0));
        QVERIFY(!whatNextSentence(known).contains(QStringLiteral("not known")));
    }

    static void leavesOutWhatIsNotDue()
    {
        test::SmallFleet fleet;
        fleet.add(QStringLiteral("A"), 8);
        const auto of = [&fleet](DueState state) {
            return whatNext(dueOf(fleet, state), fleet.valves, fleet.read(), LifeLaws(), {},
                            day("2025-01-01"))
                .size();
        };
        QCOMPARE(of(DueState::NotDue), std::size_t{0});
        QCOMPARE(of(DueState::Exempt), std::size_t{0});
        QCOMPARE(of(DueState::WaitingForRepair), std::size_t{1});
        QCOMPARE(of(DueState::NeverVisited), std::size_t{1});
        QVERIFY(whatNextSentence({}).contains(QStringLiteral("No valve")));
    }
};

QTEST_GUILESS_MAIN(TestWhatNext)
#include "test_what_next.moc"
