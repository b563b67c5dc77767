// SPDX-License-Identifier: GPL-3.0-or-later
// What the Office gives away beside its charts: the map over time and a valve's whole life as
// files, copied and as a table, and the board report after a look at it.
#include "app/dialogs/choose_file.h"
#include "app/dialogs/paper_preview.h"
#include "app/map/map_widget.h"
#include "app/office/answers.h"
#include "app/office/place_over_time.h"
#include "app/shell/style.h"
#include "core/reports/condition_tables.h"
#include "core/storage/valve_store.h"
#include "tests/support/office_bench.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QClipboard>
#include <QFile>
#include <QImage>
#include <QMimeData>
#include <QPainter>
#include <QSignalSpy>
#include <QSlider>
#include <QSvgRenderer>
#include <QTableView>
#include <QTemporaryDir>
#include <QTest>
#include <QXmlStreamReader>

using namespace keyround;

namespace {

QByteArray fileBytes(const QString &path)
{
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
}

/// All that stands in an SVG as text; empty where it is no XML.
QString svgText(const QString &path)
{
    QXmlStreamReader svg(fileBytes(path));
    QString text;
    while (!svg.atEnd()) {
        if (svg.readNext() == QXmlStreamReader::Characters) {
            text += svg.text();
        }
    }
    return svg.hasError() ? QString() : tests::withoutSpaces(text);
}

QStringList csvLines(const QString &path)
{
    return QString::fromUtf8(fileBytes(path))
        .remove(QLatin1Char('\r'))
        .split(QLatin1Char('\n'), Qt::SkipEmptyParts);
}

/// Enough colours: not a blank sheet.
int coloursIn(const QImage &image)
{
    QSet<QRgb> colours;
    for (int y = 0; y < image.height(); y += 3) {
        for (int x = 0; x < image.width(); x += 3) {
            colours.insert(image.pixel(x, y));
        }
    }
    return static_cast<int>(colours.size());
}

const QString longZone = QStringLiteral("Upper Reservoir & Northern Hills <b>Pressure District</b> "
                                        "(an invented name that is far too long)");

} // namespace

class TestOfficeFiles : public QObject
{
    Q_OBJECT

    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;

    std::unique_ptr<OfficePlace> shownMap(const QSize &size = {1366, 660})
    {
        auto office = shownOffice(*m_session, size);
        press(*office, "askChanges");
        choosePicture(*office, int(ChangesView::Map));
        return office;
    }

    /// The page of the valve that does not turn.
    std::unique_ptr<OfficePlace> shownLife(const QString &number, const QSize &size = {1366, 660})
    {
        auto office = shownOffice(*m_session, size);
        office->showLife(m_session->valveByNumber(number)->id, {});
        QTest::qWait(20);
        return office;
    }

    static PaperPreview *preview(const QWidget &place)
    {
        const auto open = place.window()->findChildren<PaperPreview *>();
        if (open.isEmpty()) {
            qFatal("no preview is open");
        }
        return open.last();
    }

    void giveLongZone()
    {
        Valve valve = *m_session->valveByNumber(m_town->doesNotTurn);
        valve.zone = longZone;
        QVERIFY(m_session->project()
                    .valves()
                    .update(valve, m_session->author(), m_session->now(), QStringLiteral("test"))
                    .has_value());
        Q_EMIT m_session->notifier().valvesChanged();
    }

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    void init()
    {
        m_session = std::make_unique<Session>(smallTownClock());
        m_town = makeSmallTown(*m_session);
    }

    void cleanup()
    {
        m_session.reset();
        m_town.reset();
    }

    void theMapIsSavedWithItsWords()
    {
        QTemporaryDir folder;
        const auto office = shownMap();
        tick(*office, "typeChoice", QStringLiteral("gate"));
        QVERIFY(named<QPushButton>(*office, "savePng")->isVisible());
        const QString png = folder.filePath(QStringLiteral("map.png"));
        setNextFileForTest(png);
        press(*office, "savePng");
        const QImage image(png);
        QCOMPARE(image.size(), QSize(1600, 900));
        QVERIFY(coloursIn(image) > 20);
        QFile::remove(screenFile(QStringLiteral("office_map_saved.png")));
        QVERIFY(QFile::copy(png, screenFile(QStringLiteral("office_map_saved.png"))));

        const QString svg = folder.filePath(QStringLiteral("map.svg"));
        setNextFileForTest(svg);
        press(*office, "saveSvg");
        const QString said = svgText(svg);
        const QString words =
            named<QLabel>(*office, "mapWords")->text().section(QLatin1Char(':'), 0, 0);
        QVERIFY2(said.contains(QStringLiteral("Counted:gate")), qPrintable(said));
        QVERIFY2(said.contains(tests::withoutSpaces(words)), qPrintable(words));
        QVERIFY(said.contains(QStringLiteral("Valvesoutofcondition,byplace:")));

        const QString pdf = folder.filePath(QStringLiteral("map.pdf"));
        setNextFileForTest(pdf);
        press(*office, "savePdf");
        QVERIFY(fileBytes(pdf).startsWith("%PDF-"));
        const QString printed = tests::pdfText(pdf);
        QVERIFY2(printed.contains(QStringLiteral("Counted:gate")), qPrintable(printed));
        QVERIFY(printed.contains(tests::withoutSpaces(words)));
        QVERIFY(printed.contains(QStringLiteral("doesnotturn"))); // the key to the signs
        QCOMPARE(tests::pdfWordsOutside(pdf, 2), QStringList{});
    }

