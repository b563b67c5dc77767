// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/set_up.h"
#include "core/workzone/set_up_words.h"
#include "core/workzone/site_answers.h"

#include <QTest>

#include <algorithm>
#include <cmath>

using namespace keyround;

class SiteAnswersTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void everyAnswerOfferedCanBeGiven();
    void typedNumbers_data();
    void typedNumbers();
    void whatTheLayerSays();
    void whatIsUsualIsNeverTaken();
    void askedWhereItDecides();
    void otherLengthsWantOtherCones();
    void wordsSayWhereFiguresAreFrom();
};

void SiteAnswersTest::everyAnswerOfferedCanBeGiven()
{
    for (const UnitSystem units : {UnitSystem::Us, UnitSystem::Metric}) {
        for (int i = 0; i < siteQuestionCount; ++i) {
            const auto question = static_cast<SiteQuestion>(i);
            QVERIFY(!answersTo(question, units).empty());
            for (const SiteAnswer &answer : answersTo(question, units)) {
                SiteFacts facts;
                QVERIFY(setAnswer(facts, question, answer.value));
                QVERIFY(answerIn(facts, question) == answer.value);
                QCOMPARE(*readAnswer(question, answer.words, units), answer.value);
                QVERIFY(setAnswer(facts, question, {}));
                QVERIFY(facts == SiteFacts{});
            }
        }
    }
}

void SiteAnswersTest::typedNumbers_data()
{
    QTest::addColumn<int>("question");
    QTest::addColumn<QString>("text");
    QTest::addColumn<bool>("isUs");
    QTest::addColumn<double>("value"); // below 0: refused
    const auto row = [](SiteQuestion question, const char *text, bool isUs, double value) {
        QTest::addRow("%s %d", text, isUs ? 1 : 0)
            << static_cast<int>(question) << QString::fromLatin1(text) << isUs << value;
    };
    row(SiteQuestion::Speed, "42", true, 42);
    row(SiteQuestion::Speed, "50", false, 50 / 1.609344);
    row(SiteQuestion::Speed, "30 mph", false, 30);
    row(SiteQuestion::Speed, "fast", true, -1);
    row(SiteQuestion::Speed, "0", true, -1);
    row(SiteQuestion::Speed, "30 ft", true, -1);
    row(SiteQuestion::LaneWidth, "11,5", true, 11.5);
    row(SiteQuestion::LaneWidth, "3.5", false, 3.5 / 0.3048);
    row(SiteQuestion::LaneWidth, "3", true, -1); // metres taken for feet are noticed
    row(SiteQuestion::LaneWidth, "11", false, -1);
    row(SiteQuestion::Lanes, "4", true, 4);
    row(SiteQuestion::Lanes, "2.5", true, -1);
    row(SiteQuestion::OneWay, "YES", true, 1);
    row(SiteQuestion::OneWay, "1", true, -1);
    row(SiteQuestion::Lid, "On the shoulder", true, 1);
}

void SiteAnswersTest::typedNumbers()
{
    QFETCH(int, question);
    QFETCH(QString, text);
    QFETCH(bool, isUs);
    QFETCH(double, value);
    const auto read = readAnswer(static_cast<SiteQuestion>(question), text,
                                 isUs ? UnitSystem::Us : UnitSystem::Metric);
    QCOMPARE(read.has_value(), value >= 0);
    if (read) {
        QVERIFY(std::abs(*read - value) < 1e-9);
    } else {
        QVERIFY(read.error().message.contains(text));
    }
}

void SiteAnswersTest::whatTheLayerSays()
{
    Street street;
    street.metresPerSecond = 25 * 1609.344 / 3600;
    street.lanes = 4;
    street.laneWidth = Metres{3.6576};
    street.oneWay = OneWay::Backward;
    const StreetFacts facts = factsOf(street);
    QVERIFY(facts.mph == 25.0); // whole again
    QVERIFY(facts.lanes == 4);
    QVERIFY(std::abs(facts.laneWidth->value - 12) < 1e-9);
    QVERIFY(facts.isOneWay == true);
    QVERIFY(!facts.isDivided && !facts.setting && !facts.isLowVolume);
}

