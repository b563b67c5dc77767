// SPDX-License-Identifier: GPL-3.0-or-later
// The invented town's files are what its generator makes, and hold together: kept bytes against a
// fresh run, counts, visits that name valves of the list, the mix of findings. The generator is
// run as a program, so that this test needs nothing but the core library.
#include <QDate>
#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QHash>
#include <QProcess>
#include <QRegularExpression>
#include <QSet>
#include <QTemporaryDir>
#include <QTest>

#include <cmath>

namespace {

const QStringList &fileNames()
{
    static const QStringList names{
        QStringLiteral("valves.csv"),       QStringLiteral("streets.gpkg"),
        QStringLiteral("mains.gpkg"),       QStringLiteral("sources.geojson"),
        QStringLiteral("hydrants.geojson"), QStringLiteral("services.csv"),
        QStringLiteral("visits.csv")};
    return names;
}

QString keptFolder()
{
    return QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data");
}

QByteArray bytesOf(const QString &path)
{
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
}

/// Bytes 96 to 99 of an SQLite file tell the version of the library that wrote it (SQLite's file
/// format, section 1.3); they may differ after an update without the town being another.
QByteArray comparable(const QString &path)
{
    QByteArray bytes = bytesOf(path);
    if (path.endsWith(QLatin1String(".gpkg")) && bytes.size() > 100)
        bytes.replace(96, 4, QByteArray(4, '\0'));
    return bytes;
}

/// The data rows of one of our tables. The columns asked for here come before any text that could
/// hold a comma, so a plain split serves.
QList<QStringList> rowsOf(const QString &name)
{
    QList<QStringList> rows;
    const QString text = QString::fromUtf8(bytesOf(keptFolder() + QLatin1Char('/') + name));
    const QStringList lines = text.split(QStringLiteral("\r\n"), Qt::SkipEmptyParts);
    for (qsizetype i = 1; i < lines.size(); ++i)
        rows.append(lines.at(i).split(QLatin1Char(',')));
    return rows;
}

enum class Finding { Good, SmallDefect, Tight, BoxOrAccess, NotFound, Inoperable };

Finding findingOf(const QString &problems)
{
    const auto has = [&problems](const char *words) {
        return problems.contains(QLatin1String(words));
    };
    if (has("Not found"))
        return Finding::NotFound;
    if (has("Box full") || has("Paved over") || has("No access"))
        return Finding::BoxOrAccess;
    if (has("Could not operate") || has("Did not close") || has("Spun continuously"))
        return Finding::Inoperable;
    if (has("Hard to turn"))
        return Finding::Tight;
    return problems.isEmpty() ? Finding::Good : Finding::SmallDefect;
}

} // namespace

class TestSampleTown : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void keptFilesAreWhatTheGeneratorMakes();
    void valveNumbersAreKeptLetterForLetter();
    void everyVisitNamesAValveOfTheList();
    void seasonsAreAsToldInTheReadme();
    void findingsComeNearTheDemonstrationMix();
    void telephoneNumbersAreTheFictionalOnes();
    void filesSayThatTheyAreInvented();
    void allIsSmallEnoughToKeep();
};

void TestSampleTown::keptFilesAreWhatTheGeneratorMakes()
{
    const QString program = QStringLiteral(KEYROUND_BUILD_DIR "/sample-project/make-sample-town");
    QVERIFY2(QFile::exists(program), "build the target make-sample-town first");
    QTemporaryDir folder;
    for (const QLatin1String run : {QLatin1String("first"), QLatin1String("second")}) {
        const QString out = folder.filePath(run);
        QProcess process;
        process.start(program, {out});
        QVERIFY(process.waitForFinished(60000));
        QCOMPARE(process.exitStatus(), QProcess::NormalExit);
        QCOMPARE(process.exitCode(), 0);
        for (const QString &name : fileNames()) {
            const QByteArray made = comparable(out + QLatin1Char('/') + name);
            QVERIFY(!made.isEmpty());
            QVERIFY2(made == comparable(keptFolder() + QLatin1Char('/') + name), qPrintable(name));
        }
    }
}

void TestSampleTown::valveNumbersAreKeptLetterForLetter()
{
    const QList<QStringList> rows = rowsOf(QStringLiteral("valves.csv"));
    QSet<QString> numbers;
    int twice = 0;
    int withoutPlace = 0;
    for (const QStringList &row : rows) {
        QCOMPARE(row.at(0).size(), 5);
        if (numbers.contains(row.at(0)))
            ++twice;
        numbers.insert(row.at(0));
        withoutPlace += row.at(1).isEmpty() ? 1 : 0;
    }
    QCOMPARE(rows.size(), 1223);
    QCOMPARE(twice, 1);
    QCOMPARE(withoutPlace, 2);
    QVERIFY(numbers.contains(QStringLiteral("00001")));
    QCOMPARE(rowsOf(QStringLiteral("services.csv")).size(), 3991);
}

