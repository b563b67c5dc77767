// SPDX-License-Identifier: GPL-3.0-or-later
// Past visits from tables.
#include "core/exchange/read_layer.h"
#include "core/exchange/visit_words.h"

#include "tests/core/exchange/file_fixture.h"

using namespace keyround;
using namespace keyround::tests;

class TestReadVisits : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void oneWithEverything();
    void idsFollowContent();
    void dateOrders();
    void times_data();
    void times();
    void standings_data();
    void standings();
    void problems();
    void rowsThatCannotBeTaken();
    void spreadsheetDates();

private:
    FileFixture m_files;
};

void TestReadVisits::oneWithEverything()
{
    const QString path = m_files.write(
        s("visits.csv"),
        "valve_no,date,time,finished,crew,turns_closing,turns_opening,problems,found,left,remarks,"
        "who\n"
        "0012,2024-05-01,07:45,08:05,Crew A,26.5,27,\"packing_leak; smells of cheese\",open,open,"
        "\"tight, at first\",R. Invented\n");
    const auto result = readVisits({.path = path});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    QCOMPARE(result->rows.size(), size_t{1});
    QCOMPARE(result->rows[0].valveNumber, s("0012"));
    const Visit &visit = result->rows[0].visit;
    QCOMPARE(visit.arrived.iso().left(16), s("2024-05-01T07:45"));
    QCOMPARE(visit.finished.utcMilliseconds - visit.arrived.utcMilliseconds, 20 * 60 * 1000);
    QCOMPARE(visit.crew, s("Crew A"));
    QCOMPARE(visit.passes, (std::vector<Pass>{{PassDirection::Closing, QuarterTurns{106}},
                                              {PassDirection::Opening, QuarterTurns{108}}}));
    QCOMPARE(visit.problems, (QList<Problem>{Problem::PackingLeak, Problem::Other}));
    QCOMPARE(visit.otherProblem, s("smells of cheese"));
    QCOMPARE(visit.found.position, Position::Open);
    QCOMPARE(visit.left.position, Position::Open);
    QCOMPARE(visit.remarks, s("tight, at first"));
    QCOMPARE(visit.recordedBy, s("R. Invented"));
    QCOMPARE(visit.stamp.milliseconds(), visit.arrived.utcMilliseconds);
    QVERIFY(visit.valve.isNull());
    QVERIFY2(result->warnings.empty(), qPrintable(reasons(result->warnings)));
}

void TestReadVisits::idsFollowContent()
{
    const QByteArray head = "valve,date,turns,problems,remarks\n";
    const QByteArray one = "A1,2024-05-01,26,,fine\n";
    const QByteArray two = "A1,2024-05-01,27,,fine\n";
    const auto first = readVisits({.path = m_files.write(s("ids1.csv"), head + one + two + one)});
    const auto second = readVisits({.path = m_files.write(s("ids2.csv"), head + two + one)});
    QVERIFY(first.has_value() && second.has_value());
    QCOMPARE(first->rows.size(), size_t{2});
    QCOMPARE(first->rejected.size(), size_t{1});
    QVERIFY(first->rejected[0].reason.contains(s("row 1 says the same")));
    QCOMPARE(first->rows[0].visit.id, second->rows[1].visit.id);
    QCOMPARE(first->rows[1].visit.id, second->rows[0].visit.id);
    QVERIFY(!(first->rows[0].visit.id == first->rows[1].visit.id));
    QVERIFY(!first->rows[0].visit.id.isNull());
}

void TestReadVisits::dateOrders()
{
    const auto read = [this](const QByteArray &dates, std::optional<DateOrder> order) {
        QByteArray text = "valve,date\n";
        int number = 0;
        for (const QByteArray &date : dates.split(' ')) {
            text += "V" + QByteArray::number(++number) + "," + date + "\n";
        }
        return readVisits({.path = m_files.write(s("dates.csv"), text), .dateOrder = order});
    };
    const auto dayOf = [](const Result<Imported<VisitRow>> &result, size_t row) {
        return result->rows.at(row).visit.arrived.localDate();
    };
    const auto asks = read("3/4/2021", std::nullopt);
    QVERIFY(!asks);
    QVERIFY2(asks.error().message.contains(s("3/4/2021")), qPrintable(asks.error().message));
    QCOMPARE(dayOf(read("3/4/2021", DateOrder::MonthFirst), 0), QDate(2021, 3, 4));
    QCOMPARE(dayOf(read("3/4/2021", DateOrder::DayFirst), 0), QDate(2021, 4, 3));
    const auto shown = read("3/4/2021 12/25/2021", std::nullopt);
    QVERIFY(shown.has_value());
    QCOMPARE(dayOf(shown, 0), QDate(2021, 3, 4));
    QVERIFY(reasons(shown->warnings).contains(s("month first")));
    QCOMPARE(dayOf(read("3/4/2021 25/12/2021", std::nullopt), 0), QDate(2021, 4, 3));
    const auto both = read("25/12/2021 12/25/2021", std::nullopt);
    QVERIFY(!both);
    QVERIFY(both.error().message.contains(s("both orders")));
    QCOMPARE(dayOf(read("2021-03-04 2021/03/05", std::nullopt), 1), QDate(2021, 3, 5));
}

