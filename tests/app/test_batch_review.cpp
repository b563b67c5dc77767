// SPDX-License-Identifier: GPL-3.0-or-later
// keyround-batch review from outside, on the invented town: each figure against the files that it
// was brought in from, the figures against each other, and the town's known ageing law
// (sample-project/README.md) inside the band that is worked out from its visits.

#include "tests/support/batch_run.h"

#include <QFile>
#include <QJsonArray>
#include <QTemporaryDir>
#include <QTest>

#include <cmath>
#include <map>
#include <set>

namespace {

using Run = keyround::tests::BatchRun;
using keyround::tests::runBatch;

QString sample(const char *name)
{
    return QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data/") + QLatin1String(name);
}

QJsonArray arrayIn(const QJsonObject &json, const char *key)
{
    return json.value(QLatin1String(key)).toArray();
}

int intIn(const QJsonValue &json, const char *key)
{
    return json.toObject().value(QLatin1String(key)).toInt();
}

double numberIn(const QJsonValue &json, const char *key)
{
    return json.toObject().value(QLatin1String(key)).toDouble();
}

QString textIn(const QJsonValue &json, const char *key)
{
    return json.toObject().value(QLatin1String(key)).toString();
}

/// The first columns of the town's visits, as the file has them: valve, date.
std::vector<std::pair<QString, QString>> visitLines()
{
    QFile file(sample("visits.csv"));
    std::vector<std::pair<QString, QString>> lines;
    if (file.open(QIODevice::ReadOnly)) {
        const QStringList all = QString::fromUtf8(file.readAll()).split(QLatin1Char('\n'));
        for (const QString &line : all.mid(1)) {
            const QStringList cells = line.split(QLatin1Char(','));
            if (cells.size() > 2) {
                lines.emplace_back(cells[0], cells[1]);
            }
        }
    }
    return lines;
}

constexpr const char *outKeys[] = {"does_not_shut", "does_not_turn", "cannot_reach"};

int outIn(const QJsonValue &period)
{
    int out = 0;
    for (const char *key : outKeys) {
        out += intIn(period, key);
    }
    return out;
}

} // namespace

class TestBatchReview : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void pace();
    void conditionAndChangesAgree();
    void sharesSayWhatTheyAre();
    void filtersStandOnEverything();
    void ageing();
    void turns();
    void next();
    void everyFigureAsCsv_data();
    void everyFigureAsCsv();
    void everyTableAsCsv_data();
    void everyTableAsCsv();
    void theOutlookAsCsvIsTheOneOfTheJson();
    void csvToStandardOutput();
    void wrongUse_data();
    void wrongUse();

private:
    QJsonObject review(const QStringList &arguments)
    {
        const Run run = runBatch(QStringList{QStringLiteral("review"), QStringLiteral("--project"),
                                             m_project, QStringLiteral("--on"),
                                             QStringLiteral("2026-03-16"), QStringLiteral("--json"),
                                             QStringLiteral("-"), QStringLiteral("--figure")} +
                                 arguments);
        if (run.exitCode != 0) {
            qWarning("%s", qPrintable(run.err));
        }
        return run.json();
    }
    static QStringList words(const char *text)
    {
        return QString::fromLatin1(text).split(QLatin1Char(' '), Qt::SkipEmptyParts);
    }

    QTemporaryDir m_folder;
    QString m_project;
};

void TestBatchReview::initTestCase()
{
    m_project = m_folder.filePath(QStringLiteral("town.keyround"));
    QCOMPARE(runBatch({QStringLiteral("create"), m_project}).exitCode, 0);
    const auto load = [this](const char *kind, const char *file, bool plane) {
        QStringList arguments{QStringLiteral("load"), QLatin1String(kind), sample(file),
                              QStringLiteral("--project"), m_project};
        if (plane) {
            arguments << QStringLiteral("--crs") << QStringLiteral("EPSG:3422");
        }
        const Run run = runBatch(arguments);
        QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    };
    load("valves", "valves.csv", true);
    load("visits", "visits.csv", false);
    load("mains", "mains.gpkg", false);
    load("services", "services.csv", true);
    load("sources", "sources.geojson", false);
}

