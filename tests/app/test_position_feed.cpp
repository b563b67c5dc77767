// SPDX-License-Identifier: GPL-3.0-or-later
// The feed with sentences pushed in, with a recorded log, and with a receiver played on the other
// end of a pair of pseudo-terminals.
#include "app/position/position_feed.h"
#include "app/position/sentence_parser.h"

#include <QSettings>
#include <QStandardPaths>
#include <QTemporaryDir>
#include <QTest>

#include <cmath>
#include <cstdlib>
#include <fcntl.h>
#include <unistd.h>
#include <utility>

using namespace keyround;

namespace {

QByteArray gga(int second, const QByteArray &quality = "1", const QByteArray &minutes = "07.038")
{
    return nmeaLine("GPGGA,1235" + QByteArray::number(second).rightJustified(2, '0') + ",48" +
                    minutes + ",N,01131.000,E," + quality + ",08,0.9,545.4,M,46.9,M,,");
}

QByteArray rmc(int second, char status = 'A', const QByteArray &date = "251126")
{
    return nmeaLine("GPRMC,1235" + QByteArray::number(second).rightJustified(2, '0') + "," +
                    status + ",4807.038,N,01131.000,E,022.4,084.4," + date + ",003.1,W");
}

/// A feed whose two clocks stand still until they are moved.
struct Bench
{
    std::int64_t steady = 0;
    PositionFeed feed{[this] { return Moment{1'800'000'000'000 + steady, 0}; }};
    Bench()
    {
        feed.start({PositionSource::Receiver, {}, 4800, {}, 1});
        feed.setSteadyClock([this] { return steady; });
    }
};

/// A receiver's end of a pair of pseudo-terminals, and the name of ours.
struct PlayedReceiver
{
    int end = posix_openpt(O_RDWR | O_NOCTTY);
    QString port;
    PlayedReceiver()
    {
        if (end >= 0 && grantpt(end) == 0 && unlockpt(end) == 0) {
            port = QString::fromLocal8Bit(ptsname(end));
        }
    }
    ~PlayedReceiver() { unplug(); }
    PlayedReceiver(const PlayedReceiver &) = delete;
    PlayedReceiver &operator=(const PlayedReceiver &) = delete;
    void say(const QByteArray &bytes) const
    {
        QCOMPARE(::write(end, bytes.constData(), std::size_t(bytes.size())), bytes.size());
    }
    void unplug()
    {
        if (end >= 0) {
            ::close(std::exchange(end, -1));
        }
    }
};

} // namespace

class TestPositionFeed : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void nothingIsSetUp();
    void thePlaceOfThePublishedExample();
    void qtsTraps();
    void refusedLinesAreShown();
    void lostAndOldAreNeverCurrent();
    void wrongBaudIsSaid();
    void aPlayedReceiver();
    void aMissingPort();
    void aRecordedLog();
    void aMissingLog();
    void habitsComeBack();
};

void TestPositionFeed::initTestCase()
{
    QStandardPaths::setTestModeEnabled(true);
    QCoreApplication::setOrganizationName(QStringLiteral("keyround-test-position"));
}

void TestPositionFeed::nothingIsSetUp()
{
    PositionFeed feed([] { return Moment{}; });
    QCOMPARE(feed.state(), FixState::NoReceiver);
    QVERIFY(!feed.current());
    QVERIFY(!feed.last());
    QCOMPARE(feed.words(UnitSystem::Us), QStringLiteral("No receiver: position is not known"));
}

void TestPositionFeed::thePlaceOfThePublishedExample()
{
    // D. DePriest's example (gpsinformation.org, seen in a copy) gives its meaning in words:
    // 48 degrees 07.038 minutes north, 11 degrees 31.000 minutes east, quality 1, 8 satellites.
    Bench bench;
    QCOMPARE(bench.feed.state(), FixState::Waiting);
    bench.feed.takeLine("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\r\n");
    const auto fix = bench.feed.current();
    QVERIFY(fix);
    QVERIFY(std::abs(fix->place.latitude - (48 + 7.038 / 60)) < 1e-9);
    QVERIFY(std::abs(fix->place.longitude - (11 + 31.0 / 60)) < 1e-9);
    QCOMPARE(fix->quality, FixQuality::Satellite);
    QCOMPARE(*fix->satellites, 8);
    QCOMPARE(fix->at.utcMilliseconds, 1'800'000'000'000);
    QVERIFY(bench.feed.words(UnitSystem::Metric).contains(QStringLiteral("0 s old")));
    // RMC of the same second brings speed and course, and the date.
    bench.feed.takeLine(rmc(19));
    QVERIFY(std::abs(*bench.feed.current()->speed - 22.4 * 1852.0 / 3600.0) < 1e-6); // knots
    QVERIFY(std::abs(*bench.feed.current()->heading - 84.4) < 1e-9);
    QCOMPARE(bench.feed.current()->receiverTime.date(), QDate(2026, 11, 25));
}

