// SPDX-License-Identifier: GPL-3.0-or-later
// Photos: which bytes are a picture (the parts of ITU-T T.81 annex B and ISO/IEC 15948 section 5),
// and whose a photo is, in whatever order the rows come in.
#include "core/fieldlog/photo.h"
#include "tests/support/small_pictures.h"

#include <QTest>

#include <rapidcheck.h>

#include <algorithm>
#include <random>

using namespace keyround;

class TestPhoto : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void knowsPictures();
    void refusesWhatIsNone_data();
    void refusesWhatIsNone();
    void anyBytesAreSafe();
    void rowsInAnyOrderGiveTheSame();
};

void TestPhoto::knowsPictures()
{
    const auto png = lookAtImage(onePixelPng(), QStringLiteral("a.png"));
    QVERIFY(png);
    QCOMPARE(png->suffix, QStringLiteral("png"));
    QCOMPARE(png->width, 1);
    const auto jpeg = lookAtImage(jpegShell(), QStringLiteral("a.png")); // the bytes say what it is
    QVERIFY(jpeg);
    QCOMPARE(jpeg->suffix, QStringLiteral("jpg"));
    QCOMPARE(jpeg->width, 640);
    QCOMPARE(jpeg->height, 480);
    // A telephone puts a film behind the picture.
    QVERIFY(lookAtImage(jpegShell() + QByteArray(100, 'f'), QString()));
}

void TestPhoto::refusesWhatIsNone_data()
{
    QTest::addColumn<QByteArray>("bytes");
    QTest::newRow("nothing") << QByteArray();
    QTest::newRow("text") << QByteArray("a photo of a valve");
    QTest::newRow("a drawing with code") << QByteArray("<svg onload='x()'/>");
    QTest::newRow("JPEG's first bytes") << jpegShell().left(3);
    QTest::newRow("JPEG without its end") << jpegShell().chopped(2);
    QTest::newRow("JPEG cut in a segment") << jpegShell().left(25);
    QTest::newRow("JPEG of no width")
        << jpegShell().replace(QByteArray::fromHex("0280"), QByteArray(2, '\0'));
    QTest::newRow("PNG without its end") << onePixelPng().chopped(12);
    QTest::newRow("PNG with a chunk past the end") << onePixelPng().replace(
        QByteArray::fromHex("0000000a49444154"), QByteArray::fromHex("ffffffff49444154"));
    QTest::newRow("too large") << jpegShell() + QByteArray(photoBytesAtMost, 'x');
}

void TestPhoto::refusesWhatIsNone()
{
    QFETCH(const QByteArray, bytes);
    const auto facts = lookAtImage(bytes, QStringLiteral("IMG_0001.jpg"));
    QVERIFY(!facts);
    QCOMPARE(facts.error().code, ErrorCode::BadInput);
    QVERIFY(facts.error().message.startsWith(QStringLiteral("IMG_0001.jpg was not taken in")));
}

// Random changes to both pictures: an answer each time, never a read past the end (the check
// command runs this under the address sanitizer).
void TestPhoto::anyBytesAreSafe()
{
    std::mt19937 random(20261125);
    int taken = 0;
    for (int run = 0; run < 20000; ++run) {
        QByteArray bytes = run % 2 == 0 ? onePixelPng() : jpegShell();
        for (int change = 0; change < 3; ++change) {
            bytes[static_cast<qsizetype>(random() % static_cast<unsigned>(bytes.size()))] =
                static_cast<char>(random());
        }
        bytes.truncate(static_cast<qsizetype>(random() % static_cast<unsigned>(bytes.size() + 1)));
        taken += lookAtImage(bytes, QString()) ? 1 : 0;
    }
    QVERIFY(taken < 10000); // most were cut short
}

void TestPhoto::rowsInAnyOrderGiveTheSame()
{
    QVERIFY(rc::check("any order of photos, moves and strikes", [] {
        std::vector<Photo> photos;
        std::vector<VisitId> visits;
        for (int i = 0; i < 4; ++i) {
            Photo photo;
            photo.id = PhotoId{newUuid7(1)};
            photo.stamp = HybridTime{*rc::gen::inRange<std::uint64_t>(1, 3)}; // equal ones occur
            photos.push_back(photo);
            visits.push_back(VisitId{newUuid7(1)});
        }
        std::vector<PhotoMove> moves;
        const int count = *rc::gen::inRange(0, 12);
        for (int i = 0; i < count; ++i) {
            PhotoMove move;
            move.photo = (*rc::gen::elementOf(photos)).id;
            move.visit = *rc::gen::inRange(0, 5) == 0 ? VisitId{} : *rc::gen::elementOf(visits);
            move.stamp = HybridTime{*rc::gen::inRange<std::uint64_t>(1, 3)};
            moves.push_back(move);
        }
        const auto expected = standingPhotos(photos, moves);
        std::mt19937 random(*rc::gen::arbitrary<unsigned>());
        std::ranges::shuffle(photos, random);
        std::ranges::shuffle(moves, random);
        RC_ASSERT(standingPhotos(photos, moves) == expected);
        moves.insert(moves.end(), moves.begin(), moves.end()); // read in twice
        RC_ASSERT(standingPhotos(photos, moves) == expected);
    }));
}

QTEST_GUILESS_MAIN(TestPhoto)
#include "test_photo.moc"