void TestBatchReview::pace()
{
    const QJsonObject json = review(words("pace"));
    const QJsonArray years = arrayIn(json, "years");
    QCOMPARE(intIn(years.last(), "year"), 2026);
    std::map<int, std::set<QString>> inspected;
    std::map<int, int> visits;
    for (const auto &[valve, date] : visitLines()) {
        const int year = date.left(4).toInt();
        inspected[year].insert(valve);
        ++visits[year];
    }
    for (const auto &year : years) {
        // Some lines of the file name valves that are retired, or that the list does not have.
        const int which = intIn(year, "year");
        const int counted = intIn(year, "inspected");
        const auto lines = static_cast<int>(inspected[which].size());
        QVERIFY2(counted <= lines && counted >= lines - 40,
                 qPrintable(QStringLiteral("%1: %2 of %3").arg(which).arg(counted).arg(lines)));
        QVERIFY(intIn(year, "visits") <= visits[which]);
        QVERIFY(intIn(year, "full_cycles") <= counted);
        int bySize = 0;
        for (const auto &size : arrayIn(year.toObject(), "by_size")) {
            bySize += intIn(size, "full_cycles");
        }
        QCOMPARE(bySize, intIn(year, "full_cycles"));
    }
    QVERIFY(arrayIn(json, "minutes").size() >= 3);
    QVERIFY(textIn(json, "sentence").startsWith(QStringLiteral("In 2026 so far")));
}

void TestBatchReview::conditionAndChangesAgree()
{
    const QStringList span = words("--from 2021-01-01 --to 2025-12-31 --by year");
    const QJsonArray periods = arrayIn(review(words("condition") + span), "periods");
    const QJsonObject changes = review(words("changes") + span);
    const QJsonArray moved = arrayIn(changes, "periods");
    QCOMPARE(periods.size(), qsizetype{5});
    QCOMPARE(moved.size(), qsizetype{5});
    for (qsizetype i = 0; i < periods.size(); ++i) {
        QCOMPARE(intIn(moved[i], "out_at_end"), outIn(periods[i]));
        if (i > 0) { // what was out, and what went out, and what came back
            QCOMPARE(outIn(periods[i]), outIn(periods[i - 1]) + intIn(moved[i], "went_out") -
                                            intIn(moved[i], "restored"));
        }
    }
    for (const auto &change : arrayIn(changes, "changes")) {
        QVERIFY(!textIn(change, "visit").isEmpty() && !textIn(change, "valve").isEmpty());
    }
}

void TestBatchReview::sharesSayWhatTheyAre()
{
    const QJsonObject json = review(words("condition --from 2021-01-01 --to 2025-12-31"));
    for (const auto &period : arrayIn(json, "periods")) {
        const QString kind = textIn(period, "kind");
        const bool isSample = kind == QStringLiteral("sample");
        QCOMPARE(period.toObject().value(QStringLiteral("interval")).isObject(), isSample);
        if (isSample) {
            const QJsonValue interval = period.toObject().value(QStringLiteral("interval"));
            QVERIFY(numberIn(interval, "from") < numberIn(period, "share"));
            QVERIFY(numberIn(interval, "to") > numberIn(period, "share"));
        }
    }
}

