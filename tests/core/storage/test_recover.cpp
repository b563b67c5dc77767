// SPDX-License-Identifier: GPL-3.0-or-later
// Project files are damaged on purpose, and what comes back is compared with what was there. The
// layout of pages is SQLite's own (sqlite.org/fileformat2.html).
#include "core/storage/half_typed_store.h"
#include "core/storage/photo_store.h"
#include "core/storage/recover.h"
#include "core/storage/settings_store.h"
#include "core/storage/table_pages.h"
#include "tests/core/storage/fixtures.h"
#include "tests/support/small_pictures.h"

#include <QTest>

#include <algorithm>
#include <random>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

constexpr qsizetype pageSize = 4096;
constexpr int visitCount = 300;

QByteArray zeroPage(QByteArray bytes, qsizetype page)
{
    return bytes.replace((page - 1) * pageSize, pageSize, QByteArray(pageSize, '\0'));
}

/// The page that holds these bytes, counted from 1; 0 where none does.
qsizetype pageWith(const QByteArray &bytes, const QByteArray &text)
{
    const qsizetype at = bytes.indexOf(text);
    return at < 0 ? 0 : at / pageSize + 1;
}

} // namespace

class TestRecover : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void init();
    void aSoundFileComesBackWhole();
    void aBadPageCostsItsOwnRowsOnly();
    void withoutAHeader();
    void withoutItsFirstPage();
    void cutInHalf();
    void aFlippedVisitIsLeftOutAndListed();
    void rowsReadTwiceAreNoDoubt();
    void aVisitWhoseValveIsLostIsKept();
    void photosComeAlong();
    void whatIsNoProjectGivesNothing();
    void neverOverwrites();
    void anyDamageIsSafe();
    void pagesOfAnyBytesAreSafe();

private:
    [[nodiscard]] Result<Recovery> recoverBytes(const QByteArray &bytes);
    [[nodiscard]] std::vector<Visit> visitsBack() const;

    QByteArray m_sound; ///< the file's bytes
    std::vector<Visit> m_visits;
    std::vector<Valve> m_valves;
    const HalfTyped m_sheet{QStringLiteral("paper sheet of a round"),
                            {{QStringLiteral("row 1"), QStringLiteral("27 turns")}},
                            moment(5)};
    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_damaged;
    QString m_new;
};

void TestRecover::initTestCase()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    {
        const auto project = Project::create(path, UnitSystem::Metric);
        VERIFY_OK(project);
        for (int i = 0; i < 20; ++i) {
            m_valves.push_back(plainValve(QStringLiteral("V-%1").arg(i, 3, 10, QLatin1Char('0'))));
        }
        VERIFY_OK((*project)->valves().addAll(m_valves, author(), moment(), QString()));
        for (int i = 0; i < visitCount; ++i) {
            Visit visit = plainVisit(m_valves[static_cast<std::size_t>(i) % m_valves.size()].id,
                                     static_cast<std::uint64_t>(i) + 1);
            visit.remarks =
                QStringLiteral("visit number %1.").arg(i) + QString(400, QLatin1Char('r'));
            m_visits.push_back(visit);
        }
        m_visits[7].remarks = QString(20000, QLatin1Char('x')); // over several pages
        VERIFY_OK((*project)->visits().addAll(m_visits));
        VERIFY_OK((*project)->visits().saveDraft({RoundId{newUuid7(1)},
                                                  m_valves.front().id,
                                                  {{QStringLiteral("turns"), 41}},
                                                  moment()}));
        VERIFY_OK((*project)->halfTyped().save(m_sheet));
    }
    m_sound = bytesOf(path);
    QVERIFY(m_sound.size() > 50 * pageSize);
}

void TestRecover::init()
{
    m_folder = std::make_unique<QTemporaryDir>();
    m_damaged = m_folder->filePath(QStringLiteral("town.keyround"));
    m_new = m_folder->filePath(QStringLiteral("new.keyround"));
}

