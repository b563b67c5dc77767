// SPDX-License-Identifier: GPL-3.0-or-later
// Every judgement of a count, for a valve that closes clockwise and for one that closes the other
// way, as whole stops: by keys alone and by targets of 20 mm alone. That closing is clockwise
// unless the valve says otherwise, and that a count short of the listed turns means that it did not
// close fully, are common practice, no source. 27 turns for 8 in: Kansas Rural Water Association,
// The Kansas Lifeline, November 2011, page 24.
#include "core/storage/valve_store.h"
#include "core/storage/visit_store.h"
#include "tests/support/truck_bench.h"

#include <cmath>

using namespace keyround;

namespace {

struct Case
{
    const char *name;
    int baseline; ///< turns as listed; 0: none
    int counted;
    const char *finding; ///< of the judge step; empty: none
    const char *verdict;
    const char *meaning;
    Condition after;
};

const std::vector<Case> cases{
    {"full", 27, 27, "", "Full", "full travel", Condition::Serviceable},
    {"short", 27, 12, "", "Short", "does not hold water back", Condition::DoesNotShut},
    {"beyond", 27, 40, "", "Beyond", "list may be wrong", Condition::Defect},
    {"spins", 27, 50, "judge-spins", "Spins free", "without end", Condition::DoesNotShut},
    {"stuck", 27, 0, "judge-stuck", "Does not turn", "could not be moved", Condition::DoesNotTurn},
    {"flows", 27, 27, "judge-flows", "Full", "full travel", Condition::DoesNotShut},
    {"no baseline", 0, 31, "", "Not judged", "nothing to judge it by", Condition::Serviceable},
};

/// The town's never visited valve, made what the case asks for.
Valve prepared(TruckBench &bench, int baseline, bool clockwise)
{
    Valve valve = *bench.session.valveByNumber(bench.town->neverVisited);
    valve.type = ValveType::GearedGate; // no rule of thumb stands in for the list
    valve.listedTurns =
        baseline > 0 ? std::optional(QuarterTurns::ofTurns(baseline)) : std::nullopt;
    valve.closes = clockwise ? ClosingDirection::Clockwise : ClosingDirection::Counterclockwise;
    valve.normally = NormalPosition::Open;
    const Status stored = bench.session.project().valves().update(valve, bench.session.author(),
                                                                  bench.session.now(), QString());
    if (!stored) {
        qFatal("%s", qPrintable(stored.error().message));
    }
    Q_EMIT bench.session.notifier().valvesChanged();
    return valve;
}

void verifyDirections(const TruckBench &bench, bool clockwise)
{
    const QString closing = clockwise ? QStringLiteral("Closing: clockwise")
                                      : QStringLiteral("Closing: counterclockwise");
    const QString opening = clockwise ? QStringLiteral("Opening: counterclockwise")
                                      : QStringLiteral("Opening: clockwise");
    QCOMPARE(bench.find<QAbstractButton>("pass-closing")->text(), closing);
    QCOMPARE(bench.find<QAbstractButton>("pass-opening")->text(), opening);
}

void verifyRecord(TruckBench &bench, const Valve &valve, const Case &each)
{
    const auto &visits = bench.session.history(valve.id).visits;
    QCOMPARE(visits.size(), std::size_t(1));
    QVERIFY2(visits.back().after == each.after, qPrintable(wordFor(visits.back().after)));
    QCOMPARE(visits.back().visit.passes.empty(), each.counted == 0);
    QVERIFY(bench.session.drafts().empty());
}

/// A click as a gloved hand gives it: only on what is 20 mm wide and high.
void touch(const TruckBench &bench, const char *name)
{
    auto *target = bench.find(name);
    QVERIFY2(target != nullptr && target->isVisible(), name);
    const double least = std::floor(pixelsFor(20.0, target));
    QVERIFY2(target->width() >= least && target->height() >= least, name);
    QTest::mouseClick(target, Qt::LeftButton, {}, QPoint(4, target->height() - 4));
}

} // namespace

