// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/backlog.h"

#include "tests/core/repairs/repair_fixtures.h"

#include <QtTest>

using namespace keyround;
using namespace keyround::fixtures;

class TestBacklog : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    // Source: the project's reference case of a backlog, ten invented valves on 2025-11-25
    // (classes A and B every 12 months, C every 60): not due 3, 1-90 days 2, 91-365 2, over 365 2,
    // never 1. Edges: 29 February, month ends, due today is not overdue.
    static void agesOfTen()
    {
        struct Case
        {
            const char *number;
            int months;
            const char *last;
            const char *due;
            int overdue;
            const char *bucket;
        };
        static constexpr std::array cases{
            Case{"K01", 12, "2024-11-25", "2025-11-25", 0, "not due"},
            Case{"K02", 12, "2024-11-24", "2025-11-24", 1, "1-90"},
            Case{"K03", 12, "2024-02-29", "2025-02-28", 270, "91-365"},
            Case{"K04", 60, "2020-08-31", "2025-08-31", 86, "1-90"},
            Case{"K05", 60, "2020-11-26", "2025-11-26", -1, "not due"},
            Case{"K06", 60, "2019-01-15", "2024-01-15", 680, ">365"},
            Case{"K07", 60, "2014-06-30", "2019-06-30", 2340, ">365"},
            Case{"K08", 12, "", "", 0, "no date"},
            Case{"K09", 60, "2023-07-01", "2028-07-01", -949, "not due"},
            Case{"K10", 12, "2023-11-25", "2024-11-25", 365, "91-365"},
        };
        const QDate today = day("2025-11-25");
        std::array<int, ageBucketCount> counts{};
        for (const Case &each : cases) {
            const QDate due = dueDate(day(each.last), each.months);
            QCOMPARE(due, day(each.due));
            if (due.isValid()) {
                QCOMPARE(due.daysTo(today), qint64{each.overdue});
            }
            const AgeBucket bucket = ageBucket(due, today);
            QCOMPARE(keyFor(bucket), QLatin1String(each.bucket));
            ++counts[static_cast<std::size_t>(bucket)];
        }
        QCOMPARE(counts, (std::array{3, 2, 2, 2, 1}));
    }
    static void edges()
    {
        const QDate due = day("2025-01-01");
        const auto bucket = [&due](int days) { return ageBucket(due, due.addDays(days)); };
        QCOMPARE(bucket(0), AgeBucket::NotDue);
        QCOMPARE(bucket(1), AgeBucket::UpTo90Days);
        QCOMPARE(bucket(90), AgeBucket::UpTo90Days);
        QCOMPARE(bucket(91), AgeBucket::UpTo365Days);
        QCOMPARE(bucket(365), AgeBucket::UpTo365Days);
        QCOMPARE(bucket(366), AgeBucket::Over365Days);
    }
    static void urgencyByRule()
    {
        const RepairHabits habits = startingRepairHabits();
        const auto urgency = [&habits](Condition condition, const char *finding, int services,
                                       bool critical) {
            return habits.urgencyOf(condition, {QLatin1String(finding)}, services, critical);
        };
        QCOMPARE(urgency(Condition::DoesNotShut, "short_count", 49, false), Urgency::Soon);
        QCOMPARE(urgency(Condition::DoesNotShut, "short_count", 50, false), Urgency::Urgent);
        QCOMPARE(urgency(Condition::DoesNotTurn, "nut_broken", 0, true), Urgency::Urgent);
        QCOMPARE(urgency(Condition::Defect, "hard_to_turn", 500, false), Urgency::Routine);
        QCOMPARE(urgency(Condition::Defect, "hard_to_turn", 0, true), Urgency::Soon);
        QCOMPARE(urgency(Condition::Defect, "lid_missing", 0, false), Urgency::Urgent);
        QCOMPARE(urgency(Condition::Serviceable, "packing_leak", 0, false), Urgency::Soon);
        // The rules are data: without any, all is routine.
        QCOMPARE(RepairHabits{}.urgencyOf(Condition::DoesNotShut, {}, 99, true), Urgency::Routine);
    }
    static void overdueByTheDepartmentsOwnDays()
    {
        RepairTown town = twoRequests();
        const RepairBook book = town.book(); // held here: rows point into it
        const auto rows = [&town, &book](const char *today) {
            return backlogRows(book, town.valves, town.histories(), {}, town.habits, day(today));
        };
        const auto late =
            backlogRows(book, town.valves, town.histories(), {}, town.habits, day("2026-03-08"));
        QCOMPARE(late.size(), std::size_t{2});
        // Opened 2026-01-06; "soon" is 60 days for valves: 2026-03-07.
        QCOMPARE(late[0].valve->number, QStringLiteral("V1"));
        QCOMPARE(late[0].urgency, Urgency::Soon);
        QCOMPARE(late[0].dueOn, day("2026-03-07"));
        QCOMPARE(late[0].daysOverdue, 1);
        QCOMPARE(late[0].bucket, AgeBucket::UpTo90Days);
        QCOMPARE(late[0].ageDays, 61);
        QCOMPARE(late[0].department, QStringLiteral("Valves"));
        // Routine is 120 days for boxes.
        QCOMPARE(late[1].urgency, Urgency::Routine);
        QCOMPARE(late[1].dueOn, day("2026-05-06"));
        QCOMPARE(wordsFor(countsOf(late)),
                 QStringLiteral("2 open, 1 overdue, 0 done and to be proved"));
        QCOMPARE(countsOf(rows("2026-03-07")).overdue, 0); // due today
        town.habits.departments[0].days = {0, 0, 0};
        QCOMPARE(countsOf(rows("2029-03-08")).overdue, 1); // boxes only: valves are never overdue
        // More services make it urgent: 14 days.
        town.habits = startingRepairHabits();
        const auto served =
            backlogRows(book, town.valves, town.histories(), {{town.valves[0].id, {80, 1.0}}},
                        town.habits, day("2026-03-08"));
        QCOMPARE(served[0].urgency, Urgency::Urgent);
        QCOMPARE(served[0].dueOn, day("2026-01-20"));
        QCOMPARE(served[0].services, 80);
    }
    static void roundsWaitForRepairs()
    {
        RepairTown town = twoRequests();
        town.valve("V3");
        town.visit("2020-01-05", 20);
        const Policy policy = startingPolicy();
        const auto list = [&](const char *today) {
            auto entries = dueList(town.valves, town.histories(), policy, day(today));
            holdForRepairs(entries, town.book(), town.habits);
            return entries;
        };
        const auto entryOf = [&](const std::vector<DueEntry> &entries, std::size_t valve) {
            return *std::ranges::find(entries, town.valves[valve].id, &DueEntry::valve);
        };
        const auto before = list("2029-06-01");
        QCOMPARE(before.front().valve, town.valves[2].id);
        QCOMPARE(entryOf(before, 0).state, DueState::WaitingForRepair);
        QCOMPARE(entryOf(before, 1).state, DueState::WaitingForRepair); // overdue without a request
        QVERIFY(entryOf(before, 1).reason.contains(QStringLiteral("Boxes and paving")));
        town.habits.departments[1].holdsRounds = false; // the utility's own decision
        QCOMPARE(entryOf(list("2029-06-01"), 1).state, DueState::Overdue);
        // Done: a visit has to prove it, before all that is merely overdue.
        RepairEvent done;
        done.request = town.book().requests.front().id;
        done.step = RepairStep::Done;
        done.on = day("2026-02-02");
        town.add(done, "2026-02-02");
        const auto after = list("2029-06-01");
        QCOMPARE(after.front().valve, town.valves[0].id);
        QCOMPARE(after.front().state, DueState::Due);
        QVERIFY(after.front().reason.contains(QStringLiteral("was done on 2026-02-02")));
        QVERIFY(repairLine(town.book(), town.valves[0].id)
                    .contains(QStringLiteral("this visit can prove it")));
        QVERIFY(
            repairLine(town.book(), town.valves[1].id).contains(QStringLiteral("not sent yet")));
        QVERIFY(repairLine(town.book(), town.valves[2].id).isEmpty());
    }

private:
    static RepairTown twoRequests()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        town.valve("V2");
        town.visit("2026-01-05", 20, {Problem::BoxShifted});
        for (const RepairProposal &proposal : town.proposals()) {
            town.accept(proposal, "2026-01-06");
        }
        return town;
    }
};

QTEST_GUILESS_MAIN(TestBacklog)
#include "test_backlog.moc"
