// SPDX-License-Identifier: GPL-3.0-or-later
// Field sheets and the record of notices, as content: the order of the boxes, what is known of a
// stop, what was told when and by whom.
#include "core/reports/field_sheet.h"
#include "core/reports/notice_log.h"

#include <QSet>
#include <QTest>

using namespace keyround;

namespace {

Valve valveOf(int n, const char *number)
{
    Valve valve;
    valve.id = {uuid7FromParts(n, 1, 0)};
    valve.number = QLatin1String(number);
    valve.size = NominalSize::ofInches(8);
    valve.type = ValveType::Gate;
    valve.address = QStringLiteral("%1 Invented Street").arg(n);
    return valve;
}

PlannedStop stopOf(const ValveId &valve, int hour)
{
    PlannedStop stop;
    stop.valve = valve;
    stop.arrive = QTime(hour, 5);
    stop.begin = stop.arrive;
    stop.leave = QTime(hour, 30);
    return stop;
}

} // namespace

class FieldSheetTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void boxesAreInTheOrderOfWork();
    void aStopTellsWhatIsKnown();
    void aValveOutOfTheListKeepsItsPlace();
    void noticesAreListedLatestFirst();
};

void FieldSheetTest::boxesAreInTheOrderOfWork()
{
    const std::vector<FieldBoxInfo> &boxes = fieldBoxes();
    QSet<QString> keys;
    int before = -1;
    for (const FieldBoxInfo &info : boxes) {
        QVERIFY(static_cast<int>(info.box) > before); // arrived, found, turned, left, written
        before = static_cast<int>(info.box);
        keys.insert(QLatin1String(info.key));
        QVERIFY(*info.label != '\0');
    }
    QCOMPARE(keys.size(), qsizetype(boxes.size()));
    QVERIFY(boxes.front().box == FieldBox::Arrived);
    QVERIFY(boxes.back().box == FieldBox::RecordedBy);
}

void FieldSheetTest::aStopTellsWhatIsKnown()
{
    Valve valve = valveOf(1, "0001");
    valve.listedTurns = QuarterTurns::ofTurns(27);
    valve.criticalCustomers = QStringLiteral("an invented clinic");
    Round day;
    day.date = QDate(2026, 3, 16);
    day.crew = QStringLiteral("Crew 1");
    DayPlan plan;
    plan.stops = {stopOf(valve.id, 8)};
    StopExtrasById extras;
    extras.insert(valve.id, {QStringLiteral("11 cones"), QStringLiteral("3 services are told")});
    const FieldSheet sheet = fieldSheet(day, plan, {valve}, {}, UnitSystem::Us, extras);
    QCOMPARE(sheet.day, QStringLiteral("2026-03-16, Crew 1"));
    QCOMPARE(sheet.stops.size(), std::size_t{1});
    const FieldStop &stop = sheet.stops.front();
    QCOMPARE(stop.number, 1);
    QCOMPARE(stop.valve, QStringLiteral("0001"));
    QCOMPARE(stop.when, QStringLiteral("08:05"));
    QCOMPARE(stop.known.at(0), QStringLiteral("1 Invented Street"));
    const QString all = stop.known.join(QLatin1Char('\n'));
    for (const char *must : {"8 in gate", "never visited", "an invented clinic", "Set up: 11 cones",
                             "3 services are told"}) {
        QVERIFY2(all.contains(QLatin1String(must)), qPrintable(all));
    }
    QVERIFY(!sheet.cautions.isEmpty());
}

void FieldSheetTest::aValveOutOfTheListKeepsItsPlace()
{
    const Valve known = valveOf(2, "0002");
    DayPlan plan;
    plan.stops = {stopOf(valveOf(9, "0009").id, 8), stopOf(known.id, 9)};
    const FieldSheet sheet = fieldSheet({}, plan, {known}, {}, UnitSystem::Metric);
    QCOMPARE(sheet.stops.front().valve, QStringLiteral("not in the list"));
    QCOMPARE(sheet.stops.back().number, 2);
}

void FieldSheetTest::noticesAreListedLatestFirst()
{
    const Valve valve = valveOf(1, "0001");
    const auto notice = [&valve](int day, int told) {
        Notice given;
        given.valve = valve.id;
        given.given =
            Moment::from(QDateTime(QDate(2026, 3, day), QTime(6, 45), Qt::OffsetFromUTC, -18000));
        given.forDay = QDate(2026, 3, 20);
        given.services = told;
        given.affected = 14;
        given.how = QStringLiteral("by hand");
        given.person = QStringLiteral("M. Invented");
        return given;
    };
    const ReportTable table = noticeLog({notice(16, 12), notice(17, 2)}, {valve});
    QCOMPARE(table.rows.size(), std::size_t{2});
    QCOMPARE(table.rows.front().at(0), QStringLiteral("2026-03-17 06:45"));
    QCOMPARE(table.rows.back().at(4), QStringLiteral("12"));
    QCOMPARE(table.rows.back().at(5), QStringLiteral("14"));
    for (const QStringList &row : table.rows) {
        QCOMPARE(row.size(), table.columns.size());
    }
}

QTEST_GUILESS_MAIN(FieldSheetTest)
#include "test_field_sheet.moc"
