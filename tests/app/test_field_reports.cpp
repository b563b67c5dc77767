// SPDX-License-Identifier: GPL-3.0-or-later
// What the field reports about the inventory and what the office makes of it, through commands.
#include "app/commands/field_report_commands.h"
#include "app/commands/push_command.h"
#include "core/storage/valve_store.h"
#include "tests/support/test_town.h"

#include <QTest>

#include <cmath>

using namespace keyround;

namespace {

constexpr double tenMetres = 10 / 111'040.0; // degrees of latitude, about

struct Bench
{
    Session session{smallTownClock()};
    std::unique_ptr<SmallTown> town = makeSmallTown(session);
    ValveId valve = session.valveByNumber(town->doesNotTurn)->id;
    GeoPoint listed = session.valve(valve)->place;
    int failures = 0;

    Bench()
    {
        QObject::connect(&session.notifier(), &Notifier::failed, [this] { ++failures; });
    }
    [[nodiscard]] PositionFix fix() const
    {
        PositionFix fix;
        fix.place = {listed.latitude + tenMetres, listed.longitude};
        fix.quality = FixQuality::Satellite;
        fix.accuracy = Metres{4};
        fix.at = session.now();
        return fix;
    }
    Decided decided(const ProposalId &id)
    {
        return decidedOf(session.fieldReports().find(id)->decisions);
    }
    Status decide(const ProposalId &id, Decided decided, const QString &why = {})
    {
        return pushCommand(session, std::make_unique<DecidePlace>(session, id, decided, why));
    }
};

} // namespace

class FieldReportsTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase() { keepSettingsApart(); }
    void acceptingMovesTheValveAndKeepsTheOldPlace();
    void refusingNeedsAReason();
    void placesThatWereNotMeasuredAreRefused();
    void oneReportIsDecidedOnce();
    void undoLeavesALaterMoveAlone();
    void aValveWithoutAPlaceGetsOne();
    void aCandidateBecomesAValve();
    void aCandidateIsRefusedAndStays();
};

void FieldReportsTest::acceptingMovesTheValveAndKeepsTheOldPlace()
{
    Bench bench;
    const auto proposal =
        proposePlace(bench.session, bench.valve, bench.fix(), QStringLiteral("on the lid"));
    QVERIFY(proposal);
    QCOMPARE(bench.session.valve(bench.valve)->place, bench.listed); // proposing moves nothing
    const PlaceProposal &stored = bench.session.fieldReports().find(*proposal)->proposal;
    QCOMPARE(*stored.listed, bench.listed);
    QVERIFY(std::abs(moveOf(stored)->value - 10.0) < 0.05);
    QVERIFY(!proposePlace(bench.session, bench.valve, bench.fix())); // the same once more

    const QString placeBefore =
        valveFieldStored(*bench.session.valve(bench.valve), ValveField::Place);
    QVERIFY(bench.decide(*proposal, Decided::Accepted, QStringLiteral("agrees with the ties")));
    QCOMPARE(bench.session.valve(bench.valve)->place, bench.fix().place);
    QCOMPARE(bench.decided(*proposal), Decided::Accepted);
    const auto edits = bench.session.project().valves().edits(bench.valve);
    QVERIFY(edits && !edits->empty());
    QCOMPARE(edits->front().field, ValveField::Place);
    QCOMPARE(edits->front().before, placeBefore);
    QVERIFY(edits->front().why.contains(QStringLiteral("satellite fix")));
    QVERIFY(edits->front().why.contains(QStringLiteral("agrees with the ties")));

    bench.session.undoStack().undo();
    QCOMPARE(bench.session.valve(bench.valve)->place, bench.listed);
    QCOMPARE(bench.decided(*proposal), Decided::Open);
    bench.session.undoStack().redo();
    QCOMPARE(bench.session.valve(bench.valve)->place, bench.fix().place);
    QCOMPARE(bench.decided(*proposal), Decided::Accepted);
    bench.session.undoStack().undo();
    QCOMPARE(bench.session.valve(bench.valve)->place, bench.listed);
    QCOMPARE(bench.failures, 0);
}

void FieldReportsTest::refusingNeedsAReason()
{
    Bench bench;
    const auto proposal = proposePlace(bench.session, bench.valve, bench.fix());
    QVERIFY(proposal);
    QVERIFY(!bench.decide(*proposal, Decided::Refused, QStringLiteral("  ")));
    QCOMPARE(bench.decided(*proposal), Decided::Open);
    QVERIFY(bench.decide(*proposal, Decided::Refused, QStringLiteral("the neighbour's valve")));
    QCOMPARE(bench.decided(*proposal), Decided::Refused);
    QCOMPARE(bench.session.valve(bench.valve)->place, bench.listed);
    bench.session.undoStack().undo();
    QCOMPARE(bench.decided(*proposal), Decided::Open);
}

void FieldReportsTest::placesThatWereNotMeasuredAreRefused()
{
    Bench bench;
    for (const FixQuality quality :
         {FixQuality::Simulated, FixQuality::DeadReckoned, FixQuality::Manual}) {
        PositionFix fix = bench.fix();
        fix.quality = quality;
        const auto proposal = proposePlace(bench.session, bench.valve, fix);
        QVERIFY(!proposal);
        QVERIFY(proposal.error().message.contains(wordFor(quality)));
    }
    QVERIFY(!proposePlace(bench.session, ValveId{newUuid7(1)}, bench.fix()));
    QVERIFY(!proposePlace(bench.session, bench.valve, GeoPoint{}, {}));
    QVERIFY(bench.session.fieldReports().places.empty());
}

