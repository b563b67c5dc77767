// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/core/storage/fixtures.h"

#include <QTest>

#include <cmath>
#include <limits>

using namespace keyround;
using namespace keyround::fixtures;

class TestValveStore : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void everyFieldSurvivesReopening();
    void addingIsRecorded();
    void eachChangedFieldIsRecorded();
    void addRefusesWhatItCannotKeep();
    void addAllIsAllOrNone();
    void updateOfUnknownValveIsRefused();
    void numbersKeepEveryLetter();
};

void TestValveStore::everyFieldSurvivesReopening()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const Valve full = fullValve(QStringLiteral("A-1"));
    const Valve plain = plainValve(QStringLiteral("B-1"));
    {
        const auto project = Project::create(path, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->valves().add(full, author(), moment(), QStringLiteral("test")));
        VERIFY_OK((*project)->valves().add(plain, author(), moment(), QStringLiteral("test")));
    }
    const auto project = Project::open(path);
    VERIFY_OK(project);
    const auto valves = (*project)->valves().all();
    VERIFY_OK(valves);
    QCOMPARE(valves->size(), std::size_t{2});
    QVERIFY((*valves)[0] == full);
    QVERIFY((*valves)[1] == plain);
    const auto one = (*project)->valves().byNumber(QStringLiteral("A-1"));
    VERIFY_OK(one);
    QVERIFY(*one == full);
    const auto none = (*project)->valves().byNumber(QStringLiteral("a-1"));
    QVERIFY(!none);
    QCOMPARE(none.error().code, ErrorCode::NotFound);
}

void TestValveStore::addingIsRecorded()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    const Valve valve = plainValve(QStringLiteral("007"));
    VERIFY_OK(
        (*project)->valves().add(valve, author(), moment(), QStringLiteral("import valves.csv")));
    const auto edits = (*project)->valves().edits(valve.id);
    VERIFY_OK(edits);
    QCOMPARE(edits->size(), std::size_t{1});
    const ValveEdit &edit = edits->front();
    QCOMPARE(edit.valve, valve.id);
    QCOMPARE(edit.field, ValveField::Number);
    QVERIFY(edit.before.isEmpty());
    QCOMPARE(edit.after, QStringLiteral("007"));
    QCOMPARE(edit.author.person, author().person);
    QCOMPARE(edit.author.device, author().device);
    QVERIFY(edit.when == moment());
    QCOMPARE(edit.why, QStringLiteral("import valves.csv"));
    QCOMPARE(uuid7Milliseconds(edit.id.uuid), someDay);
}

void TestValveStore::eachChangedFieldIsRecorded()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    ValveStore &store = (*project)->valves();
    const Valve before = plainValve(QStringLiteral("1"));
    VERIFY_OK(store.add(before, author(), moment(), QStringLiteral("test")));

    Valve after = fullValve(QStringLiteral("2"));
    after.id = before.id;
    VERIFY_OK(store.update(after, author(), moment(1000), QStringLiteral("edited")));
    VERIFY_OK(store.update(after, author(), moment(2000), QStringLiteral("nothing differs")));
    const auto stored = store.all();
    VERIFY_OK(stored);
    QVERIFY(stored->size() == 1 && stored->front() == after);

    const auto edits = store.edits(before.id);
    VERIFY_OK(edits);
    const QList<ValveField> fields = differingFields(before, after);
    QCOMPARE(static_cast<qsizetype>(edits->size()), fields.size() + 1);
    QCOMPARE(edits->back().why, QStringLiteral("test")); // the oldest is last
    for (std::size_t i = 0; i + 1 < edits->size(); ++i) {
        const ValveEdit &edit = (*edits)[i];
        QVERIFY(fields.contains(edit.field));
        QCOMPARE(edit.before, valveFieldStored(before, edit.field));
        QCOMPARE(edit.after, valveFieldStored(after, edit.field));
        QCOMPARE(edit.why, QStringLiteral("edited"));
    }
}

void TestValveStore::addRefusesWhatItCannotKeep()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    ValveStore &store = (*project)->valves();
    const Valve good = plainValve(QStringLiteral("1"));
    VERIFY_OK(store.add(good, author(), moment(), QString()));

    Valve sameNumber = plainValve(QStringLiteral("1"));
    Valve sameId = plainValve(QStringLiteral("2"));
    sameId.id = good.id;
    Valve noId = plainValve(QStringLiteral("3"));
    noId.id = {};
    const Valve noNumber = plainValve(QString());
    Valve offTheGlobe = plainValve(QStringLiteral("4"));
    offTheGlobe.place = GeoPoint{91, 0};
    Valve nowhere = plainValve(QStringLiteral("5"));
    nowhere.place = GeoPoint{std::nan(""), 10};
    Valve deep = plainValve(QStringLiteral("6"));
    deep.depthToNut = Metres{std::numeric_limits<double>::infinity()};
    for (const Valve &valve : {sameNumber, sameId, noId, noNumber, offTheGlobe, nowhere, deep}) {
        const Status refused = store.add(valve, author(), moment(), QString());
        QVERIFY2(!refused, qPrintable(valve.number));
        QCOMPARE(refused.error().code, ErrorCode::BadInput);
        QVERIFY(!refused.error().message.isEmpty());
    }
    QCOMPARE(store.all()->size(), std::size_t{1});
}

void TestValveStore::addAllIsAllOrNone()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    ValveStore &store = (*project)->valves();
    const Status refused =
        store.addAll({plainValve(QStringLiteral("1")), plainValve(QStringLiteral("2")),
                      plainValve(QStringLiteral("1"))},
                     author(), moment(), QString());
    QVERIFY(!refused);
    QVERIFY(refused.error().message.contains(QStringLiteral("valve 1")));
    QVERIFY(store.all()->empty());
}

void TestValveStore::updateOfUnknownValveIsRefused()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    const Status refused =
        (*project)->valves().update(plainValve(QStringLiteral("9")), author(), moment(), QString());
    QVERIFY(!refused);
    QCOMPARE(refused.error().code, ErrorCode::NotFound);
}

void TestValveStore::numbersKeepEveryLetter()
{
    const QTemporaryDir folder;
    const auto project =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(project);
    const QStringList numbers{QStringLiteral("0012"), QStringLiteral("12"),  QStringLiteral(" 12"),
                              QStringLiteral("1e3"),  QStringLiteral("v-7"), QStringLiteral("V-7")};
    for (const QString &number : numbers) {
        VERIFY_OK((*project)->valves().add(plainValve(number), author(), moment(), QString()));
    }
    for (const QString &number : numbers) {
        const auto valve = (*project)->valves().byNumber(number);
        VERIFY_OK(valve);
        QCOMPARE(valve->number, number);
    }
}

QTEST_GUILESS_MAIN(TestValveStore)
#include "test_valve_store.moc"
