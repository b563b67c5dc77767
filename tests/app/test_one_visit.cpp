// SPDX-License-Identifier: GPL-3.0-or-later
// One visit more: what the session keeps after a row of records and corrections must be what a
// session that reads the file anew finds in it, and recording must not read the file anew.
#include "app/commands/push_command.h"
#include "app/commands/repair_commands.h"
#include "app/commands/settings_commands.h"
#include "app/commands/valve_commands.h"
#include "app/commands/visit_commands.h"
#include "core/storage/visit_store.h"
#include "tests/support/test_town.h"

#include <QTest>

#include <random>

using namespace keyround;

namespace {

bool isSame(const ValveStates &a, const ValveStates &b)
{
    return std::ranges::equal(a, b, [](const ValveState &one, const ValveState &other) {
        return one.holds == other.holds && one.closed == other.closed && one.why == other.why;
    });
}

bool isSame(const std::vector<ValveImportance> &a, const std::vector<ValveImportance> &b)
{
    return std::ranges::equal(a, b, [](const ValveImportance &one, const ValveImportance &other) {
        return one.outIfStuck.services == other.outIfStuck.services && one.more == other.more &&
               one.moreAtMost == other.moreAtMost && one.criticalMore == other.criticalMore;
    });
}

} // namespace

class TestOneVisit : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void initTestCase() { keepSettingsApart(); }
    void init();
    void aRowOfRecordsIsWhatTheFileHolds_data();
    void aRowOfRecordsIsWhatTheFileHolds();
    void everyDetailComesBackAsItWasHandedIn();
    void theFileIsNotReadAnew();
    void listenersFindItThere();
    void manyAtOnceAreReadAnew();
    void aStateThatChangesChangesWhatItCosts();

private:
    [[nodiscard]] Visit visitOf(const Valve &valve);
    [[nodiscard]] const Valve &anyValve();
    void record(const Visit &visit);
    void step(int number);
    void replaceValve();
    void compareWithTheFile();
    int below(int end) { return static_cast<int>(m_random() % static_cast<unsigned>(end)); }

    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
    std::mt19937 m_random;
};

void TestOneVisit::init()
{
    m_session = std::make_unique<Session>(smallTownClock());
    m_town = makeSmallTown(*m_session);
    addSmallTownNetwork(*m_session);
}

const Valve &TestOneVisit::anyValve()
{
    const std::vector<Valve> &valves = m_session->valves();
    return valves[m_random() % valves.size()];
}

Visit TestOneVisit::visitOf(const Valve &valve)
{
    Visit visit;
    visit.valve = valve.id;
    visit.arrived = smallTownMoment();
    visit.arrived.utcMilliseconds -= std::int64_t{below(900)} * 86'400'000;
    visit.finished = visit.arrived;
    visit.finished.utcMilliseconds += 600'000;
    visit.crew = QStringLiteral("Crew 1");
    visit.found.position = below(4) == 0 ? Position::NotSeen : Position::Open;
    visit.left.position = below(6) == 0 ? Position::Closed : Position::Open;
    const int listed = valve.listedTurns ? valve.listedTurns->value : 80;
    const int turns = below(3) == 0 ? listed / 2 : listed;
    if (below(5) > 0) {
        visit.passes = {{PassDirection::Closing, {turns}}, {PassDirection::Opening, {turns}}};
    }
    if (below(3) == 0) {
        static const QList<Problem> some{Problem::DidNotClose, Problem::CouldNotOperate,
                                         Problem::NoAccess, Problem::HardToTurn,
                                         Problem::PavedOver};
        visit.problems = {some[below(static_cast<int>(some.size()))]};
    }
    return visit;
}

void TestOneVisit::record(const Visit &visit)
{
    const auto stored = recordVisit(*m_session, visit);
    QVERIFY2(stored.has_value(), qPrintable(stored ? QString() : stored.error().message));
}

