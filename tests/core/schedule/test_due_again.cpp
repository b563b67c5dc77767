// SPDX-License-Identifier: GPL-3.0-or-later
// A due list that is kept while valves change against one that is made from all of them.
#include "core/schedule/due_again.h"

#include <rapidcheck.h>

#include <QtTest>

#include <algorithm>
#include <random>

using namespace keyround;

namespace {

const QDate today(2026, 3, 16);

struct Fleet
{
    explicit Fleet(std::uint64_t seed) : random(seed)
    {
        for (int i = 0; i < 30; ++i) {
            Valve valve;
            valve.id = {uuid7FromParts(1000 + i, 0, 0)};
            // Not in the order in which they are made.
            valve.number = QString::number((i * 7) % 30 + 100);
            valve.type = ValveType::Gate;
            valve.size = NominalSize::ofInches(i % 2 == 0 ? 8 : 16);
            valve.listedTurns = QuarterTurns::ofTurns(26);
            valve.retired = i % 10 == 9;
            valves.push_back(valve);
        }
        histories = readHistories(valves, {}, {}, Tolerance());
        PolicyRule rule;
        rule.name = QStringLiteral("all valves");
        rule.intervalMonths = 12;
        policy.rules = {rule};
    }

    /// Few days, so that many valves have one priority and go by their numbers.
    void visit(std::size_t at)
    {
        Visit visit;
        visit.id = {uuid7FromParts(++made, 0, random() >> 2U)};
        visit.valve = valves[at].id;
        visit.arrived = Moment::from(QDateTime(
            QDate(2024, 1, 15).addMonths(static_cast<int>(random() % 26U)), QTime(9, 0), Qt::UTC));
        visit.stamp = {static_cast<std::uint64_t>(made)};
        const int turns = random() % 3U == 0 ? 9 : 26;
        visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(turns)},
                        {PassDirection::Opening, QuarterTurns::ofTurns(turns)}};
        std::vector<Visit> visits{visit};
        for (const ReadVisit &read : histories[valves[at].id].visits) {
            visits.push_back(read.visit);
        }
        histories[valves[at].id] = readHistory(valves[at], visits, Tolerance());
    }

    [[nodiscard]] std::vector<DueEntry> all() const
    {
        return dueList(valves, histories, policy, today);
    }

    std::mt19937_64 random;
    int made = 0;
    std::vector<Valve> valves;
    Histories histories;
    Policy policy;
};

} // namespace

class TestDueAgain : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void isWhatTheWholeListWouldBe()
    {
        QVERIFY(rc::check([](std::uint64_t seed) {
            Fleet fleet(seed);
            std::vector<DueEntry> kept = fleet.all();
            const auto valveOf = [&fleet](const ValveId &id) -> const Valve * {
                const auto found = std::ranges::find(fleet.valves, id, &Valve::id);
                return found == fleet.valves.end() ? nullptr : &*found;
            };
            for (int i = 0; i < 20; ++i) {
                std::vector<ValveId> changed;
                for (std::uint64_t n = fleet.random() % 3U + 1; n > 0; --n) {
                    const std::size_t at = fleet.random() % fleet.valves.size();
                    fleet.visit(at);
                    changed.push_back(fleet.valves[at].id);
                }
                workOutAgain(kept, changed, valveOf, fleet.histories, fleet.policy, today);
                RC_ASSERT(kept == fleet.all());
            }
        }));
    }
};

QTEST_GUILESS_MAIN(TestDueAgain)
#include "test_due_again.moc"
