// SPDX-License-Identifier: GPL-3.0-or-later
// keyround-batch shut and single-shuts from outside. The network is the ladder of the check cases
// that the tracing is held against (made for this project; two independent tracers agree on its
// figures), drawn on open ocean and brought in from files as a utility would bring it.

#include "tests/support/batch_run.h"

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QProcess>
#include <QTemporaryDir>
#include <QTest>

#include <map>
#include <string>

namespace {

struct Place
{
    double east;
    double north;
};
const std::map<std::string, Place> places{
    {"R1", {0, 3}}, {"A1", {1, 3}}, {"A2", {2, 3}}, {"A3", {3, 3}}, {"A4", {4, 3}},
    {"B1", {1, 2}}, {"B2", {2, 2}}, {"B3", {3, 2}}, {"B4", {4, 2}}, {"X1", {3, 4}},
    {"Y1", {2, 1}}, {"Y2", {2, 0}}, {"TK", {5, 2}}};

struct Pipe
{
    const char *from;
    const char *to;
    int customers;
};
const std::map<std::string, Pipe> pipes{
    {"T1", {"R1", "A1", 0}},  {"N12", {"A1", "A2", 14}}, {"N23", {"A2", "A3", 11}},
    {"N34", {"A3", "A4", 9}}, {"S12", {"B1", "B2", 12}}, {"S23", {"B2", "B3", 16}},
    {"S34", {"B3", "B4", 8}}, {"R1r", {"A1", "B1", 3}},  {"R2r", {"A2", "B2", 4}},
    {"R3r", {"A3", "B3", 5}}, {"R4r", {"A4", "B4", 2}},  {"T2", {"TK", "B4", 0}},
    {"D1", {"A3", "X1", 7}},  {"E1", {"B2", "Y1", 20}},  {"E2", {"Y1", "Y2", 13}}};

struct Valve
{
    const char *number;
    const char *pipe;
    const char *node;
};
constexpr Valve valves[]{{"V01", "T1", "A1"},  {"V02", "N12", "A1"}, {"V03", "R1r", "A1"},
                         {"V04", "N12", "A2"}, {"V05", "R2r", "A2"}, {"V06", "N23", "A3"},
                         {"V07", "R3r", "A3"}, {"V08", "N34", "A3"}, {"V09", "N34", "A4"},
                         {"V10", "S12", "B1"}, {"V11", "S12", "B2"}, {"V12", "R2r", "B2"},
                         {"V13", "S23", "B3"}, {"V14", "R3r", "B3"}, {"V15", "S34", "B4"},
                         {"V16", "T2", "B4"},  {"V17", "E2", "Y1"}};

double longitude(const Place &place)
{
    return -150.0 + place.east * 0.001;
}
double latitude(const Place &place)
{
    return 40.0 + place.north * 0.001;
}

/// A place on a pipe: a share of the way from a node of it to the other.
Place along(const Pipe &pipe, const std::string &fromNode, double share)
{
    const Place &from = places.at(fromNode);
    const Place &to = places.at(fromNode == pipe.from ? pipe.to : pipe.from);
    return {from.east + share * (to.east - from.east),
            from.north + share * (to.north - from.north)};
}

using Run = keyround::tests::BatchRun;
using keyround::tests::runBatch;

QStringList valvesIn(const QJsonObject &json, const char *key)
{
    QStringList numbers;
    const QJsonArray steps = json.value(QLatin1String(key)).toArray();
    for (const auto &step : steps) {
        numbers << step.toObject().value(QLatin1String("valve")).toString();
        if (step.toObject().value(QLatin1String("why")).toString().isEmpty()) {
            numbers << QStringLiteral("(without a reason)");
        }
    }
    numbers.sort();
    return numbers;
}

QStringList words(const char *text)
{
    return QString::fromLatin1(text).split(QLatin1Char(' '), Qt::SkipEmptyParts);
}

} // namespace

