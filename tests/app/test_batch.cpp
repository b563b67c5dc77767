// SPDX-License-Identifier: GPL-3.0-or-later
// keyround-batch from outside, as a script uses it: exit codes, messages on stderr, JSON, files; a
// whole day of the invented town.

#include "tests/support/batch_run.h"

#include <QDir>
#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QTemporaryDir>
#include <QTest>

#include <set>

namespace {

using Run = keyround::tests::BatchRun;
using keyround::tests::runBatch;

QString sample(const char *name)
{
    return QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data/") + QLatin1String(name);
}

QJsonObject jsonOf(const QString &path)
{
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) {
        return {};
    }
    return QJsonDocument::fromJson(file.readAll()).object();
}

QByteArray bytesOf(const QString &path)
{
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
}

std::set<QString> keysOf(const QJsonObject &json)
{
    const QStringList keys = json.keys();
    return {keys.begin(), keys.end()};
}

} // namespace

class TestBatch : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void wrongUse_data();
    void wrongUse();
    void helpIsNoError();
    void aFailedJobSaysWhyAndChangesNothing();
    void dryRunWritesNothing();
    void streetsThatAreCutOffAreNamed();
    void aSecondLoadChangesNothing();
    void dueListsReasons();
    void planHasItsFields();
    void aSecondCrewGetsOtherValves();
    void planTakesAList();
    void planRefusesUnknownValves();
    void recordJudgesAndIsIdempotent();
    void visitsAheadOfTodayAreNoted();
    void conditionHasItsFields();

private:
    QString file(const char *name) const { return m_folder.filePath(QLatin1String(name)); }
    QString project() const { return file("town.keyround"); }
    QStringList on() const
    {
        return {QStringLiteral("--project"), project(), QStringLiteral("--on"),
                QStringLiteral("2026-03-16")};
    }

    QTemporaryDir m_folder;
};

void TestBatch::initTestCase()
{
    QVERIFY(m_folder.isValid());
    const QList<QStringList> steps{{QStringLiteral("create"), project(), QStringLiteral("--yard"),
                                    QStringLiteral("38.70794,-116.06352")},
                                   {QStringLiteral("load"), QStringLiteral("streets"),
                                    sample("streets.gpkg"), QStringLiteral("--project"), project()},
                                   {QStringLiteral("load"), QStringLiteral("valves"),
                                    sample("valves.csv"), QStringLiteral("--project"), project(),
                                    QStringLiteral("--crs"), QStringLiteral("EPSG:3422")},
                                   {QStringLiteral("load"), QStringLiteral("visits"),
                                    sample("visits.csv"), QStringLiteral("--project"), project(),
                                    QStringLiteral("--json"), file("visits.json")}};
    for (const QStringList &step : steps) {
        const Run run = runBatch(step);
        QVERIFY2(run.exitCode == 0, qPrintable(step.join(QLatin1Char(' ')) + run.err));
    }
    // The README of the sample town counts 5,746 visits.
    QCOMPARE(jsonOf(file("visits.json")).value(QStringLiteral("added")).toInt(), 5746);
}

void TestBatch::wrongUse_data()
{
    QTest::addColumn<QStringList>("arguments");
    QTest::addColumn<QString>("message");
    const auto row = [](const char *name, const char *words, const char *message) {
        QTest::newRow(name) << QString::fromLatin1(words).split(QLatin1Char(' '),
                                                                Qt::SkipEmptyParts)
                            << QString::fromLatin1(message);
    };
    row("nothing", "", "Usage");
    row("unknown command", "frobnicate", "there is no command");
    row("unknown option", "due --colour blue", "colour");
    row("no project", "due", "--project");
    row("no file", "create", "which file");
    row("units", "create x.keyround --units furlongs", "us or metric");
    row("kind", "load pipes x.csv --project x.keyround", "what to load");
    row("map", "load valves x.csv --project x.keyround --map number", "field=column");
    row("crs", "load valves x.csv --project x.keyround --crs feet", "EPSG");
    row("dates", "load visits x.csv --project x.keyround --dates usual", "mdy or dmy");
    row("date", "due --project x.keyround --on 16/3/2026", "2026-03-16");
    row("by", "condition --project x.keyround --by week", "month|quarter|year");
    row("visits", "record --project x.keyround", "--visits");
    row("too many words", "due --project x.keyround tomorrow", "one argument too many");
    row("too many files", "create x.keyround y.keyround", "one argument too many");
    row("project's name", "create x.db", "ends in .keyround");
}

