// SPDX-License-Identifier: GPL-3.0-or-later
// The quick road to a visit gives just what the slow one gives, or nothing; and a flipped bit is
// noticed on it, wherever it lies.
#include "core/storage/project.h"
#include "core/storage/valve_store.h"
#include "core/storage/visit_scan.h"
#include "core/storage/visit_store.h"

#include <QFile>
#include <QTemporaryDir>
#include <QTest>

#include <random>

using namespace keyround;

namespace {

constexpr std::int64_t someDay = 1'750'000'000'000;

QString someText(std::mt19937_64 &random)
{
    static const QStringList texts{QString(),
                                   QStringLiteral("Crew 1"),
                                   QStringLiteral("an invented remark, with commas: and colons"),
                                   QStringLiteral("a \"quoted\" word and a \\ stroke"),
                                   QStringLiteral("two\nlines\tand a tab"),
                                   QString::fromUtf8("Stra\xc3\x9f"
                                                     "e \xe2\x86\x92 \xf0\x9f\x9a\xb0"),
                                   QStringLiteral("{\"crew\":\"x\"}")};
    return texts.at(static_cast<qsizetype>(random() % static_cast<std::size_t>(texts.size())));
}

Standing someStanding(std::mt19937_64 &random)
{
    Standing standing{static_cast<Position>(random() % 4U), {}};
    if (standing.position == Position::PartOpen) {
        standing.turnsFromClosed = QuarterTurns{static_cast<int>(random() % 200U)};
    }
    return standing;
}

Visit someVisit(const ValveId &valve, std::uint64_t stamp, std::mt19937_64 &random)
{
    Visit visit;
    visit.id = {uuid7FromParts(someDay + static_cast<std::int64_t>(stamp), 1, random() >> 2U)};
    visit.valve = valve;
    visit.arrived = {someDay - static_cast<std::int64_t>(random() % 4'000'000'000'000U), -18000};
    visit.finished = {visit.arrived.utcMilliseconds + 600'000, random() % 2U == 0 ? 3600 : 0};
    visit.crew = someText(random);
    visit.recordedBy = someText(random);
    visit.device = QStringLiteral("laptop");
    visit.remarks = someText(random);
    visit.found = someStanding(random);
    visit.left = someStanding(random);
    for (std::size_t i = 0; i < random() % 4U; ++i) {
        visit.passes.push_back({static_cast<PassDirection>(random() % 2U),
                                QuarterTurns{static_cast<int>(random() % 300U)}});
    }
    for (std::size_t i = 0; i < random() % 3U; ++i) {
        const auto &list = problemList();
        visit.problems << list.at(static_cast<qsizetype>(random() %
                                                         static_cast<std::size_t>(list.size())))
                              .problem;
    }
    if (random() % 5U == 0) {
        visit.round = {uuid7FromParts(someDay, 2, random() >> 2U)};
    }
    if (random() % 7U == 0) {
        visit.supersedes = {uuid7FromParts(someDay, 3, random() >> 2U)};
        visit.reason = QStringLiteral("mistyped");
    }
    if (random() % 9U == 0) {
        visit.lid = LidCondition::Stuck; // a detail that only some visits carry
    }
    visit.stamp = {stamp};
    return visit;
}

struct Filled
{
    QTemporaryDir folder;
    QString path = folder.filePath(QStringLiteral("filled.keyround"));
    std::vector<Visit> visits;

    explicit Filled(int count)
    {
        std::mt19937_64 random(5);
        const auto project = Project::create(path, UnitSystem::Us);
        Valve valve;
        valve.id = {uuid7FromParts(someDay, 4, 1)};
        valve.number = QStringLiteral("V1");
        for (int i = 0; i < count; ++i) {
            // Not in the order of stamps: as rows of two laptops come together.
            const auto stamp = static_cast<std::uint64_t>((i * 7919) % count + 1);
            visits.push_back(someVisit(valve.id, stamp, random));
        }
        const Author author{QStringLiteral("p"), QStringLiteral("d")};
        const Status stored =
            (*project)
                ->valves()
                .add(valve, author, {someDay, 0}, QStringLiteral("test"))
                .and_then([&] { return (*project)->visits().addAll(visits).map([](int) {}); });
        Q_ASSERT(stored.has_value());
        std::ranges::sort(visits, {}, &Visit::stamp);
    }
};

/// Where a leaf of the visits' table says how many rows it holds: the lower byte, an odd number, so
/// that its last bit takes one away (layout of pages: sqlite.org/fileformat2.html section 1.6).
qsizetype rowCountOfALeaf(const QByteArray &file, const std::vector<Visit> &visits)
{
    constexpr qsizetype pageSize = 4096;
    constexpr qsizetype countAt = 4;
    constexpr char tableLeaf = 0x0D;
    for (const Visit &visit : visits) {
        const qsizetype at = file.indexOf("\"id\":\"" + visit.id.text().toLatin1());
        const qsizetype page = at / pageSize * pageSize;
        if (at > 0 && file.at(page) == tableLeaf && file.at(page + countAt) > 2 &&
            file.at(page + countAt) % 2 == 1) {
            return page + countAt;
        }
    }
    return 0;
}

} // namespace

class TestVisitReader : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void scanGivesWhatTheSlowRoadGives()
    {
        std::mt19937_64 random(1);
        VisitScanner scanner;
        int quick = 0;
        constexpr int tries = 2000;
        for (int i = 0; i < tries; ++i) {
            const Visit visit =
                someVisit({uuid7FromParts(someDay, 4, random() >> 2U)}, random() >> 9U, random);
            const QByteArray json = canonicalJson(visit);
            Visit scanned;
            if (scanner.scan(json, scanned)) {
                QCOMPARE(scanned, *visitFromJson(json));
                ++quick;
            }
        }
        QVERIFY2(quick > tries / 40, qPrintable(QString::number(quick)));
        Visit plain;
        plain.id = {uuid7FromParts(someDay, 1, 1)};
        plain.valve = {uuid7FromParts(someDay, 1, 2)};
        plain.stamp = {77};
        Visit scanned;
        QVERIFY(scanner.scan(canonicalJson(plain), scanned)); // the common form is not left out
    }