class TestBatchShut : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void aBreak_data();
    void aBreak();
    void aPlaceIsTakenToItsMain();
    void oneValveAlone();
    void everyValveInTheTable();
    void theSheetIsWritten();
    void wrongUse_data();
    void wrongUse();
    void withoutMains();
    void theTutorialSaysWhatTheProgramSays();

private:
    bool write(const char *name, const QByteArray &text);
    QJsonObject shut(QStringList arguments);
    QString inFolder(const char *name) const { return m_folder.filePath(QLatin1String(name)); }

    QTemporaryDir m_folder;
    QString m_project;
};

bool TestBatchShut::write(const char *name, const QByteArray &text)
{
    QFile file(inFolder(name));
    return file.open(QIODevice::WriteOnly) && file.write(text) == text.size();
}

void TestBatchShut::initTestCase()
{
    QByteArray mains;
    QByteArray services("number,main,lat,lon\n");
    for (const auto &[name, pipe] : pipes) {
        const Place &from = places.at(pipe.from);
        const Place &to = places.at(pipe.to);
        mains += (mains.isEmpty() ? "" : ",") +
                 QStringLiteral(R"({"type":"Feature","properties":{"number":"%1"},"geometry":)"
                                R"({"type":"LineString","coordinates":[[%2,%3],[%4,%5]]}})")
                     .arg(QString::fromStdString(name))
                     .arg(longitude(from), 0, 'f', 7)
                     .arg(latitude(from), 0, 'f', 7)
                     .arg(longitude(to), 0, 'f', 7)
                     .arg(latitude(to), 0, 'f', 7)
                     .toLatin1();
        for (int i = 0; i < pipe.customers; ++i) {
            const Place place = along(pipe, pipe.from, 0.3 + 0.4 * i / pipe.customers);
            services += QStringLiteral("%1-%2,%1,%3,%4\n")
                            .arg(QString::fromStdString(name))
                            .arg(i)
                            .arg(latitude(place), 0, 'f', 7)
                            .arg(longitude(place), 0, 'f', 7)
                            .toLatin1();
        }
    }
    QByteArray valveRows("number,lat,lon\n");
    for (const Valve &valve : valves) {
        const Place place = along(pipes.at(valve.pipe), valve.node, 0.08);
        valveRows += QStringLiteral("%1,%2,%3\n")
                         .arg(QLatin1String(valve.number))
                         .arg(latitude(place), 0, 'f', 7)
                         .arg(longitude(place), 0, 'f', 7)
                         .toLatin1();
    }
    QVERIFY(write("mains.geojson", R"({"type":"FeatureCollection","features":[)" + mains + "]}"));
    QVERIFY(write("services.csv", services));
    QVERIFY(write("valves.csv", valveRows));
    QVERIFY(write("sources.csv", "number,kind,lat,lon\nR1,reservoir,40.003,-150.0\n"
                                 "TK,tank,40.002,-149.995\n"));
    m_project = inFolder("ladder.keyround");
    QCOMPARE(runBatch({QStringLiteral("create"), m_project}).exitCode, 0);
    for (const char *load : {"mains mains.geojson", "services services.csv", "valves valves.csv",
                             "sources sources.csv"}) {
        const QStringList parts = words(load);
        const Run run =
            runBatch({QStringLiteral("load"), parts.at(0), m_folder.filePath(parts.at(1)),
                      QStringLiteral("--project"), m_project});
        QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    }
}

QJsonObject TestBatchShut::shut(QStringList arguments)
{
    const QString json = inFolder("shut.json");
    QFile::remove(json);
    arguments = QStringList{QStringLiteral("shut"), QStringLiteral("--project"), m_project,
                            QStringLiteral("--json"), json} +
                arguments;
    const Run run = runBatch(arguments);
    if (run.exitCode != 0) {
        qWarning("%s", qPrintable(run.err));
        return {};
    }
    QFile file(json);
    return file.open(QIODevice::ReadOnly) ? QJsonDocument::fromJson(file.readAll()).object()
                                          : QJsonObject();
}

