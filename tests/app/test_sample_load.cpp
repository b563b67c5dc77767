// SPDX-License-Identifier: GPL-3.0-or-later
// The load list of a round of the sample town, worked out by hand from the town's own files
// (sample-project/data) and the published figures, line by line. Nothing below is computed by the
// code that it checks.
//
// The round, with what its files say (valves.csv: SIZE, VLV_TYPE, DEPTH_FT, LOCATION; visits.csv:
// the last visit; streets.gpkg: class and speed):
//
//   1 00076   6 in gate          4.5 ft  709 Pelican Circle     never visited        Local 25 mph
//   2 00601   6 in gate          5.2 ft  1353 Magpie Drive      Lid missing          Local 25
//   3 01054   8 in gate          4.1 ft  844 Hornbeam Lane      Box full             Local 25
//   4 01022  16 in geared gate   3.0 ft  650 Juniper Parkway    Lid missing       Arterial 40
//   5 00363  12 in gate          4.3 ft  719 Copperleaf Avenue  never visited     Arterial 30 or 40
//   6 00613   6 in gate          6.3 ft  1320 Dogwood Street    Hard to turn         Local 25
//   7 00372   6 in gate       no depth  1262 Elder Street      Lid missing          Local 25
//   8 00614   6 in gate          5.1 ft  1315 Dogwood Street    nobody said where its lid is
//
// What a person answered is in answers() below: lids 1, 3, 4 and 5 in the lane, 2, 6 and 7 outside
// the road.
//
// The set-ups (MUTCD 11th edition, Part 6, tables 6B-1 to 6B-4 and 6K.01; one cone at the upstream
// end and one at the end of each spacing):
//
//   1 and 3: a minor street, 25 mph, application 18: taper 50 ft at 20 ft: 3 more cones (20, 40,
//     50); buffer 155 ft at 2 x 25 = 50 ft: 4 (50, 100, 150, 155); work space 40 ft at 50: 1;
//     downstream taper 50 ft at 25: 2. 1 + 3 + 4 + 1 + 2 = 11 cones. Two legends, two approaches.
//     Nobody flags: two people.
//   2, 6 and 7: outside the road, application 1: no cones, one sign, two people.
//   4: four lanes, 40 mph, lanes of 12 ft, application 30: L = 12 x 40 x 40 / 60 = 320 ft at 40: 8;
//     buffer 305 ft at 80: 4 (80, 160, 240, 305); work space 1; downstream 50 ft at 40: 2 (40,
//     50). 1 + 8 + 4 + 1 + 2 = 16 cones. Three legends, one approach. Two people.
//   5: two lanes, traffic not low, application 10 with two flaggers: taper 3; buffer 4 (at 30 mph
//     200 ft at 60: 60, 120, 180, 200; at 40 mph 305 ft at 80: 4 as well); work space 1; downstream
//     2. 11 cones. Three legends, two approaches. Two at the valve and two flaggers: four people.
#include "app/commands/work_zone.h"
#include "tests/support/sample_project.h"
#include "tests/support/test_town.h"

#include <QTemporaryDir>
#include <QTest>

using namespace keyround;

namespace {

using Answers = QHash<SiteQuestion, double>;

struct Said
{
    const char *valve;
    LidPlace lid;
    Answers answers;
};

std::vector<Said> answers()
{
    using enum SiteQuestion;
    constexpr double lowSpeed = 0;  // the first of the kinds of road
    constexpr double highSpeed = 1; // the second
    const Answers minor{{Setting, lowSpeed}, {Lanes, 2},     {LaneWidth, 10},
                        {Divided, 0},        {LowVolume, 1}, {ShoulderWidth, 0}};
    const Answers four{{Setting, highSpeed}, {Lanes, 4},     {LaneWidth, 12},
                       {Divided, 0},         {LowVolume, 0}, {ShoulderWidth, 0}};
    Answers two = four;
    two[Lanes] = 2;
    return {{"00076", LidPlace::Lane, minor},       {"00601", LidPlace::OutsideRoad, minor},
            {"01054", LidPlace::Lane, minor},       {"01022", LidPlace::Lane, four},
            {"00363", LidPlace::Lane, two},         {"00613", LidPlace::OutsideRoad, minor},
            {"00372", LidPlace::OutsideRoad, minor}};
}

} // namespace

class TestSampleLoad : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void theLoadListOfARoundByHand();

private:
    void say(const Said &said);
    QTemporaryDir m_folder;
    std::unique_ptr<Session> m_session;
};