void TestReadVisits::times_data()
{
    QTest::addColumn<QString>("expected"); // empty: an error
    QTest::newRow("2024-05-01") << s("2024-05-01 - -");
    QTest::newRow("2024-05-01 07:45") << s("2024-05-01 07:45:00 -");
    QTest::newRow("2024-05-01T07:45:30") << s("2024-05-01 07:45:30 -");
    QTest::newRow("2024-05-01T07:45:00Z") << s("2024-05-01 07:45:00 0");
    QTest::newRow("2024-05-01T07:45:00-06:00") << s("2024-05-01 07:45:00 -21600");
    QTest::newRow("2024-05-01 07:45:00.000 +0530") << s("2024-05-01 07:45:00 19800");
    QTest::newRow("5/1/2024 7:45 PM") << s("2024-05-01 19:45:00 -");
    QTest::newRow("5/1/2024 12:05 am") << s("2024-05-01 00:05:00 -");
    QTest::newRow("5/1/2024 13:05 pm") << QString();
    QTest::newRow("2024-05-01 25:00") << QString();
    QTest::newRow("2023-02-29") << QString();
    QTest::newRow("soon") << QString();
}

void TestReadVisits::times()
{
    QFETCH(QString, expected);
    const auto when = parseWhen(s(QTest::currentDataTag()), DateOrder::MonthFirst);
    QCOMPARE(when.has_value(), !expected.isEmpty());
    if (when) {
        const WhenText &text = when->value();
        const QString dash = s("-");
        QCOMPARE(QStringLiteral("%1 %2 %3")
                     .arg(text.date.toString(Qt::ISODate),
                          text.time ? text.time->toString(s("HH:mm:ss")) : dash,
                          text.offsetSeconds ? QString::number(*text.offsetSeconds) : dash),
                 expected);
    }
}

void TestReadVisits::standings_data()
{
    QTest::addColumn<int>("position"); // -1: an error
    QTest::addColumn<int>("quarters"); // -1: none
    QTest::newRow("open") << static_cast<int>(Position::Open) << -1;
    QTest::newRow("CLOSED") << static_cast<int>(Position::Closed) << -1;
    QTest::newRow("part open") << static_cast<int>(Position::PartOpen) << -1;
    QTest::newRow("part open, 5 turns") << static_cast<int>(Position::PartOpen) << 20;
    QTest::newRow("partly closed 2.5") << static_cast<int>(Position::PartOpen) << 10;
    QTest::newRow("1/2 open") << static_cast<int>(Position::PartOpen) << -1;
    QTest::newRow("not seen") << static_cast<int>(Position::NotSeen) << -1;
    QTest::newRow("") << static_cast<int>(Position::NotSeen) << -1;
    QTest::newRow("blue") << -1 << -1;
}

void TestReadVisits::standings()
{
    QFETCH(int, position);
    QFETCH(int, quarters);
    const auto standing = parseStanding(s(QTest::currentDataTag()));
    QCOMPARE(standing ? static_cast<int>(standing->value_or(Standing{}).position) : -1, position);
    if (standing) {
        QCOMPARE(standing->value_or(Standing{}).turnsFromClosed.value_or(QuarterTurns{-1}).value,
                 quarters);
    }
}

void TestReadVisits::problems()
{
    QVERIFY(parseProblems(s("none")).problems.isEmpty());
    QVERIFY(parseProblems(s(" OK ; -")).problems.isEmpty());
    const auto words = parseProblems(s("did_not_close|Did not close, BOX FULL;odd thing; odder"));
    QCOMPARE(words.problems,
             (QList<Problem>{Problem::DidNotClose, Problem::BoxFull, Problem::Other}));
    QCOMPARE(words.other, s("odd thing; odder"));
}

void TestReadVisits::rowsThatCannotBeTaken()
{
    const QString path = m_files.write(s("bad.csv"), "valve,date,turns,found\n"
                                                     ",2024-05-01,20,open\n"
                                                     "A2,,20,open\n"
                                                     "A3,2024-13-01,20,open\n"
                                                     "A4,2024-05-01,lots,purple\n");
    const auto result = readVisits({.path = path});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    QCOMPARE(result->rejected.size(), size_t{3});
    QCOMPARE(result->rejected[2].row, 3);
    QCOMPARE(result->rejected[2].column, s("date"));
    QCOMPARE(result->rejected[2].value, s("2024-13-01"));
    QCOMPARE(result->rows.size(), size_t{1});
    QVERIFY(result->rows[0].visit.passes.empty());
    QCOMPARE(result->warnings.size(), size_t{2});
}

void TestReadVisits::spreadsheetDates()
{
    GDALAllRegister();
    const QString path = m_files.path(s("dates.xlsx"));
    {
        const GDALDatasetUniquePtr dataset(GetGDALDriverManager()->GetDriverByName("XLSX")->Create(
            path.toUtf8().constData(), 0, 0, 0, GDT_Unknown, nullptr));
        OGRLayer *layer = dataset->CreateLayer("log", nullptr, wkbNone, nullptr);
        OGRFieldDefn number("valve", OFTString);
        OGRFieldDefn date("date", OFTDateTime);
        OGRFieldDefn turns("turns", OFTReal);
        layer->CreateField(&number);
        layer->CreateField(&date);
        layer->CreateField(&turns);
        const OGRFeatureUniquePtr feature(OGRFeature::CreateFeature(layer->GetLayerDefn()));
        feature->SetField(0, "007");
        feature->SetField(1, 2024, 5, 1, 7, 45, 0.0F, 0);
        feature->SetField(2, 26.5);
        QCOMPARE(layer->CreateFeature(feature.get()), OGRERR_NONE);
    }
    const auto result = readVisits({.path = path});
    QVERIFY2(result.has_value(), qPrintable(result ? QString() : result.error().message));
    QCOMPARE(result->rows.at(0).valveNumber, s("007"));
    QCOMPARE(result->rows.at(0).visit.arrived.iso().left(16), s("2024-05-01T07:45"));
    QCOMPARE(result->rows.at(0).visit.passes.at(0).turns, QuarterTurns{106});
}

QTEST_GUILESS_MAIN(TestReadVisits)
#include "test_read_visits.moc"