void SiteAnswersTest::whatIsUsualIsNeverTaken()
{
    QVERIFY(usualFacts(StreetClass::Unknown, {}, 40) == StreetFacts{});
    const StreetFacts usual = usualFacts(StreetClass::Collector, {}, 40);
    QVERIFY(usual.setting == RoadSetting::UrbanLowSpeed);
    // What is known decides the setting, and the agency says where low speed ends.
    StreetFacts known;
    known.mph = 45;
    QVERIFY(usualFacts(StreetClass::Collector, known, 40).setting == RoadSetting::UrbanHighSpeed);
    QVERIFY(usualFacts(StreetClass::Collector, known, 45).setting == RoadSetting::UrbanLowSpeed);
    Site site;
    site.lid = LidPlace::OutsideRoad;
    QVERIFY(!workOutSetUp(site)); // nothing usual fills what was not said
}

void SiteAnswersTest::askedWhereItDecides()
{
    const auto asks = [](const Site &site, SiteQuestion question) {
        const auto missing = missingIn(site);
        return std::ranges::find(missing, question) != missing.end();
    };
    Site site;
    site.street = {45, 2, Feet{12}, {}, false, {}, RoadSetting::Rural, true};
    site.lid = LidPlace::Lane;
    QVERIFY(asks(site, SiteQuestion::Sight)); // flaggers or none
    QVERIFY(!asks(site, SiteQuestion::Divided));
    site.street.isLowVolume = false;
    QVERIFY(!asks(site, SiteQuestion::Sight)); // flaggers anyhow
    site.street.lanes = 4;
    QVERIFY(asks(site, SiteQuestion::Divided));
    site.street.isDivided = false;
    QVERIFY(missingIn(site).empty());
}

void SiteAnswersTest::otherLengthsWantOtherCones()
{
    Site site;
    site.street = {35, 2, Feet{12}, Feet{8}, false, false, RoadSetting::UrbanLowSpeed, false};
    const SetUp before = *workOutSetUp(site);
    SetUpOverride change;
    change.by = QStringLiteral("A. Foreman");
    change.buffer = Feet{420}; // at 70 ft: 6 cones in the place of 4 (250 ft)
    change.flaggers = 3;
    const SetUp after = *applyOverride(before, change);
    QCOMPARE(after.cones, before.cones + 2);
    QCOMPARE(after.people, before.people + 1);
    change.buffer = Feet{-1};
    QVERIFY(!applyOverride(before, change));
    change.buffer = Feet{1e9};
    QVERIFY(!applyOverride(before, change));
}

void SiteAnswersTest::wordsSayWhereFiguresAreFrom()
{
    Site site;
    site.street = {35, 2, Feet{12}, Feet{8}, false, false, RoadSetting::UrbanLowSpeed, false};
    const SetUp setUp = *workOutSetUp(site);
    for (const UnitSystem units : {UnitSystem::Us, UnitSystem::Metric}) {
        for (const SetUpLine &line : linesOf(setUp, units)) {
            QVERIFY(!line.what.isEmpty() && !line.amount.isEmpty() && !line.why.isEmpty());
            const bool isCounted =
                line.what == QLatin1String("Flaggers") || line.what == QLatin1String("People");
            QVERIFY(!isCounted || line.why.contains(QStringLiteral("common practice")));
        }
    }
    QCOMPARE(signWords(setUp, 1, UnitSystem::Us),
             QStringLiteral("ROAD WORK AHEAD at 300 ft, ONE LANE ROAD AHEAD at 200 ft, Flagger "
                            "(symbol) at 100 ft"));
    // 300 ft are 91.44 m: at least 92.
    QVERIFY(signWords(setUp, 0, UnitSystem::Metric).contains(QStringLiteral("AHEAD at 92 m")));
}

QTEST_GUILESS_MAIN(SiteAnswersTest)
#include "test_site_answers.moc"