void TestSampleLoad::initTestCase()
{
    keepSettingsApart();
    const QString path = m_folder.filePath(QStringLiteral("sample.keyround"));
    makeSampleProject(path);
    m_session = std::make_unique<Session>(smallTownClock()); // 2026-03-16
    const Status opened = m_session->openProject(path);
    QVERIFY2(opened, qPrintable(opened ? QString() : opened.error().message));
}

void TestSampleLoad::say(const Said &said)
{
    const Valve *valve = m_session->valveByNumber(QString::fromLatin1(said.valve));
    QVERIFY(valve != nullptr);
    const Valve copy = *valve;
    QVERIFY(answerSite(*m_session, copy, SiteQuestion::Lid, static_cast<int>(said.lid)));
    // An answer may lead to another question: four lanes ask for a median.
    for (StopSite stop = siteFor(*m_session, copy); !stop.questions.empty();
         stop = siteFor(*m_session, copy)) {
        const SiteQuestion question = stop.questions.front();
        QVERIFY2(said.answers.contains(question), qPrintable(wordsFor(question)));
        QVERIFY(answerSite(*m_session, copy, question, said.answers.value(question)));
    }
}

void TestSampleLoad::theLoadListOfARoundByHand()
{
    for (const Said &each : answers()) {
        say(each);
    }
    Round round;
    round.crew = QStringLiteral("Crew 1");
    round.date = QDate(2026, 3, 16);
    for (const char *number :
         {"00076", "00601", "01054", "01022", "00363", "00613", "00372", "00614"}) {
        round.stops.push_back(m_session->valveByNumber(QString::fromLatin1(number))->id);
    }
    const auto places = [&round](const std::vector<ValveId> &ids) {
        QStringList found;
        for (const ValveId &id : ids) {
            found << QString::number(std::ranges::find(round.stops, id) - round.stops.begin() + 1);
        }
        return found.join(QLatin1Char(' '));
    };
    QStringList read;
    for (const LoadLine &line : loadListOf(*m_session, round)) {
        read << QStringLiteral("%1 | %2 | %3 | %4")
                    .arg(line.what, line.amount, places(line.stops), places(line.deciding));
    }
    const QStringList byHand{
        // 16 at stop 4, and two spare.
        QStringLiteral("Cones (2 spare among them) | 18 | 1 3 4 5 | 4"),
        // Signs are picked up and carried on: two approaches need two of each.
        QStringLiteral("Sign: Flagger (symbol) | 2 | 5 | 5"),
        QStringLiteral("Sign: LANE CLOSED AHEAD | 1 | 4 | 4"),
        QStringLiteral("Sign: Lane ends (symbol) | 1 | 4 | 4"),
        QStringLiteral("Sign: ONE LANE ROAD AHEAD | 2 | 1 3 5 | 1 3 5"),
        QStringLiteral("Sign: ROAD WORK AHEAD | 2 | 1 2 3 4 5 6 7 | 1 3 5"),
        QStringLiteral("Flagger paddles | 2 | 5 | 5"),
        QStringLiteral("People | 4 | 1 2 3 4 5 6 7 | 5"),
        // 6.3 ft are 1.920 m; with 0.9 m above the lid 2.820 m, 9.25 ft.
        QStringLiteral("Key for a nut 6.3 ft deep (of 1 stop no depth is on record) | 9.3 ft | "
                       "1 2 3 4 5 6 7 8 | 6"),
        // valves.csv has no column for nuts: no line for sockets. One valve is geared.
        QStringLiteral("Tools for geared and butterfly valves |  | 4 | "),
        // Nor one for lids: three are missing, of a size that nobody wrote down.
        QStringLiteral("Spare lid, size not known | 3 | 2 4 7 | "),
        QStringLiteral("Tools to clear and straighten a box |  | 3 | "),
        QStringLiteral("Paper sheets | 8 | 1 2 3 4 5 6 7 8 | "),
        // services.csv: S03876, S03877 and S03878 at 716, 731 and 739 Pelican Circle hang on main
        // WM-00719, the dead end behind valve 00076. The mains of the other stops are fed from both
        // sides: shut alone, those valves leave nobody without water.
        QStringLiteral("Notices to hang | 3 | 1 | "),
        QStringLiteral("Work zone not worked out: not in this list |  | 8 | "),
    };
    QCOMPARE(read.join(QLatin1Char('\n')), byHand.join(QLatin1Char('\n')));
}

QTEST_MAIN(TestSampleLoad)
#include "test_sample_load.moc"
