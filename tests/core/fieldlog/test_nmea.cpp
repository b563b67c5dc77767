// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/nmea.h"

#include <QTest>

#include <rapidcheck.h>

using namespace keyround;

class TestNmea : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void publishedExamples();
    void refusesInWords_data();
    void refusesInWords();
    void readsWhatTheFixIs();
    void everySingleWrongBitIsNoticed();
    void anyBytesAreReadOrRefused();
};

void TestNmea::publishedExamples()
{
    // Sentences with their checksums as three pages show them: D. DePriest's description of NMEA
    // data (gpsinformation.org, seen in a copy), the R package em38's example for its own checksum
    // function, and a public note on RMC's fields. The standard itself was not seen.
    const auto gga =
        readNmea("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\r\n");
    QVERIFY(gga);
    QCOMPARE(gga->talker, QByteArray("GP"));
    QCOMPARE(gga->kind, QByteArray("GGA"));
    QCOMPARE(gga->field(6), QByteArray("08"));
    QVERIFY(readNmea("$GPGGA,015808.00,2726.53758,S,15126.05255,E,1,08,1.0,365.1,M,39.5,M,,*79"));
    // The same page's example of a damaged one.
    QVERIFY(!readNmea("$GPG5808.00,2726.53758,S,15126.05255,E,1,08,1.0,365.1,M,39.5,M,,*79"));
    QVERIFY(readNmea("$PGRMM,WGS 84*06")); // a maker's own, seen beside a receiver's description
    QCOMPARE(nmeaLine("PGRMM,WGS 84"), QByteArray("$PGRMM,WGS 84*06\r\n"));
}

void TestNmea::refusesInWords_data()
{
    QTest::addColumn<QByteArray>("line");
    QTest::addColumn<QString>("said");
    QTest::newRow("no dollar") << QByteArray("GPGGA,1*00") << QStringLiteral("begin with $");
    QTest::newRow("empty") << QByteArray() << QStringLiteral("begin with $");
    QTest::newRow("no checksum") << QByteArray("$GPGGA,123519,,,,,0,,,,,,,,")
                                 << QStringLiteral("no checksum");
    QTest::newRow("half a checksum")
        << QByteArray("$GPGGA,123519*4") << QStringLiteral("two digits");
    QTest::newRow("not hexadecimal")
        << QByteArray("$GPGGA,123519*ZZ") << QStringLiteral("two digits");
    QTest::newRow("wrong checksum")
        << QByteArray("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*48")
        << QStringLiteral("says 48, the characters give 47");
    QTest::newRow("another baud") << QByteArray("$\x86\xf0\x80\x01") << QStringLiteral("baud");
    QTest::newRow("endless") << QByteArray("$" + QByteArray(300, 'A')) << QStringLiteral("long");
    QTest::newRow("no kind") << nmeaLine("AB,1") << QStringLiteral("no kind");
}

void TestNmea::refusesInWords()
{
    QFETCH(const QByteArray, line);
    QFETCH(const QString, said);
    const auto read = readNmea(line);
    QVERIFY(!read);
    QVERIFY2(read.error().message.contains(said), qPrintable(read.error().message));
}

void TestNmea::readsWhatTheFixIs()
{
    const auto words = [](const QByteArray &body) {
        const auto read = readNmea(nmeaLine(body));
        return read ? fixWordsIn(*read) : std::nullopt;
    };
    const auto gga = words("GNGGA,235959.50,4807.038,N,01131.000,E,4,12,0.7,545.4,M,46.9,M,,");
    QVERIFY(gga && gga->hasFix);
    QCOMPARE(gga->time, QTime(23, 59, 59, 500));
    QCOMPARE(*gga->quality, 4);
    QCOMPARE(*gga->satellites, 12);
    QCOMPARE(*gga->hdop, 0.7);
    QVERIFY(!words("GPGGA,235959,,,,,0,00,99.9,,,,,,")->hasFix);
    QVERIFY(!words("GPGGA,235959,4807.038,N,01131.000,E,,08,0.9,,,,,,")->hasFix);
    QVERIFY(words("GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W")->hasFix);
    QVERIFY(!words("GPRMC,123519,V,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W")->hasFix);
    QVERIFY(!words("GPRMC,123519,A,4807.038,N,01131.000,E,0,0,230394,,,N")->hasFix);
    QCOMPARE(words("GPRMC,123519,A,4807.038,N,01131.000,E,0,0,230394,,,D")->mode, 'D');
    QVERIFY(words("GPRMC,,A,4807.038,N,01131.000,E,0,0,230394,,,D")->time.isNull());
    QVERIFY(!words("GPGGA,235959,1,N,1,E,1,08,nan,,,,,,")->hdop);
    QVERIFY(!words("GPGSV,3,1,11,03,03,111,00,04,15,270,00"));
}

void TestNmea::everySingleWrongBitIsNoticed()
{
    const QByteArray sound = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47";
    for (qsizetype at = 0; at < sound.size(); ++at) {
        for (int bit = 0; bit < 8; ++bit) {
            QByteArray damaged = sound;
            damaged[at] = static_cast<char>(damaged[at] ^ (1 << bit));
            QVERIFY2(!readNmea(damaged), damaged.constData());
        }
    }
}

void TestNmea::anyBytesAreReadOrRefused()
{
    QVERIFY(rc::check("any bytes", [](const std::string &bytes) {
        const auto read = readNmea(QByteArray::fromStdString(bytes));
        return read ? bytes.find('*') != std::string::npos : !read.error().message.isEmpty();
    }));
    // Framed and with a right checksum, so that the fields are reached.
    QVERIFY(rc::check("any fields", [](const std::string &bytes) {
        const auto read =
            readNmea(nmeaLine("GPGGA," + QByteArray::fromStdString(bytes).replace('*', '-')));
        if (read) {
            (void)fixWordsIn(*read);
        }
        return true;
    }));
}

QTEST_GUILESS_MAIN(TestNmea)
#include "test_nmea.moc"