void TestBatch::wrongUse()
{
    QFETCH(QStringList, arguments);
    QFETCH(QString, message);
    const Run run = runBatch(arguments);
    QCOMPARE(run.exitCode, 2);
    QVERIFY2(run.err.contains(message), qPrintable(run.err));
    QVERIFY(run.out.isEmpty());
}

void TestBatch::helpIsNoError()
{
    for (const char *command :
         {"create", "load", "due", "plan", "weeks", "learn", "record", "condition"}) {
        const Run run = runBatch({QLatin1String(command), QStringLiteral("--help")});
        QCOMPARE(run.exitCode, 0);
        QVERIFY2(
            run.out.startsWith(
                QStringLiteral("Usage: keyround-batch %1 [options]").arg(QLatin1String(command))),
            qPrintable(run.out));
    }
}

void TestBatch::aFailedJobSaysWhyAndChangesNothing()
{
    QFile feet(file("feet.csv"));
    QVERIFY(feet.open(QIODevice::WriteOnly));
    feet.write("VALVE_NO,X_FT,Y_FT\n00001,1814279.23,21124995.09\n");
    feet.close();
    const QByteArray before = bytesOf(project());
    const QList<QStringList> jobs{
        {QStringLiteral("load"), QStringLiteral("valves"), file("absent.csv"),
         QStringLiteral("--project"), project()},
        {QStringLiteral("load"), QStringLiteral("valves"), sample("valves.csv"),
         QStringLiteral("--project"), project()}, // no coordinate system: asked for, not guessed
        {QStringLiteral("load"), QStringLiteral("valves"), file("feet.csv"),
         QStringLiteral("--project"), project(), QStringLiteral("--crs"),
         QStringLiteral("EPSG:4326")}, // feet taken for degrees: not one row can be placed
        {QStringLiteral("plan"), QStringLiteral("--project"), project(), QStringLiteral("--on"),
         QStringLiteral("2026-03-16"), QStringLiteral("--start"),
         QStringLiteral("10,10")},             // another continent: no stop fits the shift
        {QStringLiteral("create"), project()}, // never overwrites
        {QStringLiteral("due"), QStringLiteral("--project"), sample("valves.csv")}};
    for (const QStringList &job : jobs) {
        const Run run = runBatch(job);
        QVERIFY2(run.exitCode == 1, qPrintable(job.join(QLatin1Char(' ')) + run.err));
        QVERIFY(!run.err.isEmpty());
    }
    QVERIFY(runBatch(jobs.at(1)).err.contains(QStringLiteral("EPSG")));
    QCOMPARE(bytesOf(project()), before);
}