Result<Recovery> TestRecover::recoverBytes(const QByteArray &bytes)
{
    if (!writeBytes(m_damaged, bytes)) {
        return fail(ErrorCode::StorageFault, QStringLiteral("not written"));
    }
    auto recovery = recoverProject(m_damaged, m_new);
    if (bytesOf(m_damaged) != bytes) {
        return fail(ErrorCode::StorageFault, QStringLiteral("the damaged file was changed"));
    }
    return recovery;
}

std::vector<Visit> TestRecover::visitsBack() const
{
    const auto project = Project::open(m_new);
    return project ? (*project)->visits().all().value_or(std::vector<Visit>{})
                   : std::vector<Visit>{};
}

void TestRecover::aSoundFileComesBackWhole()
{
    const auto recovery = recoverBytes(m_sound);
    VERIFY_OK(recovery);
    QVERIFY2(recovery->isWhole(), qPrintable(recovery->notes.join(QLatin1Char('\n'))));
    QCOMPARE(recovery->rowsIn(QStringLiteral("visits")), visitCount);
    QVERIFY(visitsBack() == m_visits);
    const auto project = Project::open(m_new);
    VERIFY_OK(project);
    QVERIFY((*project)->valves().all().value() == m_valves);
    QVERIFY((*project)->settings().load()->units == UnitSystem::Metric);
    QCOMPARE((*project)->visits().drafts()->size(), std::size_t{1});
    QVERIFY((*project)->verify()->isEmpty());
}

void TestRecover::aBadPageCostsItsOwnRowsOnly()
{
    const qsizetype page = pageWith(m_sound, "visit number 150.");
    QVERIFY(page > 1);
    const auto recovery = recoverBytes(zeroPage(m_sound, page));
    VERIFY_OK(recovery);
    QVERIFY(!recovery->isWhole());
    const std::vector<Visit> back = visitsBack();
    // A page of 4,096 bytes holds some four of these visits.
    QVERIFY2(back.size() >= visitCount - 8, QByteArray::number(qulonglong(back.size())));
    QVERIFY(back.size() < visitCount);
    for (const Visit &visit : back) {
        QVERIFY(std::ranges::find(m_visits, visit) != m_visits.end());
    }
    // Each one that is missing is named, from the index.
    for (const Visit &visit : m_visits) {
        const bool isBack = std::ranges::find(back, visit) != back.end();
        const bool isNamed = std::ranges::any_of(recovery->doubtful, [&](const DoubtfulRow &row) {
            return row.what.contains(visit.id.text());
        });
        QVERIFY(isBack != isNamed);
    }
}

void TestRecover::withoutAHeader()
{
    QByteArray bytes = m_sound;
    bytes.replace(0, 100, QByteArray(100, '\xA5'));
    const auto recovery = recoverBytes(bytes);
    VERIFY_OK(recovery);
    QVERIFY(!recovery->notes.isEmpty()); // says that the header was not right
    QVERIFY(visitsBack() == m_visits);
}

// The definitions of all tables are gone with it: nothing but hashes tells what a row is.
void TestRecover::withoutItsFirstPage()
{
    const auto recovery = recoverBytes(zeroPage(m_sound, 1));
    VERIFY_OK(recovery);
    QVERIFY(!recovery->isWhole());
    QVERIFY(visitsBack() == m_visits);
    const auto project = Project::open(m_new);
    VERIFY_OK(project);
    QVERIFY((*project)->valves().all().value() == m_valves);
    QCOMPARE((*project)->visits().drafts()->size(), std::size_t{1});
    const auto sheet = (*project)->halfTyped().load(m_sheet.name);
    VERIFY_OK(sheet);
    QVERIFY(sheet->has_value());
    QCOMPARE((*sheet)->content, m_sheet.content);
    QCOMPARE((*sheet)->savedAt, m_sheet.savedAt);
    QCOMPARE((*project)->valves().edits(m_valves.front().id)->size(), std::size_t{1});
}