    /// What a hand has moved to is what is saved; nothing of it runs over the words or the key.
    void aMapMovedByHandIsSavedAsSeen()
    {
        QTemporaryDir folder;
        const auto office = shownMap();
        auto *map = named<PlaceOverTime>(*office, "placeOverTime")->map();
        map->setFocus();
        for (int times = 0; times < 6; ++times) {
            QTest::keyClick(map, Qt::Key_Plus);
        }
        const QString svg = folder.filePath(QStringLiteral("near.svg"));
        setNextFileForTest(svg);
        press(*office, "saveSvg");
        QSvgRenderer drawn(svg);
        QVERIFY(drawn.isValid());
        QImage image(QSize(1000, 620), QImage::Format_RGB32);
        image.fill(Qt::magenta);
        QPainter painter(&image);
        drawn.render(&painter);
        painter.end();
        QVERIFY(image.save(screenFile(QStringLiteral("office_map_near_svg.png"))));
        // The page is painted whole, and its edge is bare.
        for (int x = 0; x < image.width(); x += 7) {
            QCOMPARE(QColor(image.pixel(x, 3)), look::card);
            QCOMPARE(QColor(image.pixel(x, image.height() - 4)), look::card);
        }
    }

    void theMapsFiguresFollowTheSlider()
    {
        QTemporaryDir folder;
        const auto office = shownMap();
        const auto periods = periodsIn(wholeSpan(*m_session), PeriodLength::Month);
        const ConditionChanges figure =
            conditionChanges(m_session->valves(), m_session->histories(), wholeSpan(*m_session),
                             PeriodLength::Month);
        auto *slider = named<QSlider>(*office, "mapSlider");
        const QString csv = folder.filePath(QStringLiteral("map.csv"));
        for (const int period : {0, int(periods.size()) - 1}) {
            slider->setValue(period);
            setNextFileForTest(csv);
            press(*office, "saveCsv");
            const ReportTable expected =
                outInPeriodTable(figure, size_t(period), m_session->valves(),
                                 m_session->histories(), m_session->units());
            const QStringList lines = csvLines(csv);
            QVERIFY(lines[0].startsWith(QStringLiteral("Until,Valve,What,Where,Latitude")));
            QCOMPARE(lines.size(), qsizetype(expected.rows.size()) + 1);
        }
        QVERIFY(csvLines(csv).filter(m_town->doesNotTurn).size() == 1);
        // With a filter: its words beside every row.
        tick(*office, "typeChoice", QStringLiteral("gate"));
        setNextFileForTest(csv);
        press(*office, "saveCsv");
        const QStringList lines = csvLines(csv);
        QVERIFY(lines.size() > 1);
        QVERIFY(lines[0].endsWith(QStringLiteral(",Counted")));
        QVERIFY(lines[1].endsWith(QStringLiteral(",gate")));
    }

    void theMapIsCopiedAndReadAsATable()
    {
        const auto office = shownMap();
        press(*office, "copyPicture");
        const QMimeData *copied = QApplication::clipboard()->mimeData();
        QVERIFY(copied->hasImage());
        QVERIFY(copied->text().startsWith(QStringLiteral("Until\tValve")));
        QVERIFY(copied->text().contains(m_town->doesNotTurn));

        press(*office, "showTable");
        auto *table = named<DataTable>(*office, "mapTable");
        QVERIFY(table->isVisible());
        QVERIFY(!named<QWidget>(*office, "mapSlider")->visibleRegion().isEmpty());
        QTest::qWait(20);
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_map_table.png"))));
        const auto shown = table->shownText();
        qsizetype row = -1;
        for (qsizetype i = 1; i < shown.size(); ++i) {
            row = shown[i].value(1) == m_town->doesNotTurn ? i - 1 : row;
        }
        QVERIFY(row >= 0);
        table->view()->setFocus();
        table->view()->setCurrentIndex(table->view()->model()->index(int(row), 0));
        QTest::keyClick(table->view(), Qt::Key_Return);
        QVERIFY(named<QLabel>(*office, "historyTitle")->text().contains(m_town->doesNotTurn));
        // T brings the map back, and the button knows.
        QTest::keyClick(table->view(), Qt::Key_T);
        QVERIFY(!table->isVisible());
        QVERIFY(!named<QPushButton>(*office, "showTable")->isChecked());
        // The chart keeps its own.
        choosePicture(*office, int(ChangesView::Bars));
        QVERIFY(!answerChart(*office)->isTableShown());
    }