    /// Against Qt's reader of ids, which takes more spellings than the canonical one.
    static void idsAreReadInTheirCanonicalTextOnly()
    {
        std::mt19937_64 random(7);
        for (int i = 0; i < 3000; ++i) {
            QByteArray text =
                uuid7FromParts(someDay, 5, random() >> 2U).toByteArray(QUuid::WithoutBraces);
            if (i % 3 > 0) {
                const auto at = static_cast<qsizetype>(random() % 36U);
                text[at] = static_cast<char>(text.at(at) ^ (1 << (random() % 8U)));
            }
            const QUuid known = QUuid::fromString(QString::fromLatin1(text));
            const bool isCanonical = known.toByteArray(QUuid::WithoutBraces) == text;
            QCOMPARE(idFromCanonical(text), isCanonical ? known : QUuid());
        }
        QVERIFY(idFromCanonical("").isNull());
        QVERIFY(idFromCanonical("01088757-1f80-7500-9a65-6af74bdd65d").isNull());
        QVERIFY(idFromCanonical("01088757-1f80-7500-9a65-6af74bdd65ddd").isNull());
    }

    /// Whatever is changed in the text: what the scan takes, the slow road takes, and reads alike.
    static void scanNeverTakesMore()
    {
        std::mt19937_64 random(2);
        VisitScanner scanner;
        for (int i = 0; i < 6000; ++i) {
            QByteArray json = canonicalJson(
                someVisit({uuid7FromParts(someDay, 4, 9)}, random() % 1'000'000U + 1, random));
            const auto at =
                static_cast<qsizetype>(random() % static_cast<std::size_t>(json.size()));
            switch (random() % 3U) {
            case 0:
                json[at] = static_cast<char>(json.at(at) ^ (1 << (random() % 8U)));
                break;
            case 1:
                json.remove(at, 1 + static_cast<qsizetype>(random() % 3U));
                break;
            default:
                json.insert(at, "0x\"-,{}"[random() % 7U]);
                break;
            }
            Visit scanned;
            if (scanner.scan(json, scanned)) {
                const auto slow = visitFromJson(json);
                QVERIFY2(slow.has_value(), json.constData());
                QVERIFY2(scanned == *slow, json.constData());
            }
        }
    }

    static void allComeInOrder()
    {
        const Filled filled(9000); // several blocks
        const auto project = Project::open(filled.path);
        QVERIFY2(project.has_value(), project ? "" : qPrintable(project.error().message));
        QCOMPARE(*(*project)->visits().all(), filled.visits); // as opening read them
        QCOMPARE(*(*project)->visits().all(), filled.visits); // read anew
    }