void TestBatch::dryRunWritesNothing()
{
    const QByteArray before = bytesOf(project());
    const Run run =
        runBatch({QStringLiteral("load"), QStringLiteral("hydrants"), sample("hydrants.geojson"),
                  QStringLiteral("--project"), project(), QStringLiteral("--dry-run"),
                  QStringLiteral("--json"), file("dry.json")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    QCOMPARE(jsonOf(file("dry.json")).value(QStringLiteral("added")).toInt(), 297);
    QCOMPARE(jsonOf(file("dry.json")).value(QStringLiteral("written")).toBool(), false);
    QCOMPARE(bytesOf(project()), before);
}

void TestBatch::streetsThatAreCutOffAreNamed()
{
    const Run run =
        runBatch({QStringLiteral("load"), QStringLiteral("streets"), sample("streets.gpkg"),
                  QStringLiteral("--project"), project(), QStringLiteral("--dry-run")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    // The sample town's page says that this lane is cut off on purpose.
    QVERIFY2(run.err.contains(QStringLiteral("Killdeer Wash Lane")), qPrintable(run.err));
    QVERIFY(run.err.contains(QStringLiteral("cut off")));
}

void TestBatch::aSecondLoadChangesNothing()
{
    const Run run =
        runBatch({QStringLiteral("load"), QStringLiteral("valves"), sample("valves.csv"),
                  QStringLiteral("--project"), project(), QStringLiteral("--crs"),
                  QStringLiteral("EPSG:3422"), QStringLiteral("--json"), file("again.json")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    const QJsonObject json = jsonOf(file("again.json"));
    QCOMPARE(json.value(QStringLiteral("added")).toInt(), 0);
    QCOMPARE(json.value(QStringLiteral("changed")).toInt(), 0);
    QCOMPARE(json.value(QStringLiteral("unchanged")).toInt(), 1222);
    QCOMPARE(json.value(QStringLiteral("rejected")).toArray().size(), 1); // the one that is twice
}

void TestBatch::dueListsReasons()
{
    const Run run = runBatch(QStringList{QStringLiteral("due")} + on() +
                             QStringList{QStringLiteral("--json"), file("due.json")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    const QJsonArray valves = jsonOf(file("due.json")).value(QStringLiteral("valves")).toArray();
    QVERIFY(valves.size() > 1000);
    for (const QJsonValue &valve : valves) {
        QVERIFY(!valve.toObject().value(QStringLiteral("reason")).toString().isEmpty());
    }
}

void TestBatch::planHasItsFields()
{
    const Run run = runBatch(
        QStringList{QStringLiteral("plan")} + on() +
        QStringList{QStringLiteral("--crew"), QStringLiteral("Crew 1"), QStringLiteral("--shift"),
                    QStringLiteral("07:00-15:30"), QStringLiteral("--json"), file("plan.json"),
                    QStringLiteral("--gpx"), file("plan.gpx"), QStringLiteral("--sheet"),
                    file("plan.pdf"), QStringLiteral("--map"), file("plan.png")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    const QJsonObject plan = jsonOf(file("plan.json"));
    for (const char *key :
         {"date", "crew", "travel", "stops", "return_seconds", "drive_seconds", "drive_metres",
          "finish", "left_out", "breaks", "least_drive_seconds"}) {
        QVERIFY2(plan.contains(QLatin1String(key)), key);
    }
    QCOMPARE(plan.value(QStringLiteral("travel")).toString(), QStringLiteral("streets"));
    const QJsonArray stops = plan.value(QStringLiteral("stops")).toArray();
    QVERIFY(stops.size() >= 8);
    const std::set<QString> wanted{QStringLiteral("valve"),        QStringLiteral("lat"),
                                   QStringLiteral("lon"),          QStringLiteral("arrive"),
                                   QStringLiteral("leave"),        QStringLiteral("drive_seconds"),
                                   QStringLiteral("drive_metres"), QStringLiteral("stop_minutes"),
                                   QStringLiteral("begin"),        QStringLiteral("wait_seconds"),
                                   QStringLiteral("misses_hours")};
    double seconds = plan.value(QStringLiteral("return_seconds")).toDouble();
    for (const QJsonValue &stop : stops) {
        QCOMPARE(keysOf(stop.toObject()), wanted);
        seconds += stop.toObject().value(QStringLiteral("drive_seconds")).toDouble();
    }
    QVERIFY(std::abs(seconds - plan.value(QStringLiteral("drive_seconds")).toDouble()) < 1.0);
    QVERIFY(plan.value(QStringLiteral("finish")).toString() <= QStringLiteral("15:30"));
    QVERIFY(bytesOf(file("plan.pdf")).startsWith("%PDF"));
    QVERIFY(bytesOf(file("plan.png")).startsWith("\x89PNG"));
    const QByteArray gpx = bytesOf(file("plan.gpx"));
    QVERIFY(gpx.contains("version=\"1.1\""));
    QCOMPARE(gpx.count("<rtept"), stops.size() + 2);
}

void TestBatch::aSecondCrewGetsOtherValves()
{
    const Run run = runBatch(QStringList{QStringLiteral("plan")} + on() +
                             QStringList{QStringLiteral("--crew"), QStringLiteral("Crew 2"),
                                         QStringLiteral("--json"), file("second.json")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    std::set<QString> first;
    for (const QJsonValue &stop :
         jsonOf(file("plan.json")).value(QStringLiteral("stops")).toArray()) {
        first.insert(stop.toObject().value(QStringLiteral("valve")).toString());
    }
    const QJsonObject plan = jsonOf(file("second.json"));
    const QJsonArray stops = plan.value(QStringLiteral("stops")).toArray();
    QVERIFY(stops.size() >= 8);
    for (const QJsonValue &stop : stops) {
        QVERIFY(!first.contains(stop.toObject().value(QStringLiteral("valve")).toString()));
    }
    // The other crew's stops are left out, with the reason.
    size_t named = 0;
    for (const QJsonValue &left : plan.value(QStringLiteral("left_out")).toArray()) {
        const QString reason = left.toObject().value(QStringLiteral("reason")).toString();
        named += reason.contains(QStringLiteral("(Crew 1)")) ? 1 : 0;
    }
    QCOMPARE(named, first.size());
}

void TestBatch::planTakesAList()
{
    QFile list(file("list.txt"));
    QVERIFY(list.open(QIODevice::WriteOnly));
    list.write("00010\n00020\r\n\n00030\n");
    list.close();
    const Run run = runBatch(QStringList{QStringLiteral("plan")} + on() +
                             QStringList{QStringLiteral("--crew"), QStringLiteral("Crew 9"),
                                         QStringLiteral("--valves"), file("list.txt"),
                                         QStringLiteral("--json"), QStringLiteral("-")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    // With --json - standard output is JSON and nothing else.
    const QJsonObject plan = QJsonDocument::fromJson(run.out.toUtf8()).object();
    QCOMPARE(plan.value(QStringLiteral("stops")).toArray().size(), 3);
}

void TestBatch::planRefusesUnknownValves()
{
    QFile list(file("bad.txt"));
    QVERIFY(list.open(QIODevice::WriteOnly));
    list.write("00010\nno such valve\n");
    list.close();
    const Run run = runBatch(QStringList{QStringLiteral("plan")} + on() +
                             QStringList{QStringLiteral("--valves"), file("bad.txt")});
    QCOMPARE(run.exitCode, 1);
    QVERIFY2(run.err.contains(QStringLiteral("no such valve")), qPrintable(run.err));
}

void TestBatch::recordJudgesAndIsIdempotent()
{
    const QJsonArray stops = jsonOf(file("plan.json")).value(QStringLiteral("stops")).toArray();
    QVERIFY(!stops.isEmpty());
    const QString done = stops.at(0).toObject().value(QStringLiteral("valve")).toString();
    QFile results(file("results.csv"));
    QVERIFY(results.open(QIODevice::WriteOnly));
    results.write(
        QStringLiteral("VALVE_NO,VISIT_DATE,TIME_ARRIVED,TIME_LEFT,CREW,FOUND,"
                       "TURNS_CLOSED,TURNS_OPENED,PROBLEMS,LEFT_AS,REMARKS\r\n"
                       "%1,2026-03-16,07:20,07:40,Crew 1,Open,1,1,Did not close,Closed,x\r\n"
                       "99999,2026-03-16,08:00,08:10,Crew 1,Open,1,1,,Open,\r\n")
            .arg(done)
            .toUtf8());
    results.close();
    const QStringList job{QStringLiteral("record"),
                          QStringLiteral("--project"),
                          project(),
                          QStringLiteral("--visits"),
                          file("results.csv"),
                          QStringLiteral("--round"),
                          QStringLiteral("2026-03-16"),
                          QStringLiteral("--crew"),
                          QStringLiteral("Crew 1"),
                          QStringLiteral("--json"),
                          file("record.json"),
                          QStringLiteral("--log"),
                          file("log.csv")};
    const Run first = runBatch(job);
    QVERIFY2(first.exitCode == 0, qPrintable(first.err));
    const QJsonObject json = jsonOf(file("record.json"));
    QCOMPARE(json.value(QStringLiteral("recorded")).toInt(), 1);
    const QJsonArray rejected = json.value(QStringLiteral("rejected")).toArray();
    QCOMPARE(rejected.size(), 1);
    QCOMPARE(rejected.at(0).toObject().value(QStringLiteral("row")).toInt(), 2);
    QCOMPARE(rejected.at(0).toObject().value(QStringLiteral("value")).toString(),
             QStringLiteral("99999"));
    QVERIFY2(first.err.contains(QStringLiteral("row 2: not taken: VALVE_NO \"99999\"")),
             qPrintable(first.err));
    const QJsonObject round = json.value(QStringLiteral("round")).toObject();
    QCOMPARE(round.value(QStringLiteral("done")).toArray(), QJsonArray{done});
    QCOMPARE(round.value(QStringLiteral("not_done")).toArray().size(), stops.size() - 1);
    QCOMPARE(round.value(QStringLiteral("left_not_normal")).toArray(), QJsonArray{done});
    QVERIFY(bytesOf(file("log.csv")).contains(done.toUtf8()));

    const Run second = runBatch(job);
    QVERIFY2(second.exitCode == 0, qPrintable(second.err));
    QCOMPARE(jsonOf(file("record.json")).value(QStringLiteral("recorded")).toInt(), 0);
    QCOMPARE(jsonOf(file("record.json")).value(QStringLiteral("already_recorded")).toInt(), 1);

    // The round is under way now and is not drawn up again.
    const Run plan = runBatch(QStringList{QStringLiteral("plan")} + on() +
                              QStringList{QStringLiteral("--crew"), QStringLiteral("Crew 1")});
    QCOMPARE(plan.exitCode, 1);
    QVERIFY2(plan.err.contains(QStringLiteral("not drawn up again")), qPrintable(plan.err));
}

void TestBatch::visitsAheadOfTodayAreNoted()
{
    QFile results(file("ahead.csv"));
    QVERIFY(results.open(QIODevice::WriteOnly));
    results.write("VALVE_NO,VISIT_DATE,TURNS_CLOSED\n00010,2099-05-06,20\n00020,2024-05-06,20\n");
    results.close();
    const Run run = runBatch({QStringLiteral("load"), QStringLiteral("visits"), file("ahead.csv"),
                              QStringLiteral("--project"), project(), QStringLiteral("--dry-run")});
    QCOMPARE(run.exitCode, 0);
    QVERIFY2(run.err.contains(QStringLiteral("row 1: note: VISIT_DATE \"2099-05-06\"")),
             qPrintable(run.err));
    QVERIFY2(!run.err.contains(QStringLiteral("row 2")), qPrintable(run.err));
}

void TestBatch::conditionHasItsFields()
{
    const Run run =
        runBatch({QStringLiteral("condition"), QStringLiteral("--project"), project(),
                  QStringLiteral("--from"), QStringLiteral("2020-01-01"), QStringLiteral("--to"),
                  QStringLiteral("2025-12-31"), QStringLiteral("--by"), QStringLiteral("year"),
                  QStringLiteral("--json"), file("condition.json"), QStringLiteral("--csv"),
                  file("condition.csv"), QStringLiteral("--png"), file("condition.png")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    const QJsonArray series =
        jsonOf(file("condition.json")).value(QStringLiteral("series")).toArray();
    QCOMPARE(series.size(), 6);
    const std::set<QString> wanted{QStringLiteral("period"),        QStringLiteral("serviceable"),
                                   QStringLiteral("defect"),        QStringLiteral("does_not_shut"),
                                   QStringLiteral("does_not_turn"), QStringLiteral("cannot_reach"),
                                   QStringLiteral("never_visited")};
    std::set<int> totals;
    for (const QJsonValue &period : series) {
        QCOMPARE(keysOf(period.toObject()), wanted);
        int total = 0;
        for (const QString &key : wanted) {
            total += period.toObject().value(key).toInt();
        }
        totals.insert(total);
    }
    // Every valve stands in one condition at each period's end.
    QCOMPARE(totals.size(), size_t(1));
    QVERIFY(*totals.begin() > 1000);
    const QJsonArray wentOut =
        jsonOf(file("condition.json")).value(QStringLiteral("went_out")).toArray();
    QVERIFY(!wentOut.isEmpty());
    QCOMPARE(keysOf(wentOut.at(0).toObject()),
             (std::set<QString>{QStringLiteral("valve"), QStringLiteral("date"),
                                QStringLiteral("from"), QStringLiteral("to")}));
    QCOMPARE(bytesOf(file("condition.csv")).count("\r\n"), 7);
    QVERIFY(bytesOf(file("condition.png")).startsWith("\x89PNG"));
}

QTEST_GUILESS_MAIN(TestBatch)
#include "test_batch.moc"
