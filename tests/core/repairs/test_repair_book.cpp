// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/repair_book.h"

#include "tests/core/repairs/repair_fixtures.h"

#include <QtTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

/// "valves: could_not_operate since 2026-01-05 (1)" for each proposal.
QStringList said(const std::vector<RepairProposal> &proposals)
{
    static constexpr std::array kinds{"open", "join", "prove", "reopen"};
    QStringList lines;
    for (const RepairProposal &each : proposals) {
        lines << QStringLiteral("%1 %2: %3 since %4 (%5)")
                     .arg(QLatin1String(kinds[static_cast<std::size_t>(each.kind)]),
                          each.department, each.findings.join(QLatin1Char('+')),
                          each.since.toString(Qt::ISODate))
                     .arg(each.visits.size() + each.ticks.size());
    }
    return lines;
}

QStringList lines(std::initializer_list<const char *> texts)
{
    QStringList all;
    for (const char *text : texts) {
        all << QLatin1String(text);
    }
    return all;
}

} // namespace

class TestRepairBook : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    static void defectsGoToTheirDepartments()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate, Problem::LidMissing});
        town.valve("V2");
        town.visit("2026-01-05", 20, {Problem::PackingLeak});
        town.valve("V3");
        town.visit("2026-01-05", 9);
        town.valve("V4");
        town.visit("2026-01-05", 0, {Problem::NotFound});
        town.valve("V5");
        town.visit("2026-01-05", 0, {Problem::NoAccess}); // a parked car: nobody's work
        town.valve("V6");
        town.visit("2026-01-05", 20, {Problem::FoundClosed}); // put right by the visit
        town.valve("V7");
        town.visit("2026-01-05", 27);
        town.valve("V8");
        town.visit("2026-01-05", 20).ownProblems << QStringLiteral("Roots in the box");
        QCOMPARE(said(town.proposals()),
                 lines({"open boxes: lid_missing since 2026-01-05 (1)",
                        "open valves: could_not_operate since 2026-01-05 (1)",
                        "open leaks: packing_leak since 2026-01-05 (1)",
                        "open valves: short_count since 2026-01-05 (1)",
                        "open records: not_found since 2026-01-05 (1)",
                        "open records: long_count since 2026-01-05 (1)",
                        "open valves: Roots in the box since 2026-01-05 (1)"}));
    }
    static void onlyWhatStillStandsIsProposed()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2024-01-05", 0, {Problem::CouldNotOperate});
        town.visit("2025-01-05", 20, {Problem::LidMissing}); // it turns again
        town.visit("2026-01-05", 0, {Problem::NoAccess});    // says nothing of the lid
        QCOMPARE(said(town.proposals()), lines({"open boxes: lid_missing since 2025-01-05 (1)"}));
        town.visit("2026-02-05", 20);
        QVERIFY(town.proposals().empty());
    }
    static void seenTwiceIsOneRequest()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2024-01-05", 9);
        town.visit("2025-01-05", 9);
        QCOMPARE(said(town.proposals()), lines({"open valves: short_count since 2024-01-05 (2)"}));
        town.accept(town.proposals().front(), "2025-01-06");
        QVERIFY(town.proposals().empty());
        QCOMPARE(town.only().visits.size(), std::size_t{2});
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        QCOMPARE(said(town.proposals()),
                 lines({"join valves: short_count+could_not_operate since 2024-01-05 (1)"}));
        town.accept(town.proposals().front(), "2026-01-06");
        QVERIFY(town.proposals().empty());
        QCOMPARE(town.book().requests.size(), std::size_t{1});
        QCOMPARE(town.only().findings, lines({"short_count", "could_not_operate"}));
        QCOMPARE(town.only().since, day("2024-01-05"));
    }
    static void provingNeedsAYes()
    {
        RepairTown town = broken();
        town.step(RepairStep::Done, "2026-02-02");
        QVERIFY(town.proposals().empty());
        town.visit("2026-03-01", 0, {Problem::NoAccess});
        QVERIFY(town.proposals().empty()); // nobody saw it turn
        town.visit("2026-03-04", 20);
        QCOMPARE(said(town.proposals()), lines({"prove valves:  since 2026-03-04 (1)"}));
        QCOMPARE(town.only().state, RepairState::Done);
        town.accept(town.proposals().front(), "2026-03-05");
        QCOMPARE(town.only().state, RepairState::Proved);
        QCOMPARE(town.only().closedOn, day("2026-03-04"));
        QCOMPARE(town.only().provedBy, town.visits.back().id);
        QVERIFY(town.proposals().empty());
        // The next time it is a new request.
        town.visit("2027-03-04", 0, {Problem::CouldNotOperate});
        QCOMPARE(said(town.proposals()),
                 lines({"open valves: could_not_operate since 2027-03-04 (1)"}));
    }
    static void shownAgainReopens()
    {
        RepairTown town = broken();
        town.step(RepairStep::Done, "2026-02-02");
        town.visit("2026-03-04", 0, {Problem::CouldNotOperate});
        QCOMPARE(said(town.proposals()),
                 lines({"reopen valves: could_not_operate since 2026-01-05 (1)"}));
        town.accept(town.proposals().front(), "2026-03-05");
        QCOMPARE(town.only().state, RepairState::Open);
        QCOMPARE(town.only().timesReopened, 1);
        QVERIFY(town.proposals().empty());
    }
    static void withdrawnStaysAway()
    {
        RepairTown town = broken();
        town.step(RepairStep::Withdrawn, "2026-02-02");
        QVERIFY(town.proposals().empty());
        town.visit("2026-03-04", 0, {Problem::CouldNotOperate});
        QCOMPARE(said(town.proposals()),
                 lines({"open valves: could_not_operate since 2026-01-05 (1)"}));
    }
    static void aReplacedValveIsProvedByItsOwnVisit()
    {
        RepairTown town = broken();
        town.step(RepairStep::Done, "2026-02-02");
        Replacement dug;
        dug.id = {uuid7FromParts(9, 0, 0)};
        dug.valve = town.valves.back().id;
        dug.on = day("2026-02-02");
        dug.oldListedTurns = QuarterTurns::ofTurns(20);
        dug.stamp = {900};
        town.replacements.push_back(dug);
        town.valves.back().listedTurns = QuarterTurns::ofTurns(15);
        QVERIFY(town.proposals().empty());
        town.visit("2026-02-03", 15);
        QCOMPARE(said(town.proposals()), lines({"prove valves:  since 2026-02-03 (1)"}));
    }
    /// A shut from before the repair, whose rows came in after it, is no news; one after it is.
    static void aShutBeforeTheRepairReopensNothing()
    {
        RepairTown town = broken();
        town.step(RepairStep::Done, "2026-02-02");
        const ValveId valve = town.valves.back().id;
        town.shuts = {shutOf({tick(valve, ShutAction::DidNotHold, "2026-01-20", 1)})};
        QVERIFY(town.proposals().empty());
        town.shuts.front().ticks.push_back(tick(valve, ShutAction::DidNotHold, "2026-02-02", 2));
        QVERIFY(town.proposals().empty()); // on the very day: it may have been before
        town.shuts.front().ticks.push_back(tick(valve, ShutAction::DidNotHold, "2026-02-03", 3));
        const std::vector<RepairProposal> proposals = town.proposals();
        QCOMPARE(proposals.size(), std::size_t{1});
        QCOMPARE(proposals[0].kind, ProposalKind::Reopen);
        QCOMPARE(proposals[0].ticks, std::vector{town.shuts.front().ticks.back().id});
        QVERIFY(proposals[0].visits.empty());
    }
    static void whatAShutFound()
    {
        RepairTown town;
        const ValveId valve = town.valve("V1").id;
        town.visit("2025-01-05", 20);
        town.shuts = {shutOf({tick(valve, ShutAction::DidNotHold, "2026-01-05", 1)})};
        QCOMPARE(said(town.proposals()), lines({"open valves: did_not_hold since 2026-01-05 (1)"}));
        // Tried again, and it held.
        town.shuts.front().ticks.push_back(tick(valve, ShutAction::Closed, "2026-01-05", 2));
        QVERIFY(town.proposals().empty());
        town.shuts.front().ticks.pop_back();
        town.shuts.front().ticks.push_back(tick(valve, ShutAction::Ended, "2026-01-06", 3));
        QCOMPARE(town.proposals().size(), std::size_t{1}); // ending the shut repairs nothing
        town.accept(town.proposals().front(), "2026-01-06");
        QCOMPARE(town.only().ticks.size(), std::size_t{1});
        QVERIFY(town.proposals().empty());
        town.visit("2026-02-01", 20);
        QCOMPARE(said(town.proposals()), lines({"prove valves:  since 2026-02-01 (1)"}));
    }
    static void finding()
    {
        RepairTown town = broken();
        const RepairBook book = town.book();
        const RepairRequest &request = book.requests.front();
        QCOMPARE(book.byTypedNumber(request.number.toLower()), &request);
        QCOMPARE(book.byTypedNumber(QStringLiteral("R26-1111-1111")), nullptr);
        QCOMPARE(book.request(request.id), &request);
        QCOMPARE(book.openOf(request.valve).size(), std::size_t{1});
    }
    static void twoOfOneNumber()
    {
        RepairTown town = broken();
        RepairEvent other = town.events.front();
        other.request = requestIdFor({uuid7FromParts(77, 0, 0)}, QStringLiteral("leaks"),
                                     uuid7FromParts(78, 0, 0));
        town.add(other, "2026-01-07");
        const RepairBook book = town.book();
        QCOMPARE(book.sharedNumbers, QStringList{other.number});
        QCOMPARE(book.byTypedNumber(other.number), nullptr);
    }

private:
    static ShutTick tick(const ValveId &valve, ShutAction action, const char *date, int n)
    {
        ShutTick made;
        made.id = {uuid7FromParts(5000 + n, 0, 0)};
        made.shut = {uuid7FromParts(5, 5, 0)};
        made.action = action;
        made.valve = valve;
        made.at = at(date);
        made.stamp = {static_cast<std::uint64_t>(n)};
        return made;
    }
    static ShutLog shutOf(std::vector<ShutTick> ticks)
    {
        ShutLog shut;
        shut.begun.id = ticks.front().shut;
        shut.ticks = std::move(ticks);
        return shut;
    }
    static RepairTown broken()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        town.accept(town.proposals().front(), "2026-01-06");
        return town;
    }
};

QTEST_GUILESS_MAIN(TestRepairBook)
#include "test_repair_book.moc"
