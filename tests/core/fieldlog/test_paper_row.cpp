// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/paper_row.h"

#include <QTest>

#include <rapidcheck.h>

#include <algorithm>

using namespace keyround;

namespace {

const QStringList ownWords{QStringLiteral("Riser cracked"), QStringLiteral("Lid welded shut")};

PaperSheet sheet()
{
    PaperSheet sheet;
    sheet.date = QDate(2026, 3, 16);
    sheet.offsetSeconds = -5 * 3600;
    sheet.crew = QStringLiteral("Crew 1");
    sheet.choices = problemChoices(ownWords);
    return sheet;
}

PaperRow row(const char *number, const char *time, const char *found, const char *closing,
             const char *opening, const char *left, const char *problems = "",
             const char *remarks = "")
{
    PaperRow row;
    std::size_t at = 0;
    for (const char *text : {number, time, found, closing, opening, left, problems, remarks}) {
        row.texts.at(at++) = QString::fromLatin1(text);
    }
    return row;
}

QList<Problem> typed(const char *text)
{
    const auto read = problemsTyped(QString::fromLatin1(text), problemChoices(ownWords));
    return read ? read->problems : QList<Problem>();
}

} // namespace

class TestPaperRow : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void aRowBecomesAVisit();
    void positions_data();
    void positions();
    void counts();
    void times();
    void problemsByTheirBeginnings();
    void whatIsAmbiguousIsAsked();
    void problemsAreWrittenOut();
    void whatIsMissingIsAsked();
    void aValveThatWasNotReachedNeedsNoPosition();
    void timesThatAreNotWrittenFollowTheRowAbove();
    void theOtherProblemNeedsWords();
    void anyTextsAreReadOrRefused();
};

void TestPaperRow::aRowBecomesAVisit()
{
    const PaperReading read = readPaperRow(
        row("0417", "0815", "o", "20+27", "26 1/2", "O", "hard, pack", "by hand"), sheet(), {});
    QVERIFY(read.isSound());
    const Visit &visit = read.visit;
    QCOMPARE(visit.arrived.iso(), QStringLiteral("2026-03-16T08:15:00.000-05:00"));
    QCOMPARE(visit.finished, visit.arrived);
    QCOMPARE(visit.found.position, Position::Open);
    QCOMPARE(visit.left.position, Position::Open);
    QCOMPARE(visit.passes.size(), std::size_t(3));
    QCOMPARE(visit.passes[0].direction, PassDirection::Closing);
    QCOMPARE(visit.passes[0].turns, QuarterTurns::ofTurns(20));
    QCOMPARE(visit.passes[1].direction, PassDirection::Opening);
    QCOMPARE(visit.passes[1].turns, QuarterTurns{106});
    QCOMPARE(visit.passes[2].turns, QuarterTurns::ofTurns(27));
    QCOMPARE(visit.problems, (QList<Problem>{Problem::HardToTurn, Problem::PackingLeak}));
    QCOMPARE(visit.remarks, QStringLiteral("by hand; from the paper sheet"));
    QCOMPARE(visit.crew, QStringLiteral("Crew 1"));
}

void TestPaperRow::positions_data()
{
    QTest::addColumn<QString>("text");
    QTest::addColumn<int>("position"); // -1: refused, -2: blank
    QTest::addColumn<int>("quarters");
    const auto add = [](const char *text, int position, int quarters = -1) {
        QTest::newRow(text) << QString::fromLatin1(text) << position << quarters;
    };
    add("o", int(Position::Open));
    add(" OPEN ", int(Position::Open));
    add("c", int(Position::Closed));
    add("shut", int(Position::Closed));
    add("n", int(Position::NotSeen));
    add("p5", int(Position::PartOpen), 20);
    add("p 5 1/2", int(Position::PartOpen), 22);
    add("part open 3.25", int(Position::PartOpen), 13);
    add("p", -1);
    add("p1.3", -1);
    add("pipe 4", -1);
    add("x", -1);
    add("op en", -1);
    add("0", -1);
    add("  ", -2);
}

