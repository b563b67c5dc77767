// SPDX-License-Identifier: GPL-3.0-or-later
// keyround-batch's planning of many days, learned times, breaks and stops that must go, from
// outside, on the small invented town.
#include "app/commands/round_commands.h"
#include "tests/support/batch_run.h"
#include "tests/support/test_town.h"

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QTest>

#include <set>

using namespace keyround;

namespace {

using Run = keyround::tests::BatchRun;
using keyround::tests::runBatch;

QJsonObject jsonOf(const Run &run)
{
    return QJsonDocument::fromJson(run.out.toUtf8()).object();
}

QStringList numbersOf(const QJsonObject &plan)
{
    QStringList numbers;
    for (const auto &stop : plan.value(QLatin1String("stops")).toArray()) {
        numbers << stop[QLatin1String("valve")].toString();
    }
    return numbers;
}

} // namespace

class TestBatchWeeks : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase() { keepSettingsApart(); }
    void init();
    void weeksStoresNothingUnlessAsked();
    void weeksRefusesWrongUse();
    void planTakesBreaksAndMustGo();
    void planIsReadOverTheRadio();
    void learnSaysWhatThereIs();

private:
    [[nodiscard]] Run run(const QString &command, const QStringList &options) const
    {
        return runBatch(QStringList{command, QStringLiteral("--project"), m_path} + options);
    }
    [[nodiscard]] int storedRounds() const
    {
        Session session(smallTownClock());
        return session.openProject(m_path) ? static_cast<int>(session.rounds().size()) : -1;
    }

    std::unique_ptr<SmallTown> m_town;
    QString m_path;
};

void TestBatchWeeks::init()
{
    Session session(smallTownClock());
    m_town = makeSmallTown(session);
    m_path = m_town->path;
}

void TestBatchWeeks::weeksStoresNothingUnlessAsked()
{
    const QString csv = m_town->folder.filePath(QStringLiteral("weeks.csv"));
    const QStringList options{QStringLiteral("--from"), QStringLiteral("2026-03-16"),
                              QStringLiteral("--days"), QStringLiteral("2"),
                              QStringLiteral("--json"), QStringLiteral("-")};
    const Run dry =
        run(QStringLiteral("weeks"), options + QStringList{QStringLiteral("--csv"), csv});
    QVERIFY2(dry.exitCode == 0, qPrintable(dry.err));
    const QJsonObject weeks = jsonOf(dry);
    const QJsonArray days = weeks.value(QLatin1String("days")).toArray();
    QCOMPARE(days.size(), qsizetype{4});
    QCOMPARE(weeks.value(QLatin1String("kept")).toBool(true), false);
    QCOMPARE(storedRounds(), 0);
    QStringList all;
    for (const auto &day : days) {
        all << numbersOf(day.toObject());
        for (const auto &stop : day[QLatin1String("stops")].toArray()) {
            QVERIFY(stop[QLatin1String("begin")].toString() >=
                    stop[QLatin1String("arrive")].toString());
        }
    }
    QVERIFY(all.size() > 10);
    QCOMPARE(std::set<QString>(all.begin(), all.end()).size(), static_cast<size_t>(all.size()));
    QFile file(csv);
    QVERIFY(file.open(QIODevice::ReadOnly));
    QCOMPARE(file.readAll().count('\n'), all.size() + 1);

    const Run kept = run(QStringLiteral("weeks"), options + QStringList{QStringLiteral("--keep")});
    QVERIFY2(kept.exitCode == 0, qPrintable(kept.err));
    QVERIFY(jsonOf(kept).value(QLatin1String("kept")).toBool());
    QCOMPARE(jsonOf(kept).value(QLatin1String("days")), weeks.value(QLatin1String("days")));
    const int rounds = storedRounds();
    QVERIFY(rounds > 0);
    // Drawn up again, nothing moves that need not.
    const Run again = run(QStringLiteral("weeks"), options + QStringList{QStringLiteral("--keep")});
    QCOMPARE(jsonOf(again).value(QLatin1String("moved")).toInt(-1), 0);
    QCOMPARE(storedRounds(), rounds);
}

void TestBatchWeeks::weeksRefusesWrongUse()
{
    for (const char *days : {"0", "many", "1000"}) {
        const Run wrong =
            run(QStringLiteral("weeks"), {QStringLiteral("--days"), QString::fromLatin1(days)});
        QCOMPARE(wrong.exitCode, 2);
        QVERIFY(wrong.err.contains(QStringLiteral("--days")));
    }
    const Run stranger =
        run(QStringLiteral("weeks"), {QStringLiteral("--crew"), QStringLiteral("Night")});
    QCOMPARE(stranger.exitCode, 1);
    QVERIFY2(stranger.err.contains(QStringLiteral("Crew 1, Crew 2")), qPrintable(stranger.err));
}