void TestBatchShut::aBreak_data()
{
    QTest::addColumn<QString>("arguments");
    QTest::addColumn<QString>("close");
    QTest::addColumn<QString>("deadSide");
    QTest::addColumn<QString>("passedOver");
    QTest::addColumn<int>("out");
    QTest::addColumn<int>("beyond");
    const auto row = [](const char *name, const char *arguments, const char *close,
                        const char *deadSide, const char *passedOver, int out, int beyond) {
        QTest::newRow(name) << QString::fromLatin1(arguments) << QString::fromLatin1(close)
                            << QString::fromLatin1(deadSide) << QString::fromLatin1(passedOver)
                            << out << beyond;
    };
    row("S23", "--main S23", "V11 V12 V13", "V17", "", 36, 13);
    row("V13 stuck", "--main S23 --stuck V13", "V11 V12 V14 V15", "V17", "V13", 44, 13);
    row("S12", "--main S12", "V10 V11", "", "", 12, 0);
}

void TestBatchShut::aBreak()
{
    QFETCH(QString, arguments);
    const QJsonObject json = shut(arguments.split(QLatin1Char(' ')));
    const auto list = [](const QString &text) {
        return text.split(QLatin1Char(' '), Qt::SkipEmptyParts);
    };
    QFETCH(QString, close);
    QFETCH(QString, deadSide);
    QFETCH(QString, passedOver);
    QCOMPARE(valvesIn(json, "close"), list(close));
    QCOMPARE(valvesIn(json, "close_dead_side"), list(deadSide));
    QCOMPARE(valvesIn(json, "passed_over"), list(passedOver));
    QCOMPARE(valvesIn(json, "already_closed"), QStringList());
    QTEST(json.value(QLatin1String("services_out")).toInt(), "out");
    QTEST(json.value(QLatin1String("services_out_beyond")).toInt(), "beyond");
    QVERIFY(json.value(QLatin1String("caution")).toString().contains(QStringLiteral("pressure")));
    for (const char *key : {"critical_out", "hydrants_out", "source_lost"}) {
        QVERIFY(json.value(QLatin1String(key)).isArray());
    }
}

void TestBatchShut::aPlaceIsTakenToItsMain()
{
    const QJsonObject json = shut({QStringLiteral("--at"), QStringLiteral("40.00201,-149.9975")});
    QCOMPARE(valvesIn(json, "close"), words("V11 V12 V13"));
}

void TestBatchShut::oneValveAlone()
{
    const QJsonObject dead = shut({QStringLiteral("--valve"), QStringLiteral("V17")});
    QCOMPARE(valvesIn(dead, "close"), words("V17"));
    QCOMPARE(dead.value(QLatin1String("services_out")).toInt(), 13);
    const QJsonObject looped = shut({QStringLiteral("--valve"), QStringLiteral("V11")});
    QCOMPARE(looped.value(QLatin1String("services_out")).toInt(), 0);
}

void TestBatchShut::everyValveInTheTable()
{
    const QString csv = inFolder("shuts.csv");
    const Run run = runBatch({QStringLiteral("single-shuts"), QStringLiteral("--project"),
                              m_project, QStringLiteral("--csv"), csv});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    QFile file(csv);
    QVERIFY(file.open(QIODevice::ReadOnly));
    const QStringList lines = QString::fromUtf8(file.readAll()).split(QStringLiteral("\r\n"));
    QCOMPARE(lines.at(0), QStringLiteral("valve,services_out,critical_out,services_more_if_stuck"));
    // "One valve shut: only V17 cuts anybody (13)"; "customers more if this valve sticks: V11 61,
    // V13 57, V12 53, V17 49": all of the shut that has grown over it.
    const std::map<QString, int> ifStuck{{QStringLiteral("V11"), 61},
                                         {QStringLiteral("V13"), 57},
                                         {QStringLiteral("V12"), 53},
                                         {QStringLiteral("V17"), 49}};
    int rows = 0;
    for (const QString &line : lines.mid(1)) {
        const QStringList cells = line.split(QLatin1Char(','));
        if (cells.size() != 4) {
            continue;
        }
        ++rows;
        QCOMPARE(cells.at(1).toInt(), cells.at(0) == QLatin1String("V17") ? 13 : 0);
        if (const auto known = ifStuck.find(cells.at(0)); known != ifStuck.end()) {
            QCOMPARE(cells.at(3).toInt(), known->second);
        }
    }
    QCOMPARE(rows, 17);
}