void FieldReportsTest::oneReportIsDecidedOnce()
{
    Bench bench;
    const auto proposal = proposePlace(bench.session, bench.valve, bench.fix());
    QVERIFY(bench.decide(*proposal, Decided::Accepted));
    const Status again = bench.decide(*proposal, Decided::Refused, QStringLiteral("no"));
    QVERIFY(!again);
    QVERIFY(again.error().message.contains(QStringLiteral("accepted already")));
    QCOMPARE(bench.decided(*proposal), Decided::Accepted);
}

void FieldReportsTest::undoLeavesALaterMoveAlone()
{
    Bench bench;
    const auto proposal = proposePlace(bench.session, bench.valve, bench.fix());
    QVERIFY(bench.decide(*proposal, Decided::Accepted));
    // An import moves it since.
    Valve moved = *bench.session.valve(bench.valve);
    moved.place.longitude += tenMetres;
    QVERIFY(bench.session.project().valves().update(moved, bench.session.author(),
                                                    bench.session.now(), QStringLiteral("import")));
    Q_EMIT bench.session.notifier().valvesChanged();
    bench.session.undoStack().undo();
    QCOMPARE(bench.failures, 1);
    QCOMPARE(bench.session.valve(bench.valve)->place, moved.place);
    QCOMPARE(bench.decided(*proposal), Decided::Accepted);
}

void FieldReportsTest::aValveWithoutAPlaceGetsOne()
{
    Bench bench;
    const ValveId lost = bench.session.valveByNumber(bench.town->withoutPlace)->id;
    const auto proposal = proposePlace(bench.session, lost, bench.fix());
    QVERIFY(proposal);
    QVERIFY(!bench.session.fieldReports().find(*proposal)->proposal.listed);
    QVERIFY(bench.decide(*proposal, Decided::Accepted));
    QCOMPARE(bench.session.valve(lost)->place, bench.fix().place);
    bench.session.undoStack().undo();
    QVERIFY(!bench.session.valve(lost)->place.isValid());
}

void FieldReportsTest::aCandidateBecomesAValve()
{
    Bench bench;
    ValveCandidate found;
    found.place = bench.fix().place;
    found.evidence = evidenceOf(bench.fix());
    QVERIFY(!reportCandidate(bench.session, found)); // nothing that the office could go by
    found.words = QStringLiteral("round lid, before no. 12");
    found.size = NominalSize::ofInches(6);
    const auto id = reportCandidate(bench.session, found);
    QVERIFY(id);
    QVERIFY(noteOnCandidate(bench.session, *id, QStringLiteral("nut 2 in")));
    QVERIFY(!noteOnCandidate(bench.session, *id, QStringLiteral(" ")));

    Valve valve = valveFrom(*bench.session.fieldReports().find(*id));
    QCOMPARE(valve.remarks, QStringLiteral("round lid, before no. 12; nut 2 in"));
    QCOMPARE(valve.size, NominalSize::ofInches(6));
    const auto accept = [&](const Valve &becomes) {
        return pushCommand(bench.session, std::make_unique<DecideCandidate>(bench.session, *id,
                                                                            becomes, QString()));
    };
    QVERIFY(!accept(valve)); // it has no number
    valve.number = bench.town->neverVisited;
    QVERIFY(!accept(valve)); // another valve has this number
    QCOMPARE(decidedOf(bench.session.fieldReports().find(*id)->decisions), Decided::Open);
    const std::size_t before = bench.session.valves().size();
    valve.number = QStringLiteral("NEW-1");
    QVERIFY(accept(valve));
    QCOMPARE(bench.session.valves().size(), before + 1);
    const Valve *made = bench.session.valveByNumber(QStringLiteral("NEW-1"));
    QVERIFY(made != nullptr);
    QCOMPARE(made->id.uuid, id->uuid); // what was kept for the candidate is kept for the valve
    QCOMPARE(made->place, found.place);
    const ReportDecision last = bench.session.fieldReports().find(*id)->decisions.back();
    QCOMPARE(last.valve, made->id);

    bench.session.undoStack().undo();
    QVERIFY(bench.session.valveByNumber(QStringLiteral("NEW-1"))->retired);
    QCOMPARE(decidedOf(bench.session.fieldReports().find(*id)->decisions), Decided::Open);
    bench.session.undoStack().redo();
    QVERIFY(!bench.session.valveByNumber(QStringLiteral("NEW-1"))->retired);
    QCOMPARE(decidedOf(bench.session.fieldReports().find(*id)->decisions), Decided::Accepted);
}

void FieldReportsTest::aCandidateIsRefusedAndStays()
{
    Bench bench;
    ValveCandidate found;
    found.place = bench.fix().place;
    found.number = QStringLiteral("77");
    const auto id = reportCandidate(bench.session, found);
    QVERIFY(id);
    const auto refuse = [&](const QString &why) {
        return pushCommand(bench.session, std::make_unique<DecideCandidate>(bench.session, *id,
                                                                            std::nullopt, why));
    };
    QVERIFY(!refuse({}));
    QVERIFY(refuse(QStringLiteral("a gas valve")));
    const ReportedValve *kept = bench.session.fieldReports().find(*id);
    QCOMPARE(decidedOf(kept->decisions), Decided::Refused);
    QCOMPARE(kept->decisions.back().why, QStringLiteral("a gas valve"));
    QCOMPARE(kept->candidate.number, QStringLiteral("77"));
    QCOMPARE(bench.session.fieldReports().openCount(), std::size_t(0));
}

QTEST_MAIN(FieldReportsTest)
#include "test_field_reports.moc"
