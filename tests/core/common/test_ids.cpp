// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/ids.h"

#include <QSet>
#include <QTest>

#include <rapidcheck.h>

using namespace keyround;

class TestIds : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void exampleOfTheStandard();
    void partsComeBack();
    void risesWhateverTheClockDoes();
    void staysNearTheClock();
    void manyAreDifferent();
    void contentNamesItself();
    void idsAreTexts();
};

// RFC 9562 (May 2024), appendix A.6: the example of a UUIDv7, for 2022-02-22T14:22:22-05:00.
void TestIds::exampleOfTheStandard()
{
    const QUuid uuid = uuid7FromParts(0x017F22E279B0, 0xCC3, 0x18C4DC0C0C07398F);
    QCOMPARE(uuid.toString(QUuid::WithoutBraces),
             QStringLiteral("017f22e2-79b0-7cc3-98c4-dc0c0c07398f"));
    QCOMPARE(uuid7Milliseconds(uuid), std::int64_t{0x017F22E279B0});
    QCOMPARE(uuid7Milliseconds(uuid), std::int64_t{1645557742000});
}

void TestIds::partsComeBack()
{
    QVERIFY(rc::check("48 bits of time come back; version and variant are set", [] {
        const auto ms = *rc::gen::inRange<std::int64_t>(0, std::int64_t{1} << 48U);
        const QUuid uuid = uuid7FromParts(ms, *rc::gen::arbitrary<std::uint32_t>(),
                                          *rc::gen::arbitrary<std::uint64_t>());
        RC_ASSERT(uuid7Milliseconds(uuid) == ms);
        RC_ASSERT((uuid.data3 >> 12U) == 7);
        RC_ASSERT((uuid.data4[0] >> 6U) == 2);
    }));
}

void TestIds::risesWhateverTheClockDoes()
{
    QVERIFY(rc::check("each id sorts after the one before", [] {
        UuidSource source;
        QString last;
        // Standing still, stepping back, and jumping ahead.
        const auto steps = *rc::gen::container<std::vector<int>>(rc::gen::inRange(-3, 3));
        std::int64_t clock = 1750000000000;
        for (const int step : steps) {
            clock += step;
            const QString text = source.next(clock).toString(QUuid::WithoutBraces);
            RC_ASSERT(last < text);
            last = text;
        }
    }));
    // More in one millisecond than the counter holds: the next millisecond is borrowed.
    UuidSource source;
    QString last;
    for (int i = 0; i < 10000; ++i) {
        const QString text = source.next(1750000000000).toString(QUuid::WithoutBraces);
        QVERIFY(last < text);
        last = text;
    }
}

void TestIds::staysNearTheClock()
{
    UuidSource source;
    QUuid uuid;
    for (int i = 0; i < 10000; ++i) {
        uuid = source.next(1750000000000);
    }
    // 4096 a millisecond, or half of that in the first.
    QVERIFY(uuid7Milliseconds(uuid) - 1750000000000 <= 3);
    QCOMPARE(uuid7Milliseconds(source.next(1750000000500)), std::int64_t{1750000000500});
}

void TestIds::manyAreDifferent()
{
    QSet<QUuid> seen;
    for (int i = 0; i < 20000; ++i) {
        seen.insert(newUuid7(1750000000000 + i / 1000));
    }
    QCOMPARE(seen.size(), qsizetype{20000});
}

void TestIds::contentNamesItself()
{
    QCOMPARE(uuidFromContent("row 1"), uuidFromContent("row 1"));
    QVERIFY(uuidFromContent("row 1") != uuidFromContent("row 2"));
    QCOMPARE(uuidFromContent("row 1").version(), QUuid::Sha1); // version 5
    // Worked out with Python's uuid.uuid5 in the program's name space. A file that was read by an
    // earlier release must give the same ids today.
    QCOMPARE(uuidFromContent(QByteArray()).toString(QUuid::WithoutBraces),
             QStringLiteral("bb57f215-3482-5cc5-a720-88b7b54d41dc"));
}

void TestIds::idsAreTexts()
{
    const ValveId id{newUuid7(1750000000000)};
    QVERIFY(ValveId::fromText(id.text()) == id);
    QVERIFY(ValveId::fromText(QStringLiteral("not a uuid")).isNull());
    QVERIFY(ValveId().isNull());
}

QTEST_GUILESS_MAIN(TestIds)
#include "test_ids.moc"