    static void openingTellsHowFarItIsAndCanBeStopped()
    {
        const Filled filled(9000);
        std::vector<double> told;
        {
            const auto project = Project::open(filled.path, DamagedVisits::Refuse,
                                               [&](double done, const QString &) {
                                                   told.push_back(done);
                                                   return true;
                                               });
            QVERIFY(project.has_value());
        }
        QVERIFY(told.size() >= 3 && std::ranges::is_sorted(told));
        QVERIFY(told.front() > 0 && told.back() <= 1);
        const auto stopped = Project::open(filled.path, DamagedVisits::Refuse,
                                           [](double, const QString &) { return false; });
        QVERIFY(!stopped.has_value());
        QCOMPARE(stopped.error().code, ErrorCode::Cancelled);
        QVERIFY(Project::open(filled.path).has_value()); // the lock is gone with it
    }

    static void whatIsAddedAfterOpeningIsThere()
    {
        const Filled filled(10);
        const auto project = Project::open(filled.path);
        std::mt19937_64 random(3);
        QVERIFY((*project)->visits().add(someVisit(filled.visits[0].valve, 999, random)));
        QCOMPARE((*project)->visits().all()->size(), std::size_t{11});
    }

    /// A bit is flipped in the file itself, in the body of one visit among thousands.
    static void flippedBitIsNoticed()
    {
        const Filled filled(5000);
        const Visit &hit = filled.visits[3210];
        QFile file(filled.path);
        QVERIFY(file.open(QIODevice::ReadWrite));
        const QByteArray all = file.readAll();
        const QByteArray mark = "\"id\":\"" + hit.id.text().toLatin1();
        const qsizetype place = all.indexOf(mark);
        QVERIFY(place > 0);
        for (const int back : {20, 60}) { // in a value, and in a key
            QByteArray flipped = all;
            flipped[place - back] = static_cast<char>(flipped.at(place - back) ^ 1);
            file.seek(0);
            file.write(flipped);
            file.flush();
            const auto refused = Project::open(filled.path);
            QVERIFY(!refused.has_value());
            QCOMPARE(refused.error().code, ErrorCode::Damaged);
            QVERIFY2(refused.error().message.contains(hit.id.text()),
                     qPrintable(refused.error().message));
            const auto aside = Project::open(filled.path, DamagedVisits::SetAside);
            QVERIFY(aside.has_value());
            QCOMPARE((*aside)->setAside().size(), 1);
            QCOMPARE((*aside)->visits().all()->size(), filled.visits.size() - 1);
            QCOMPARE((*aside)->visits().all()->size(), filled.visits.size() - 1);
        }
    }

    /// A bit is flipped in the number of rows that a page of the table says to hold: its last rows
    /// are lost, and each that is left matches its hash.
    static void flippedRowCountOfAPageIsNoticed()
    {
        const Filled filled(5000);
        QFile file(filled.path);
        QVERIFY(file.open(QIODevice::ReadWrite));
        QByteArray bytes = file.readAll();
        const qsizetype at = rowCountOfALeaf(bytes, filled.visits);
        QVERIFY(at > 0);
        bytes[at] = static_cast<char>(bytes.at(at) ^ 1);
        file.seek(0);
        file.write(bytes);
        // Beyond 64 MiB the tree of the visits' table is not walked on opening. What comes after
        // the pages that the header counts is not read.
        QVERIFY(file.resize(qint64{65} * 1024 * 1024));
        file.close();
        for (const DamagedVisits damaged : {DamagedVisits::Refuse, DamagedVisits::SetAside}) {
            const auto refused = Project::open(filled.path, damaged);
            QVERIFY(!refused.has_value());
            QCOMPARE(refused.error().code, ErrorCode::Damaged);
            QVERIFY2(refused.error().message.contains(QStringLiteral("other rows than its index")),
                     qPrintable(refused.error().message));
        }
        // Without the flip such a file opens.
        bytes[at] = static_cast<char>(bytes.at(at) ^ 1);
        QVERIFY(file.open(QIODevice::ReadWrite));
        file.write(bytes);
        file.close();
        const auto sound = Project::open(filled.path);
        QVERIFY2(sound.has_value(), sound ? "" : qPrintable(sound.error().message));
        QCOMPARE((*sound)->visits().all()->size(), filled.visits.size());
    }
};

QTEST_GUILESS_MAIN(TestVisitReader)
#include "test_visit_reader.moc"