void TestRecover::cutInHalf()
{
    const QByteArray half = m_sound.left(m_sound.size() / 2 + 17);
    const auto recovery = recoverBytes(half);
    VERIFY_OK(recovery);
    QVERIFY(!recovery->isWhole());
    const std::vector<Visit> back = visitsBack();
    for (const Visit &visit : back) {
        QVERIFY(std::ranges::find(m_visits, visit) != m_visits.end());
    }
    // Every visit whose page is there came back.
    const QByteArray wholePages = half.left(half.size() / pageSize * pageSize);
    int there = 0;
    for (const Visit &visit : m_visits) {
        if (wholePages.contains(canonicalJson(visit))) {
            ++there;
            QVERIFY(std::ranges::find(back, visit) != back.end());
        }
    }
    QVERIFY2(there > 20, QByteArray::number(there));
}

void TestRecover::aFlippedVisitIsLeftOutAndListed()
{
    QByteArray bytes = m_sound;
    const qsizetype at = bytes.indexOf("visit number 150.");
    bytes[at + 13] = '9'; // 150 becomes 950
    const auto recovery = recoverBytes(bytes);
    VERIFY_OK(recovery);
    QCOMPARE(recovery->doubtful.size(), std::size_t{1});
    QCOMPARE(recovery->doubtful.front().table, QStringLiteral("visits"));
    QVERIFY(recovery->doubtful.front().what.contains(m_visits[150].id.text()));
    QVERIFY(recovery->doubtful.front().content.contains(QStringLiteral("visit number 950.")));
    std::vector<Visit> expected = m_visits;
    expected.erase(expected.begin() + 150);
    QVERIFY(visitsBack() == expected);
    const auto report = keepRecoveryReport(*recovery);
    VERIFY_OK(report);
    QVERIFY(bytesOf(*report).contains("visit number 950."));
}

// One leaf of the visits' table is gone, and the valves' too, but for a freed copy: rows that are
// read twice are no doubt.
void TestRecover::rowsReadTwiceAreNoDoubt()
{
    QByteArray bytes = m_sound;
    const qsizetype page = pageWith(bytes, "visit number 150.");
    bytes = zeroPage(bytes, page);
    const qsizetype valves = pageWith(bytes, "V-005");
    bytes += bytes.mid((valves - 1) * pageSize, pageSize); // a leaf that nobody leads to
    bytes[(valves - 1) * pageSize + 1] = '\x7F';           // and one with a bad free list
    const auto recovery = recoverBytes(bytes);
    VERIFY_OK(recovery);
    for (const DoubtfulRow &row : recovery->doubtful) {
        QVERIFY2(!row.what.contains(QStringLiteral("does not fit")), qPrintable(row.what));
    }
    const auto project = Project::open(m_new);
    VERIFY_OK(project);
    QCOMPARE((*project)->valves().all()->size(), m_valves.size());
}

void TestRecover::aVisitWhoseValveIsLostIsKept()
{
    QByteArray bytes = m_sound;
    // All leaves that hold valves.
    for (qsizetype page = pageWith(bytes, "V-005"); page > 0; page = pageWith(bytes, "V-005")) {
        bytes = zeroPage(bytes, page);
    }
    const auto recovery = recoverBytes(bytes);
    VERIFY_OK(recovery);
    QVERIFY(visitsBack() == m_visits);
    const bool said = std::ranges::any_of(recovery->doubtful, [](const DoubtfulRow &row) {
        return row.table == QLatin1String("valves") && row.what.contains(QStringLiteral("lost-"));
    });
    QVERIFY(said);
}

