// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/units.h"

#include <QTest>

using namespace keyround;

class TestUnits : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void turns();
    void sizes();
    void everyNamedSizeComesBack();
    void lengths();
    void durations();
    void feet();
};

void TestUnits::turns()
{
    QCOMPARE(turnsText(QuarterTurns::ofTurns(27)), QStringLiteral("27"));
    QCOMPARE(turnsText(QuarterTurns{106}), QStringLiteral("26 1/2"));
    QCOMPARE(turnsText(QuarterTurns{3}), QStringLiteral("3/4"));
    QCOMPARE(turnsText(QuarterTurns{0}), QStringLiteral("0"));
    QCOMPARE(turnsText(QuarterTurns{-5}), QStringLiteral("-1 1/4"));
    QCOMPARE(QuarterTurns{106}.turns(), 26.5);
}

void TestUnits::sizes()
{
    QCOMPARE(sizeText(NominalSize::ofInches(8), UnitSystem::Us), QStringLiteral("8 in"));
    QCOMPARE(sizeText(NominalSize::ofInches(8), UnitSystem::Metric), QStringLiteral("DN 200"));
    QCOMPARE(sizeText(NominalSize{9}, UnitSystem::Us), QStringLiteral("2 1/4 in"));
    QCOMPARE(sizeText(NominalSize{3}, UnitSystem::Us), QStringLiteral("3/4 in"));
    QVERIFY(sizeText({}, UnitSystem::Us).isEmpty());
    QVERIFY(!sizeOfDn(201).isKnown());
}

void TestUnits::everyNamedSizeComesBack()
{
    // DN names of common practice for the pipe sizes in inches.
    const std::pair<int, int> pairs[]{{50, 2},   {80, 3},   {100, 4},  {150, 6},  {200, 8},
                                      {250, 10}, {300, 12}, {350, 14}, {400, 16}, {450, 18},
                                      {500, 20}, {600, 24}, {750, 30}, {900, 36}, {1200, 48}};
    for (const auto &[dn, inches] : pairs) {
        QCOMPARE(dnOf(NominalSize::ofInches(inches)), dn);
        QVERIFY(sizeOfDn(dn) == NominalSize::ofInches(inches));
    }
}

void TestUnits::lengths()
{
    QCOMPARE(lengthText(Metres{1.5}, UnitSystem::Metric), QStringLiteral("1.5 m"));
    QCOMPARE(lengthText(Metres{150}, UnitSystem::Metric), QStringLiteral("150 m"));
    QCOMPARE(lengthText(Metres{1500}, UnitSystem::Metric), QStringLiteral("1.5 km"));
    QCOMPARE(lengthText(Metres{0.3048}, UnitSystem::Us), QStringLiteral("1.0 ft"));
    QCOMPARE(lengthText(Metres{30.48}, UnitSystem::Us), QStringLiteral("100 ft"));
    QCOMPARE(lengthText(Metres{1609.344}, UnitSystem::Us), QStringLiteral("1.0 mi"));
}

void TestUnits::durations()
{
    QCOMPARE(durationText(Seconds{40}), QStringLiteral("40 s"));
    QCOMPARE(durationText(Seconds{59.6}), QStringLiteral("1 min"));
    QCOMPARE(durationText(Seconds{14 * 60}), QStringLiteral("14 min"));
    QCOMPARE(durationText(Seconds{125 * 60}), QStringLiteral("2 h 05"));
    QCOMPARE(durationText(Seconds{3599}), QStringLiteral("1 h 00"));
}

// The survey foot is 1200/3937 m, the international one 0.3048 m (Federal Register 85 FR 62698):
// 2 parts in a million apart, 4 ft at 2,000,000 ft.
void TestUnits::feet()
{
    QCOMPARE(metresPerFoot, 0.3048);
    const double apart = 2000000.0 * (metresPerSurveyFoot - metresPerFoot) / metresPerFoot;
    QVERIFY(apart > 3.99 && apart < 4.01);
}

QTEST_GUILESS_MAIN(TestUnits)
#include "test_units.moc"
