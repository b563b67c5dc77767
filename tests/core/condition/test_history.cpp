// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/history.h"

#include <rapidcheck.h>

#include <QtTest>

#include <algorithm>
#include <random>

using namespace keyround;

namespace {

ValveId valveId(int n)
{
    return {uuid7FromParts(1000 + n, 0, 0)};
}

Valve gate(int n, int listedTurns = 0)
{
    Valve valve;
    valve.id = valveId(n);
    valve.number = QString::number(n);
    valve.type = ValveType::GearedGate;
    if (listedTurns > 0) {
        valve.listedTurns = QuarterTurns::ofTurns(listedTurns);
    }
    return valve;
}

Visit on(const char *date, int closing, int opening, QList<Problem> problems = {}, int valve = 1)
{
    static int made = 0;
    Visit visit;
    visit.id = {uuid7FromParts(++made, 0, 0)};
    visit.valve = valveId(valve);
    visit.arrived = Moment::from(
        QDateTime(QDate::fromString(QLatin1String(date), Qt::ISODate), QTime(9, 0), Qt::UTC));
    visit.stamp = {static_cast<std::uint64_t>(made)};
    if (closing > 0) {
        visit.passes.push_back({PassDirection::Closing, QuarterTurns::ofTurns(closing)});
    }
    if (opening > 0) {
        visit.passes.push_back({PassDirection::Opening, QuarterTurns::ofTurns(opening)});
    }
    visit.problems = std::move(problems);
    return visit;
}

QDate day(const char *date)
{
    return QDate::fromString(QLatin1String(date), Qt::ISODate);
}

QStringList conditions(const ValveHistory &history)
{
    QStringList keys;
    for (const ReadVisit &read : history.visits) {
        keys << keyFor(read.after);
    }
    return keys;
}

} // namespace

