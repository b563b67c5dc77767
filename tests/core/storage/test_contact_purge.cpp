// SPDX-License-Identifier: GPL-3.0-or-later
// Customers' names and phones are forgotten by age: which ones, that they are gone from the file's
// bytes too, and that the log keeps that it was done and nothing of what they were.
#include "core/storage/layer_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

Service serviceOf(const char *number, const char *customer, const char *phone)
{
    return {FeatureId{newUuid7(someDay)},
            QLatin1String(number),
            {40.1, -88.1},
            QStringLiteral("1 Invented Way"),
            QLatin1String(customer),
            QLatin1String(phone),
            QStringLiteral("M1"),
            false};
}

ContactsPurged purgeOf(Project &project, const QDate &before)
{
    ContactsPurged purged;
    purged.at = moment();
    purged.before = before;
    purged.services = 1;
    purged.person = author().person;
    purged.device = author().device;
    purged.stamp = *project.nextStamp(moment());
    return purged;
}

bool fileHolds(const QString &path, const QByteArray &bytes)
{
    QFile file(path);
    return file.open(QIODevice::ReadOnly) && file.readAll().contains(bytes);
}

} // namespace

class TestContactPurge : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void olderThanADayAreForgotten();
    void theDayStaysUntilTheContactChanges();
    void nothingIsLeftInTheFile();
    void withoutADayNothingIsDeleted();
};

void TestContactPurge::olderThanADayAreForgotten()
{
    const QTemporaryDir folder;
    const auto opened =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(opened);
    Project &project = **opened;
    LayerStore &layers = project.layers();
    VERIFY_OK(
        layers.put(std::vector{serviceOf("S1", "Old Customer", "555-0101")}, QDate(2025, 3, 1)));
    VERIFY_OK(
        layers.put(std::vector{serviceOf("S2", "New Customer", "555-0102")}, QDate(2026, 3, 1)));
    VERIFY_OK(layers.put(std::vector{serviceOf("S3", "", "555-0103")})); // nobody knows since when
    VERIFY_OK(layers.put(std::vector{serviceOf("S4", "", "")}, QDate(2020, 1, 1)));
    const auto ages = layers.contactAges();
    VERIFY_OK(ages);
    QCOMPARE(ages->size(), std::size_t{3}); // S4 has no contact
    QVERIFY(!ages->at(0).since.isValid());
    QCOMPARE(ages->at(1).since, QDate(2025, 3, 1));
    QCOMPARE(ages->at(2).services, 1);

    VERIFY_OK(layers.purgeContacts(purgeOf(project, QDate(2026, 3, 1))));
    const auto services = layers.services();
    VERIFY_OK(services);
    QVERIFY(services->at(0).customer.isEmpty() && services->at(0).phone.isEmpty());
    QCOMPARE(services->at(0).address, QStringLiteral("1 Invented Way"));
    QCOMPARE(services->at(1).customer, QStringLiteral("New Customer")); // of that day: kept
    QVERIFY(services->at(2).phone.isEmpty());
    const auto purges = layers.contactPurges();
    VERIFY_OK(purges);
    QCOMPARE(purges->size(), std::size_t{1});
    QCOMPARE(purges->front().before, QDate(2026, 3, 1));
    QCOMPARE(purges->front().person, author().person);
    QVERIFY(project.verify()->isEmpty());
}

void TestContactPurge::theDayStaysUntilTheContactChanges()
{
    const QTemporaryDir folder;
    const auto opened =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(opened);
    LayerStore &layers = (*opened)->layers();
    Service service = serviceOf("S1", "Customer", "555-0101");
    VERIFY_OK(layers.put(std::vector{service}, QDate(2025, 3, 1)));
    service.address = QStringLiteral("2 Invented Way");
    VERIFY_OK(layers.put(std::vector{service}, QDate(2026, 3, 1)));
    QCOMPARE(layers.contactAges()->front().since, QDate(2025, 3, 1));
    service.phone = QStringLiteral("555-0199");
    VERIFY_OK(layers.put(std::vector{service}, QDate(2026, 3, 1)));
    QCOMPARE(layers.contactAges()->front().since, QDate(2026, 3, 1));
}

void TestContactPurge::nothingIsLeftInTheFile()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("t.keyround"));
    {
        const auto opened = Project::create(path, UnitSystem::Us);
        VERIFY_OK(opened);
        VERIFY_OK((*opened)->layers().put(
            std::vector{serviceOf("S1", "Nora Nowhere-Invented", "555-0177")}, QDate(2020, 1, 1)));
    }
    QVERIFY(fileHolds(path, "Nora Nowhere-Invented"));
    {
        const auto opened = Project::open(path);
        VERIFY_OK(opened);
        VERIFY_OK((*opened)->layers().purgeContacts(purgeOf(**opened, QDate(2026, 1, 1))));
    }
    QVERIFY(!fileHolds(path, "Nora Nowhere-Invented"));
    QVERIFY(!fileHolds(path, "555-0177"));
}

void TestContactPurge::withoutADayNothingIsDeleted()
{
    const QTemporaryDir folder;
    const auto opened =
        Project::create(folder.filePath(QStringLiteral("t.keyround")), UnitSystem::Us);
    VERIFY_OK(opened);
    VERIFY_OK((*opened)->layers().put(std::vector{serviceOf("S1", "Customer", "")}));
    QVERIFY(!(*opened)->layers().purgeContacts(purgeOf(**opened, QDate())));
    QCOMPARE((*opened)->layers().services()->front().customer, QStringLiteral("Customer"));
    QVERIFY((*opened)->layers().contactPurges()->empty());
}

QTEST_GUILESS_MAIN(TestContactPurge)
#include "test_contact_purge.moc"
