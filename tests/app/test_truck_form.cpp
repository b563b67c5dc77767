// SPDX-License-Identifier: GPL-3.0-or-later
// The half-typed stop as a value: its JSON, its counting, what it lacks; the keeper that saves it;
// the ring that shows the count.
#include "app/dialogs/draft_keeper.h"
#include "app/truck/count_ring.h"
#include "app/truck/stop_form.h"
#include "tests/support/test_town.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QTest>

#include <rapidcheck.h>

#include <thread>

using namespace keyround;

namespace {

StopForm fullForm()
{
    StopForm form;
    form.step = StopStep::Problems;
    form.focus = QStringLiteral("other-problem");
    form.arrived = smallTownMoment();
    form.found = Position::PartOpen;
    form.foundTurns = QStringLiteral("6 1/2 or so");
    form.search = SearchRecord{true, true, false, true, SearchOutcome::Found};
    form.isSetUp = true;
    form.setUpWords = QStringLiteral("Lane closed, <3> signs");
    form.lid = LidCondition::Stuck;
    form.box = BoxCondition::Dirty;
    form.lidFix = LidFix{GeoPoint{40.1234567, -88.7654321}, Metres{0.5}, QStringLiteral("rtk"),
                         smallTownMoment()};
    form.passes = {{PassDirection::Closing,
                    {107},
                    QStringLiteral("ttq"),
                    Torque{135.5},
                    smallTownMoment(),
                    smallTownMoment()},
                   {PassDirection::Opening, {4}, QStringLiteral("t")}};
    form.typingTorque = true;
    form.typedTorque = QStringLiteral("9o");
    form.ownProblems = {QStringLiteral("Ants (invented)")};
    form.newListedTurns = QuarterTurns{124};
    form.typing = true;
    form.typed = QStringLiteral("2x");
    form.problems = {Problem::HardToTurn, Problem::Other};
    form.otherProblem = QStringLiteral("<b>wasps</b> \u2013 \"nest\"");
    form.left = Position::Closed;
    form.leftTurns = QStringLiteral("3");
    form.remarks = QStringLiteral("line one\nline two");
    form.correction =
        Correction{VisitId{newUuid7(1000)}, QStringLiteral("R. Invented"),
                   QStringLiteral("typed 72 for 27"), smallTownMoment(), QStringLiteral("Crew 1")};
    return form;
}

QJsonObject throughText(const QJsonObject &json)
{
    return QJsonDocument::fromJson(QJsonDocument(json).toJson()).object();
}

} // namespace