void TestSampleTown::everyVisitNamesAValveOfTheList()
{
    QSet<QString> numbers;
    for (const QStringList &row : rowsOf(QStringLiteral("valves.csv")))
        numbers.insert(row.at(0));
    QSet<QString> visited;
    const QList<QStringList> visits = rowsOf(QStringLiteral("visits.csv"));
    for (const QStringList &visit : visits) {
        QVERIFY2(numbers.contains(visit.at(0)), qPrintable(visit.at(0)));
        visited.insert(visit.at(0));
    }
    QCOMPARE(visits.size(), 5746);
    // Some valves are on nobody's list: the due list is to show them as never visited.
    const qsizetype never = numbers.size() - visited.size();
    QVERIFY2(never > 100 && never < 300, qPrintable(QString::number(never)));
}

void TestSampleTown::seasonsAreAsToldInTheReadme()
{
    QHash<int, int> crewVisits; // by year
    int secondCrewInAutumn2022 = 0;
    QString before;
    for (const QStringList &visit : rowsOf(QStringLiteral("visits.csv"))) {
        const QDate day = QDate::fromString(visit.at(1), Qt::ISODate);
        QVERIFY2(day.isValid(), qPrintable(visit.at(1)));
        QVERIFY2(day >= QDate(2020, 8, 31) && day <= QDate(2025, 12, 31), qPrintable(visit.at(1)));
        const QString when = visit.at(1) + visit.at(2);
        QVERIFY2(before <= when, qPrintable(when));
        QVERIFY2(visit.at(2) < visit.at(3), qPrintable(when));
        before = when;
        if (visit.at(4) != QLatin1String("Repair crew"))
            ++crewVisits[day.year()];
        if (visit.at(4) == QLatin1String("Crew 2") && day >= QDate(2022, 8, 1) &&
            day <= QDate(2022, 12, 31))
            ++secondCrewInAutumn2022;
    }
    QCOMPARE(secondCrewInAutumn2022, 0);
    QVERIFY(crewVisits.value(2020) < 600); // the autumn only
    for (int year = 2021; year <= 2025; ++year)
        QVERIFY2(crewVisits.value(year) > 800, qPrintable(QString::number(year)));
}

void TestSampleTown::findingsComeNearTheDemonstrationMix()
{
    QHash<Finding, int> counts;
    const QList<QStringList> visits = rowsOf(QStringLiteral("visits.csv"));
    for (const QStringList &visit : visits)
        ++counts[findingOf(visit.at(8))];
    const auto percent = [&](Finding finding) {
        return 100.0 * counts.value(finding) / static_cast<double>(visits.size());
    };
    // The mix of TRADE.md section 7 (common practice, no source): about 70 % operable, 12 % tight,
    // 8 % box or access, 5 % not found, 4 % inoperable. Within 3 points is near.
    const auto near = [](double found, double told) { return std::abs(found - told) <= 3.0; };
    QVERIFY(near(percent(Finding::Good) + percent(Finding::SmallDefect), 70.0));
    QVERIFY(near(percent(Finding::Tight), 12.0));
    QVERIFY(near(percent(Finding::BoxOrAccess), 8.0));
    QVERIFY(near(percent(Finding::NotFound), 5.0));
    QVERIFY(near(percent(Finding::Inoperable), 4.0));
}

void TestSampleTown::telephoneNumbersAreTheFictionalOnes()
{
    static const QRegularExpression fictional(QStringLiteral("^555-01[0-9][0-9]$"));
    int given = 0;
    for (const QStringList &service : rowsOf(QStringLiteral("services.csv"))) {
        const QString &phone = service.at(5);
        if (phone.isEmpty())
            continue;
        ++given;
        QVERIFY2(fictional.match(phone).hasMatch(), qPrintable(phone));
    }
    QVERIFY(given > 1000);
}

void TestSampleTown::filesSayThatTheyAreInvented()
{
    for (const char *name : {"streets.gpkg", "mains.gpkg", "sources.geojson", "hydrants.geojson"})
        QVERIFY2(
            bytesOf(keptFolder() + QLatin1Char('/') + QLatin1String(name)).contains("invented"),
            name);
    for (const QStringList &service : rowsOf(QStringLiteral("services.csv"))) {
        const QString &customer = service.at(4);
        QVERIFY2(customer.startsWith(QLatin1String("Customer ")) ||
                     customer.endsWith(QLatin1String("(invented)")),
                 qPrintable(customer));
    }
}

void TestSampleTown::allIsSmallEnoughToKeep()
{
    qint64 sum = 0;
    for (const QString &name : fileNames())
        sum += QFileInfo(keptFolder() + QLatin1Char('/') + name).size();
    QVERIFY2(sum < qint64{3} * 1024 * 1024, qPrintable(QString::number(sum)));
}

QTEST_GUILESS_MAIN(TestSampleTown)
#include "test_sample_town.moc"
