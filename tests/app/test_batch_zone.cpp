// SPDX-License-Identifier: GPL-3.0-or-later
// keyround-batch set-up and load-list from outside, on the small town.
#include "app/commands/round_commands.h"
#include "app/commands/work_zone.h"
#include "core/storage/round_store.h"
#include "tests/support/batch_run.h"
#include "tests/support/test_town.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QTest>

using namespace keyround;

namespace {

using Run = keyround::tests::BatchRun;
using keyround::tests::runBatch;

QStringList words(const char *text)
{
    return QString::fromLatin1(text).split(QLatin1Char('|'));
}

QByteArray headOf(const QString &path)
{
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.read(4) : QByteArray();
}

} // namespace

class TestBatchZone : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void init();
    void asksForWhatIsNotKnown();
    void answersAreRememberedForTheStreet();
    void wrongUse();
    void theRoundsLoad();

private:
    [[nodiscard]] QStringList at(const QString &command, const char *more) const
    {
        return QStringList{command, QStringLiteral("--project"), m_path} + words(more);
    }
    QStringList m_valves;
    QString m_path;
    std::unique_ptr<SmallTown> m_town;
};

/// A project that no other program has open, with a round of two valves of one street.
void TestBatchZone::init()
{
    keepSettingsApart();
    Session session(smallTownClock());
    m_town = makeSmallTown(session);
    m_path = m_town->path;
    Round round = emptyRound(session.settings(), QStringLiteral("Crew 1"), session.today());
    round.id = RoundId{newUuid7(session.now().utcMilliseconds)};
    const QString street =
        siteFor(session, *session.valveByNumber(QStringLiteral("V-001"))).streetKey;
    m_valves.clear();
    for (const Valve &valve : session.valves()) {
        if (m_valves.size() < 2 && siteFor(session, valve).streetKey == street) {
            m_valves << valve.number;
            round.stops.push_back(valve.id);
        }
    }
    QVERIFY(session.project().rounds().put(round));
    session.closeProject();
}

void TestBatchZone::asksForWhatIsNotKnown()
{
    QCOMPARE(m_valves.size(), 2);
    const Run run = runBatch(at(QStringLiteral("set-up"), "--valve|V-001"));
    QCOMPARE(run.exitCode, 1);
    QVERIFY2(run.err.contains(QStringLiteral("--lid: Where is the lid?")), qPrintable(run.err));
}

void TestBatchZone::answersAreRememberedForTheStreet()
{
    const QString sheet = m_town->folder.filePath(QStringLiteral("zone.pdf"));
    const QStringList all =
        at(QStringLiteral("set-up"),
           "--lid|in the lane|--speed|40|--setting|urban, high speed|--one-way|no|--lanes|2|"
           "--lane-width|12 ft|--low-volume|no|--json|-");
    const Run run = runBatch(all + QStringList{QStringLiteral("--valve"), m_valves[0],
                                               QStringLiteral("--sheet"), sheet});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    const QJsonObject json = run.json();
    QCOMPARE(json.value(QLatin1String("application")).toInt(), 10);
    QCOMPARE(json.value(QLatin1String("flaggers")).toInt(), 2);
    // By hand: taper 50 ft at 20 ft: 3; buffer 305 ft (table 6B-2, 40 mph) at 80: 4; work space 40
    // at 80: 1; downstream 50 at 40: 2; and the first cone.
    QCOMPARE(json.value(QLatin1String("cones")).toInt(), 11);
    double buffer = 0;
    for (const auto &part : json.value(QLatin1String("parts")).toArray()) {
        if (part[QLatin1String("part")].toString() == QLatin1String("buffer")) {
            buffer = part[QLatin1String("feet")].toDouble();
        }
    }
    QCOMPARE(buffer, 305.0);
    QVERIFY(run.err.contains(QStringLiteral("person on site decide")));
    QCOMPARE(headOf(sheet), QByteArray("%PDF"));
    // The other valve of the street needs its lid alone.
    const QStringList other{QStringLiteral("--valve"), m_valves[1], QStringLiteral("--lid"),
                            QStringLiteral("outside the road")};
    const Run verge = runBatch(at(QStringLiteral("set-up"), "--json|-") + other);
    QVERIFY2(verge.exitCode == 0, qPrintable(verge.err));
    QCOMPARE(verge.json().value(QLatin1String("application")).toInt(), 1);
}

void TestBatchZone::wrongUse()
{
    QCOMPARE(runBatch(at(QStringLiteral("set-up"), "--json|-")).exitCode, 2);
    const Run odd = runBatch(at(QStringLiteral("set-up"), "--valve|V-001|--speed|quick"));
    QCOMPARE(odd.exitCode, 2);
    QVERIFY(odd.err.contains(QStringLiteral("\"quick\"")));
    QCOMPARE(runBatch(at(QStringLiteral("set-up"), "--valve|no such")).exitCode, 1);
    QCOMPARE(runBatch(at(QStringLiteral("load-list"), "--date|2031-01-01")).exitCode, 1);
    QCOMPARE(runBatch(at(QStringLiteral("load-list"), "--date|soon")).exitCode, 2);
}

void TestBatchZone::theRoundsLoad()
{
    const auto setUp = [this](const QString &valve, const char *lid) {
        return runBatch(at(QStringLiteral("set-up"),
                           "--speed|40|--setting|urban, high speed|--one-way|no|--lanes|2|"
                           "--lane-width|12 ft|--low-volume|no") +
                        QStringList{QStringLiteral("--valve"), valve, QStringLiteral("--lid"),
                                    QString::fromLatin1(lid)})
            .exitCode;
    };
    QCOMPARE(setUp(m_valves[0], "in the lane"), 0);
    QCOMPARE(setUp(m_valves[1], "outside the road"), 0);
    const QString sheet = m_town->folder.filePath(QStringLiteral("load.pdf"));
    const QString zones = m_town->folder.filePath(QStringLiteral("zones.pdf"));
    const Run run =
        runBatch(at(QStringLiteral("load-list"), "--date|2026-03-16|--json|-") +
                 QStringList{QStringLiteral("--sheet"), sheet, QStringLiteral("--zones"), zones});
    QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    QHash<QString, QString> amounts;
    for (const auto &line : run.json().value(QLatin1String("lines")).toArray()) {
        amounts.insert(line[QLatin1String("what")].toString(),
                       line[QLatin1String("amount")].toString());
    }
    QCOMPARE(amounts.value(QStringLiteral("Cones (2 spare among them)")), QStringLiteral("13"));
    QCOMPARE(amounts.value(QStringLiteral("People")), QStringLiteral("4"));
    QCOMPARE(amounts.value(QStringLiteral("Flagger paddles")), QStringLiteral("2"));
    // Two approaches of one stop; the verge's single sign is one of them.
    QCOMPARE(amounts.value(QStringLiteral("Sign: ROAD WORK AHEAD")), QStringLiteral("2"));
    QCOMPARE(headOf(sheet), QByteArray("%PDF"));
    QCOMPARE(headOf(zones), QByteArray("%PDF"));
}

QTEST_MAIN(TestBatchZone)
#include "test_batch_zone.moc"
