// SPDX-License-Identifier: GPL-3.0-or-later
// A small invented fleet, counted by hand.
#include "core/condition/series.h"

#include <QtTest>

using namespace keyround;

namespace {

QDate day(const char *date)
{
    return QDate::fromString(QLatin1String(date), Qt::ISODate);
}

struct Fleet
{
    std::vector<Valve> valves;
    std::vector<Visit> visits;

    ValveId add(const char *number, int inches, const char *zone)
    {
        Valve valve;
        valve.id = {uuid7FromParts(static_cast<int>(valves.size()) + 1, 1, 0)};
        valve.number = QLatin1String(number);
        valve.size = NominalSize::ofInches(inches);
        valve.type = ValveType::Gate;
        valve.zone = QLatin1String(zone);
        valve.listedTurns = QuarterTurns::ofTurns(20);
        valves.push_back(valve);
        return valve.id;
    }
    VisitId visit(const ValveId &valve, const char *date, int turns, QList<Problem> problems = {})
    {
        Visit visit;
        visit.id = {uuid7FromParts(static_cast<int>(visits.size()) + 1, 2, 0)};
        visit.valve = valve;
        visit.arrived =
            Moment::from(QDateTime(day(date), QTime(23, 30), Qt::OffsetFromUTC, -18000));
        visit.stamp = {visits.size() + 1};
        if (turns > 0) {
            visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(turns)},
                            {PassDirection::Opening, QuarterTurns::ofTurns(turns)}};
        }
        visit.problems = std::move(problems);
        visits.push_back(visit);
        return visit.id;
    }
    [[nodiscard]] Histories read() const { return readHistories(valves, visits, {}, Tolerance()); }
};

// A: good in January, short in March, repaired in June. B: a defect on the last of February (a leap
// year), late in the evening by local time. C: never visited. D: stuck at once. E: not found in
// May, no access (still out) in July. F: retired, bad.
Fleet smallFleet()
{
    Fleet fleet;
    const ValveId a = fleet.add("A", 6, "low");
    const ValveId b = fleet.add("B", 8, "low");
    fleet.add("C", 8, "high");
    const ValveId d = fleet.add("D", 12, "high");
    const ValveId e = fleet.add("E", 6, "high");
    const ValveId f = fleet.add("F", 6, "low");
    fleet.valves.back().retired = true;
    fleet.visit(a, "2024-01-10", 20);
    fleet.visit(a, "2024-03-05", 8);
    fleet.visit(a, "2024-06-01", 20);
    fleet.visit(b, "2024-02-29", 20, {Problem::PackingLeak});
    fleet.visit(d, "2024-03-05", 0, {Problem::CouldNotOperate});
    fleet.visit(e, "2024-05-31", 0, {Problem::NotFound});
    fleet.visit(e, "2024-07-01", 0, {Problem::NoAccess});
    fleet.visit(f, "2024-03-01", 0, {Problem::CouldNotOperate});
    return fleet;
}

QString line(const PeriodCounts &period)
{
    QStringList parts{period.period, period.end.toString(Qt::ISODate)};
    for (const Condition condition :
         {Condition::Serviceable, Condition::Defect, Condition::DoesNotShut, Condition::DoesNotTurn,
          Condition::CannotReach, Condition::NeverVisited}) {
        parts << QString::number(period.of(condition));
    }
    return parts.join(QLatin1Char(' '));
}

QStringList lines(const std::vector<PeriodCounts> &periods)
{
    QStringList all;
    for (const PeriodCounts &period : periods) {
        all << line(period);
    }
    return all;
}

} // namespace

