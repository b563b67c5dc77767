// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/connection.h"
#include "tests/core/storage/fixtures.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QTest>

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <iterator>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

// Visits with few different stamps, some of them corrections of others, each with a text.
std::vector<Visit> visitsWithEqualStamps(const ValveId &valve)
{
    const auto count = *rc::gen::inRange(1, 9);
    std::vector<Visit> visits;
    for (int i = 0; i < count; ++i) {
        Visit visit = plainVisit(valve, static_cast<std::uint64_t>(*rc::gen::inRange(1, 3)));
        visit.remarks = QString::number(i);
        if (i > 0 && *rc::gen::arbitrary<bool>()) {
            visit.supersedes = visits[static_cast<std::size_t>(*rc::gen::inRange(0, i))].id;
        }
        visits.push_back(visit);
    }
    return visits;
}

std::vector<Visit> storedInOrder(const QString &path, const std::vector<Visit> &order)
{
    const auto project = Project::open(path);
    RC_ASSERT(project.has_value());
    for (const Visit &visit : order) {
        RC_ASSERT((*project)->visits().add(visit).has_value());
    }
    const auto all = (*project)->visits().all();
    RC_ASSERT(all.has_value());
    return *all;
}

bool sameStanding(const StandingVisits &a, const StandingVisits &b)
{
    return a.visits == b.visits && a.disputed == b.disputed;
}

} // namespace

class TestVisitStore : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void init();
    void everyFieldSurvivesReopening();
    void canonicalJsonIsWhatTheHashIsOver();
    void visitsOfOlderFilesKeepTheirHash();
    void detailsThatCannotBeReadAreDamage_data();
    void detailsThatCannotBeReadAreDamage();
    void addingTwiceIsNoError();
    void sameIdOtherContentIsRefused();
    void whatCannotBeAVisitIsRefused();
    void addAllIsAllOrNone();
    void theFileItselfRefusesChanges_data();
    void theFileItselfRefusesChanges();
    void flippedBitIsNoticed();
    void flippedBitInAColumnIsNoticed();
    void everyOrderOfAddingGivesTheSame();
    void draftsSurviveReopening();

private:
    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    Valve m_valve = plainValve(QStringLiteral("0012"));
};

void TestVisitStore::initTestCase()
{
    qputenv("RC_PARAMS", "max_success=25"); // each case makes and opens two project files
}

void TestVisitStore::init()
{
    m_folder = std::make_unique<QTemporaryDir>();
    m_path = m_folder->filePath(QStringLiteral("town.keyround"));
    const auto project = Project::create(m_path, UnitSystem::Us);
    VERIFY_OK(project);
    VERIFY_OK((*project)->valves().add(m_valve, author(), moment(), QString()));
}

void TestVisitStore::everyFieldSurvivesReopening()
{
    const Visit full = fullVisit(m_valve.id, 0x7FFFFFFFFFFFFFFF); // more digits than a double has
    const Visit plain = plainVisit(m_valve.id, 1);
    {
        const auto project = Project::open(m_path);
        VERIFY_OK(project);
        VERIFY_OK((*project)->visits().add(full));
        VERIFY_OK((*project)->visits().add(plain));
    }
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QVERIFY((*project)->visits().all().value() == (std::vector{plain, full})); // by stamp
    QVERIFY((*project)->visits().ofValve(m_valve.id).value() == (std::vector{plain, full}));
    QVERIFY((*project)->visits().ofValve(ValveId{newUuid7(someDay)})->empty());
}