void TestPaperRow::positions()
{
    QFETCH(const QString, text);
    QFETCH(const int, position);
    QFETCH(const int, quarters);
    const auto read = standingTyped(text);
    QCOMPARE(read.has_value(), position != -1);
    if (!read) {
        QVERIFY(!read.error().message.isEmpty());
        return;
    }
    QCOMPARE(read->has_value(), position != -2);
    if (*read) {
        QCOMPARE(int((*read)->position), position);
        QCOMPARE((*read)->turnsFromClosed ? (*read)->turnsFromClosed->value : -1, quarters);
    }
}

void TestPaperRow::counts()
{
    QVERIFY(countsTyped(QString())->empty());
    QCOMPARE(countsTyped(QStringLiteral("27"))->at(0), QuarterTurns::ofTurns(27));
    QCOMPARE(countsTyped(QStringLiteral("0"))->at(0), QuarterTurns{0});
    QCOMPARE(countsTyped(QStringLiteral(" 20 + 26.75 "))->at(1), QuarterTurns{107});
    for (const char *refused : {"-3", "27.1", "20+", "+", "many", "1e3", "99999"}) {
        QVERIFY2(!countsTyped(QString::fromLatin1(refused)), refused);
    }
}

void TestPaperRow::times()
{
    for (const char *quarterPastEight : {"0815", "815", "8:15", "08.15", " 8:15 "}) {
        const auto read = arrivalTyped(QString::fromLatin1(quarterPastEight));
        QVERIFY2(read && *read && **read == QTime(8, 15), quarterPastEight);
    }
    for (const char *refused : {"25:00", "0860", "8", "noon", "8:15 pm"}) {
        QVERIFY2(!arrivalTyped(QString::fromLatin1(refused)), refused);
    }
    QVERIFY(arrivalTyped(QString()) && !*arrivalTyped(QString()));
}

void TestPaperRow::problemsByTheirBeginnings()
{
    QCOMPARE(typed("hard"), QList<Problem>{Problem::HardToTurn});
    QCOMPARE(typed("h"), QList<Problem>{Problem::HardToTurn});
    QCOMPARE(typed("leak"), QList<Problem>{Problem::PackingLeak});
    QCOMPARE(typed("pack"), QList<Problem>{Problem::PackingLeak});
    QCOMPARE(typed("nut b"), QList<Problem>{Problem::NutBroken});
    QCOMPARE(typed("nut"), QList<Problem>{Problem::NutBroken}); // before "Box shifted off the nut"
    QCOMPARE(typed("spin"), QList<Problem>{Problem::SpunContinuously});
    QCOMPARE(typed("bent, did"), (QList<Problem>{Problem::StemBent, Problem::DidNotClose}));
    QCOMPARE(typed("other"), QList<Problem>{Problem::Other});
    QCOMPARE(typed("hard,,hard, HARD TO TURN "), QList<Problem>{Problem::HardToTurn});
    const auto own = problemsTyped(QStringLiteral("riser, weld"), problemChoices(ownWords));
    QVERIFY(own && own->problems.isEmpty());
    QCOMPARE(own->own, ownWords);
    // Every problem can be typed by its whole words.
    for (const ProblemInfo &info : problemList()) {
        const auto whole = problemsTyped(QString::fromLatin1(info.words).remove(QLatin1Char(',')),
                                         problemChoices({}));
        QVERIFY2(whole && whole->problems == QList<Problem>{info.problem}, info.words);
    }
}

void TestPaperRow::whatIsAmbiguousIsAsked()
{
    const auto found = problemsTyped(QStringLiteral("found"), problemChoices({}));
    QVERIFY(!found);
    QVERIFY(found.error().message.contains(QStringLiteral("may mean")));
    QVERIFY(found.error().message.contains(QStringLiteral("Found closed")));
    const auto unknown = problemsTyped(QStringLiteral("hard, zebra"), problemChoices({}));
    QVERIFY(!unknown);
    QVERIFY(unknown.error().message.contains(QStringLiteral("zebra")));
    QCOMPARE(choicesFor(QStringLiteral("box"), problemChoices({})).size(), std::size_t(2));
    QCOMPARE(choicesFor({}, problemChoices({})).size(), std::size_t(problemList().size()));
}