void TestBatchWeeks::planTakesBreaksAndMustGo()
{
    const QStringList on{QStringLiteral("--on"), QStringLiteral("2026-03-16"),
                         QStringLiteral("--json"), QStringLiteral("-")};
    const Run usual = run(QStringLiteral("plan"), on + QStringList{QStringLiteral("--shift"),
                                                                   QStringLiteral("07:00-09:00")});
    QVERIFY2(usual.exitCode == 0, qPrintable(usual.err));
    const QStringList few = numbersOf(jsonOf(usual));
    // A valve that a short shift leaves out goes all the same when it must.
    const QJsonArray left = jsonOf(usual).value(QLatin1String("left_out")).toArray();
    QString other;
    for (const auto &each : left) {
        const QString number = each[QLatin1String("valve")].toString();
        other = number == m_town->withoutPlace ? other : number;
    }
    QVERIFY(!other.isEmpty() && !few.contains(other));
    const Run must =
        run(QStringLiteral("plan"),
            on + QStringList{QStringLiteral("--shift"), QStringLiteral("07:00-09:00"),
                             QStringLiteral("--must"), other, QStringLiteral("--break"),
                             QStringLiteral("07:30-08:30/20")});
    QVERIFY2(must.exitCode == 0, qPrintable(must.err));
    const QJsonObject plan = jsonOf(must);
    QVERIFY(numbersOf(plan).contains(other));
    const QJsonArray breaks = plan.value(QLatin1String("breaks")).toArray();
    QCOMPARE(breaks.size(), qsizetype{1});
    QCOMPARE(breaks[0][QLatin1String("minutes")].toDouble(), 20.0);
    const QString from = breaks[0][QLatin1String("from")].toString();
    QVERIFY2(from >= QStringLiteral("07:30") && from <= QStringLiteral("08:30"), qPrintable(from));
    for (const char *key : {"least_drive_seconds", "wait_seconds", "priority", "overruns_shift"}) {
        QVERIFY2(plan.contains(QLatin1String(key)), key);
    }
    QVERIFY(plan.value(QLatin1String("least_drive_seconds")).toDouble() <=
            plan.value(QLatin1String("drive_seconds")).toDouble() + 0.5);

    const Run none = run(QStringLiteral("plan"),
                         on + QStringList{QStringLiteral("--break"), QStringLiteral("none")});
    QVERIFY(jsonOf(none).value(QLatin1String("breaks")).toArray().isEmpty());
    QVERIFY(numbersOf(jsonOf(none)).contains(other)); // it was decided by hand and stays

    for (const char *wrong : {"soon", "09:00-08:00/20", "08:00-09:00", "08:00-09:00/-3"}) {
        const Run refused =
            run(QStringLiteral("plan"), {QStringLiteral("--break"), QString::fromLatin1(wrong)});
        QCOMPARE(refused.exitCode, 2);
    }
    const Run unknown =
        run(QStringLiteral("plan"), {QStringLiteral("--must"), QStringLiteral("no such")});
    QCOMPARE(unknown.exitCode, 1);
}

void TestBatchWeeks::planIsReadOverTheRadio()
{
    const QString path = m_town->folder.filePath(QStringLiteral("radio.txt"));
    const Run plan =
        run(QStringLiteral("plan"), {QStringLiteral("--on"), QStringLiteral("2026-03-16"),
                                     QStringLiteral("--radio"), path});
    QVERIFY2(plan.exitCode == 0, qPrintable(plan.err));
    QVERIFY2(plan.err.contains(QStringLiteral("driving")), qPrintable(plan.err));
    QFile file(path);
    QVERIFY(file.open(QIODevice::ReadOnly));
    QVERIFY(QString::fromUtf8(file.readAll()).contains(QStringLiteral("Stop 1: valve")));
}

void TestBatchWeeks::learnSaysWhatThereIs()
{
    const Run none = run(QStringLiteral("learn"), {});
    QCOMPARE(none.exitCode, 1);
    QVERIFY2(none.err.contains(QStringLiteral("No round is finished")), qPrintable(none.err));
    {
        Session session(smallTownClock());
        QVERIFY(session.openProject(m_path));
        Round round = emptyRound(session.settings(), QStringLiteral("Crew 1"), QDate(2026, 3, 9));
        round.id = RoundId{newUuid7(session.now().utcMilliseconds)};
        session.undoStack().push(new ChangeRound(session, {}, round, QStringLiteral("test")));
        round.state = RoundState::Finished;
        session.undoStack().push(new ChangeRound(session, {}, round, QStringLiteral("test")));
    }
    const Run empty = run(QStringLiteral("learn"), {QStringLiteral("--json"), QStringLiteral("-"),
                                                    QStringLiteral("--keep")});
    QVERIFY2(empty.exitCode == 0, qPrintable(empty.err));
    const QJsonObject turns = jsonOf(empty).value(QLatin1String("seconds_a_turn")).toObject();
    QVERIFY(turns.value(QLatin1String("median")).isNull());
    QCOMPARE(turns.value(QLatin1String("from")).toInt(-1), 0);
}

QTEST_MAIN(TestBatchWeeks)
#include "test_batch_weeks.moc"
