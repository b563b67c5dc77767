// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/due.h"

#include <QtTest>

using namespace keyround;

namespace {

QDate day(const char *date)
{
    return QDate::fromString(QLatin1String(date), Qt::ISODate);
}

struct Yard
{
    std::vector<Valve> valves;
    std::vector<Visit> visits;
    Policy policy;

    Valve &add(const char *number, int inches)
    {
        Valve valve;
        valve.id = {uuid7FromParts(static_cast<int>(valves.size()) + 1, 1, 0)};
        valve.number = QLatin1String(number);
        valve.size = NominalSize::ofInches(inches);
        valve.type = ValveType::Gate;
        valve.listedTurns = QuarterTurns::ofTurns(20);
        valves.push_back(valve);
        return valves.back();
    }
    void visit(const char *date, int turns, QList<Problem> problems = {})
    {
        Visit visit;
        visit.id = {uuid7FromParts(static_cast<int>(visits.size()) + 1, 2, 0)};
        visit.valve = valves.back().id;
        visit.arrived = Moment::from(QDateTime(day(date), QTime(10, 0), Qt::UTC));
        visit.stamp = {visits.size() + 1};
        if (turns > 0) {
            visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(turns)},
                            {PassDirection::Opening, QuarterTurns::ofTurns(turns)}};
        }
        visit.problems = std::move(problems);
        visits.push_back(visit);
    }
    void rule(const char *name, int months, int fromInches = 0)
    {
        PolicyRule rule;
        rule.name = QLatin1String(name);
        rule.source = QStringLiteral("utility's own");
        rule.intervalMonths = months;
        if (fromInches > 0) {
            rule.sizeFrom = NominalSize::ofInches(fromInches);
        }
        policy.rules.push_back(rule);
    }
    [[nodiscard]] std::vector<DueEntry> list(const char *today) const
    {
        return dueList(valves, readHistories(valves, visits, {}, Tolerance()), policy, day(today));
    }
    [[nodiscard]] QString numberOf(const ValveId &id) const
    {
        for (const Valve &valve : valves) {
            if (valve.id == id) {
                return valve.number;
            }
        }
        return {};
    }
};

} // namespace

