// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/fix_track.h"

#include <QTest>

#include <rapidcheck.h>

using namespace keyround;

namespace {

constexpr GeoPoint here{40.0, -75.0};
constexpr double degreesPerMetre = 1 / 111'040.0; // of latitude, about

GeoPoint northOf(const GeoPoint &place, double metres)
{
    return {place.latitude + metres * degreesPerMetre, place.longitude};
}

QTime second(int of)
{
    return QTime(12, 0).addSecs(of);
}

FixReading gga(int at, const GeoPoint &place, int quality = 1)
{
    FixReading reading;
    reading.words.time = second(at);
    reading.words.quality = quality;
    reading.words.hasFix = quality > 0;
    reading.words.hdop = 0.9;
    reading.words.satellites = 8;
    reading.place = place;
    return reading;
}

FixReading rmc(int at, const GeoPoint &place, bool hasFix = true)
{
    FixReading reading;
    reading.words.time = second(at);
    reading.words.mode = 'A';
    reading.words.hasFix = hasFix;
    reading.place = place;
    reading.speed = 10;
    reading.heading = 84.4;
    reading.date = QDate(2026, 3, 11);
    return reading;
}

/// A receiver that tells once a second: the laptop's steady clock follows its seconds.
struct Track
{
    FixTrack track{FixSource::Receiver};
    FixTrack::Outcome take(const FixReading &reading)
    {
        const int at = second(0).secsTo(reading.words.time);
        return track.take(reading, Moment{1'700'000'000'000 + at * 1000LL, 0}, at * 1000LL);
    }
    [[nodiscard]] FixState stateAt(int at) const { return track.state(at * 1000LL); }
};

using Outcome = FixTrack::Outcome;

} // namespace

class TestFix : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void qualities();
    void yearsOfTwoDigits();
    void ages();
    void coldStart();
    void twoSentencesMakeOneFix();
    void sentencesThatDisagree();
    void voidSentencesAreNoFix();
    void aLostFixIsNeverCurrent();
    void aFrozenReceiverGrowsOld();
    void aJumpWaits();
    void aSingleOutlierPasses();
    void afterSilenceAnyPlaceIsTaken();
    void headingOnlyWhileMoving();
    void whateverComesAnOldFixIsNotCurrent();
};

void TestFix::qualities()
{
    // The figures' meanings: receivers' published descriptions of GGA.
    QVERIFY(!fixQualityFromGga(0));
    QVERIFY(!fixQualityFromGga(9));
    QVERIFY(!fixQualityFromGga(-1));
    QCOMPARE(*fixQualityFromGga(1), FixQuality::Satellite);
    QCOMPARE(*fixQualityFromGga(4), FixQuality::RtkFixed);
    QCOMPARE(*fixQualityFromGga(8), FixQuality::Simulated);
    QVERIFY(!fixQualityFromMode('N'));
    QVERIFY(!fixQualityFromMode('\0'));
    QCOMPARE(*fixQualityFromMode('D'), FixQuality::Differential);
    for (int i = 0; i <= int(FixQuality::Simulated); ++i) {
        QCOMPARE(*fixQualityFromKey(keyFor(FixQuality(i))), FixQuality(i));
    }
    QVERIFY(isMeasured(FixQuality::Satellite));
    QVERIFY(!isMeasured(FixQuality::Simulated));
    QVERIFY(!isMeasured(FixQuality::DeadReckoned));
    QVERIFY(!estimatedAccuracy(FixQuality::Satellite, {}));
    QVERIFY(!estimatedAccuracy(FixQuality::Simulated, 1.0));
    QCOMPARE(estimatedAccuracy(FixQuality::Satellite, 2.0)->value, 10.0);
}

void TestFix::yearsOfTwoDigits()
{
    QCOMPARE(receiverDate(QDate(2094, 3, 23)), QDate(1994, 3, 23)); // what Qt makes of 230394
    QCOMPARE(receiverDate(QDate(1994, 3, 23)), QDate(1994, 3, 23));
    QCOMPARE(receiverDate(QDate(2026, 11, 25)), QDate(2026, 11, 25));
    QCOMPARE(receiverDate(QDate(2079, 1, 1)), QDate(2079, 1, 1));
    QCOMPARE(receiverDate(QDate(2080, 1, 6)), QDate(1980, 1, 6)); // satellite time's first day
    QVERIFY(receiverDate({}).isNull());
}