void TestBatchReview::filtersStandOnEverything()
{
    const QStringList filter = words("--zone High --size 8 --type gate --installed 1960..1999");
    const QString said = QStringLiteral("zone High; 8 in; gate; installed 1960 to 1999");
    for (const char *figure : {"pace", "condition", "changes", "ageing", "turns", "next"}) {
        const QJsonObject json = review(words(figure) + filter);
        QCOMPARE(textIn(json, "counted"), said);
        QVERIFY(!textIn(json, "sentence").isEmpty());
    }
    const int all = intIn(review(words("condition")), "valves");
    const int some = intIn(review(words("condition") + filter), "valves");
    QVERIFY(some > 10 && some < all / 2);
    const Run none = runBatch({QStringLiteral("review"), QStringLiteral("--project"), m_project,
                               QStringLiteral("--figure"), QStringLiteral("pace"),
                               QStringLiteral("--zone"), QStringLiteral("Nowhere")});
    QCOMPARE(none.exitCode, 1);
    QVERIFY(none.err.contains(QStringLiteral("zone Nowhere")));
}

void TestBatchReview::ageing()
{
    const QJsonObject json = review(words("ageing"));
    const QJsonArray groups = arrayIn(json, "groups");
    bool curves = false;
    bool tooFew = false;
    for (const auto &group : groups) {
        const bool few = group.toObject().value(QStringLiteral("too_few")).toBool();
        QCOMPARE(arrayIn(group.toObject(), "curve").isEmpty(), few);
        QVERIFY(textIn(group, "reading").startsWith(QStringLiteral("Of ")));
        QCOMPARE(static_cast<int>(arrayIn(group.toObject(), "lives").size()),
                 intIn(group, "valves"));
        (few ? tooFew : curves) = true;
    }
    QVERIFY(curves && tooFew); // the town has kinds of both sorts
    QVERIFY(textIn(json, "caution").contains(QStringLiteral("Repairs before the record began")));
}

void TestBatchReview::turns()
{
    const QJsonObject fleet = review(words("turns"));
    QVERIFY(intIn(fleet, "counts") > 3000);
    QVERIFY(arrayIn(fleet, "drifting").size() < intIn(fleet, "valves") / 20);
    const QString number = visitLines().front().first;
    const QJsonObject one = review(words("turns --valve") + QStringList{number});
    QVERIFY(one.contains(QStringLiteral("counts")));
    const Run unknown = runBatch({QStringLiteral("review"), QStringLiteral("--project"), m_project,
                                  QStringLiteral("--figure"), QStringLiteral("turns"),
                                  QStringLiteral("--valve"), QStringLiteral("no such")});
    QCOMPARE(unknown.exitCode, 1);
}

void TestBatchReview::next()
{
    const QJsonObject json = review(words("next --months 24"));
    const QJsonArray entries = arrayIn(json, "entries");
    QVERIFY(entries.size() > 100);
    double before = 1e9;
    for (const auto &entry : entries) {
        const double risk = numberIn(entry, "chance_out") * numberIn(entry, "services_more");
        QVERIFY(std::abs(risk - numberIn(entry, "risk")) < 1e-9);
        QVERIFY(risk <= before);
        before = risk;
    }
    const QJsonArray plans = arrayIn(json.value(QStringLiteral("outlook")).toObject(), "plans");
    QCOMPARE(plans.size(), qsizetype{5});
    for (const auto &plan : plans) {
        const QJsonArray years = arrayIn(plan.toObject(), "years");
        QCOMPARE(years.size(), qsizetype{6});
        QCOMPARE(numberIn(years.first(), "out"),
                 numberIn(arrayIn(plans.first().toObject(), "years").first(), "out"));
    }
    QCOMPARE(review(words("next --months 24")), json); // seeded
}

void TestBatchReview::everyFigureAsCsv_data()
{
    QTest::addColumn<QString>("figure");
    for (const char *figure : {"pace", "condition", "changes", "ageing", "turns", "next"}) {
        QTest::newRow(figure) << QString::fromLatin1(figure);
    }
}