class TestTruckJudge : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        keepProjectsInMemory();
        applyLook(*qApp);
    }

    void byKeysAlone_data() { rows(); }
    void byKeysAlone()
    {
        QFETCH(int, index);
        QFETCH(bool, clockwise);
        const Case &each = cases.at(static_cast<std::size_t>(index));
        TruckBench bench;
        const Valve valve = prepared(bench, each.baseline, clockwise);
        bench.addRound({valve.number});
        bench.show();
        for (int i = 0; i < 3; ++i) {
            TruckBench::key(Qt::Key_Return); // the round, at the valve, the work zone later
        }
        TruckBench::key(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        verifyDirections(bench, clockwise);
        for (const Qt::Key pass : {Qt::Key_C, Qt::Key_O}) {
            TruckBench::key(pass);
            TruckBench::key(Qt::Key_NumberSign);
            TruckBench::type(qPrintable(QString::number(each.counted)));
            TruckBench::key(Qt::Key_Return);
        }
        TruckBench::key(Qt::Key_Return);
        if (*each.finding != '\0') {
            const QLatin1String finding(each.finding);
            TruckBench::key(finding == QLatin1String("judge-spins")   ? Qt::Key_1
                            : finding == QLatin1String("judge-stuck") ? Qt::Key_2
                                                                      : Qt::Key_3);
        }
        verifyJudgement(bench, each);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        verifyRecord(bench, valve, each);
    }

    void byLargeTargetsAlone_data() { rows(); }
    void byLargeTargetsAlone()
    {
        QFETCH(int, index);
        QFETCH(bool, clockwise);
        Case each = cases.at(static_cast<std::size_t>(index));
        // Every tap is saved: a third of the turns is judged alike, in a third of the time.
        each.baseline /= 3;
        each.counted /= 3;
        TruckBench bench;
        const Valve valve = prepared(bench, each.baseline, clockwise);
        bench.addRound({valve.number});
        bench.show();
        touch(bench, "round-1");
        touch(bench, "next");
        touch(bench, "next");
        touch(bench, "found-open");
        touch(bench, "next");
        verifyDirections(bench, clockwise);
        for (const char *pass : {"pass-closing", "pass-opening"}) {
            touch(bench, pass);
            for (int turn = 0; turn < each.counted; ++turn) {
                touch(bench, "count-turn");
            }
        }
        touch(bench, "next");
        if (*each.finding != '\0') {
            touch(bench, each.finding);
        }
        verifyJudgement(bench, each);
        touch(bench, "next");
        touch(bench, "next");
        touch(bench, "left-open");
        touch(bench, "next");
        touch(bench, "next");
        verifyRecord(bench, valve, each);
    }

    void theUtilitysProcedureComesFirst()
    {
        TruckBench bench;
        ProjectSettings settings = bench.session.settings();
        settings.truckHabits.stuckProcedure = QStringLiteral("Call the <foreman> first.");
        QVERIFY(bench.session.project().settings().save(settings).has_value());
        Q_EMIT bench.session.notifier().settingsChanged();
        const Valve valve = prepared(bench, 27, true);
        bench.addRound({valve.number});
        bench.show();
        for (int i = 0; i < 3; ++i) {
            TruckBench::key(Qt::Key_Return);
        }
        TruckBench::key(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Space);
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.text("procedure").contains(settings.truckHabits.stuckProcedure));
        QVERIFY(bench.find("procedure")->y() < bench.find("advice")->y());
        QVERIFY(bench.text("advice").contains(QStringLiteral("Work it")));
        TruckBench::key(Qt::Key_4); // work it: back to the count, with a new pass
        QCOMPARE(TruckBench::focus(), QStringLiteral("count-turn"));
        QVERIFY(bench.find<QAbstractButton>("pass-opening")->isChecked());
    }

    void theBackOffIsTheUtilitysOwn()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        for (int i = 0; i < 3; ++i) {
            TruckBench::key(Qt::Key_Return);
        }
        TruckBench::key(Qt::Key_1);
        for (int i = 0; i < 4; ++i) {
            TruckBench::key(Qt::Key_Return);
        }
        QVERIFY2(bench.text("back-off").contains(QStringLiteral("1/4 turn")),
                 qPrintable(bench.text("back-off")));
        TruckBench::key(Qt::Key_2); // left closed: nothing to turn back
        QVERIFY(!bench.shows("back-off"));
        ProjectSettings settings = bench.session.settings();
        settings.truckHabits.backOff = QuarterTurns{};
        QVERIFY(bench.session.project().settings().save(settings).has_value());
        Q_EMIT bench.session.notifier().settingsChanged();
        TruckBench::key(Qt::Key_1);
        QVERIFY(!bench.shows("back-off"));
    }

private:
    static void rows()
    {
        QTest::addColumn<int>("index");
        QTest::addColumn<bool>("clockwise");
        for (std::size_t i = 0; i < cases.size(); ++i) {
            for (const bool clockwise : {true, false}) {
                QTest::addRow("%s, closes %s", cases[i].name, clockwise ? "clockwise" : "counter")
                    << static_cast<int>(i) << clockwise;
            }
        }
    }

    static void verifyJudgement(const TruckBench &bench, const Case &each)
    {
        const QString verdict =
            each.counted == 0
                ? QString::fromLatin1(each.verdict)
                : QStringLiteral("%1 turns: %2").arg(each.counted).arg(QLatin1String(each.verdict));
        QVERIFY2(bench.text("verdict").contains(verdict), qPrintable(bench.text("verdict")));
        QVERIFY2(bench.text("meaning").contains(QLatin1String(each.meaning)),
                 qPrintable(bench.text("meaning")));
    }
};

QTEST_MAIN(TestTruckJudge)
#include "test_truck_judge.moc"
