// SPDX-License-Identifier: GPL-3.0-or-later
// One invented round of four stops, on paper before and after.
#include "core/reports/condition_tables.h"
#include "core/reports/day_log.h"
#include "core/reports/radio_list.h"
#include "core/reports/route_sheet.h"

#include <QtTest>

using namespace keyround;

namespace {

ValveId valveId(int n)
{
    return {uuid7FromParts(n, 1, 0)};
}

Valve valveOf(int n, const char *number, int inches)
{
    Valve valve;
    valve.id = valveId(n);
    valve.number = QLatin1String(number);
    valve.size = NominalSize::ofInches(inches);
    valve.type = ValveType::Gate;
    valve.place = {41.5, -88.25};
    return valve;
}

struct Day
{
    std::vector<Valve> valves;
    std::vector<Visit> visits;
    Round round;
    DayPlan plan;

    Day()
    {
        valves = {valveOf(1, "0001", 8), valveOf(2, "0002", 6), valveOf(3, "0003", 12),
                  valveOf(4, "0004", 6)};
        valves[0].address = QStringLiteral("12 Invented Street");
        valves[0].ties = QStringLiteral("14 ft N of the hydrant");
        valves[0].depthToNut = Metres{1.0668};
        valves[0].criticalCustomers = QStringLiteral("an invented clinic");
        valves[1].closes = ClosingDirection::Counterclockwise;
        valves[1].role = ValveRole::HydrantLead;
        valves[2].listedTurns = QuarterTurns::ofTurns(39);
        round.id = {uuid7FromParts(1, 3, 0)};
        round.date = QDate(2025, 6, 3);
        round.crew = QStringLiteral("Crew 1");
        for (int n = 1; n <= 4; ++n) {
            round.stops.push_back(valveId(n));
            plan.stops.push_back(
                {valveId(n), QTime(7 + n, 5), QTime(7 + n, 30), 600, 1609.344, 25});
        }
        plan.driveSeconds = 3000;
        plan.driveMetres = 5 * 1609.344;
        plan.finish = QTime(14, 40);
        plan.notes = {QStringLiteral("A note of the plan")};
        plan.leftOut = {{valveId(9), QStringLiteral("25 min are missing")}};
    }
    Visit &visit(int n, const QTime &time, std::vector<Pass> passes, QList<Problem> problems = {})
    {
        Visit v;
        v.id = {uuid7FromParts(static_cast<int>(visits.size()) + 1, 2, 0)};
        v.valve = valveId(n);
        v.round = round.id;
        v.arrived = Moment::from(QDateTime(round.date, time, Qt::OffsetFromUTC, -18000));
        v.finished = v.arrived;
        v.stamp = {visits.size() + 1};
        v.passes = std::move(passes);
        v.problems = std::move(problems);
        visits.push_back(v);
        return visits.back();
    }
    void work()
    {
        const auto turns = [](int n) { return QuarterTurns::ofTurns(n); };
        Visit &first = visit(1, {8, 5},
                             {{PassDirection::Closing, turns(10)},
                              {PassDirection::Opening, turns(3)},
                              {PassDirection::Closing, turns(27)},
                              {PassDirection::Opening, turns(27)}},
                             {Problem::LidMissing, Problem::Other});
        first.otherProblem = QStringLiteral("<b>rust</b>");
        first.left = {Position::Open, {}};
        Visit &third = visit(3, {9, 5}, {{PassDirection::Closing, turns(12)}});
        third.found = {Position::Open, {}};
        third.left = {Position::PartOpen, turns(30)};
        visit(4, {8, 40}, {}, {Problem::PavedOver});
    }
    [[nodiscard]] Histories read() const { return readHistories(valves, visits, {}, Tolerance()); }
};

Day dayWithWaitsAndBreaks()
{
    Day day;
    day.plan.stops[1].begin = QTime(10, 0);
    day.plan.stops[1].waitSeconds = 55 * 60;
    day.plan.stops[2].missesHours = QStringLiteral("Work lies in busy hours.");
    day.plan.waitSeconds = 55 * 60;
    day.plan.breaks = {{QTime(7, 30), 10, -1, false}, {QTime(10, 30), 30, 1, true}};
    return day;
}

} // namespace

