// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/half_typed_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

class TestHalfTyped : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void survivesReopeningAndIsDropped();
    void aFlippedBitIsNoticed();
};

void TestHalfTyped::survivesReopeningAndIsDropped()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const HalfTyped sheet{
        QStringLiteral("paper sheet"), {{QStringLiteral("words"), awkwardText()}}, moment()};
    HalfTyped changed = sheet;
    changed.content = {{QStringLiteral("words"), QStringLiteral("more")}};
    changed.savedAt = moment(7);
    {
        auto project = std::move(*Project::create(path, UnitSystem::Us));
        HalfTypedStore &store = project->halfTyped();
        QVERIFY(!*store.load(sheet.name));
        QVERIFY(store.save(sheet));
        QCOMPARE((*store.load(sheet.name))->content, sheet.content);
        QVERIFY(store.save(changed));
        QVERIFY(store.save({QStringLiteral("another"), {}, moment(9)}));
    }
    auto project = std::move(*Project::open(path));
    HalfTypedStore &store = project->halfTyped();
    QCOMPARE((*store.load(sheet.name))->content, changed.content);
    QCOMPARE((*store.load(sheet.name))->savedAt, changed.savedAt);
    QCOMPARE(*store.names(), (QStringList{QStringLiteral("another"), sheet.name}));
    QVERIFY(store.drop(sheet.name));
    QVERIFY(store.drop(sheet.name)); // nothing there is no error
    QVERIFY(!*store.load(sheet.name));
    QCOMPARE(store.all()->size(), std::size_t(1));
}

void TestHalfTyped::aFlippedBitIsNoticed()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    const QString name = QStringLiteral("paper sheet");
    {
        auto project = std::move(*Project::create(path, UnitSystem::Us));
        QVERIFY(project->halfTyped().save(
            {name, {{QStringLiteral("turns"), QStringLiteral("twenty-seven")}}, moment()}));
    }
    QFile file(path);
    QVERIFY(file.open(QIODevice::ReadWrite));
    const QByteArray bytes = file.readAll();
    const qsizetype at = bytes.indexOf("twenty-seven");
    QVERIFY(at > 0);
    QVERIFY(file.seek(at));
    QVERIFY(file.putChar(static_cast<char>(bytes[at] ^ 1)));
    file.close();
    auto project = Project::open(path);
    QVERIFY(project);
    const auto read = (*project)->halfTyped().load(name);
    QVERIFY(!read);
    QCOMPARE(read.error().code, ErrorCode::Damaged);
    QVERIFY(!(*project)->verify()->isEmpty());
    // Typing on replaces it.
    QVERIFY((*project)->halfTyped().save({name, {}, moment()}));
    QVERIFY((*project)->halfTyped().load(name));
}

QTEST_GUILESS_MAIN(TestHalfTyped)
#include "test_half_typed.moc"