void TestPaperRow::problemsAreWrittenOut()
{
    const auto choices = problemChoices(ownWords);
    QCOMPARE(problemsInFull(QStringLiteral("hard, weld"), choices),
             QStringLiteral("Hard to turn, Lid welded shut"));
    QCOMPARE(problemsInFull(QStringLiteral("zebra"), choices), QStringLiteral("zebra"));
    // "Nut broken, rounded or missing" has a comma: what is written out must read back the same.
    const QString nut = problemsInFull(QStringLiteral("nut b, hard"), choices);
    const auto again = problemsTyped(nut, choices);
    QVERIFY(again);
    QCOMPARE(again->problems, (QList<Problem>{Problem::NutBroken, Problem::HardToTurn}));
}

void TestPaperRow::whatIsMissingIsAsked()
{
    const PaperReading read = readPaperRow(row("", "", "", "27", "x", ""), sheet(), {});
    QVERIFY(!read.isSound());
    QVERIFY(read.refusals.contains(PaperColumn::Number));
    QVERIFY(read.refusals.contains(PaperColumn::Found));
    QVERIFY(read.refusals.contains(PaperColumn::Opening));
    QVERIFY(read.refusals.contains(PaperColumn::Left));
    QCOMPARE(read.refusals.firstKey(), PaperColumn::Number); // in the sheet's order
    QVERIFY(row("0417", "", " ", "", "", "").isUntouched());
    QVERIFY(!row("", "", "", "", "", "", "", "x").isUntouched());
}

void TestPaperRow::aValveThatWasNotReachedNeedsNoPosition()
{
    const PaperReading read =
        readPaperRow(row("0417", "", "", "", "", "", "not found"), sheet(), {});
    QVERIFY(read.isSound());
    QCOMPARE(read.visit.found.position, Position::NotSeen);
    QCOMPARE(read.visit.left.position, Position::NotSeen);
    QVERIFY(read.visit.passes.empty());
}

void TestPaperRow::timesThatAreNotWrittenFollowTheRowAbove()
{
    const PaperReading first = readPaperRow(row("1", "", "o", "", "", "o"), sheet(), {});
    QCOMPARE(first.visit.arrived.local().time(), QTime(8, 0));
    QVERIFY(first.visit.remarks.contains(QStringLiteral("time not written")));
    const PaperReading second =
        readPaperRow(row("2", "", "o", "", "", "o"), sheet(), first.visit.arrived);
    QCOMPARE(second.visit.arrived.local().time(), QTime(8, 1));
    const PaperReading earlier =
        readPaperRow(row("3", "0755", "o", "", "", "o"), sheet(), second.visit.arrived);
    QVERIFY(earlier.refusals.contains(PaperColumn::Time));
}

void TestPaperRow::theOtherProblemNeedsWords()
{
    QVERIFY(readPaperRow(row("1", "", "o", "", "", "o", "other"), sheet(), {})
                .refusals.contains(PaperColumn::Remarks));
    const PaperReading read =
        readPaperRow(row("1", "", "o", "", "", "o", "other", "a nest in it"), sheet(), {});
    QVERIFY(read.isSound());
    QCOMPARE(read.visit.otherProblem, QStringLiteral("a nest in it"));
}

void TestPaperRow::anyTextsAreReadOrRefused()
{
    QVERIFY(rc::check("any texts", [] {
        PaperRow any;
        for (QString &text : any.texts) {
            text = QString::fromStdString(*rc::gen::arbitrary<std::string>());
        }
        const PaperReading read = readPaperRow(any, sheet(), {});
        return std::ranges::none_of(read.refusals,
                                    [](const QString &why) { return why.isEmpty(); });
    }));
}

QTEST_GUILESS_MAIN(TestPaperRow)
#include "test_paper_row.moc"
