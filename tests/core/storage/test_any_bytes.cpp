// SPDX-License-Identifier: GPL-3.0-or-later
// Whatever bytes stand where a visit, a half-typed stop or a file's header should be: an answer,
// never a crash, and never a record that nobody wrote. (The check command runs this under the
// address and undefined-behaviour sanitizers.)
#include "core/storage/file_check.h"
#include "core/storage/kept_stops.h"
#include "tests/core/storage/fixtures.h"

#include <QDir>
#include <QJsonDocument>
#include <QTest>

#include <rapidcheck.h>

#include <random>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

QByteArray damaged(QByteArray bytes, std::mt19937 &random)
{
    const unsigned changes = 1 + random() % 4;
    for (unsigned change = 0; change < changes && !bytes.isEmpty(); ++change) {
        const auto at = static_cast<qsizetype>(random() % static_cast<unsigned>(bytes.size()));
        switch (random() % 4) {
        case 0:
            bytes[at] = static_cast<char>(random());
            break;
        case 1:
            bytes.remove(at, 1 + static_cast<qsizetype>(random() % 8));
            break;
        case 2:
            bytes.insert(at, bytes.mid(at, static_cast<qsizetype>(random() % 30)));
            break;
        default:
            bytes[at] = static_cast<char>(bytes[at] ^ (1 << (random() % 8)));
            break;
        }
    }
    return bytes;
}

} // namespace

class TestAnyBytes : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void asAVisit();
    void asAnythingElse();
    void asAHeader();
    void asAKeptStop();
};

// What still reads is a visit that writes itself back, so that nothing is half-understood.
void TestAnyBytes::asAVisit()
{
    Visit visit = fullVisit(ValveId{newUuid7(someDay)}, 77);
    visit.otherProblem = QStringLiteral("<b>loose</b>");
    visit.remarks = QString::fromUtf8("\xF0\x9F\x9A\xB0 stiff");
    const QByteArray sound = canonicalJson(visit);
    std::mt19937 random(1);
    int read = 0;
    for (int run = 0; run < 4000; ++run) {
        const auto taken = visitFromJson(damaged(sound, random));
        if (!taken) {
            QCOMPARE(taken.error().code, ErrorCode::Damaged);
            continue;
        }
        ++read;
        const auto again = visitFromJson(canonicalJson(*taken));
        VERIFY_OK(again);
        QVERIFY(*again == *taken);
    }
    QVERIFY(read > 0);
    QVERIFY(read < 4000);
}

void TestAnyBytes::asAnythingElse()
{
    QVERIFY(rc::check("any text as a visit", [](const std::string &text) {
        RC_ASSERT(!visitFromJson(QByteArray::fromStdString(text)).has_value());
    }));
    for (const char *text : {"", "{}", "[]", "null", "{\"passes\":[[[[[[[[[[]]]]]]]]]]}",
                             "{\"id\":{\"id\":{}}}", "{\"stamp\":1e999}"}) {
        QVERIFY2(!visitFromJson(QByteArray(text)), text);
    }
    QVERIFY(!visitFromJson(QByteArray(100000, '['))); // deep
}

void TestAnyBytes::asAHeader()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    VERIFY_OK(Project::create(path, UnitSystem::Us));
    const QByteArray sound = bytesOf(path);
    std::mt19937 random(2);
    int opened = 0;
    for (int run = 0; run < 400; ++run) {
        const QByteArray bytes = damaged(sound.left(100), random).left(100) + sound.mid(100);
        QVERIFY(writeBytes(path, bytes));
        const auto schema = checkProjectFile(path, currentSchemaVersion());
        if (schema) {
            QVERIFY(*schema >= 1 && *schema <= currentSchemaVersion());
        }
        if (run % 8 == 0) {
            const auto project = Project::open(path);
            opened += project ? 1 : 0;
            if (project) {
                VERIFY_OK((*project)->verify());
            }
        }
        for (const QString &name : QDir(folder.path()).entryList(QDir::Files)) {
            QFile::remove(folder.filePath(name)); // copies that a migration set aside
        }
    }
    QVERIFY(opened < 50);
}

void TestAnyBytes::asAKeptStop()
{
    const QTemporaryDir folder;
    const KeptStops kept(folder.path(), QStringLiteral("town.keyround"));
    const StopDraft draft{
        RoundId{newUuid7(1)}, ValveId{newUuid7(1)}, {{QStringLiteral("turns"), 41}}, moment()};
    VERIFY_OK(kept.keep(draft));
    const QString path = folder.filePath(QDir(folder.path()).entryList(QDir::Files).front());
    const QByteArray sound = bytesOf(path);
    std::mt19937 random(3);
    for (int run = 0; run < 500; ++run) {
        const QByteArray bytes = damaged(sound, random);
        QVERIFY(writeBytes(path, bytes));
        const auto all = kept.all();
        QVERIFY(all.empty() || bytes == sound);
    }
}

QTEST_GUILESS_MAIN(TestAnyBytes)
#include "test_any_bytes.moc"