void TestVisitStore::canonicalJsonIsWhatTheHashIsOver()
{
    const Visit visit = fullVisit(m_valve.id, 12345);
    const QByteArray json = canonicalJson(visit);
    const auto read = visitFromJson(json);
    VERIFY_OK(read);
    QVERIFY(*read == visit);
    QCOMPARE(canonicalJson(*read), json);
    QCOMPARE(contentHash(*read), contentHash(visit));
    QCOMPARE(contentHash(visit).size(), qsizetype{64});

    // Keys sorted, nothing between them.
    Visit known;
    known.id = VisitId::fromText(QStringLiteral("01900000-0000-7000-8000-000000000001"));
    known.valve = ValveId::fromText(QStringLiteral("01900000-0000-7000-8000-000000000002"));
    known.stamp = HybridTime{9};
    const QByteArray expected =
        "{\"arrived\":{\"offset_s\":0,\"utc_ms\":0},\"crew\":\"\",\"device\":\"\","
        "\"finished\":{\"offset_s\":0,\"utc_ms\":0},\"found\":{\"position\":\"not_seen\"},"
        "\"id\":\"01900000-0000-7000-8000-000000000001\",\"left\":{\"position\":\"not_seen\"},"
        "\"other_problem\":\"\",\"passes\":[],\"problems\":[],\"reason\":\"\","
        "\"recorded_by\":\"\",\"remarks\":\"\",\"round\":\"\",\"stamp\":\"9\","
        "\"supersedes\":\"\",\"valve\":\"01900000-0000-7000-8000-000000000002\"}";
    QCOMPARE(canonicalJson(known), expected);
    // Worked out beside the program with coreutils' sha256sum over the bytes above.
    QCOMPARE(contentHash(known),
             QStringLiteral("4c43b72e7c79271d475649a66600c08678890555e224db6d311b864d042fecb4"));

    // Every field is under the hash.
    Visit other = visit;
    other.passes[1].turns.value += 1;
    QVERIFY(contentHash(other) != contentHash(visit));
    QVERIFY(!visitFromJson("{}"));
    QVERIFY(!visitFromJson("not json"));
    QByteArray wrongKind = json;
    wrongKind.replace("\"part_open\"", "\"half_open\"");
    QVERIFY(!visitFromJson(wrongKind));
}

// The hash was worked out outside of the program (Python's json and hashlib) over the text that the
// first released schema stored: what is added to a visit later must not change it.
void TestVisitStore::visitsOfOlderFilesKeepTheirHash()
{
    Visit visit;
    visit.id = VisitId{QUuid::fromString(QStringLiteral("0197747d-1c00-7000-8000-000000000001"))};
    visit.valve =
        ValveId{QUuid::fromString(QStringLiteral("0197747d-1c00-7000-8000-000000000002"))};
    visit.arrived = moment();
    visit.finished = moment(900000);
    visit.crew = QStringLiteral("Crew 1");
    visit.found = Standing{Position::PartOpen, QuarterTurns{33}};
    visit.left = Standing{Position::Open, std::nullopt};
    visit.passes = {{PassDirection::Closing, QuarterTurns{108}},
                    {PassDirection::Opening, QuarterTurns{107}}};
    visit.problems = {Problem::HardToTurn, Problem::Other};
    visit.otherProblem = QStringLiteral("wasps");
    visit.recordedBy = QStringLiteral("A. Crew (invented)");
    visit.device = QStringLiteral("laptop-1");
    visit.stamp = HybridTime{12345};
    QCOMPARE(contentHash(visit),
             QStringLiteral("737a3f27283832288cd9539f4eb600cfdabe18f23ddea2096dd6b74afbecaf1f"));
}

void TestVisitStore::detailsThatCannotBeReadAreDamage_data()
{
    QTest::addColumn<QString>("key");
    QTest::addColumn<QJsonValue>("value");
    QTest::newRow("lid") << QStringLiteral("lid") << QJsonValue(QStringLiteral("shiny"));
    QTest::newRow("box") << QStringLiteral("box") << QJsonValue(3);
    QTest::newRow("search") << QStringLiteral("search")
                            << QJsonValue(QJsonObject{{QStringLiteral("measured"), true}});
    QTest::newRow("fix") << QStringLiteral("lid_fix") << QJsonValue(QJsonObject());
    QTest::newRow("own") << QStringLiteral("own_problems")
                         << QJsonValue(QJsonArray{QStringLiteral("a"), 2});
    QTest::newRow("set-up") << QStringLiteral("set_up_stood")
                            << QJsonValue(QStringLiteral("cones"));
}