void TestBatchReview::everyFigureAsCsv()
{
    QFETCH(QString, figure);
    const QString path = m_folder.filePath(figure + QStringLiteral(".csv"));
    const QString picture = m_folder.filePath(figure + QStringLiteral(".png"));
    const Run run =
        runBatch({QStringLiteral("review"), QStringLiteral("--project"), m_project,
                  QStringLiteral("--figure"), figure, QStringLiteral("--on"),
                  QStringLiteral("2026-03-16"), QStringLiteral("--type"), QStringLiteral("gate"),
                  QStringLiteral("--csv"), path, QStringLiteral("--png"), picture});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    QVERIFY(run.out.contains(QStringLiteral("Counted: gate.")));
    QFile file(path);
    QVERIFY(file.open(QIODevice::ReadOnly));
    const QStringList lines = QString::fromUtf8(file.readAll()).split(QLatin1Char('\n'));
    QVERIFY(lines.size() > 3);
    QVERIFY(lines[0].trimmed().endsWith(QStringLiteral("Counted")));
    QVERIFY(lines[1].trimmed().endsWith(QStringLiteral("gate")));
    QFile painted(picture);
    QVERIFY(painted.open(QIODevice::ReadOnly));
    QVERIFY(painted.read(8) == QByteArray("\x89PNG\r\n\x1a\n"));
    QVERIFY(painted.size() > 10000);
}

void TestBatchReview::everyTableAsCsv_data()
{
    QTest::addColumn<QString>("figure");
    QTest::addColumn<QString>("table");
    QTest::addColumn<QString>("heading"); // the last of the figure's own
    const auto row = [](const char *figure, const char *table, const char *heading) {
        QTest::addRow("%s %s", figure, table)
            << QString::fromLatin1(figure) << QString::fromLatin1(table)
            << QString::fromLatin1(heading);
    };
    row("pace", "years", "\"Of the target, %\"");
    row("pace", "crew-days", "Valves a crew-day");
    row("pace", "minutes", "\"Upper quartile, min\"");
    row("condition", "periods", "Stands out");
    row("changes", "valves", "The visit found");
    row("changes", "periods", "Out of condition at the end");
    row("ageing", "curves", "Remark");
    row("ageing", "readings", "In words");
    row("turns", "valves", "In words");
    row("turns", "kinds", "\"Median moving range, turns\"");
    row("next", "risk", "Due");
    row("next", "outlook", "Repairs in the year");
}

void TestBatchReview::everyTableAsCsv()
{
    QFETCH(QString, figure);
    QFETCH(QString, table);
    QFETCH(QString, heading);
    const QString path = m_folder.filePath(QStringLiteral("table.csv"));
    QFile::remove(path);
    const Run run = runBatch({QStringLiteral("review"), QStringLiteral("--project"), m_project,
                              QStringLiteral("--figure"), figure, QStringLiteral("--table"), table,
                              QStringLiteral("--on"), QStringLiteral("2026-03-16"),
                              QStringLiteral("--csv"), path});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    QFile file(path);
    QVERIFY(file.open(QIODevice::ReadOnly));
    const QStringList lines =
        QString::fromUtf8(file.readAll()).split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    QVERIFY(lines.size() > 1);
    QVERIFY2(lines[0].trimmed().endsWith(heading), qPrintable(lines[0]));
}

