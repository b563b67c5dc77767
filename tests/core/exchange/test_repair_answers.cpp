// SPDX-License-Identifier: GPL-3.0-or-later
// Tables of repair requests out and back in, and answers by number.
#include "core/exchange/read_answers.h"
#include "core/exchange/tables.h"
#include "core/reports/repair_table.h"

#include "tests/core/exchange/file_fixture.h"
#include "tests/core/repairs/repair_fixtures.h"

#include <rapidcheck.h>

using namespace keyround;
using namespace keyround::fixtures;
using keyround::tests::FileFixture;
using keyround::tests::s;

namespace {

/// Cells that a spreadsheet would run, or change, or that break tables.
const QStringList hostile{s("=1+1"),
                          s("=HYPERLINK(\"http://invented.example\",\"x\")"),
                          s("+1-2"),
                          s("-2+3"),
                          s("@SUM(A1)"),
                          s("\ttab"),
                          s("'quoted"),
                          s("''twice"),
                          s("say \"so\", and; so"),
                          s("two\nlines"),
                          s("<b>bold</b> &amp;"),
                          s("\xD7\xA9\xD7\xA1\xD7\xAA\xD7\x95\xD7\x9D"),
                          s("007"),
                          s("1e5"),
                          s("2026-03-04"),
                          s("-5"),
                          QString(200, QLatin1Char('w'))};

RepairTown hostileTown()
{
    RepairTown town;
    int n = 0;
    for (const QString &text : hostile) {
        Valve &valve = town.valve("V");
        valve.number = QStringLiteral("V%1").arg(++n);
        valve.address = text;
        valve.criticalCustomers = text;
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
    }
    for (const RepairProposal &proposal : town.proposals()) {
        town.accept(proposal, "2026-01-06");
    }
    return town;
}

CsvTable tableOf(const RepairTown &town, const RepairBook &book)
{
    const ReportTable table = repairTable(
        backlogRows(book, town.valves, town.histories(), {}, town.habits, day("2026-02-01")),
        UnitSystem::Us);
    return {table.columns, {table.rows.begin(), table.rows.end()}};
}

} // namespace