void TestPositionFeed::qtsTraps()
{
    // What Qt 6.4 makes of these by itself, so that a later Qt that mends it is noticed.
    SentenceParser parser;
    const auto read = [&](const QByteArray &line) { return parser.read(*readNmea(line), line); };
    const auto none = read(nmeaLine("GPGGA,123519,,,,,0,00,99.9,,,,,,"));
    QVERIFY(none && !none->words.hasFix && !none->place);
    const auto old = read(rmc(19, 'A', "230394"));
    QVERIFY(old && old->place);
    QCOMPARE(old->date, QDate(2094, 3, 23));
    const auto off = read(rmc(19, 'V'));
    QVERIFY(off && !off->words.hasFix && !off->place);

    Bench bench;
    bench.feed.takeLine(nmeaLine("GPGGA,123519,0000.000,N,00000.000,E,0,00,99.9,,,,,,"));
    QVERIFY(!bench.feed.last());
    bench.feed.takeLine(rmc(20, 'A', "230394"));
    QCOMPARE(bench.feed.current()->receiverTime.date(), QDate(1994, 3, 23));
    bench.feed.takeLine(rmc(21, 'V'));
    QCOMPARE(bench.feed.state(), FixState::Lost);
    QVERIFY(!bench.feed.current());
    QVERIFY(bench.feed.last());
}

void TestPositionFeed::refusedLinesAreShown()
{
    Bench bench;
    bench.feed.takeLine("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*48");
    bench.feed.takeLine("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,");
    bench.feed.takeLine(nmeaLine("GPGSV,1,1,00"));
    bench.feed.takeLine(gga(19));
    QCOMPARE(bench.feed.refusedCount(), 2);
    QCOMPARE(bench.feed.soundCount(), 2);
    QCOMPARE(bench.feed.heard().size(), std::size_t(4));
    QVERIFY(bench.feed.heard()[0].isRefused);
    QVERIFY(bench.feed.heard()[0].outcome.contains(QStringLiteral("wrong checksum")));
    QCOMPARE(bench.feed.heard()[1].outcome, QStringLiteral("no checksum"));
    QVERIFY(!bench.feed.heard()[2].isRefused);
    QCOMPARE(bench.feed.heard()[3].outcome, QStringLiteral("taken"));
}

void TestPositionFeed::lostAndOldAreNeverCurrent()
{
    Bench bench;
    bench.feed.takeLine(gga(19));
    QVERIFY(bench.feed.current());
    bench.steady = 5001;
    QCOMPARE(bench.feed.state(), FixState::Old);
    QVERIFY(!bench.feed.current());
    QVERIFY(bench.feed.words(UnitSystem::Us).startsWith(QStringLiteral("Position is OLD")));
    bench.steady = 61'000;
    QCOMPARE(bench.feed.state(), FixState::Lost);
    QVERIFY(bench.feed.words(UnitSystem::Us).startsWith(QStringLiteral("Position LOST")));
    bench.feed.stop();
    QCOMPARE(bench.feed.state(), FixState::NoReceiver);
    QVERIFY(!bench.feed.last());
}

void TestPositionFeed::wrongBaudIsSaid()
{
    Bench bench;
    for (int i = 0; i < 10; ++i) {
        bench.feed.takeLine("\x86\xf0\x80\xfe\x01\x86\n");
    }
    // (No port was chosen in this bench; a port's own trouble comes first.)
    PositionFeed feed([] { return Moment{}; });
    for (int i = 0; i < 10; ++i) {
        feed.takeLine("\x86\xf0\x80\xfe\x01\x86\n");
    }
    QVERIFY(feed.trouble().contains(QStringLiteral("baud")));
    feed.takeLine(gga(1));
    QVERIFY(feed.trouble().isEmpty());
}

