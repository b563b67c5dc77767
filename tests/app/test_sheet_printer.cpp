// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets on paper, read back with Poppler's tools: the text is text and is all there, pages have
// their size and their number, nothing is taken for markup.
#include "app/print/sheet_printer.h"

#include "app/print/column_widths.h"
#include "tests/support/pdf_text.h"

#include <QTemporaryDir>
#include <QTest>

#include <rapidcheck.h>

#include <numeric>

using namespace keyround;
using namespace keyround::tests;

namespace {

Sheet sheetOf(int rows)
{
    Sheet sheet;
    sheet.title = QStringLiteral("Route sheet");
    sheet.headerLines = {QStringLiteral("Invented Department")};
    sheet.table.columns = {QStringLiteral("Stop"), QStringLiteral("Where"), QStringLiteral("Left")};
    sheet.penColumnsFrom = 2;
    for (int row = 1; row <= rows; ++row) {
        sheet.table.rows.push_back(
            {QString::number(row), QStringLiteral("place%1x").arg(row), QString()});
    }
    sheet.cautions = {QStringLiteral("Local rules come first.")};
    return sheet;
}

PageFurniture furniture(QPageSize::PageSizeId paper = QPageSize::Letter)
{
    return {QStringLiteral("Invented Department"), QStringLiteral("town.keyround"),
            QStringLiteral("2026-03-16 06:45"), paper};
}

} // namespace