class TestSheets : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void routeSheetSaysTheDay()
    {
        const Day day;
        const Sheet sheet = routeSheet(day.round, day.plan, day.valves, day.read(),
                                       QStringLiteral("Invented Water"), UnitSystem::Us);
        QCOMPARE(
            sheet.headerLines,
            (QStringList{QStringLiteral("Invented Water"),
                         QStringLiteral("2025-06-03, shift 07:00 to 15:30, Crew 1"),
                         QStringLiteral("4 stops, 50 min of driving over 5.0 mi, finish at 14:40"),
                         QStringLiteral("Driving times are an estimate: no streets are loaded.")}));
        QCOMPARE(sheet.table.rows.size(), size_t{4});
        for (const QStringList &row : sheet.table.rows) {
            QCOMPARE(row.size(), sheet.table.columns.size());
            for (qsizetype i = sheet.penColumnsFrom; i < row.size(); ++i) {
                QVERIFY(row[i].isEmpty());
            }
        }
        QCOMPARE(
            sheet.table.rows[0].mid(0, 8),
            (QStringList{QStringLiteral("1"), QStringLiteral("08:05"), QStringLiteral("0001"),
                         QStringLiteral("12 Invented Street; 14 ft N of the hydrant; nut 3 ft "
                                        "6 in down"),
                         QStringLiteral("8 in gate, closes clockwise, normally open"),
                         QStringLiteral("26 to 27 turns, rule of thumb"), QStringLiteral("never"),
                         QStringLiteral("cannot go without water: an invented clinic")}));
        QCOMPARE(sheet.table.rows[1][4],
                 QStringLiteral("6 in gate, closes counterclockwise, normally open, hydrant lead"));
        QCOMPARE(sheet.table.rows[1][3], QStringLiteral("41.500000, -88.250000"));
        QCOMPARE(sheet.notes,
                 (QStringList{QStringLiteral("A note of the plan"),
                              QStringLiteral("Not in this round: valve not in the list. 25 min are "
                                             "missing")}));
    }
    static void routeSheetWarns()
    {
        Day day;
        day.work();
        const Sheet sheet =
            routeSheet(day.round, day.plan, day.valves, day.read(), {}, UnitSystem::Metric);
        QCOMPARE(sheet.table.rows[2][7],
                 QStringLiteral("last left part open, 30 turns from closed; does not shut"));
        QCOMPARE(sheet.table.rows[3][7], QStringLiteral("cannot reach; Paved over or buried"));
        QCOMPARE(sheet.table.rows[0][6], QStringLiteral("2025-06-03"));
        QCOMPARE(sheet.table.rows[0][5], QStringLiteral("27 turns, counted on 2025-06-03"));
        QVERIFY(sheet.table.rows[0][4].startsWith(QLatin1String("DN 200")));
    }
    // Stop 2 waits for its street until 10:00, there is a break before the first stop and a late
    // one after the second, and the third stop's work lies in busy hours.
    static void waitsAndBreaksAreOnTheSheet()
    {
        const Day day = dayWithWaitsAndBreaks();
        const Sheet sheet =
            routeSheet(day.round, day.plan, day.valves, day.read(), {}, UnitSystem::Us);
        QCOMPARE(sheet.headerLines[1],
                 QStringLiteral("4 stops, 50 min of driving over 5.0 mi, 55 min of waiting, finish "
                                "at 14:40"));
        QStringList first;
        for (const QStringList &row : sheet.table.rows) {
            QCOMPARE(row.size(), sheet.table.columns.size());
            first << row[0] + QLatin1Char('|') + row[1];
        }
        QCOMPARE(first,
                 (QStringList{QStringLiteral("|07:30"), QStringLiteral("1|08:05"),
                              QStringLiteral("2|09:05, begin 10:00"), QStringLiteral("|10:30"),
                              QStringLiteral("3|10:05"), QStringLiteral("4|11:05")}));
        QCOMPARE(sheet.table.rows[0][3], QStringLiteral("Break at 07:30, 10 min"));
        QCOMPARE(sheet.table.rows[3][3], QStringLiteral("Break at 10:30, 30 min, late"));
        QCOMPARE(sheet.table.rows[2][7], QStringLiteral("busy hours: no work before 10:00"));
        QCOMPARE(sheet.table.rows[4][7], QStringLiteral("Work lies in busy hours."));
    }
    static void radioListReadsAloud()
    {
        Day day = dayWithWaitsAndBreaks();
        day.valves.pop_back();
        day.valves[1].normally = NormalPosition::Closed;
        day.valves[1].ties = QStringLiteral("9 ft E of the pole");
        day.valves[2].type = ValveType::Unknown;
        QCOMPARE(
            radioList(day.round, day.plan, day.valves, {}, UnitSystem::Us),
            (QStringList{
                QStringLiteral("Round of 2025-06-03, Crew 1: 4 stops, leave at 07:00."),
                QStringLiteral("Break at 07:30, 10 min."),
                QStringLiteral("Stop 1: valve 0001, 12 Invented Street; 8-inch gate, closes "
                               "clockwise, 26 to 27 turns; cannot go without water: an invented "
                               "clinic; be there 08:05."),
                QStringLiteral("Stop 2: valve 0002, 9 ft E of the pole; 6-inch gate, closes "
                               "counterclockwise, 20 to 21 turns, normally closed; be there 09:05, "
                               "no work before 10:00."),
                QStringLiteral("Break at 10:30, 30 min, late."),
                QStringLiteral("Stop 3: valve 0003, no address; 12-inch valve, closes clockwise, "
                               "39 turns; be there 10:05, in busy hours."),
                QStringLiteral("Stop 4: valve not in the list; be there 11:05."),
                QStringLiteral("Back at 14:40.")}));
        QVERIFY(radioList(day.round, day.plan, day.valves, {}, UnitSystem::Metric)[2].contains(
            QStringLiteral("DN 200 gate")));
    }
    static void anUnknownStopKeepsItsRow()
    {
        Day day;
        day.valves.erase(day.valves.begin() + 1);
        const Sheet sheet =
            routeSheet(day.round, day.plan, day.valves, day.read(), {}, UnitSystem::Us);
        QCOMPARE(sheet.table.rows[1].mid(0, 3),
                 (QStringList{QStringLiteral("2"), QStringLiteral("09:05"),
                              QStringLiteral("not in the list")}));
        QCOMPARE(sheet.table.rows[2][0], QStringLiteral("3"));
    }
    static void cautionsDefer()
    {
        const QString all = fieldCautions().join(QLatin1Char(' '));
        for (const char *word :
             {"own procedures", "local rules", "road authority", "Never lengthen", "confined space",
              "without water", "normal position"}) {
            QVERIFY2(all.contains(QLatin1String(word)), word);
        }
    }
    static void dayLogSaysWhatWasDone()
    {
        Day day;
        day.work();
        const Sheet sheet = dayLog(day.round, day.valves, day.read(), {}, UnitSystem::Us);
        QCOMPARE(sheet.headerLines, (QStringList{QStringLiteral("2025-06-03, Crew 1"),
                                                 QStringLiteral("3 of 4 done")}));
        QCOMPARE(sheet.table.rows.size(), size_t{3});
        QCOMPARE(
            sheet.table.rows[0],
            (QStringList{QStringLiteral("0001"),
                         QStringLiteral("8 in gate, closes clockwise, normally open"),
                         QStringLiteral("2025-06-03 08:05"), QStringLiteral("2025-06-03 08:05"),
                         QString(), QStringLiteral("27"), QStringLiteral("27"),
                         QStringLiteral("close 10, open 3, close 27, open 27"),
                         QStringLiteral("full (against 26 to 27 turns, rule of thumb)"),
                         QStringLiteral("serviceable with a defect"), QStringLiteral("open"),
                         QStringLiteral("Lid missing or broken; Other: <b>rust</b>"), QString(),
                         QString()}));
        QCOMPARE(sheet.table.rows[1][0], QStringLiteral("0004")); // by arrival
        QCOMPARE(sheet.table.rows[2][8], QStringLiteral("short (against 39 turns, as listed)"));
        QCOMPARE(sheet.notes,
                 (QStringList{QStringLiteral("Not in their normal position: 0003."),
                              QStringLiteral("Went out of condition: 0003, 0004."),
                              QStringLiteral("New defects: 0001."),
                              QStringLiteral("Not done, back to the due list: 0002.")}));
    }
    static void outcomeKeepsTheOrderOfStops()
    {
        Day day;
        day.work();
        std::swap(day.round.stops[0], day.round.stops[3]);
        day.round.stops.erase(day.round.stops.begin() + 2); // 0003 was visited all the same
        const RoundOutcome outcome = outcomeOf(day.round, day.read());
        QCOMPARE(outcome.done, (std::vector{valveId(4), valveId(1), valveId(3)}));
        QCOMPARE(outcome.notDone, (std::vector{valveId(2)}));
        QCOMPARE(outcome.newlyBad, (std::vector{valveId(4), valveId(3)}));
    }
    static void tablesOfTheOffice()
    {
        Day day;
        day.work();
        const Histories histories = day.read();
        const Span span{QDate(2025, 6, 1), QDate(2025, 6, 30)};
        const ReportTable bands =
            conditionTable(conditionSeries(day.valves, histories, span, PeriodLength::Month));
        QCOMPARE(
            bands.columns.join(QLatin1Char(',')),
            QStringLiteral("period,serviceable,defect,does_not_shut,does_not_turn,cannot_reach,"
                           "never_visited"));
        QCOMPARE(bands.rows.size(), size_t{1});
        QCOMPARE(bands.rows[0].join(QLatin1Char(',')), QStringLiteral("2025-06,0,1,1,0,1,1"));
        const ReportTable out = wentOutTable(wentOut(day.valves, histories, span), day.valves,
                                             histories, UnitSystem::Us);
        QCOMPARE(out.rows.size(), size_t{2});
        QCOMPARE(out.rows[0].last(), QStringLiteral("12 turns against 39 turns, as listed"));
        QCOMPARE(out.rows[1].last(), QStringLiteral("Paved over or buried"));
        const ReportTable due =
            dueTable(dueList(day.valves, histories, startingPolicy(), QDate(2025, 6, 4)),
                     day.valves, UnitSystem::Us);
        QCOMPARE(due.rows.size(), size_t{4});
        QCOMPARE(due.rows[0][0], QStringLiteral("0002"));
        QCOMPARE(due.rows[0][3], QStringLiteral("never visited"));
        for (const ReportTable &table : {bands, out, due}) {
            for (const QStringList &row : table.rows) {
                QCOMPARE(row.size(), table.columns.size());
            }
        }
    }
};

QTEST_GUILESS_MAIN(TestSheets)
#include "test_sheets.moc"