class TestSeries : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void byMonth()
    {
        const Fleet fleet = smallFleet();
        QCOMPARE(
            lines(conditionSeries(fleet.valves, fleet.read(),
                                  {day("2024-01-15"), day("2024-07-15")}, PeriodLength::Month)),
            (QStringList{QStringLiteral("2024-01 2024-01-31 1 0 0 0 0 4"),
                         QStringLiteral("2024-02 2024-02-29 1 1 0 0 0 3"),
                         QStringLiteral("2024-03 2024-03-31 0 1 1 1 0 2"),
                         QStringLiteral("2024-04 2024-04-30 0 1 1 1 0 2"),
                         QStringLiteral("2024-05 2024-05-31 0 1 1 1 1 1"),
                         QStringLiteral("2024-06 2024-06-30 1 1 0 1 1 1"),
                         QStringLiteral("2024-07 2024-07-15 1 1 0 1 1 1")}));
    }
    static void byQuarterAndYear()
    {
        const Fleet fleet = smallFleet();
        const Span span{day("2023-12-31"), day("2024-12-31")};
        QCOMPARE(lines(conditionSeries(fleet.valves, fleet.read(), span, PeriodLength::Quarter)),
                 (QStringList{QStringLiteral("2023-Q4 2023-12-31 0 0 0 0 0 5"),
                              QStringLiteral("2024-Q1 2024-03-31 0 1 1 1 0 2"),
                              QStringLiteral("2024-Q2 2024-06-30 1 1 0 1 1 1"),
                              QStringLiteral("2024-Q3 2024-09-30 1 1 0 1 1 1"),
                              QStringLiteral("2024-Q4 2024-12-31 1 1 0 1 1 1")}));
        QCOMPARE(lines(conditionSeries(fleet.valves, fleet.read(), span, PeriodLength::Year)),
                 (QStringList{QStringLiteral("2023 2023-12-31 0 0 0 0 0 5"),
                              QStringLiteral("2024 2024-12-31 1 1 0 1 1 1")}));
    }
    static void emptySpans()
    {
        QVERIFY(periodsIn({day("2024-02-20"), day("2024-02-10")}, PeriodLength::Month).empty());
        QVERIFY(periodsIn({QDate(), day("2024-01-01")}, PeriodLength::Month).empty());
    }
    static void wentOutInASpan()
    {
        const Fleet fleet = smallFleet();
        const auto changes =
            wentOut(fleet.valves, fleet.read(), {day("2024-03-05"), day("2024-05-31")});
        QCOMPARE(changes.size(), size_t{3});
        QCOMPARE(changes[0].valve, fleet.valves[0].id); // A before D on the same day
        QCOMPARE(changes[0].visit, fleet.visits[1].id);
        QCOMPARE(changes[0].from, Condition::Serviceable);
        QCOMPARE(changes[0].to, Condition::DoesNotShut);
        QCOMPARE(changes[1].valve, fleet.valves[3].id);
        QCOMPARE(changes[1].from, Condition::NeverVisited);
        QCOMPARE(changes[2].valve, fleet.valves[4].id);
        QCOMPARE(changes[2].date, day("2024-05-31"));
        QVERIFY(
            wentOut(fleet.valves, fleet.read(), {day("2024-03-06"), day("2024-05-30")}).empty());
    }
    static void filters()
    {
        const Fleet fleet = smallFleet();
        ValveFilter filter;
        QVERIFY(filter.words(UnitSystem::Us).isEmpty());
        QCOMPARE(filtered(fleet.valves, filter).size(), size_t{6});
        filter.zones = {QStringLiteral("high")};
        filter.sizes = {NominalSize::ofInches(8), NominalSize::ofInches(12)};
        QCOMPARE(filter.words(UnitSystem::Us), QStringLiteral("zone high; 8 in or 12 in"));
        QCOMPARE(filtered(fleet.valves, filter).size(), size_t{2});
        filter.types = {ValveType::Butterfly};
        QVERIFY(filtered(fleet.valves, filter).empty());
        const auto low = filtered(fleet.valves, {{QStringLiteral("low")}, {}, {}});
        QCOMPARE(line(conditionSeries(low, fleet.read(), {day("2024-03-01"), day("2024-03-31")},
                                      PeriodLength::Month)[0]),
                 QStringLiteral("2024-03 2024-03-31 0 1 1 0 0 0"));
    }
};

QTEST_GUILESS_MAIN(TestSeries)
#include "test_series.moc"