class TestSheetPrinter : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void everyRowIsThereOnNumberedPages()
    {
        const QString path = m_folder.filePath(QStringLiteral("long.pdf"));
        const Status written = writeSheetPdf(sheetOf(200), furniture(), {}, path);
        QVERIFY(written.has_value());
        const QString text = pdfText(path);
        for (int row = 1; row <= 200; ++row) {
            QCOMPARE(text.count(QStringLiteral("place%1x").arg(row)), 1);
        }
        const int pages = pdfPages(path);
        QVERIFY(pages > 3);
        for (int page = 1; page <= pages; ++page) {
            QCOMPARE(text.count(QStringLiteral("page%1of%2").arg(page).arg(pages)), 1);
        }
        QCOMPARE(text.count(QStringLiteral("StopWhereLeft")), pages); // headings on every page
    }

    void oddTextIsPlainAndWhole()
    {
        Sheet sheet = sheetOf(0);
        const QString markup = QStringLiteral("<b>bold</b> & <img src=x>");
        const QString longWord = QString(300, QLatin1Char('W'));
        const QString accents = QStringLiteral("caf\u00e9 \u00d8resund \u0141\u00f3d\u017a");
        sheet.table.rows = {{QStringLiteral("1"), markup, QString()},
                            {QStringLiteral("2"), longWord, QString()},
                            {QStringLiteral("3"), accents, QString()}};
        const QString path = m_folder.filePath(QStringLiteral("odd.pdf"));
        QVERIFY(writeSheetPdf(sheet, furniture(), {}, path).has_value());
        const QString text = pdfText(path);
        QVERIFY(text.contains(withoutSpaces(markup)));
        QCOMPARE(text.count(QLatin1Char('W')), 300 + 1); // and the W of "Where"
        QVERIFY(text.contains(withoutSpaces(accents)));
    }

    void nothingIsCutOff()
    {
        // A right-to-left remark of 200 letters, a word without end, a cell of more lines than a
        // page has: all of it is on paper, within the margins.
        Sheet sheet = sheetOf(0);
        const QString hebrew =
            QString::fromUtf8("\u05e9\u05dc\u05d5\u05dd ").repeated(40).left(200);
        const QString longWord = QString(400, QLatin1Char('Q'));
        QString manyLines;
        for (int line = 1; line <= 140; ++line) {
            manyLines += QStringLiteral("line%1x ").arg(line) + QString(60, QLatin1Char('o')) +
                         QLatin1Char('\n');
        }
        sheet.table.rows = {{QStringLiteral("1"), hebrew, QString()},
                            {QStringLiteral("2"), longWord, QString()},
                            {QStringLiteral("3"), manyLines, QString()},
                            {QStringLiteral("4"), QStringLiteral("after"), QString()}};
        sheet.notes = {QStringLiteral("note ").repeated(4000)}; // longer than a page
        const QString path = m_folder.filePath(QStringLiteral("cut.pdf"));
        QVERIFY(writeSheetPdf(sheet, furniture(), {}, path).has_value());
        const QString text = pdfText(path);
        QCOMPARE(text.count(QChar(0x05e9)), 40);
        QCOMPARE(text.count(QLatin1Char('Q')), 400);
        for (int line = 1; line <= 140; ++line) {
            QCOMPARE(text.count(QStringLiteral("line%1x").arg(line)), 1);
        }
        QCOMPARE(text.count(QStringLiteral("after")), 1);
        QCOMPARE(text.count(QStringLiteral("note")), 4000);
        QCOMPARE(pdfWordsOutside(path), QStringList());
    }

    void lettersAreNotJoined()
    {
        Sheet sheet = sheetOf(0);
        sheet.headerLines = {QStringLiteral("Traffic off the office floor: fit, flow, ffi")};
        const QString path = m_folder.filePath(QStringLiteral("joined.pdf"));
        QVERIFY(writeSheetPdf(sheet, furniture(), {}, path).has_value());
        QVERIFY2(pdfText(path).contains(withoutSpaces(sheet.headerLines.first())),
                 qPrintable(pdfText(path)));
    }

    void paperHasItsSize_data()
    {
        QTest::addColumn<int>("paper");
        QTest::addColumn<QString>("size");
        // Landscape, in points: ANSI/ASME Y14.1 size A is 8.5 by 11 in; ISO 216 A4 is 210 by 297
        // mm.
        QTest::newRow("Letter") << int(QPageSize::Letter) << QStringLiteral("792 x 612 pts");
        QTest::newRow("A4") << int(QPageSize::A4) << QStringLiteral("842 x 595 pts");
    }

    void paperHasItsSize()
    {
        QFETCH(int, paper);
        QFETCH(QString, size);
        const QString path = m_folder.filePath(QStringLiteral("size.pdf"));
        QVERIFY(writeSheetPdf(sheetOf(3), furniture(QPageSize::PageSizeId(paper)), {}, path)
                    .has_value());
        QCOMPARE(pdfPageSize(path), size);
    }

    void aPlaceThatCannotBeWrittenIsSaid()
    {
        const Status written = writeSheetPdf(
            sheetOf(1), furniture(), {}, m_folder.filePath(QStringLiteral("no/such/folder.pdf")));
        QVERIFY(!written);
        QVERIFY2(written.error().message.contains(QStringLiteral("folder.pdf")),
                 qPrintable(written.error().message));
    }

    void columnsShareTheWholeWidth()
    {
        QVERIFY(rc::check("widths sum to the page and none is negative", [] {
            const double available = 1000.0;
            std::vector<ColumnWish> wishes;
            const auto count = *rc::gen::inRange(1, 15);
            for (int i = 0; i < count; ++i) {
                const double least = *rc::gen::inRange(1, 200);
                wishes.push_back(
                    {least, least + *rc::gen::inRange(0, 2000), *rc::gen::arbitrary<bool>()});
            }
            const std::vector<double> widths = shareWidth(wishes, available);
            double needed = 0;
            for (const ColumnWish &wish : wishes) {
                needed += wish.least;
            }
            const double sum = std::accumulate(widths.begin(), widths.end(), 0.0);
            RC_ASSERT(std::abs(sum - available) < 1e-6);
            for (size_t i = 0; i < widths.size(); ++i) {
                RC_ASSERT(widths[i] > 0.0);
                RC_ASSERT(needed > available || widths[i] >= wishes[i].least - 1e-9);
            }
        }));
    }

private:
    QTemporaryDir m_folder;
};

QTEST_MAIN(TestSheetPrinter)
#include "test_sheet_printer.moc"