class TestHistory : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void theFirstFullCycleTeaches()
    {
        const auto history = readHistory(
            gate(1), {on("2020-05-01", 60, 59), on("2021-05-01", 40, 40), on("2022-05-01", 61, 61)},
            Tolerance());
        QCOMPARE(conditions(history),
                 (QStringList{QStringLiteral("serviceable"), QStringLiteral("does_not_shut"),
                              QStringLiteral("serviceable")}));
        QCOMPARE(history.visits[1].judgement.baseline.most, QuarterTurns::ofTurns(60));
        QCOMPARE(history.visits[1].judgement.baseline.confirmedOn, day("2020-05-01"));
        QCOMPARE(history.baseline.most, QuarterTurns::ofTurns(61));
        QCOMPARE(history.lastFullCycle, day("2022-05-01"));
        QVERIFY(history.firstBad.isNull());
    }
    static void aShortCycleDoesNotCountOrTeach()
    {
        const auto history = readHistory(
            gate(1, 27), {on("2020-05-01", 27, 27), on("2021-05-01", 12, 12)}, Tolerance());
        QCOMPARE(history.lastFullCycle, day("2020-05-01"));
        QCOMPARE(history.lastVisit, day("2021-05-01"));
        QCOMPARE(history.baseline.most, QuarterTurns::ofTurns(27));
        QCOMPARE(history.firstBad, day("2021-05-01"));
    }
    static void firstBadIsTheFirst()
    {
        const auto history = readHistory(
            gate(1, 27),
            {on("2020-01-01", 27, 27), on("2021-01-01", 0, 0, {Problem::CouldNotOperate}),
             on("2022-01-01", 12, 12), on("2023-01-01", 0, 0, {Problem::PavedOver})},
            Tolerance());
        QCOMPARE(history.firstBad, day("2021-01-01"));
        QCOMPARE(history.condition, Condition::CannotReach);
    }
    static void leftOtherThanNormal()
    {
        Visit part = on("2022-01-01", 27, 20);
        part.left = {Position::PartOpen, QuarterTurns::ofTurns(20)};
        Visit seen = on("2022-02-01", 0, 0, {Problem::CouldNotOperate});
        Visit put = on("2022-03-01", 0, 7);
        put.left = {Position::Open, std::nullopt};
        Valve valve = gate(1, 27);
        const auto left = readHistory(valve, {part, seen}, Tolerance());
        QVERIFY(left.leftOtherThanNormal);
        QCOMPARE(left.leftOtherThanNormal->position, Position::PartOpen);
        QVERIFY(!readHistory(valve, {part, seen, put}, Tolerance()).leftOtherThanNormal);
        valve.normally = NormalPosition::Closed;
        QVERIFY(readHistory(valve, {part, seen, put}, Tolerance()).leftOtherThanNormal);
        seen.found = {Position::Closed, std::nullopt};
        QVERIFY(!readHistory(valve, {part, seen}, Tolerance()).leftOtherThanNormal);
    }
    static void correctionsAreRead()
    {
        Visit wrong = on("2021-01-01", 72, 27);
        Visit right = on("2021-01-01", 27, 27);
        right.supersedes = wrong.id;
        const auto history = readHistory(gate(1, 27), {right, wrong}, Tolerance());
        QCOMPARE(history.visits.size(), size_t{1});
        QCOMPARE(history.condition, Condition::Serviceable);
        // Written to the wrong valve, and moved by a correction.
        Visit moved = on("2021-01-01", 27, 27, {}, 2);
        moved.supersedes = wrong.id;
        const auto all =
            readHistories({gate(1, 27), gate(2, 27), gate(3)}, {wrong, moved}, Tolerance());
        QCOMPARE(all.size(), 3);
        QCOMPARE(all[valveId(1)].condition, Condition::NeverVisited);
        QCOMPARE(all[valveId(2)].condition, Condition::Serviceable);
        QCOMPARE(all[valveId(3)].condition, Condition::NeverVisited);
    }
    static void aListThatIsWrong()
    {
        const auto suggested = [](const std::vector<Visit> &visits, int list = 27) {
            const Valve valve = gate(1, list);
            return suggestListedTurns(valve, readHistory(valve, visits, Tolerance()), Tolerance());
        };
        QCOMPARE(suggested({on("2020-01-01", 40, 40), on("2021-01-01", 41, 41)}),
                 std::optional(QuarterTurns::ofTurns(41)));
        QCOMPARE(suggested({on("2020-01-01", 40, 40), on("2020-06-01", 0, 0, {Problem::NoAccess}),
                            on("2021-01-01", 41, 41)}),
                 std::optional(QuarterTurns::ofTurns(41)));
        QVERIFY(!suggested({on("2020-01-01", 40, 40)}));
        QVERIFY(!suggested({on("2020-01-01", 40, 40), on("2021-01-01", 60, 60)}));
        QVERIFY(!suggested({on("2020-01-01", 40, 40), on("2021-01-01", 41, 20)}));
        QVERIFY(!suggested({on("2020-01-01", 27, 27), on("2021-01-01", 28, 28)}));
        QVERIFY(!suggested({on("2020-01-01", 40, 40), on("2021-01-01", 41, 41)}, 0));
        QVERIFY(!suggested(
            {on("2020-01-01", 40, 40), on("2021-01-01", 41, 41, {Problem::DidNotClose})}));
    }
    static void repairs()
    {
        const auto needs = [](const std::vector<Visit> &visits) {
            return needsRepair(readHistory(gate(1, 27), visits, Tolerance()));
        };
        QVERIFY(!needs({}));
        QVERIFY(!needs({on("2020-01-01", 27, 27)}));
        QVERIFY(!needs({on("2020-01-01", 27, 27), on("2021-01-01", 0, 0, {Problem::NoAccess})}));
        QVERIFY(!needs({on("2021-01-01", 0, 0, {Problem::NoAccess})}));
        QVERIFY(needs({on("2020-01-01", 12, 12), on("2021-01-01", 0, 0, {Problem::NoAccess})}));
        QVERIFY(needs({on("2020-01-01", 0, 0, {Problem::NotFound})}));
        QVERIFY(needs({on("2020-01-01", 0, 0, {Problem::NotFound}),
                       on("2021-01-01", 0, 0, {Problem::NoAccess})}));
        QVERIFY(needs({on("2020-01-01", 0, 0, {Problem::BoxFull}), on("2021-01-01", 0, 0)}));
    }
    static void orderDoesNotMatter()
    {
        QVERIFY(rc::check("visits in any order give one history", []() {
            static constexpr std::array dates{"2020-01-01", "2020-01-01", "2021-02-28",
                                              "2022-07-04"};
            std::vector<Visit> visits;
            const int count = *rc::gen::inRange(1, 8);
            for (int i = 0; i < count; ++i) {
                Visit visit = on(dates[static_cast<size_t>(*rc::gen::inRange(0, 4))],
                                 *rc::gen::element(0, 12, 27, 28), *rc::gen::element(0, 12, 27));
                if (*rc::gen::inRange(0, 3) == 0) {
                    visit.problems << *rc::gen::element(Problem::NoAccess, Problem::LidMissing,
                                                        Problem::CouldNotOperate);
                }
                if (i > 0 && *rc::gen::inRange(0, 3) == 0) {
                    visit.supersedes = visits[static_cast<size_t>(*rc::gen::inRange(0, i))].id;
                }
                visit.stamp = {static_cast<std::uint64_t>(*rc::gen::inRange(1, 4))};
                visits.push_back(visit);
            }
            const Valve valve = gate(1, 27);
            const ValveHistory once = readHistory(valve, visits, Tolerance());
            std::mt19937 random(static_cast<unsigned>(*rc::gen::inRange(0, 1000000)));
            std::shuffle(visits.begin(), visits.end(), random);
            const ValveHistory again = readHistory(valve, visits, Tolerance());
            RC_ASSERT(once.visits.size() == again.visits.size());
            for (size_t i = 0; i < once.visits.size(); ++i) {
                RC_ASSERT(once.visits[i].visit == again.visits[i].visit);
                RC_ASSERT(once.visits[i].after == again.visits[i].after);
                RC_ASSERT(once.visits[i].fullCycle == again.visits[i].fullCycle);
            }
            RC_ASSERT(once.condition == again.condition);
            RC_ASSERT(once.firstBad == again.firstBad);
            RC_ASSERT(once.lastFullCycle == again.lastFullCycle);
            RC_ASSERT(once.baseline.most == again.baseline.most);
            RC_ASSERT(once.firstBad.isNull() == !isOutOfCondition(once.condition));
        }));
    }
};

QTEST_GUILESS_MAIN(TestHistory)
#include "test_history.moc"