void TestBatchShut::theSheetIsWritten()
{
    const QString pdf = inFolder("shut.pdf");
    shut({QStringLiteral("--main"), QStringLiteral("S23"), QStringLiteral("--sheet"), pdf});
    QFile file(pdf);
    QVERIFY(file.open(QIODevice::ReadOnly));
    QVERIFY(file.read(5) == "%PDF-");
}

void TestBatchShut::wrongUse_data()
{
    QTest::addColumn<QStringList>("arguments");
    QTest::addColumn<int>("exitCode");
    QTest::addColumn<QString>("message");
    QTest::newRow("nothing to shut") << QStringList() << 2 << QStringLiteral("--valve");
    QTest::newRow("two things") << words("--main S23 --valve V11") << 2 << QStringLiteral("one of");
    QTest::newRow("no such main") << words("--main Z9") << 1 << QStringLiteral("Z9");
    QTest::newRow("no such valve") << words("--valve Z9") << 1 << QStringLiteral("Z9");
    QTest::newRow("no such stuck valve")
        << words("--main S23 --stuck Z9") << 1 << QStringLiteral("Z9");
    QTest::newRow("far away") << words("--at 41.5,-150") << 1 << QStringLiteral("nearest main");
    QTest::newRow("no place") << words("--at there") << 1 << QStringLiteral("there");
}

void TestBatchShut::wrongUse()
{
    QFETCH(QStringList, arguments);
    const Run run = runBatch(
        QStringList{QStringLiteral("shut"), QStringLiteral("--project"), m_project} + arguments);
    QTEST(run.exitCode, "exitCode");
    QFETCH(QString, message);
    QVERIFY2(run.err.contains(message), qPrintable(run.err));
}

void TestBatchShut::withoutMains()
{
    const QString empty = inFolder("empty.keyround");
    QCOMPARE(runBatch({QStringLiteral("create"), empty}).exitCode, 0);
    const Run run = runBatch({QStringLiteral("shut"), QStringLiteral("--project"), empty,
                              QStringLiteral("--main"), QStringLiteral("S23")});
    QCOMPARE(run.exitCode, 1);
    QVERIFY2(run.err.contains(QStringLiteral("mains")), qPrintable(run.err));
}

void TestBatchShut::theTutorialSaysWhatTheProgramSays()
{
    const QString project = inFolder("sample.keyround");
    QProcess make;
    make.start(QStringLiteral(KEYROUND_SOURCE_DIR "/packaging/make-sample-project"),
               {QStringLiteral(KEYROUND_BUILD_DIR "/app/keyround-batch"), project});
    QVERIFY(make.waitForFinished(120000));
    const Run run = runBatch({QStringLiteral("shut"), QStringLiteral("--project"), project,
                              QStringLiteral("--main"), QStringLiteral("WM-00300"),
                              QStringLiteral("--on"), QStringLiteral("2026-03-16")});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    QFile page(QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/README.md"));
    QVERIFY(page.open(QIODevice::ReadOnly));
    const QString tutorial = QString::fromUtf8(page.readAll());
    // Lines of the tutorial are wrapped and parted by spaces where the program writes a tab.
    const QString said = run.out.simplified();
    QVERIFY2(tutorial.simplified().contains(said), qPrintable(said));
}

QTEST_GUILESS_MAIN(TestBatchShut)
#include "test_batch_shut.moc"