    void theMapOfBothSizesWithLongNamesAndWithNothing()
    {
        giveLongZone();
        QTemporaryDir folder;
        for (const QSize &size : {QSize(1366, 660), QSize(1920, 970)}) {
            const auto office = shownMap(size);
            QTest::qWait(20);
            QVERIFY(office->grab().save(
                screenFile(QStringLiteral("office_map_%1.png").arg(size.width()))));
            tick(*office, "zoneChoice", longZone);
            setNextFileForTest(
                screenFile(QStringLiteral("office_map_long_%1.saved.png").arg(size.width())));
            press(*office, "savePng");
            const QString svg = folder.filePath(QStringLiteral("long.svg"));
            setNextFileForTest(svg);
            press(*office, "saveSvg");
            QVERIFY(svgText(svg).contains(tests::withoutSpaces(longZone).left(40)));
            QTest::qWait(20);
            QVERIFY(office->grab().save(
                screenFile(QStringLiteral("office_map_long_%1.png").arg(size.width()))));
        }
        m_session->closeProject();
        const auto office = shownMap();
        for (const char *button : {"savePng", "saveCsv", "copyPicture", "showTable"}) {
            QVERIFY2(!named<QPushButton>(*office, button)->isEnabled(), button);
        }
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_map_empty.png"))));
    }

    void aLifeIsAPageOfPaper()
    {
        QTemporaryDir folder;
        const auto office = shownLife(m_town->doesNotTurn);
        const QString pdf = folder.filePath(QStringLiteral("life.pdf"));
        setNextFileForTest(pdf);
        press(*office, "lifePagePdf");
        QVERIFY(fileBytes(pdf).startsWith("%PDF-"));
        QCOMPARE(tests::pdfPages(pdf), 1);
        const QString printed = tests::pdfText(pdf);
        const Valve &valve = *m_session->valveByNumber(m_town->doesNotTurn);
        for (const QString &part :
             {QStringLiteral("Valve %1:").arg(valve.number), QStringLiteral("2026-03-16"),
              QStringLiteral("Condition now: does not turn"), QStringLiteral("Judged against")}) {
            QVERIFY2(printed.contains(tests::withoutSpaces(part)), qPrintable(printed));
        }
        for (const ReadVisit &read : m_session->history(valve.id).visits) {
            QVERIFY(printed.contains(read.visit.arrived.localDate().toString(Qt::ISODate)));
        }
        QCOMPARE(tests::pdfWordsOutside(pdf), QStringList{});
        QFile::remove(screenFile(QStringLiteral("valve_life.pdf")));
        QVERIFY(QFile::copy(pdf, screenFile(QStringLiteral("valve_life.pdf"))));

        const QString csv = folder.filePath(QStringLiteral("life.csv"));
        setNextFileForTest(csv);
        press(*office, "lifeVisitsCsv");
        const QStringList lines = csvLines(csv);
        QVERIFY(lines[0].startsWith(QStringLiteral("Valve,Life,Date,Crew")));
        QCOMPARE(lines.size(), qsizetype(m_session->history(valve.id).visits.size()) + 1);
        QVERIFY(lines[1].startsWith(valve.number + QStringLiteral(",1,")));

        press(*office, "lifeCopyAll");
        const QMimeData *copied = QApplication::clipboard()->mimeData();
        QVERIFY(copied->text().startsWith(QStringLiteral("Valve\tLife\tDate")));

        press(*office, "lifePreview");
        QCOMPARE(preview(*office)->pageCount(), 1);
        QVERIFY(
            preview(*office)->grab().save(screenFile(QStringLiteral("office_life_preview.png"))));
    }