class TestTruckForm : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase() { keepSettingsApart(); }

    void comesBackFromItsJsonAsItWas()
    {
        for (const StopForm &form : {StopForm{}, fullForm()}) {
            const auto back = stopFormFromJson(throughText(toJson(form)));
            QVERIFY2(back.has_value(), back ? "" : qPrintable(back.error().message));
            QVERIFY(*back == form);
        }
    }

    void anyFormComesBack()
    {
        QVERIFY(rc::check("JSON keeps every form", [] {
            StopForm form;
            form.isSetUp = *rc::gen::arbitrary<bool>();
            form.step = static_cast<StopStep>(*rc::gen::inRange(0, stopStepCount));
            form.onScreen = *rc::gen::arbitrary<bool>();
            if (*rc::gen::arbitrary<bool>()) {
                form.found = static_cast<Position>(*rc::gen::inRange(0, 4));
            }
            const int taps = *rc::gen::inRange(0, 30);
            for (int i = 0; i < taps; ++i) {
                if (*rc::gen::inRange(0, 4) == 0) {
                    beginPass(form, *rc::gen::arbitrary<bool>() ? PassDirection::Closing
                                                                : PassDirection::Opening);
                }
                countTurns(form, QuarterTurns{*rc::gen::element(1, 4)});
            }
            const auto back = stopFormFromJson(throughText(toJson(form)));
            RC_ASSERT(back.has_value());
            RC_ASSERT(*back == form);
        }));
    }

    void refusesWhatItDidNotWrite_data()
    {
        QTest::addColumn<QString>("key");
        QTest::addColumn<QJsonValue>("value");
        const auto row = [](const char *key, const QJsonValue &value) {
            QTest::addRow("%s", key) << QString::fromLatin1(key) << value;
        };
        const QJsonObject negative{{QStringLiteral("direction"), QStringLiteral("closing")},
                                   {QStringLiteral("quarters"), -4}};
        row("step", QStringLiteral("dance"));
        row("format", 2);
        row("found", QStringLiteral("ajar"));
        row("passes", QJsonArray{negative});
        row("problems", QJsonArray{QStringLiteral("gremlins")});
        row("arrived", QStringLiteral("noon"));
        row("remarks", 7);
        row("typing", QStringLiteral("yes"));
    }
    void refusesWhatItDidNotWrite()
    {
        QFETCH(QString, key);
        QFETCH(QJsonValue, value);
        QJsonObject json = toJson(fullForm());
        json.insert(key, value);
        const auto read = stopFormFromJson(json);
        QVERIFY(!read.has_value());
        QCOMPARE(read.error().code, ErrorCode::Damaged);
        QVERIFY2(read.error().message.contains(key), qPrintable(read.error().message));
    }

    void countsAndTakesBackWhatWasTappedLast()
    {
        StopForm form;
        countTurns(form, QuarterTurns::ofTurns(1));
        countTurns(form, QuarterTurns{1});
        countTurns(form, QuarterTurns::ofTurns(1));
        QCOMPARE(countUnderWay(form).value, 9);
        takeOneBack(form);
        QCOMPARE(countUnderWay(form).value, 5);
        takeOneBack(form); // the quarter
        QCOMPARE(countUnderWay(form).value, 4);
        takeOneBack(form);
        takeOneBack(form); // nothing left: stays at nothing
        QCOMPARE(countUnderWay(form).value, 0);
        setCount(form, QuarterTurns{26});
        takeOneBack(form); // of a typed number a whole turn
        QCOMPARE(countUnderWay(form).value, 22);
    }

    void passesFollowEachOther()
    {
        StopForm form;
        beginPass(form, PassDirection::Closing);
        beginPass(form, PassDirection::Opening); // no turns yet: turned round, not added
        QCOMPARE(form.passes.size(), std::size_t(1));
        countTurns(form, QuarterTurns::ofTurns(1));
        beginPass(form, PassDirection::Closing);
        QCOMPARE(form.passes.size(), std::size_t(2));
        QCOMPARE(countedPasses(form).size(), std::size_t(1));
        removePass(form, 7); // there is none
        removePass(form, 0);
        QCOMPARE(form.passes.size(), std::size_t(1));
        QVERIFY(directionUnderCount(form) == PassDirection::Closing);
    }

    void saysWhatIsMissing()
    {
        StopForm form;
        QVERIFY(missingIn(form)->step == StopStep::Found);
        form.found = Position::PartOpen;
        form.foundTurns = QStringLiteral("many");
        QVERIFY(missingIn(form)->step == StopStep::Found);
        form.foundTurns = QStringLiteral("6 1/2");
        form.typing = true;
        form.typed = QStringLiteral("27");
        QVERIFY(missingIn(form)->step == StopStep::Turn);
        form.typing = false;
        form.problems = {Problem::Other};
        QVERIFY(missingIn(form)->step == StopStep::Problems);
        form.otherProblem = QStringLiteral("wasps");
        QVERIFY(missingIn(form)->step == StopStep::Leave);
        QVERIFY(!visitFrom(form, {}, {}, {}, smallTownMoment()).has_value());
        form.left = Position::Open;
        QVERIFY(!missingIn(form).has_value());
        const auto visit = visitFrom(form, {}, {}, QStringLiteral("Crew 1"), smallTownMoment());
        QVERIFY(visit.has_value());
        QCOMPARE(visit->found.turnsFromClosed->value, 26);
        QCOMPARE(visit->otherProblem, QStringLiteral("wasps"));
        form.correction = Correction{VisitId{newUuid7(1)}, {}, {}, smallTownMoment(), {}};
        QVERIFY(missingIn(form)->step == StopStep::Finish);
    }

    void keeperSaysSavedOnlyAfterTheSave()
    {
        std::vector<DraftKeeper::State> during;
        DraftKeeper *asked = nullptr;
        DraftKeeper keeper([&]() -> Status {
            during.push_back(asked->state());
            return {};
        });
        asked = &keeper;
        QVERIFY(keeper.state() == DraftKeeper::State::Nothing);
        keeper.changed();
        keeper.changed();
        // A quick disk: every change at once.
        QVERIFY(during == std::vector(2, DraftKeeper::State::Saving));
        QVERIFY(keeper.state() == DraftKeeper::State::Saved);
    }

    void slowDiskNeverHoldsUpTheCount()
    {
        int content = 0;
        int onDisk = -1;
        int saves = 0;
        DraftKeeper keeper([&]() -> Status {
            std::this_thread::sleep_for(std::chrono::milliseconds(70));
            onDisk = content;
            ++saves;
            return {};
        });
        for (int tap = 1; tap <= 100; ++tap) {
            content = tap;
            keeper.changed();
            if (keeper.state() == DraftKeeper::State::Saved) {
                QCOMPARE(onDisk, content); // never said before it is true
            }
        }
        QVERIFY2(saves < 5, qPrintable(QString::number(saves)));
        QVERIFY(keeper.state() == DraftKeeper::State::Saving);
        QTRY_VERIFY(keeper.state() == DraftKeeper::State::Saved);
        QCOMPARE(onDisk, 100);
        content = 101;
        keeper.changed();
        keeper.flush();
        QCOMPARE(onDisk, 101);
    }

    void failingSaveIsSaidOnceAndTriedAgain()
    {
        bool broken = true;
        DraftKeeper keeper([&]() -> Status {
            if (broken) {
                return fail(ErrorCode::StorageFault, QStringLiteral("the disk is full"));
            }
            return {};
        });
        QStringList said;
        QObject::connect(&keeper, &DraftKeeper::failed, &keeper,
                         [&said](const QString &why) { said << why; });
        keeper.changed();
        keeper.changed();
        QVERIFY(keeper.state() == DraftKeeper::State::Failed);
        QCOMPARE(said, QStringList{QStringLiteral("the disk is full")});
        broken = false;
        keeper.changed();
        QVERIFY(keeper.state() == DraftKeeper::State::Saved);
    }

    void ringShowsTheBandOfTheJudgement()
    {
        CountRing ring;
        QVERIFY(ring.standingWords().isEmpty());
        const Tolerance tolerance;
        const Baseline baseline{
            BaselineSource::ListedTurns, QuarterTurns::ofTurns(27), QuarterTurns::ofTurns(27), {}};
        ring.setGoal(baseline, tolerance);
        // Every count from nothing to twice the baseline: ring and judgement never disagree.
        for (int quarters = 1; quarters <= 216; ++quarters) {
            ring.setCount({quarters});
            const bool full =
                judge({{PassDirection::Closing, {quarters}}}, {}, baseline, tolerance).verdict ==
                Verdict::Full;
            const bool inBand = ring.filledDegrees() >= ring.bandFromDegrees() &&
                                ring.filledDegrees() <= ring.bandToDegrees();
            QCOMPARE(inBand, full);
            QCOMPARE(ring.standingWords() == QStringLiteral("within the band"), full);
        }
        ring.setCount(QuarterTurns::ofTurns(27));
        QCOMPARE(ring.filledDegrees(), 300.0);
    }
};

QTEST_MAIN(TestTruckForm)
#include "test_truck_form.moc"