class TestRepairAnswers : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void tablesComeBackUnchanged_data()
    {
        QTest::addColumn<QString>("file");
        QTest::newRow("csv") << s("out.csv");
        QTest::newRow("xlsx") << s("out.xlsx");
    }
    void tablesComeBackUnchanged()
    {
        QFETCH(QString, file);
        const RepairTown town = hostileTown();
        const CsvTable table = tableOf(town, town.book());
        QCOMPARE(table.rows.size(), hostile.size());
        QVERIFY(writeTable(m_files.path(file), table, s("repairs")));
        const auto back = readTable(m_files.path(file));
        QVERIFY2(back, back ? "" : qPrintable(back.error().message));
        QCOMPARE(back->header, table.header);
        QCOMPARE(back->rows, table.rows);
    }
    // OWASP, CSV Injection; OWASP ASVS 5.0 1.2.10: no field begins with = + - @ TAB or CR.
    void noCellCanRun()
    {
        const RepairTown town = hostileTown();
        const CsvTable table = tableOf(town, town.book());
        QVERIFY(writeTable(m_files.path(s("guard.csv")), table, s("repairs")));
        QVERIFY(writeTable(m_files.path(s("guard.xlsx")), table, s("repairs")));
        GDALAllRegister();
        for (const char *name : {"guard.csv", "guard.xlsx"}) {
            // Read by GDAL itself, which takes no guard off.
            const GDALDatasetUniquePtr dataset(
                GDALDataset::Open(m_files.path(s(name)).toUtf8().constData(), GDAL_OF_VECTOR));
            QVERIFY(dataset);
            OGRLayer *layer = dataset->GetLayer(0);
            int cells = 0;
            while (const OGRFeatureUniquePtr feature{layer->GetNextFeature()}) {
                for (int i = 0; i < feature->GetFieldCount(); ++i) {
                    const QString cell = QString::fromUtf8(feature->GetFieldAsString(i));
                    bool isNumber = false;
                    (void)cell.toDouble(&isNumber);
                    QVERIFY2(isNumber || cell.isEmpty() || !s("=+-@\t\r").contains(cell.front()),
                             qPrintable(cell));
                    cells += cell.isEmpty() ? 0 : 1;
                }
            }
            QVERIFY(cells > 200);
        }
        // And no formula stands in the spreadsheet's own words.
        VSILFILE *xml = VSIFOpenL(
            (s("/vsizip/") + m_files.path(s("guard.xlsx")) + s("/xl/worksheets/sheet1.xml"))
                .toUtf8()
                .constData(),
            "rb");
        QVERIFY(xml != nullptr);
        QByteArray text(4 << 20, '\0');
        text.truncate(static_cast<qsizetype>(
            VSIFReadL(text.data(), 1, static_cast<size_t>(text.size()), xml)));
        VSIFCloseL(xml);
        QVERIFY(text.contains("<row"));
        QVERIFY(!text.contains("<f"));
    }
    void anyTableComesBack()
    {
        QVERIFY(rc::check("any cells come back from CSV", [this] {
            static const QString letters = s("=+-@\t'\",;|\n abc019\u05D0\U0001F6B0");
            CsvTable table{{s("number"), s("words")}, {}};
            const int rows = *rc::gen::inRange(1, 6);
            for (int i = 0; i < rows; ++i) {
                QString cell;
                for (int n = *rc::gen::inRange(1, 12); n > 0; --n) {
                    cell += letters[*rc::gen::inRange(qsizetype{0}, letters.size())];
                }
                // A lone half of a pair is no text.
                table.rows.push_back(
                    {QString::number(i), QString::fromUtf8(cell.toUtf8()).remove(QChar(0xFFFD))});
            }
            RC_ASSERT(writeCsv(m_files.path(s("any.csv")), table).has_value());
            const auto back = readTable(m_files.path(s("any.csv")));
            RC_ASSERT(back.has_value());
            RC_ASSERT(back->rows == table.rows);
        }));
    }
    void answersByNumber()
    {
        RepairTown town = threeRequests();
        const RepairBook book = town.book();
        const QString first = book.requests[0].number;
        const QString second = book.requests[1].number;
        const auto plan =
            planOf(book, s("Request;Status;Date;By;Work;New install year;New turns\n"
                           "%1;Replaced;2026-02-01;Crew R;new gate valve;2026;18 1/2\n"
                           "%2;booked;2026-03-01;Crew R;;;\n"
                           "R26-1111-1111;done;2026-02-01;;;;\n"
                           "nonsense;done;2026-02-01;;;;\n"
                           ";;;;;;\n")
                             .arg(first.toLower(), second));
        QCOMPARE(plan.rows.size(), std::size_t{4});
        QCOMPARE(wordsFor(plan), s("2 taken, 0 known already, 0 not answered, 2 refused"));
        const PlannedAnswer &done = plan.rows[0];
        QCOMPARE(done.words, s("open -> done on 2026-02-01, valve replaced"));
        QCOMPARE(done.request, book.requests[0].id);
        QVERIFY(done.answer.isReplaced);
        QCOMPARE(done.answer.turns, std::optional(QuarterTurns{74}));
        const RepairEvent event = eventFor(done, s("answers.csv"));
        QCOMPARE(event.step, RepairStep::Done);
        QCOMPARE(event.party, s("Crew R"));
        const Valve after = valveAfter(town.valves[0], done.answer);
        QCOMPARE(after.installYear, std::optional(2026));
        QCOMPARE(after.listedTurns, std::optional(QuarterTurns{74}));
        QCOMPARE(plan.rows[1].answer.step, std::optional(RepairStep::Scheduled));
        QVERIFY(plan.rows[2].words.contains(s("one of its signs is wrong")) ||
                plan.rows[2].words.contains(s("no request")));
        QVERIFY(plan.rows[3].words.contains(s("is no request's number")));
    }
    void refusals_data()
    {
        QTest::addColumn<QString>("row");
        QTest::addColumn<QString>("why");
        QTest::newRow("no day") << s("done;;Crew R;valve packed") << s("the day on which");
        QTest::newRow("to come") << s("done;2026-12-01;Crew R;x") << s("still to come");
        QTest::newRow("before it was found")
            << s("done;2025-12-01;Crew R;x") << s("before the fault");
        QTest::newRow("why not") << s("declined;2026-02-01;Crew R;") << s("why it is not");
        QTest::newRow("an unknown word") << s("maybe;2026-02-01;;") << s("is no answer");
        QTest::newRow("no date") << s("done;soonish;;") << s("soonish");
    }
    void refusals()
    {
        QFETCH(QString, row);
        QFETCH(QString, why);
        const RepairTown town = threeRequests();
        const RepairBook book = town.book();
        const auto plan = planOf(
            book, s("number;answer;date;by;work\n%1;%2\n").arg(book.requests[0].number, row));
        QCOMPARE(plan.refused, 1);
        QVERIFY2(plan.rows[0].words.contains(why), qPrintable(plan.rows[0].words));
    }
    void theSentTableComesBackAnswered()
    {
        RepairTown town = threeRequests();
        const RepairBook book = town.book();
        for (const char *file : {"sent.csv", "sent.xlsx"}) {
            CsvTable table = tableOf(town, book);
            QVERIFY(writeTable(m_files.path(s(file)), table, s("repairs")));
            CsvTable back = *readTable(m_files.path(s(file)));
            const auto set = [&back](qsizetype row, const char *column, const char *text) {
                back.rows[row][back.header.indexOf(s(column))] = s(text);
            };
            set(0, "answer", "done");
            set(0, "answer_date", "2026-02-01");
            set(0, "answer_work", "=2+2 packed anew");
            set(1, "answer", "declined");
            set(1, "answer_work", "main is to be abandoned");
            QVERIFY(writeTable(m_files.path(s(file)), back, s("repairs")));
            const auto answers = readRepairAnswers(m_files.path(s(file)));
            QVERIFY2(answers, answers ? "" : qPrintable(answers.error().message));
            const AnswerPlan plan = planAnswers(book, *answers, s(file), day("2026-02-15"));
            QCOMPARE(wordsFor(plan), s("2 taken, 0 known already, 1 not answered, 0 refused"));
            QCOMPARE(plan.rows[0].answer.words, s("=2+2 packed anew"));
            QCOMPARE(plan.rows[1].answer.step, std::optional(RepairStep::Withdrawn));
            // Once taken, the same file adds nothing.
            RepairTown later = town;
            for (const PlannedAnswer &each : plan.rows) {
                if (each.fate == AnswerFate::Taken) {
                    later.add(eventFor(each, s(file)), "2026-02-15");
                }
            }
            QCOMPARE(wordsFor(planAnswers(later.book(), *answers, s(file), day("2026-02-15"))),
                     s("0 taken, 2 known already, 1 not answered, 0 refused"));
        }
    }
    void twoRowsOfOneRequest()
    {
        const RepairTown town = threeRequests();
        const RepairBook book = town.book();
        const auto plan = planOf(book, s("number,answer,date\n%1,done,2026-02-01\n"
                                         "%1,done,2026-02-02\n")
                                           .arg(book.requests[0].number));
        QCOMPARE(plan.taken, 1);
        QVERIFY(plan.rows[1].words.contains(s("row 1 answers the same")));
    }
    void filesThatAreNoAnswers()
    {
        const auto message = [this](const QByteArray &text) {
            const auto read = readRepairAnswers(m_files.write(s("bad.csv"), text));
            return read ? QString() : read.error().message;
        };
        QVERIFY(message("a,b\n1,2\n").contains(s("no column \"number\"")));
        QVERIFY(message("number,b\n1,2\n").contains(s("no column \"answer\"")));
        QVERIFY(message("number,answer,date\nR,done,3/4/2026\n").contains(s("3/4/2026")));
        QVERIFY(!readRepairAnswers(m_files.path(s("nowhere.csv"))));
        QVERIFY(message("").size() > 10);
    }
    void aFileWithoutAnyColumn()
    {
        const QString path = m_files.write(
            s("bare.geojson"),
            R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{},)"
            R"("geometry":{"type":"Point","coordinates":[1,2]}}]})");
        const auto table = readTable(path);
        QVERIFY2(table, table ? "" : qPrintable(table.error().message));
        QVERIFY(table->header.isEmpty());
        QCOMPARE(table->rows.size(), qsizetype{1});
        const auto answers = readRepairAnswers(path);
        QVERIFY(!answers);
        QVERIFY2(answers.error().message.contains(s("has no column \"number\"")),
                 qPrintable(answers.error().message));
    }

private:
    FileFixture m_files;

    AnswerPlan planOf(const RepairBook &book, const QString &text)
    {
        const auto answers = readRepairAnswers(m_files.write(s("answers.csv"), text.toUtf8()));
        if (!answers) {
            qFatal("%s", qPrintable(answers.error().message));
        }
        return planAnswers(book, *answers, s("answers.csv"), day("2026-03-05"));
    }
    static RepairTown threeRequests()
    {
        RepairTown town;
        for (const char *number : {"V1", "V2", "V3"}) {
            town.valve(number);
            town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        }
        for (const RepairProposal &proposal : town.proposals()) {
            town.accept(proposal, "2026-01-06");
        }
        return town;
    }
};

QTEST_GUILESS_MAIN(TestRepairAnswers)
#include "test_repair_answers.moc"