void TestRecover::photosComeAlong()
{
    {
        const auto project = Project::create(m_damaged, UnitSystem::Us);
        VERIFY_OK(project);
        VERIFY_OK((*project)->valves().add(m_valves.front(), author(), moment(), QString()));
        Photo photo;
        photo.id = PhotoId{newUuid7(1)};
        photo.owner.valve = m_valves.front().id;
        photo.fileName = QStringLiteral("p.png");
        photo.stamp = HybridTime{7};
        VERIFY_OK((*project)->photos().add(photo, onePixelPng()));
    }
    const auto recovery = recoverProject(m_damaged, m_new);
    VERIFY_OK(recovery);
    QVERIFY(recovery->isWhole());
    const auto project = Project::open(m_new);
    VERIFY_OK(project);
    const auto photos = (*project)->photos().all();
    QCOMPARE(photos->size(), std::size_t{1});
    QCOMPARE((*project)->photos().read(photos->front()).value(), onePixelPng());
}

void TestRecover::whatIsNoProjectGivesNothing()
{
    for (const QByteArray &bytes :
         {QByteArray(), QByteArray("a letter"), QByteArray(100 * pageSize, '\xA5'),
          m_sound.left(50), QByteArray(3 * pageSize, '\x0D')}) {
        const auto recovery = recoverBytes(bytes);
        QVERIFY(!recovery);
        QVERIFY(!QFile::exists(m_new));
    }
    QVERIFY(!recoverProject(m_folder->filePath(QStringLiteral("none")), m_new));
}

void TestRecover::neverOverwrites()
{
    QVERIFY(writeBytes(m_new, QByteArrayLiteral("mine")));
    QVERIFY(!recoverBytes(m_sound));
    QCOMPARE(bytesOf(m_new), QByteArrayLiteral("mine"));
}

// Stretches of random bytes, a zeroed page, a page twice: never a crash, and never a visit that
// was not there. (The check command runs this under the address sanitizer.)
void TestRecover::anyDamageIsSafe()
{
    std::mt19937 random(4);
    const auto below = [&random](qsizetype end) {
        return static_cast<qsizetype>(random() % static_cast<unsigned>(end));
    };
    int recovered = 0;
    for (int run = 0; run < 25; ++run) {
        QByteArray bytes = m_sound;
        for (int damage = 0; damage < 4; ++damage) {
            const qsizetype at = below(bytes.size() - pageSize);
            const qsizetype length = 1 + below(damage == 0 ? pageSize : 20);
            for (qsizetype i = 0; i < length; ++i) {
                bytes[at + i] = static_cast<char>(random());
            }
        }
        if (run % 3 == 0) {
            bytes.replace(below(bytes.size() / pageSize - 1) * pageSize, pageSize,
                          bytes.mid(below(bytes.size() / pageSize - 1) * pageSize, pageSize));
        }
        QFile::remove(m_new);
        if (const auto recovery = recoverBytes(bytes)) {
            ++recovered;
            const std::vector<Visit> back = visitsBack();
            QCOMPARE(back.size(), std::size_t(recovery->rowsIn(QStringLiteral("visits"))));
            for (const Visit &visit : back) {
                QVERIFY(std::ranges::find(m_visits, visit) != m_visits.end());
            }
        }
    }
    QVERIFY2(recovered > 20, QByteArray::number(recovered));
}

void TestRecover::pagesOfAnyBytesAreSafe()
{
    std::mt19937 random(5);
    int rows = 0;
    for (int run = 0; run < 300; ++run) {
        QByteArray bytes = m_sound.mid((random() % 40) * pageSize, 3 * pageSize);
        for (int change = 0; change < 30; ++change) {
            bytes[static_cast<qsizetype>(random() % static_cast<unsigned>(bytes.size()))] =
                static_cast<char>(random());
        }
        bytes[pageSize] = 0x0D; // taken for a leaf in any case
        readTablePages(bytes, [&rows](const QVariantList &) { ++rows; });
    }
    QVERIFY(rows > 0);
}

QTEST_GUILESS_MAIN(TestRecover)
#include "test_recover.moc"