void TestVisitStore::detailsThatCannotBeReadAreDamage()
{
    QFETCH(QString, key);
    QFETCH(QJsonValue, value);
    QJsonObject json =
        QJsonDocument::fromJson(canonicalJson(fullVisit(m_valve.id, 12345))).object();
    json.insert(key, value);
    const auto read = visitFromJson(QJsonDocument(json).toJson());
    QVERIFY(!read);
    QCOMPARE(read.error().code, ErrorCode::Damaged);
    QVERIFY2(read.error().message.contains(key), qPrintable(read.error().message));
}

void TestVisitStore::addingTwiceIsNoError()
{
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    const Visit visit = fullVisit(m_valve.id, 5);
    QVERIFY((*project)->visits().add(visit).value() == VisitStore::Added::New);
    QVERIFY((*project)->visits().add(visit).value() == VisitStore::Added::AlreadyThere);
    QCOMPARE((*project)->visits().addAll({visit, plainVisit(m_valve.id, 6), visit}).value(), 1);
    QCOMPARE((*project)->visits().all()->size(), std::size_t{2});
}

void TestVisitStore::sameIdOtherContentIsRefused()
{
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    const Visit visit = fullVisit(m_valve.id, 5);
    VERIFY_OK((*project)->visits().add(visit));
    Visit other = visit;
    other.remarks = QStringLiteral("something else");
    const auto refused = (*project)->visits().add(other);
    QVERIFY(!refused);
    QCOMPARE(refused.error().code, ErrorCode::Damaged);
    QVERIFY((*project)->visits().all().value() == std::vector{visit});
}

void TestVisitStore::whatCannotBeAVisitIsRefused()
{
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    Visit noId = plainVisit(m_valve.id, 1);
    noId.id = {};
    const Visit noStamp = plainVisit(m_valve.id, 0);
    const Visit hugeStamp = plainVisit(m_valve.id, std::uint64_t{1} << 63U);
    const Visit noValve = plainVisit({}, 1);
    Visit correctsItself = plainVisit(m_valve.id, 1);
    correctsItself.supersedes = correctsItself.id;
    Visit noNumber = plainVisit(m_valve.id, 1);
    noNumber.passes = {{PassDirection::Closing, QuarterTurns{4}, Torque{std::nan("")}}};
    Visit offTheGlobe = plainVisit(m_valve.id, 1);
    offTheGlobe.lidFix = LidFix{GeoPoint{95, 10}, {}, {}, moment()};
    Visit wordless = plainVisit(m_valve.id, 1);
    wordless.ownProblems = {QString()};
    for (const Visit &visit :
         {noId, noStamp, hugeStamp, noValve, correctsItself, noNumber, offTheGlobe, wordless}) {
        const auto refused = (*project)->visits().add(visit);
        QVERIFY(!refused);
        QCOMPARE(refused.error().code, ErrorCode::BadInput);
    }
    // Foreign keys are on: a visit of a valve that is not here.
    const auto stranger = (*project)->visits().add(plainVisit(ValveId{newUuid7(someDay)}, 1));
    QVERIFY(!stranger);
    QCOMPARE(stranger.error().code, ErrorCode::NotFound);
    QVERIFY((*project)->visits().all()->empty());
}

void TestVisitStore::addAllIsAllOrNone()
{
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QVERIFY(!(*project)->visits().addAll({plainVisit(m_valve.id, 1), plainVisit(m_valve.id, 0)}));
    QVERIFY((*project)->visits().all()->empty());
}