    void aLifeWithLongWordsAndOneWithoutAVisit()
    {
        QTemporaryDir folder;
        for (const QString &number : {m_town->longWords, m_town->neverVisited}) {
            const bool visited = number == m_town->longWords;
            for (const QSize &size : {QSize(1366, 660), QSize(1920, 970)}) {
                const auto office = shownLife(number, size);
                QVERIFY(office->grab().save(
                    screenFile(QStringLiteral("office_life_%1_%2.png")
                                   .arg(visited ? QStringLiteral("long") : QStringLiteral("none"))
                                   .arg(size.width()))));
                QVERIFY(office->minimumSizeHint().width() <= 1366);
            }
            const auto office = shownLife(number);
            const QString pdf = screenFile(visited ? QStringLiteral("valve_life_long.pdf")
                                                   : QStringLiteral("valve_life_none.pdf"));
            setNextFileForTest(pdf);
            press(*office, "lifePagePdf");
            QCOMPARE(tests::pdfWordsOutside(pdf), QStringList{});
            QCOMPARE(tests::pdfText(pdf).contains(QStringLiteral("Novisitisonrecord")), !visited);
        }
    }

    void theBoardReportIsSeenBeforeItIsWritten()
    {
        QTemporaryDir folder;
        const auto office = shownOffice(*m_session);
        tick(*office, "typeChoice", QStringLiteral("gate"));
        press(*office, "boardReport");
        PaperPreview *seen = preview(*office);
        QVERIFY(seen->pageCount() >= 7);
        // In March the year before is offered first, and why is said.
        auto *year = named<QComboBox>(*seen, "previewPick");
        QCOMPARE(year->currentText(), QStringLiteral("2025"));
        QCOMPARE(year->itemText(0), QStringLiteral("2026 so far"));
        const QString words = named<QLabel>(*seen, "previewPickWords")->text();
        for (const QString &part :
             {QStringLiteral("2025-01-01 to 2025-12-31, the whole year"),
              QStringLiteral("end of March"), QStringLiteral("Counted: gate")}) {
            QVERIFY2(words.contains(part), qPrintable(words));
        }
        QVERIFY(seen->grab().save(screenFile(QStringLiteral("board_preview.png"))));
        const QString whole = folder.filePath(QStringLiteral("board.pdf"));
        setNextFileForTest(whole);
        press(*seen, "previewSave");
        QVERIFY(fileBytes(whole).startsWith("%PDF-"));
        QVERIFY(!fileBytes(whole).contains("/Subtype /Image"));
        QCOMPARE(tests::pdfPages(whole), seen->pageCount());
        const QString printed = tests::pdfText(whole);
        QVERIFY(printed.contains(QStringLiteral("2025-01-01to2025-12-31")));
        QVERIFY(printed.contains(QStringLiteral("Counted:gate")));
        QFile::remove(screenFile(QStringLiteral("board_report.pdf")));
        QVERIFY(QFile::copy(whole, screenFile(QStringLiteral("board_report.pdf"))));

        year->setCurrentIndex(0);
        Q_EMIT year->activated(0);
        const QString soFar = folder.filePath(QStringLiteral("so-far.pdf"));
        setNextFileForTest(soFar);
        press(*seen, "previewSave");
        QVERIFY(tests::pdfText(soFar).contains(QStringLiteral("2026-01-01to2026-03-16")));

        const int last = year->count() - 1;
        year->setCurrentIndex(last);
        Q_EMIT year->activated(last);
        QVERIFY(named<QLabel>(*seen, "previewPickWords")
                    ->text()
                    .contains(wholeSpan(*m_session).from.toString(Qt::ISODate)));
    }

    void theBoardReportSaysWhyItCannotBeMade()
    {
        giveLongZone();
        const auto office = shownOffice(*m_session);
        tick(*office, "zoneChoice", longZone);
        press(*office, "boardReport");
        QVERIFY(named<QLabel>(*preview(*office), "previewPickWords")->text().contains(longZone));
        QVERIFY(
            preview(*office)->grab().save(screenFile(QStringLiteral("board_preview_long.png"))));
        tick(*office, "typeChoice", QStringLiteral("butterfly")); // none of those in this zone
        press(*office, "boardReport");
        QVERIFY(!named<QPushButton>(*preview(*office), "previewSave")->isEnabled());
        QVERIFY(
            preview(*office)->grab().save(screenFile(QStringLiteral("board_preview_empty.png"))));
        m_session->closeProject();
        const auto closed = shownOffice(*m_session);
        QSignalSpy said(&m_session->notifier(), &Notifier::failed);
        press(*closed, "boardReport");
        QVERIFY(closed->findChildren<PaperPreview *>().isEmpty());
        QCOMPARE(said.size(), 1);
    }
};

QTEST_MAIN(TestOfficeFiles)
#include "test_office_files.moc"