/// A dash is standard output: the table alone stands there, byte for byte as in a file, and no file
/// of that name is made.
void TestBatchReview::csvToStandardOutput()
{
    const QStringList asked{
        QStringLiteral("review"),  QStringLiteral("--project"),  m_project,
        QStringLiteral("--on"),    QStringLiteral("2026-03-16"), QStringLiteral("--figure"),
        QStringLiteral("changes"), QStringLiteral("--csv")};
    const QString path = m_folder.filePath(QStringLiteral("printed.csv"));
    const Run written = runBatch(asked + QStringList{path});
    QVERIFY2(written.exitCode == 0, qPrintable(written.err));
    const Run printed = runBatch(asked + words("-"));
    QVERIFY2(printed.exitCode == 0, qPrintable(printed.err));
    QFile file(path);
    QVERIFY(file.open(QIODevice::ReadOnly));
    QCOMPARE(printed.out, QString::fromUtf8(file.readAll()));
    QCOMPARE(printed.err.trimmed(), written.out.trimmed()); // the sentence
    QVERIFY(!QFile::exists(QStringLiteral("-")));
    for (const char *command :
         {"condition --csv -", "single-shuts --csv -", "repairs list --csv -"}) {
        const Run run =
            runBatch(words(command) + QStringList{QStringLiteral("--project"), m_project});
        QVERIFY2(run.exitCode == 0, qPrintable(QLatin1String(command) + run.err));
        QVERIFY2(run.out.contains(QStringLiteral("\r\n")), command);
        QVERIFY2(!QFile::exists(QStringLiteral("-")), command);
    }
    const Run both = runBatch(asked + words("- --json -"));
    QCOMPARE(both.exitCode, 2);
    QVERIFY(both.out.isEmpty());
}

void TestBatchReview::theOutlookAsCsvIsTheOneOfTheJson()
{
    const QString path = m_folder.filePath(QStringLiteral("outlook.csv"));
    const QString picture = m_folder.filePath(QStringLiteral("outlook.png"));
    const QJsonObject json = review(words("next --months 24 --table outlook --csv") +
                                    QStringList{path, QStringLiteral("--png"), picture});
    QFile file(path);
    QVERIFY(file.open(QIODevice::ReadOnly));
    const QStringList lines =
        QString::fromUtf8(file.readAll()).split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    QStringList expected; // plan, day, share out
    for (const auto &plan : arrayIn(json.value(QStringLiteral("outlook")).toObject(), "plans")) {
        for (const auto &year : arrayIn(plan.toObject(), "years")) {
            expected << QString::number(100.0 * numberIn(year, "out"), 'f', 1);
        }
    }
    QCOMPARE(lines.size(), expected.size() + 1);
    for (qsizetype i = 0; i < expected.size(); ++i) {
        QVERIFY2(lines[i + 1].contains(QStringLiteral(",%1,").arg(expected[i])),
                 qPrintable(lines[i + 1] + QStringLiteral(" / ") + expected[i]));
    }
    QVERIFY(lines.last().contains(QStringLiteral("every valve each 24 months")));
    QFile painted(picture);
    QVERIFY(painted.open(QIODevice::ReadOnly));
    QVERIFY(painted.read(8) == QByteArray("\x89PNG\r\n\x1a\n"));
}

void TestBatchReview::wrongUse_data()
{
    QTest::addColumn<QStringList>("arguments");
    QTest::newRow("no figure") << words("");
    QTest::newRow("unknown figure") << words("--figure weather");
    QTest::newRow("unknown period") << words("--figure pace --by week");
    QTest::newRow("years backwards") << words("--figure pace --installed 1990..1980");
    QTest::newRow("no years") << words("--figure pace --installed soon");
    QTest::newRow("no size") << words("--figure pace --size huge");
    QTest::newRow("no role") << words("--figure pace --role hero");
    QTest::newRow("days backwards") << words("--figure pace --from 2025-01-02 --to 2025-01-01");
    QTest::newRow("no group") << words("--figure ageing --group colour");
    QTest::newRow("no months") << words("--figure next --months none");
    QTest::newRow("no such table") << words("--figure pace --table outlook");
    QTest::newRow("no days") << words("--figure next --crew-days -1");
}

void TestBatchReview::wrongUse()
{
    QFETCH(QStringList, arguments);
    const Run run = runBatch(
        QStringList{QStringLiteral("review"), QStringLiteral("--project"), m_project} + arguments);
    QCOMPARE(run.exitCode, 2);
    QVERIFY(run.err.startsWith(QStringLiteral("keyround-batch review: ")));
}

QTEST_GUILESS_MAIN(TestBatchReview)
#include "test_batch_review.moc"