void TestVisitStore::theFileItselfRefusesChanges_data()
{
    QTest::addColumn<QString>("sql");
    QTest::newRow("update") << QStringLiteral("UPDATE visits SET body = '{}'");
    QTest::newRow("update of a column") << QStringLiteral("UPDATE visits SET stamp = 1");
    QTest::newRow("delete") << QStringLiteral("DELETE FROM visits");
    QTest::newRow("edit changed") << QStringLiteral("UPDATE valve_edits SET person = 'x'");
    QTest::newRow("edit deleted") << QStringLiteral("DELETE FROM valve_edits");
}

// A statement of any kind reaches the file as a made-up next migration.
void TestVisitStore::theFileItselfRefusesChanges()
{
    QFETCH(QString, sql);
    {
        const auto project = Project::open(m_path);
        VERIFY_OK(project);
        VERIFY_OK((*project)->visits().add(fullVisit(m_valve.id, 5)));
    }
    std::vector<Migration> steps = shippedMigrations();
    steps.push_back({currentSchemaVersion() + 1, {sql}});
    const auto refused = Connection::open(m_path, steps);
    QVERIFY(!refused);
    QVERIFY2(refused.error().message.contains(QStringLiteral("never")),
             messageOf(refused).constData());

    // INSERT OR REPLACE goes round a DELETE trigger; it must leave the old row.
    steps.back().statements = {QStringLiteral("INSERT OR REPLACE INTO visits (id, valve_id, stamp, "
                                              "body, hash) SELECT id, valve_id, stamp, '{}', 'x' "
                                              "FROM visits")};
    {
        VERIFY_OK(Connection::open(m_path, steps));
    }
    QByteArray bytes = bytesOf(m_path);
    bytes[63] = static_cast<char>(currentSchemaVersion()); // back to the version we know
    QVERIFY(writeBytes(m_path, bytes));
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    QCOMPARE((*project)->visits().all()->size(), std::size_t{1});
}

void TestVisitStore::flippedBitIsNoticed()
{
    Visit visit = plainVisit(m_valve.id, 5);
    visit.remarks = QStringLiteral("the remark in which a bit flips");
    const Visit sound = plainVisit(m_valve.id, 6);
    {
        const auto project = Project::open(m_path);
        VERIFY_OK(project);
        VERIFY_OK((*project)->visits().addAll({visit, sound}));
    }
    QByteArray bytes = bytesOf(m_path);
    const qsizetype at = bytes.indexOf("in which a bit flips");
    QVERIFY(at > 0 && bytes.indexOf("in which a bit flips", at + 1) < 0);
    bytes[at] = static_cast<char>(bytes[at] ^ 0x01); // "in" becomes "hn"
    QVERIFY(writeBytes(m_path, bytes));

    const auto refused = Project::open(m_path);
    QVERIFY(!refused);
    QCOMPARE(refused.error().code, ErrorCode::Damaged);
    QVERIFY2(refused.error().message.contains(visit.id.text()) &&
                 refused.error().message.contains(QStringLiteral("valve 0012")),
             messageOf(refused).constData());
    QCOMPARE(bytesOf(m_path), bytes); // left as it was

    const auto project = Project::open(m_path, DamagedVisits::SetAside);
    VERIFY_OK(project);
    QCOMPARE((*project)->setAside().size(), qsizetype{1});
    QVERIFY((*project)->setAside().front().contains(visit.id.text()));
    QVERIFY((*project)->visits().all().value() == std::vector{sound});
    const auto faults = (*project)->verify();
    VERIFY_OK(faults);
    QCOMPARE(faults->size(), qsizetype{1});
    QVERIFY(faults->front().contains(visit.id.text()));
}

