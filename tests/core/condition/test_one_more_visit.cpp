// SPDX-License-Identifier: GPL-3.0-or-later
// Histories that are brought forward visit by visit against histories that are read from all
// visits: they must be the same in every field, whatever is corrected, moved to another valve,
// corrected again, corrected twice, or replaced in between.
#include "core/condition/one_more_visit.h"

#include <rapidcheck.h>

#include <QtTest>

#include <algorithm>
#include <random>

using namespace keyround;

namespace {

constexpr int valveCount = 4;

/// A few valves that somebody visits, one of them replaced, and whatever was recorded of them.
struct Town
{
    explicit Town(std::uint64_t seed) : random(seed)
    {
        for (int i = 0; i < valveCount; ++i) {
            Valve valve;
            valve.id = {uuid7FromParts(1000 + i, 0, 0)};
            valve.number = QString::number(i);
            valve.type = ValveType::Gate;
            valve.size = NominalSize::ofInches(8);
            valve.listedTurns = QuarterTurns::ofTurns(26);
            valves.push_back(valve);
        }
        Replacement replacement;
        replacement.id = {uuid7FromParts(900'000, 0, 0)};
        replacement.valve = valves[1].id;
        replacement.on = QDate(2020, 6, 1);
        replacement.oldType = ValveType::GearedGate;
        replacement.oldListedTurns = QuarterTurns::ofTurns(52);
        replacement.stamp = {900'000};
        replacements = {replacement};
    }

    int below(int end) { return static_cast<int>(random() % static_cast<std::uint64_t>(end)); }

    Visit visitOf(int valve)
    {
        Visit visit;
        const int made = static_cast<int>(visits.size()) + 1;
        visit.id = {uuid7FromParts(made, 0, random() >> 2U)};
        visit.valve = valves[static_cast<std::size_t>(valve)].id;
        // Few days, so that some arrive together and many out of the order of their stamps.
        visit.arrived =
            Moment::from(QDateTime(QDate(2020, 1, 15).addMonths(below(12)), QTime(9, 0), Qt::UTC));
        visit.stamp = {static_cast<std::uint64_t>(made)};
        const int turns = below(3) == 0 ? 13 : below(2) == 0 ? 26 : 52;
        if (below(5) > 0) {
            visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(turns)},
                            {PassDirection::Opening, QuarterTurns::ofTurns(turns)}};
        }
        if (below(4) == 0) {
            visit.problems = {below(2) == 0 ? Problem::NoAccess : Problem::DidNotClose};
        }
        visit.left.position = below(6) == 0 ? Position::Closed : Position::Open;
        return visit;
    }

    /// A visit, or a correction of any row that is there: standing or not, of this valve or not.
    Visit next()
    {
        Visit visit = visitOf(below(valveCount));
        if (!visits.empty() && below(2) == 0) {
            const std::size_t parent = random() % visits.size();
            visit.supersedes = visits[parent].id;
            if (below(3) > 0) {
                visit.valve = visits[parent].valve;
            }
        }
        return visit;
    }

    [[nodiscard]] Histories readAll() const
    {
        return readHistories(valves, visits, replacements, Tolerance());
    }
    void add(Histories &histories, const Visit &visit)
    {
        visits.push_back(visit);
        const auto valveOf = [this](const ValveId &id) -> const Valve * {
            const auto found = std::ranges::find(valves, id, &Valve::id);
            return found == valves.end() ? nullptr : &*found;
        };
        touched = addToHistories(histories, visit, visits, valveOf, replacements, Tolerance());
    }

    std::mt19937_64 random;
    std::vector<Valve> valves;
    std::vector<Visit> visits;
    std::vector<Replacement> replacements;
    std::vector<ValveId> touched; ///< by the last that was added
};

} // namespace

class TestOneMoreVisit : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void isWhatReadingAllWouldSay()
    {
        QVERIFY(rc::check([](std::uint64_t seed) {
            Town town(seed);
            Histories histories = town.readAll();
            for (int i = 0; i < 12; ++i) {
                const Histories before = histories;
                town.add(histories, town.next());
                const Histories all = town.readAll();
                RC_ASSERT(histories == all);
                // What was not read anew was not to change.
                for (const Valve &valve : town.valves) {
                    const bool isTouched =
                        std::ranges::find(town.touched, valve.id) != town.touched.end();
                    RC_ASSERT(isTouched || before.value(valve.id) == all.value(valve.id));
                }
            }
        }));
    }

    static void aCorrectionMovesAVisitAway()
    {
        Town town(1);
        Histories histories = town.readAll();
        const Visit wrong = town.visitOf(0);
        town.add(histories, wrong);
        QCOMPARE(histories[town.valves[0].id].visits.size(), std::size_t{1});
        Visit moved = town.visitOf(2);
        moved.supersedes = wrong.id;
        town.add(histories, moved);
        QVERIFY(histories[town.valves[0].id].visits.empty());
        QVERIFY(histories[town.valves[0].id] == ValveHistory(town.readAll()[town.valves[0].id]));
        QCOMPARE(histories[town.valves[2].id].visits.size(), std::size_t{1});
        QCOMPARE(town.touched.size(), std::size_t{2});
    }

    static void aVisitOfAnUnknownValveMakesNoEntry()
    {
        Town town(2);
        Histories histories = town.readAll();
        Visit astray = town.visitOf(0);
        astray.valve = {uuid7FromParts(77, 0, 0)};
        town.add(histories, astray);
        QCOMPARE(histories.size(), qsizetype{valveCount});
        QVERIFY(histories == town.readAll());
    }
};

QTEST_GUILESS_MAIN(TestOneMoreVisit)
#include "test_one_more_visit.moc"