class TestDue : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void dates_data()
    {
        QTest::addColumn<QString>("last");
        QTest::addColumn<int>("months");
        QTest::addColumn<QString>("due");
        const auto row = [](const char *last, int months, const char *due) {
            QTest::addRow("%s + %d", last, months)
                << QString::fromLatin1(last) << months << QString::fromLatin1(due);
        };
        // By the calendar: a day that the month has not is its last.
        row("2024-02-29", 12, "2025-02-28");
        row("2024-02-29", 48, "2028-02-29");
        row("2023-02-28", 12, "2024-02-28");
        row("2024-08-31", 6, "2025-02-28");
        row("2023-08-31", 6, "2024-02-29");
        row("2024-01-31", 1, "2024-02-29");
        row("2024-05-31", 1, "2024-06-30");
        row("2024-12-31", 2, "2025-02-28");
        row("2000-02-29", 1200, "2100-02-28"); // 2100 is no leap year
        // The published intervals: UFC 6, yearly 12, N.J. 24/48/96, Wisconsin 60/84 months.
        row("2024-06-15", 6, "2024-12-15");
        row("2024-06-15", 24, "2026-06-15");
        row("2024-02-29", 96, "2032-02-29");
        row("2020-02-29", 60, "2025-02-28");
        row("2020-02-29", 84, "2027-02-28");
    }
    static void dates()
    {
        QFETCH(QString, last);
        QFETCH(int, months);
        QFETCH(QString, due);
        QCOMPARE(dueDate(QDate::fromString(last, Qt::ISODate), months).toString(Qt::ISODate), due);
        QVERIFY(dueDate(QDate(), months).isNull());
    }

    static void aReplacedValveIsDueAtOnce()
    {
        Yard yard;
        yard.rule("All", 12);
        yard.add("A1", 8);
        yard.visit("2025-01-10", 20);
        Replacement dug;
        dug.id = {uuid7FromParts(1, 0, 0)};
        dug.valve = yard.valves.front().id;
        dug.on = day("2025-03-04");
        dug.stamp = {1};
        const auto entry =
            dueList(yard.valves, readHistories(yard.valves, yard.visits, {dug}, Tolerance()),
                    yard.policy, day("2025-06-01"))
                .front();
        QCOMPARE(entry.state, DueState::NeverVisited);
        QVERIFY(entry.lastCycle.isNull());
        QCOMPARE(entry.reason, QStringLiteral("Replaced on 2025-03-04 and not visited since, so "
                                              "due at once: All, every 12 months"));
    }

    // Source: the project's reference case of a backlog, ten invented valves on 2025-11-25
    // (classes A and B every 12 months, C every 60): not due 3, 1-90 days 2, 91-365 2, over 365 2,
    // never 1.
    static void backlogOfTen()
    {
        struct Case
        {
            const char *number;
            bool yearly;
            const char *last;
            const char *due;
            int overdue;
        };
        static constexpr std::array cases{
            Case{"K01", true, "2024-11-25", "2025-11-25", 0},
            Case{"K02", true, "2024-11-24", "2025-11-24", 1},
            Case{"K03", true, "2024-02-29", "2025-02-28", 270},
            Case{"K04", false, "2020-08-31", "2025-08-31", 86},
            Case{"K05", false, "2020-11-26", "2025-11-26", -1},
            Case{"K06", false, "2019-01-15", "2024-01-15", 680},
            Case{"K07", false, "2014-06-30", "2019-06-30", 2340},
            Case{"K08", true, "", "", 0},
            Case{"K09", false, "2023-07-01", "2028-07-01", -949},
            Case{"K10", true, "2023-11-25", "2024-11-25", 365},
        };
        Yard yard;
        yard.policy.dueSoonDays = 0;
        yard.rule("yearly", 12, 16);
        yard.rule("others", 60);
        for (const Case &c : cases) {
            yard.add(c.number, c.yearly ? 16 : 8);
            if (*c.last != '\0') {
                yard.visit(c.last, 20);
            }
        }
        QHash<QString, DueEntry> byNumber;
        for (const DueEntry &entry : yard.list("2025-11-25")) {
            byNumber.insert(yard.numberOf(entry.valve), entry);
        }
        std::array<int, 5> buckets{};
        for (const Case &c : cases) {
            const DueEntry entry = byNumber.value(QLatin1String(c.number));
            QCOMPARE(entry.dueOn, day(c.due));
            QCOMPARE(entry.daysOverdue, c.overdue);
            if (entry.state == DueState::NeverVisited) {
                ++buckets[4];
                continue;
            }
            QCOMPARE(entry.state == DueState::Overdue, c.overdue > 0);
            ++buckets[c.overdue <= 0 ? 0 : c.overdue <= 90 ? 1 : c.overdue <= 365 ? 2 : 3];
        }
        QCOMPARE(buckets, (std::array<int, 5>{3, 2, 2, 2, 1}));
        QCOMPARE(byNumber.value(QStringLiteral("K01")).state, DueState::Due);
        QCOMPARE(byNumber.value(QStringLiteral("K05")).state, DueState::NotDue);
    }

    static void reasonsInWords()
    {
        Yard yard;
        yard.rule("16 in and larger", 12, 16);
        yard.rule("All others", 60);
        yard.add("over", 16);
        yard.visit("2024-01-01", 20);
        yard.add("today", 16);
        yard.visit("2024-08-02", 20);
        yard.add("soon", 16);
        yard.visit("2024-08-03", 20);
        yard.add("later", 8);
        yard.visit("2024-08-03", 20);
        yard.add("never", 8);
        yard.add("looked", 8);
        yard.visit("2025-01-05", 0, {Problem::LidMissing});
        yard.add("stuck", 8);
        yard.visit("2025-03-01", 0, {Problem::CouldNotOperate});
        yard.add("parked", 8);
        yard.visit("2025-04-01", 0, {Problem::NoAccess});
        yard.add("gone", 8).retired = true;
        QHash<QString, QString> reasons;
        QHash<QString, QString> states;
        for (const DueEntry &entry : yard.list("2025-08-02")) {
            reasons.insert(yard.numberOf(entry.valve), entry.reason);
            states.insert(yard.numberOf(entry.valve), keyFor(entry.state));
        }
        const auto check = [&](const char *number, const char *state, const char *reason) {
            QCOMPARE(states.value(QLatin1String(number)), QLatin1String(state));
            QCOMPARE(reasons.value(QLatin1String(number)), QLatin1String(reason));
        };
        check("over", "overdue", "Overdue by 213 days: 16 in and larger, every 12 months");
        check("today", "due", "Due today: 16 in and larger, every 12 months");
        check("soon", "due", "Due in 1 day, on 2025-08-03: 16 in and larger, every 12 months");
        check("later", "not_due", "Not due before 2029-08-03: All others, every 5 years");
        check("never", "never_visited", "Never visited, so due at once: All others, every 5 years");
        check("looked", "due",
              "Visited on 2025-01-05, but no full cycle is on record, so due at once: All others, "
              "every 5 years");
        check("stuck", "waiting_for_repair",
              "Does not turn since 2025-03-01: a repair comes before the next exercise");
        check("parked", "due",
              "Visited on 2025-04-01, but no full cycle is on record, so due at once: All others, "
              "every 5 years");
        QVERIFY(!states.contains(QStringLiteral("gone")));
        yard.policy.rules.pop_back();
        yard.policy.rules.front().intervalMonths = 0;
        for (const DueEntry &entry : yard.list("2025-08-02")) {
            QCOMPARE(entry.state, DueState::Exempt);
            QVERIFY(!entry.reason.isEmpty());
        }
    }

    static void aListThatMayBeWrongIsNamed()
    {
        // Two agreeing counts both ways that are not the list's: the reason says so, or the crew
        // would be sent to a sound valve for ever.
        Yard yard;
        yard.rule("all", 12);
        yard.add("low", 8).listedTurns = QuarterTurns::ofTurns(13);
        yard.visit("2024-01-01", 26);
        yard.visit("2025-01-01", 26);
        yard.add("high", 8).listedTurns = QuarterTurns::ofTurns(52);
        yard.visit("2024-01-01", 26);
        yard.visit("2025-01-01", 26);
        yard.add("once", 8).listedTurns = QuarterTurns::ofTurns(13);
        yard.visit("2025-01-01", 26);
        QHash<QString, DueEntry> entries;
        for (const DueEntry &entry : yard.list("2025-02-01")) {
            entries.insert(yard.numberOf(entry.valve), entry);
        }
        const QString words = QStringLiteral("Its last two counts agree on 26 turns both ways, "
                                             "and the list says %1: if the list is wrong, "
                                             "correct it");
        const DueEntry low = entries.value(QStringLiteral("low"));
        QCOMPARE(low.state, DueState::Due);
        QVERIFY2(low.reason.endsWith(words.arg(13)), qPrintable(low.reason));
        const DueEntry high = entries.value(QStringLiteral("high"));
        QCOMPARE(high.state, DueState::WaitingForRepair);
        QVERIFY2(high.reason.endsWith(words.arg(52)), qPrintable(high.reason));
        QVERIFY(!entries.value(QStringLiteral("once")).reason.contains(QStringLiteral("the list")));
    }

    static void aShortVisitDoesNotCount()
    {
        Yard yard;
        yard.rule("all", 12);
        yard.add("1", 8);
        yard.visit("2023-01-01", 20);
        yard.visit("2024-06-01", 0, {Problem::LidMissing});
        const auto entries = yard.list("2024-07-01");
        QCOMPARE(entries[0].lastCycle, day("2023-01-01"));
        QCOMPARE(entries[0].state, DueState::Overdue);
    }

    static void ranking()
    {
        Yard yard;
        yard.rule("all", 12);
        yard.add("half", 8); // half an interval overdue
        yard.visit("2023-01-01", 20);
        yard.add("never", 8);
        yard.add("critical half", 8).criticalCustomers = QStringLiteral("an invented clinic");
        yard.visit("2023-01-01", 20);
        yard.add("large half", 24);
        yard.visit("2023-01-01", 20);
        yard.add("twice", 8); // two intervals overdue
        yard.visit("2021-07-02", 20);
        yard.add("not yet", 8);
        yard.visit("2024-06-01", 20);
        yard.add("stuck", 8);
        yard.visit("2024-06-01", 0, {Problem::CouldNotOperate});
        yard.add("b", 8);
        yard.visit("2023-01-01", 20);
        yard.add("a", 8);
        yard.visit("2023-01-01", 20);
        QStringList order;
        double last = 1e9;
        for (const DueEntry &entry : yard.list("2024-07-02")) {
            order << yard.numberOf(entry.valve);
            QVERIFY(entry.priority <= last);
            last = entry.priority;
        }
        QCOMPARE(order,
                 (QStringList{QStringLiteral("twice"), QStringLiteral("never"),
                              QStringLiteral("critical half"), QStringLiteral("large half"),
                              QStringLiteral("a"), QStringLiteral("b"), QStringLiteral("half"),
                              QStringLiteral("not yet"), QStringLiteral("stuck")}));
    }

    static void whoWantsAVisit()
    {
        QVERIFY(wantsVisit(DueState::NeverVisited) && wantsVisit(DueState::Due) &&
                wantsVisit(DueState::Overdue));
        QVERIFY(!wantsVisit(DueState::NotDue) && !wantsVisit(DueState::Exempt) &&
                !wantsVisit(DueState::WaitingForRepair));
    }
};

QTEST_GUILESS_MAIN(TestDue)
#include "test_due.moc"