// The columns beside the body are not under its hash; reading compares them with the body.
void TestVisitStore::flippedBitInAColumnIsNoticed()
{
    Visit visit = plainVisit(m_valve.id, 5);
    visit.supersedes = VisitId::fromText(QStringLiteral("01900000-0000-7000-8000-00000000abcd"));
    {
        const auto project = Project::open(m_path);
        VERIFY_OK(project);
        VERIFY_OK((*project)->visits().add(visit));
    }
    QByteArray bytes = bytesOf(m_path);
    const QByteArray column = visit.supersedes.text().toLatin1();
    QCOMPARE(bytes.count(column), qsizetype{2}); // the column, then the body
    bytes[bytes.indexOf(column) + 35] = 'e';
    QVERIFY(writeBytes(m_path, bytes));
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    const auto all = (*project)->visits().all();
    QVERIFY(!all);
    QCOMPARE(all.error().code, ErrorCode::Damaged);
    QVERIFY(all.error().message.contains(visit.id.text()));
    QCOMPARE((*project)->verify()->size(), qsizetype{1});
}

void TestVisitStore::everyOrderOfAddingGivesTheSame()
{
    const QString other = m_folder->filePath(QStringLiteral("other.keyround"));
    const QString one = m_folder->filePath(QStringLiteral("one.keyround"));
    QVERIFY(rc::check("any order, duplicates included, gives the same standing state", [&] {
        for (const QString &path : {one, other}) {
            QFile::remove(path);
            RC_ASSERT(QFile::copy(m_path, path));
        }
        const std::vector<Visit> visits = visitsWithEqualStamps(m_valve.id);
        // A random order, and some of them a second time.
        std::vector<Visit> shuffled;
        std::vector<Visit> left = visits;
        while (!left.empty()) {
            const auto take = *rc::gen::inRange<std::size_t>(0, left.size());
            shuffled.push_back(left[take]);
            left.erase(left.begin() + static_cast<std::ptrdiff_t>(take));
            if (*rc::gen::arbitrary<bool>()) {
                shuffled.push_back(shuffled.front());
            }
        }
        const std::vector<Visit> a = storedInOrder(one, visits);
        const std::vector<Visit> b = storedInOrder(other, shuffled);
        RC_ASSERT(a.size() == visits.size());
        RC_ASSERT(a == b);
        RC_ASSERT(sameStanding(standingVisits(a), standingVisits(b)));
        // Nor may it hang on the order in which the rows are handed over.
        RC_ASSERT(sameStanding(standingVisits(visits), standingVisits(a)));
    }));
}

void TestVisitStore::draftsSurviveReopening()
{
    const QJsonObject typed{{QStringLiteral("field"), QStringLiteral("turns")},
                            {QStringLiteral("text"), awkwardText()}};
    const StopDraft first{RoundId{newUuid7(someDay)}, m_valve.id, typed, moment(1)};
    const StopDraft outsideARound{{}, m_valve.id, {}, moment(2)};
    {
        const auto project = Project::open(m_path);
        VERIFY_OK(project);
        StopDraft earlier = first;
        earlier.content = QJsonObject{{QStringLiteral("text"), QStringLiteral("2")}};
        VERIFY_OK((*project)->visits().saveDraft(earlier));
        VERIFY_OK((*project)->visits().saveDraft(first)); // the next key stroke
        VERIFY_OK((*project)->visits().saveDraft(outsideARound));
    }
    const auto project = Project::open(m_path);
    VERIFY_OK(project);
    const auto drafts = (*project)->visits().drafts();
    VERIFY_OK(drafts);
    QCOMPARE(drafts->size(), std::size_t{2});
    QCOMPARE((*drafts)[0].round, first.round);
    QCOMPARE((*drafts)[0].valve, first.valve);
    QCOMPARE((*drafts)[0].content, typed);
    QVERIFY((*drafts)[0].savedAt == first.savedAt);
    QVERIFY((*drafts)[1].round.isNull());
    VERIFY_OK((*project)->visits().dropDraft(first.round, first.valve));
    QCOMPARE((*project)->visits().drafts()->size(), std::size_t{1});
}

QTEST_GUILESS_MAIN(TestVisitStore)
#include "test_visit_store.moc"