void TestOneVisit::replaceValve()
{
    ValveReplaced replaced;
    replaced.after = anyValve();
    replaced.after.installYear = 2026;
    replaced.after.listedTurns = QuarterTurns::ofTurns(31);
    replaced.replacement.on = smallTownMoment().localDate().addDays(-below(700));
    replaced.replacement.words = QStringLiteral("invented: dug out");
    const Status done = recordRepairs(*m_session, {}, QStringLiteral("Replace"), {replaced});
    QVERIFY2(done.has_value(), qPrintable(done ? QString() : done.error().message));
}

void TestOneVisit::step(int number)
{
    if (number % 9 == 4) {
        replaceValve();
        return;
    }
    if (number % 9 == 6) {
        ProjectSettings after = m_session->settings();
        after.tolerance.share = after.tolerance.share > 0.2 ? 0.1 : 0.6;
        QVERIFY(pushCommand(*m_session, std::make_unique<ChangeSettings>(
                                            *m_session, after, QStringLiteral("Tolerance"))));
        return;
    }
    if (number % 9 == 7) {
        Valve after = anyValve();
        const Valve before = after;
        after.listedTurns = QuarterTurns::ofTurns(20 + below(20));
        QVERIFY(pushCommand(*m_session, std::make_unique<ChangeValve>(*m_session, before, after,
                                                                      QStringLiteral("counted"))));
        return;
    }
    Visit visit = visitOf(anyValve());
    if (below(2) == 0) {
        // Any row: one that stands, or one that was corrected; two in three stay at their valve.
        const std::vector<Visit> &all = m_session->visits();
        const Visit &parent = below(2) == 0 ? all.back() : all[m_random() % all.size()];
        visit.supersedes = parent.id;
        visit.reason = QStringLiteral("invented");
        if (below(3) > 0) {
            visit.valve = parent.valve;
        }
    }
    record(visit);
}

/// With what a session finds that opens the same file.
void TestOneVisit::compareWithTheFile()
{
    const QString copy = m_town->folder.filePath(QStringLiteral("copy.keyround"));
    QFile::remove(copy);
    QVERIFY(QFile::copy(m_town->path, copy));
    Session fresh(smallTownClock());
    QVERIFY(fresh.openProject(copy));
    QVERIFY(m_session->visits() == fresh.visits());
    const Histories &kept = m_session->histories();
    const Histories &read = fresh.histories();
    for (const Valve &valve : fresh.valves()) {
        QVERIFY2(kept.value(valve.id) == read.value(valve.id), qPrintable(valve.number));
    }
    QCOMPARE(kept.size(), read.size());
    QVERIFY(m_session->dueList() == fresh.dueList());
    for (const DueEntry &entry : fresh.dueList()) {
        const DueEntry *found = m_session->dueEntry(entry.valve);
        QVERIFY(found != nullptr && *found == entry);
    }
    QVERIFY(m_session->leftOtherThanNormal() == fresh.leftOtherThanNormal());
    QVERIFY(isSame(m_session->valveStates(), fresh.valveStates()));
    QVERIFY(isSame(m_session->importances(), fresh.importances()));
    for (const Valve &valve : fresh.valves()) {
        QCOMPARE(m_session->shutLoad(valve.id).services, fresh.shutLoad(valve.id).services);
    }
}

void TestOneVisit::aRowOfRecordsIsWhatTheFileHolds_data()
{
    QTest::addColumn<int>("seed");
    for (int seed = 1; seed <= 4; ++seed) {
        QTest::addRow("seed %d", seed) << seed;
    }
}

void TestOneVisit::aRowOfRecordsIsWhatTheFileHolds()
{
    QFETCH(int, seed);
    m_random.seed(static_cast<unsigned>(seed));
    compareWithTheFile();
    for (int i = 0; i < 40; ++i) {
        step(i);
        if (i % 5 == 0) {
            compareWithTheFile();
        } else {
            (void)m_session->dueList(); // so that there is something to keep in step
        }
        if (QTest::currentTestFailed()) {
            return;
        }
    }
    compareWithTheFile();
}