void TestFix::ages()
{
    PositionFix fix;
    fix.place = here;
    fix.arrived = 10'000;
    QCOMPARE(stateOf({}, true, 0), FixState::Waiting);
    QCOMPARE(stateOf(fix, true, 10'000), FixState::Current);
    QCOMPARE(stateOf(fix, true, 15'000), FixState::Current);
    QCOMPARE(stateOf(fix, true, 15'001), FixState::Old);
    QCOMPARE(stateOf(fix, true, 70'000), FixState::Old);
    QCOMPARE(stateOf(fix, true, 70'001), FixState::Lost);
    QCOMPARE(stateOf(fix, false, 10'000), FixState::Lost); // said so: at once
    QVERIFY(wordsFor(fix, 12'000, UnitSystem::Us).endsWith(QStringLiteral("2 s old")));
}

void TestFix::coldStart()
{
    Track track;
    QCOMPARE(track.stateAt(0), FixState::Waiting);
    QCOMPARE(track.take(gga(0, {0, 0}, 0)), Outcome::NoFix);
    QCOMPARE(track.take(rmc(0, {0, 0}, false)), Outcome::NoFix);
    QCOMPARE(track.stateAt(0), FixState::Waiting);
    QVERIFY(!track.track.last());
    QCOMPARE(track.take(gga(30, here)), Outcome::Fix);
    QCOMPARE(track.stateAt(30), FixState::Current);
}

void TestFix::twoSentencesMakeOneFix()
{
    Track track;
    QCOMPARE(track.take(rmc(0, here)), Outcome::Fix);
    QCOMPARE(track.take(gga(0, northOf(here, 1), 2)), Outcome::Fix);
    const PositionFix &fix = *track.track.last();
    QCOMPARE(fix.place, northOf(here, 1)); // GGA has the better word
    QCOMPARE(fix.quality, FixQuality::Differential);
    QCOMPARE(*fix.heading, 84.4);
    QCOMPARE(*fix.satellites, 8);
    QCOMPARE(fix.receiverTime, QDateTime(QDate(2026, 3, 11), second(0), Qt::UTC));
    QCOMPARE(track.take(gga(0, northOf(here, 5))), Outcome::Repeated);
}

void TestFix::sentencesThatDisagree()
{
    Track track;
    QCOMPARE(track.take(gga(0, here)), Outcome::Fix);
    QCOMPARE(track.take(gga(1, northOf(here, 3))), Outcome::Fix);
    QCOMPARE(track.take(rmc(1, northOf(here, 40))), Outcome::Disagrees);
    QCOMPARE(track.stateAt(1), FixState::Lost); // neither is taken
    QCOMPARE(track.track.last()->place, here);
    QCOMPARE(track.take(gga(2, northOf(here, 4))), Outcome::Fix);
    QCOMPARE(track.take(rmc(2, northOf(here, 5))), Outcome::Fix);
    QCOMPARE(track.stateAt(2), FixState::Current);
}

void TestFix::voidSentencesAreNoFix()
{
    // A void RMC carries the last place it had; Qt's simulation mode passes it on.
    Track track;
    QCOMPARE(track.take(rmc(0, here)), Outcome::Fix);
    QCOMPARE(track.take(rmc(1, northOf(here, 2), false)), Outcome::NoFix);
    QCOMPARE(track.stateAt(1), FixState::Lost);
    QCOMPARE(track.track.last()->place, here);
    QCOMPARE(track.take(gga(1, northOf(here, 2))), Outcome::NoFix); // its own second was void
    // The other way round: what the first sentence brought goes too.
    QCOMPARE(track.take(gga(2, northOf(here, 2))), Outcome::Fix);
    QCOMPARE(track.take(rmc(2, northOf(here, 2), false)), Outcome::NoFix);
    QCOMPARE(track.track.last()->place, here);
    QCOMPARE(track.stateAt(2), FixState::Lost);
}

void TestFix::aLostFixIsNeverCurrent()
{
    Track track;
    track.take(gga(0, here));
    QCOMPARE(track.stateAt(5), FixState::Current);
    QCOMPARE(track.stateAt(6), FixState::Old);
    QCOMPARE(track.stateAt(61), FixState::Lost);
    track.take(gga(62, here, 0));
    QCOMPARE(track.stateAt(62), FixState::Lost);
    track.take(gga(63, here));
    QCOMPARE(track.stateAt(63), FixState::Current);
}

void TestFix::aFrozenReceiverGrowsOld()
{
    FixTrack track(FixSource::Receiver);
    QCOMPARE(track.take(gga(0, here), {}, 0), Outcome::Fix);
    for (int at = 1; at <= 20; ++at) {
        QCOMPARE(track.take(gga(0, here), {}, at * 1000LL), Outcome::Repeated);
    }
    QCOMPARE(track.state(20'000), FixState::Old);
}

void TestFix::aJumpWaits()
{
    Track track;
    track.take(gga(0, here));
    const GeoPoint far = northOf(here, 3000);
    QCOMPARE(track.take(gga(1, far)), Outcome::Jumped);
    QCOMPARE(track.track.last()->place, here);
    QCOMPARE(track.take(gga(2, northOf(far, 10))), Outcome::Jumped);
    QCOMPARE(track.take(gga(3, northOf(far, 20))), Outcome::Fix); // it held for two seconds
    QCOMPARE(track.track.last()->place, northOf(far, 20));
    // A truck at 30 m a second never looks like a jump.
    for (int at = 4; at < 60; ++at) {
        QCOMPARE(track.take(gga(at, northOf(far, 20 + 30 * (at - 3)))), Outcome::Fix);
    }
}

void TestFix::aSingleOutlierPasses()
{
    Track track;
    track.take(gga(0, here));
    QCOMPARE(track.take(gga(1, northOf(here, 900))), Outcome::Jumped);
    QCOMPARE(track.take(gga(2, northOf(here, 2))), Outcome::Fix);
    QCOMPARE(track.take(gga(3, northOf(here, 900))), Outcome::Jumped);
    // Outliers in different directions never add up to a place that holds.
    QCOMPARE(track.take(gga(4, northOf(here, -900))), Outcome::Jumped);
    QCOMPARE(track.take(gga(5, northOf(here, 1800))), Outcome::Jumped);
    QCOMPARE(track.track.last()->place, northOf(here, 2));
    QCOMPARE(track.stateAt(8), FixState::Old);
}

void TestFix::afterSilenceAnyPlaceIsTaken()
{
    Track track;
    track.take(gga(0, here));
    QCOMPARE(track.take(gga(300, northOf(here, 90'000))), Outcome::Fix);
}

void TestFix::headingOnlyWhileMoving()
{
    Track track;
    FixReading slow = rmc(0, here);
    slow.speed = 0.4;
    track.take(slow);
    QVERIFY(!track.track.last()->heading);
    track.take(rmc(1, here));
    QVERIFY(track.track.last()->heading);
}

void TestFix::whateverComesAnOldFixIsNotCurrent()
{
    QVERIFY(rc::check("any order of sentences", [] {
        FixTrack track(FixSource::Receiver);
        std::int64_t now = 0;
        std::int64_t newestGood = -1'000'000; // when a sentence with a fix last arrived
        const int steps = *rc::gen::inRange(1, 60);
        for (int i = 0; i < steps; ++i) {
            now += *rc::gen::inRange(0, 4000);
            const int at = *rc::gen::inRange(0, 30);
            const GeoPoint place = northOf(here, *rc::gen::inRange(-200, 200));
            const bool hasFix = *rc::gen::inRange(0, 4) != 0;
            const bool isGga = *rc::gen::inRange(0, 2) != 0;
            track.take(isGga ? gga(at, place, hasFix ? 1 : 0) : rmc(at, place, hasFix), {}, now);
            newestGood = hasFix ? now : newestGood;
            const FixState state = track.state(now);
            if (!hasFix && state == FixState::Current) {
                return false;
            }
            if (state == FixState::Current && now - newestGood > 5000) {
                return false;
            }
            if (state == FixState::Current && now - track.last()->arrived > 5000) {
                return false;
            }
        }
        return true;
    }));
}

QTEST_GUILESS_MAIN(TestFix)
#include "test_fix.moc"
