// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/field_reports.h"
#include "core/storage/field_report_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

ReportSigned signedBy(std::uint64_t stamp)
{
    return {moment(std::int64_t(stamp)), author().person, author().device, HybridTime{stamp}};
}

PlaceEvidence someEvidence()
{
    return {true, FixQuality::RtkFloat, FixSource::Receiver, Metres{1.0 / 3.0}, 17};
}

PlaceProposal someProposal(std::uint64_t stamp)
{
    return {ProposalId{newUuid7(someDay)},
            ValveId{newUuid7(someDay)},
            GeoPoint{40.123456789012345, -88.98765432109876},
            GeoPoint{40.123456789012395, -88.98765432109871},
            someEvidence(),
            awkwardText(),
            signedBy(stamp)};
}

ValveCandidate someCandidate(std::uint64_t stamp)
{
    return {CandidateId{newUuid7(someDay)},
            GeoPoint{40.1, -88.1},
            someEvidence(),
            awkwardText(),
            NominalSize::ofInches(8),
            awkwardText(),
            RoundId{newUuid7(someDay)},
            signedBy(stamp)};
}

ReportDecision someDecision(const QUuid &report, Decided decided, std::uint64_t stamp)
{
    return {DecisionId{newUuid7(someDay)}, report,        decided,
            ValveId{newUuid7(someDay)},    awkwardText(), signedBy(stamp)};
}

} // namespace

class TestFieldReports : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void init();
    void everythingSurvivesReopening();
    void thePlaceOfNoMapIsKept();
    void placesThatDoNotExistAreRefused();
    void theLastDecisionHolds();
    void whatHasNoReportYetWaits();
    void aReportIsWrittenOnce();
    void worthProposing();

private:
    FieldReports reopened()
    {
        m_project.reset();
        m_project = std::move(*Project::open(m_path));
        auto all = m_project->fieldReports().all();
        return all ? std::move(*all) : FieldReports{};
    }
    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    std::unique_ptr<Project> m_project;
};

void TestFieldReports::init()
{
    m_project.reset();
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    m_project = std::move(*Project::create(m_path, UnitSystem::Us));
}

void TestFieldReports::everythingSurvivesReopening()
{
    FieldReportStore &store = m_project->fieldReports();
    const PlaceProposal early = someProposal(10);
    const PlaceProposal late = someProposal(20);
    const ValveCandidate candidate = someCandidate(30);
    const CandidateNote note{CandidateNoteId{newUuid7(someDay)}, candidate.id, awkwardText(),
                             signedBy(40)};
    const ReportDecision decision = someDecision(early.id.uuid, Decided::Refused, 50);
    QVERIFY(store.add(early));
    QVERIFY(store.add(late));
    QVERIFY(store.add(candidate));
    QVERIFY(store.add(note));
    QVERIFY(store.add(decision));

    const FieldReports all = reopened();
    QCOMPARE(all.places.size(), std::size_t(2));
    QVERIFY(all.places[0].proposal == late); // newest first
    QVERIFY(all.places[1].proposal == early);
    QCOMPARE(all.valves.size(), std::size_t(1));
    QVERIFY(all.valves[0].candidate == candidate);
    QCOMPARE(all.valves[0].notes.size(), std::size_t(1));
    QVERIFY(all.valves[0].notes[0] == note);
    QVERIFY(all.places[1].decisions.at(0) == decision);
    QCOMPARE(all.openCount(), std::size_t(2));
    QVERIFY(all.find(late.id) == &all.places[0]);
    QVERIFY(all.find(ProposalId{newUuid7(someDay)}) == nullptr);
    QVERIFY(m_project->verify()->isEmpty());
}

void TestFieldReports::thePlaceOfNoMapIsKept()
{
    PlaceProposal proposal = someProposal(10);
    proposal.listed.reset();
    proposal.evidence = {}; // pointed at
    QVERIFY(m_project->fieldReports().add(proposal));
    QVERIFY(reopened().places.at(0).proposal == proposal);
    QVERIFY(!moveOf(proposal));
}

void TestFieldReports::placesThatDoNotExistAreRefused()
{
    PlaceProposal proposal = someProposal(10);
    proposal.proposed = {0, 0}; // what a receiver without a fix says
    QVERIFY(!m_project->fieldReports().add(proposal));
    ValveCandidate candidate = someCandidate(20);
    candidate.place = {91, 0};
    QVERIFY(!m_project->fieldReports().add(candidate));
    QVERIFY(reopened().places.empty());
}

void TestFieldReports::theLastDecisionHolds()
{
    const PlaceProposal proposal = someProposal(10);
    FieldReportStore &store = m_project->fieldReports();
    QVERIFY(store.add(proposal));
    // Written in another order than they were made: the stamp decides.
    QVERIFY(store.add(someDecision(proposal.id.uuid, Decided::Open, 40)));
    QVERIFY(store.add(someDecision(proposal.id.uuid, Decided::Accepted, 30)));
    QCOMPARE(decidedOf(reopened().places.at(0).decisions), Decided::Open);
    QVERIFY(m_project->fieldReports().add(someDecision(proposal.id.uuid, Decided::Refused, 50)));
    QCOMPARE(decidedOf(reopened().places.at(0).decisions), Decided::Refused);
}

void TestFieldReports::whatHasNoReportYetWaits()
{
    const ValveCandidate candidate = someCandidate(10);
    FieldReportStore &store = m_project->fieldReports();
    QVERIFY(store.add(someDecision(candidate.id.uuid, Decided::Accepted, 30)));
    QVERIFY(store.add(
        CandidateNote{CandidateNoteId{newUuid7(someDay)}, candidate.id, {}, signedBy(20)}));
    QVERIFY(reopened().valves.empty());
    QVERIFY(m_project->fieldReports().add(candidate)); // its laptop's rows come in
    const FieldReports all = reopened();
    QCOMPARE(decidedOf(all.valves.at(0).decisions), Decided::Accepted);
    QCOMPARE(all.valves[0].notes.size(), std::size_t(1));
}

void TestFieldReports::aReportIsWrittenOnce()
{
    ValveCandidate candidate = someCandidate(10);
    FieldReportStore &store = m_project->fieldReports();
    QVERIFY(store.add(candidate));
    QVERIFY(store.add(candidate));
    candidate.words = QStringLiteral("something else");
    const Status changed = store.add(candidate);
    QVERIFY(!changed);
    QCOMPARE(changed.error().code, ErrorCode::Damaged);
    QCOMPARE(reopened().valves.size(), std::size_t(1));
}

void TestFieldReports::worthProposing()
{
    const GeoPoint listed{40, -75};
    PositionFix fix;
    fix.place = {40.0001, -75}; // 11 m
    fix.quality = FixQuality::Satellite;
    fix.accuracy = Metres{5};
    QVERIFY(isWorthProposing(listed, fix));
    fix.accuracy = Metres{15};
    QVERIFY(!isWorthProposing(listed, fix)); // within what the fix may be wrong by
    QVERIFY(isWorthProposing({}, fix));      // the map has no place
    fix.accuracy.reset();
    QVERIFY(isWorthProposing(listed, fix));
    fix.quality = FixQuality::Simulated;
    QVERIFY(!isWorthProposing({}, fix));
    fix.quality = FixQuality::Satellite;
    fix.place = {};
    QVERIFY(!isWorthProposing({}, fix));
}

QTEST_GUILESS_MAIN(TestFieldReports)
#include "test_field_reports.moc"