void TestPositionFeed::aPlayedReceiver()
{
    PlayedReceiver receiver;
    if (receiver.port.isEmpty()) {
        QSKIP("no pseudo-terminal can be had here: mount devpts to play a receiver");
    }
    PositionFeed feed([] { return Moment{1'800'000'000'000, 0}; });
    feed.start({PositionSource::Receiver, receiver.port, 9600, {}, 1});
    QCOMPARE(feed.trouble(), QString());
    QCOMPARE(feed.state(), FixState::Waiting);

    receiver.say(nmeaLine("GPGGA,123515,,,,,0,00,99.9,,,,,,")); // cold: no fix so far
    QTRY_COMPARE(feed.soundCount(), 1);
    QCOMPARE(feed.state(), FixState::Waiting);
    QVERIFY(feed.words(UnitSystem::Us).contains(QStringLiteral("looks for satellites")));

    const QByteArray halves = gga(19);
    receiver.say(halves.left(20));
    QTest::qWait(30);
    QCOMPARE(feed.soundCount(), 1); // half a line is no line
    receiver.say(halves.mid(20) + rmc(19));
    QTRY_COMPARE(feed.soundCount(), 3);
    QCOMPARE(feed.state(), FixState::Current);
    QVERIFY(feed.current()->heading);

    receiver.say(QByteArray(600, 'U')); // noise without an end of line
    QTRY_COMPARE(feed.refusedCount(), 1);
    receiver.say("\r\n" + gga(20, "0"));
    QTRY_COMPARE(feed.state(), FixState::Lost);
    receiver.say(gga(21, "4"));
    QTRY_COMPARE(feed.state(), FixState::Current);
    QCOMPARE(feed.current()->quality, FixQuality::RtkFixed);

    receiver.unplug();
    QTRY_VERIFY(feed.trouble().contains(QStringLiteral("is gone")));
}

void TestPositionFeed::aMissingPort()
{
    PositionFeed feed([] { return Moment{}; });
    feed.start({PositionSource::Receiver, QStringLiteral("/dev/no-such-port"), 9600, {}, 1});
    QVERIFY(feed.trouble().contains(QStringLiteral("no-such-port")));
    QCOMPARE(feed.state(), FixState::Waiting);
    QCOMPARE(feed.words(UnitSystem::Us), feed.trouble());
    feed.start({PositionSource::Receiver, {}, 9600, {}, 1});
    QVERIFY(feed.trouble().contains(QStringLiteral("No port is chosen")));
}

void TestPositionFeed::aRecordedLog()
{
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("drive.nmea"));
    QFile file(path);
    QVERIFY(file.open(QIODevice::WriteOnly));
    file.write("recorded on a drive of an invented truck\r\n");
    file.write(nmeaLine("GPGGA,123500,,,,,0,00,99.9,,,,,,") + rmc(0, 'V')); // cold start
    file.write(gga(1, "1", "07.000") + rmc(1).replace("4807.038", "4807.000"));
    file.write("$GPGGA,123502,4807.010,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*00\r\n"); // damaged
    file.write(gga(3, "2", "07.020"));
    file.close();

    PositionFeed feed([] { return Moment{1'800'000'000'000, 0}; });
    std::vector<FixState> states;
    QObject::connect(&feed, &PositionFeed::lineHeard, [&] { states.push_back(feed.state()); });
    feed.start({PositionSource::Log, {}, 4800, path, 20}); // 3 s in 150 ms
    QTRY_VERIFY(feed.trouble().contains(QStringLiteral("has ended")));
    // The RMC of second 1 was changed after its checksum was made, so it is refused too.
    QCOMPARE(feed.refusedCount(), 3);
    QCOMPARE(feed.soundCount(), 4);
    QCOMPARE(feed.last()->quality, FixQuality::Differential);
    QCOMPARE(feed.last()->source, FixSource::Log);
    QVERIFY(std::abs(feed.last()->place.latitude - (48 + 7.020 / 60)) < 1e-9);
    QCOMPARE(states[2], FixState::Waiting); // after the void sentences
    QVERIFY(feed.words(UnitSystem::Us).contains(QStringLiteral("recorded log")));
}

void TestPositionFeed::aMissingLog()
{
    PositionFeed feed([] { return Moment{}; });
    feed.start({PositionSource::Log, {}, 4800, QStringLiteral("/no/such.nmea"), 1});
    QVERIFY(feed.trouble().contains(QStringLiteral("such.nmea cannot be read")));
}

void TestPositionFeed::habitsComeBack()
{
    QCOMPARE(rememberedPositionHabits(), PositionHabits{});
    const PositionHabits habits{PositionSource::Log, QStringLiteral("ttyUSB0"), 38400,
                                QStringLiteral("drive.nmea"), 5};
    rememberPositionHabits(habits);
    QCOMPARE(rememberedPositionHabits(), habits);
    QSettings().setValue(QStringLiteral("position/source"), QStringLiteral("moon"));
    QSettings().setValue(QStringLiteral("position/baud"), -3);
    QSettings().setValue(QStringLiteral("position/logSpeed"), 100000);
    QCOMPARE(rememberedPositionHabits().source, PositionSource::None);
    QCOMPARE(rememberedPositionHabits().baud, 4800);
    QCOMPARE(rememberedPositionHabits().logSpeed, 100);
    QSettings().clear();
}

QTEST_MAIN(TestPositionFeed)
#include "test_position_feed.moc"