void TestOneVisit::everyDetailComesBackAsItWasHandedIn()
{
    (void)m_session->dueList();
    Visit visit = visitOf(m_session->valves()[4]);
    visit.passes = {{PassDirection::Closing, {81}, Torque{101.7 / 3}},
                    {PassDirection::Opening, {79}, Torque{0.1 + 0.2}}};
    visit.found = {Position::PartOpen, QuarterTurns{13}};
    visit.problems = {Problem::Other};
    visit.otherProblem = QStringLiteral("an invented problem: \u00e9\u4e2d\n\"quoted\"");
    visit.ownProblems = {QStringLiteral("a local habit")};
    visit.remarks = QString(QLatin1String("")); // empty, and not null
    visit.search = SearchRecord{true, false, true, false, SearchOutcome::Found};
    visit.lid = LidCondition::Stuck;
    visit.box = BoxCondition::Dirty;
    visit.lidFix = LidFix{{40.0 + 1.0 / 3, -150.0 + 1e-9},
                          Metres{0.1 + 0.7},
                          QStringLiteral("rtk"),
                          smallTownMoment()};
    visit.setUpStood = SetUpStood{};
    record(visit);
    compareWithTheFile();
}

void TestOneVisit::theFileIsNotReadAnew()
{
    (void)m_session->histories();
    const std::size_t before = m_session->visits().size();
    // A row that nobody has told the session of: it would come with the others if they were read.
    Visit untold = visitOf(m_session->valves()[0]);
    untold.id = {newUuid7(untold.arrived.utcMilliseconds)};
    untold.stamp = *m_session->project().nextStamp(m_session->now());
    QVERIFY(m_session->project().visits().add(untold));
    const Valve &other = m_session->valves()[1];
    const std::size_t ofOther = m_session->history(other.id).visits.size();
    record(visitOf(other));
    QCOMPARE(m_session->visits().size(), before + 1);
    QCOMPARE(m_session->history(other.id).visits.size(), ofOther + 1);
    Q_EMIT m_session->notifier().visitsChanged();
    QCOMPARE(m_session->visits().size(), before + 2);
    compareWithTheFile();
}

void TestOneVisit::listenersFindItThere()
{
    const Valve valve = m_session->valves()[2];
    const std::size_t before = m_session->history(valve.id).visits.size();
    std::vector<std::size_t> found;
    connect(&m_session->notifier(), &Notifier::visitsChanged, this,
            [&] { found.push_back(m_session->history(valve.id).visits.size()); });
    record(visitOf(valve));
    record(visitOf(valve));
    QCOMPARE(found, (std::vector{before + 1, before + 2}));
}

void TestOneVisit::manyAtOnceAreReadAnew()
{
    (void)m_session->dueList();
    record(visitOf(m_session->valves()[3]));
    std::vector<Visit> many;
    for (int i = 0; i < 5; ++i) {
        many.push_back(visitOf(anyValve()));
        many.back().id = {newUuid7(many.back().arrived.utcMilliseconds)};
        many.back().stamp = *m_session->project().nextStamp(m_session->now());
    }
    QVERIFY(m_session->project().visits().addAll(many));
    Q_EMIT m_session->notifier().visitsChanged();
    compareWithTheFile();
    record(visitOf(m_session->valves()[3]));
    compareWithTheFile();
}

void TestOneVisit::aStateThatChangesChangesWhatItCosts()
{
    const Valve gate = *m_session->valveByNumber(QStringLiteral("G-N21-S"));
    const NetIndex index = m_session->networkIndex(gate.id);
    (void)m_session->importances();
    QVERIFY(m_session->valveStates()[index].holds != Holds::DoesNotTurn);
    Visit stuck = visitOf(gate);
    stuck.arrived = smallTownMoment();
    stuck.found = {Position::Open, {}};
    stuck.left = stuck.found;
    stuck.passes.clear();
    stuck.problems = {Problem::CouldNotOperate};
    record(stuck);
    QCOMPARE(m_session->valveStates()[index].holds, Holds::DoesNotTurn);
    compareWithTheFile();
}

QTEST_MAIN(TestOneVisit)
#include "test_one_visit.moc"
