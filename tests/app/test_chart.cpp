// SPDX-License-Identifier: GPL-3.0-or-later
// The chart under a hand and in files, by the example of condition bands: clicks, keys, zoom,
// copies, the table, PNG, PDF, SVG and CSV, long words, nothing to count. The counts are invented.
#include "app/charts/chart.h"
#include "app/charts/chart_elements.h"
#include "app/charts/condition_picture.h"
#include "app/shell/style.h"
#include "core/exchange/write_files.h"
#include "core/reports/condition_tables.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QClipboard>
#include <QFile>
#include <QImage>
#include <QMimeData>
#include <QPainter>
#include <QRegularExpression>
#include <QSignalSpy>
#include <QSvgRenderer>
#include <QTableView>
#include <QTemporaryDir>
#include <QTest>
#include <QXmlStreamReader>

#include <rapidcheck.h>

using namespace keyround;

namespace {

std::vector<PeriodCounts> countsOf(int months)
{
    std::vector<PeriodCounts> made;
    QDate first(2021, 1, 1);
    for (int month = 0; month < months; ++month) {
        PeriodCounts counts;
        counts.period = first.toString(QStringLiteral("yyyy-MM"));
        counts.end = first.addMonths(1).addDays(-1);
        const int visited = std::min(1100, 40 * (month + 1));
        counts.counts[size_t(Condition::NeverVisited)] = 1200 - visited;
        counts.counts[size_t(Condition::Serviceable)] = visited * 6 / 10;
        counts.counts[size_t(Condition::Defect)] = visited * 2 / 10;
        counts.counts[size_t(Condition::DoesNotShut)] = visited / 10;
        counts.counts[size_t(Condition::DoesNotTurn)] = visited / 20;
        counts.counts[size_t(Condition::CannotReach)] =
            visited - visited * 6 / 10 - visited * 2 / 10 - visited / 10 - visited / 20;
        made.push_back(counts);
        first = first.addMonths(1);
    }
    return made;
}

ChartPicture picture(int months)
{
    ChartPicture made = conditionPicture(countsOf(months));
    made.title = QStringLiteral("Condition of the valves at the end of each month");
    return made;
}

/// The middle of a band in the chart of picture(period + 1 or more).
QPoint bandPlace(const Chart &chart, int period, Condition band)
{
    const PeriodCounts counts = countsOf(period + 1).back();
    double below = 0;
    for (const Condition condition : conditionBands()) {
        if (condition == band) {
            break;
        }
        below += counts.of(condition);
    }
    return chart.placeOf(period, below + counts.of(band) / 2.0);
}

bool lookAt(Chart &chart, const QSize &size)
{
    chart.resize(size);
    chart.setVisible(true);
    const bool exposed = QTest::qWaitForWindowExposed(&chart);
    chart.grab();
    return exposed;
}

} // namespace

class TestChart : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    void aClickOnABandNamesItsPeriod()
    {
        Chart chart;
        chart.show(picture(12));
        QVERIFY(lookAt(chart, {900, 420}));
        QSignalSpy clicked(&chart, &Chart::itemClicked);
        auto *plot = chart.childAt(bandPlace(chart, 7, Condition::Serviceable));
        QVERIFY(plot != nullptr);
        for (const Condition band : {Condition::Serviceable, Condition::NeverVisited}) {
            const QPoint at = plot->mapFrom(&chart, bandPlace(chart, 7, band));
            QTest::mouseClick(plot, Qt::LeftButton, {}, at);
        }
        QCOMPARE(clicked.size(), 2);
        QCOMPARE(clicked[0][0].toInt(), 7);
        QCOMPARE(clicked[1][0].toInt(), 7);
        // The key and the title are no periods.
        QTest::mouseClick(plot, Qt::LeftButton, {}, QPoint(plot->width() - 20, 80));
        QTest::mouseClick(plot, Qt::LeftButton, {}, QPoint(40, 8));
        QCOMPARE(clicked.size(), 2);
    }

    /// A band's colour is where its counts say, which is what stacking means.
    void bandsStandInTheirColours()
    {
        Chart chart;
        chart.show(picture(6));
        QVERIFY(lookAt(chart, {900, 520}));
        const QImage shown = chart.grab().toImage();
        const QPoint solid = bandPlace(chart, 5, Condition::Serviceable);
        QCOMPARE(shown.pixelColor(solid), colourOf(Condition::Serviceable));
        const auto holds = [&](Condition condition) {
            // A pattern may cover the very middle: the fill shows within a few pixels.
            const QPoint at = bandPlace(chart, 5, condition);
            for (int dx = -5; dx <= 5; ++dx) {
                if (shown.pixelColor(at + QPoint(dx, 0)) == colourOf(condition)) {
                    return true;
                }
            }
            return false;
        };
        QVERIFY(holds(Condition::NeverVisited));
        QVERIFY(holds(Condition::DoesNotShut));
    }

    void hoverWordsCarryCountsAndShares()
    {
        Chart chart;
        chart.show(picture(3));
        const QString words = chart.picture().items[1].words;
        QVERIFY2(words.contains(QStringLiteral("2021-02")), qPrintable(words));
        QVERIFY2(words.contains(wordFor(Condition::Serviceable) + QStringLiteral(": 48 (4 %)")),
                 qPrintable(words));
        QVERIFY2(words.contains(wordFor(Condition::NeverVisited) + QStringLiteral(": 1120 (93 %)")),
                 qPrintable(words));
    }

    void keysChooseStretchAndShowAll()
    {
        Chart chart;
        chart.show(picture(24));
        QVERIFY(lookAt(chart, {900, 420}));
        QSignalSpy clicked(&chart, &Chart::itemClicked);
        connect(&chart, &Chart::itemClicked, &chart, &Chart::choose);
        QTest::keyClick(&chart, Qt::Key_Left);
        QCOMPARE(chart.chosen(), 23);
        QTest::keyClick(&chart, Qt::Key_Left);
        QCOMPARE(chart.chosen(), 22);
        QTest::keyClick(&chart, Qt::Key_Right);
        QTest::keyClick(&chart, Qt::Key_Right);
        QCOMPARE(chart.chosen(), 23);
        QCOMPARE(chart.seenItems(), 24);
        QTest::keyClick(&chart, Qt::Key_Plus);
        QVERIFY(chart.seenItems() < 24);
        for (int times = 0; times < 20; ++times) {
            QTest::keyClick(&chart, Qt::Key_Plus);
        }
        QVERIFY(chart.seenItems() >= 1);
        QTest::keyClick(&chart, Qt::Key_Home);
        QCOMPARE(chart.seenItems(), 24);
        QTest::keyClick(&chart, Qt::Key_Minus); // farther than all is all
        QCOMPARE(chart.seenItems(), 24);
    }

    void copyGivesPictureAndCounts()
    {
        Chart chart;
        chart.show(picture(2));
        QVERIFY(lookAt(chart, {900, 420}));
        QTest::keyClick(&chart, Qt::Key_C, Qt::ControlModifier);
        const QMimeData *copied = QApplication::clipboard()->mimeData();
        QVERIFY(copied->hasImage());
        const QStringList lines = copied->text().split(QLatin1Char('\n'));
        QCOMPARE(lines.size(), 3);
        QCOMPARE(lines[0], QStringLiteral("period\tserviceable\tdefect\tdoes_not_shut\tdoes_not_"
                                          "turn\tcannot_reach\tnever_visited"));
        QCOMPARE(lines[1], QStringLiteral("2021-01\t24\t8\t4\t2\t2\t1160"));
    }

    void filesHaveTheirSizeAndVectors()
    {
        QTemporaryDir folder;
        Chart chart;
        chart.show(picture(60));
        const QString png = folder.filePath(QStringLiteral("chart.png"));
        QVERIFY(chart.savePng(png, {1600, 900}).has_value());
        QCOMPARE(QImage(png).size(), QSize(1600, 900));
        QFile::remove(screenFile(QStringLiteral("chart_file.png")));
        QVERIFY(QFile::copy(png, screenFile(QStringLiteral("chart_file.png"))));

        const QString pdf = folder.filePath(QStringLiteral("chart.pdf"));
        QVERIFY(chart.savePdf(pdf).has_value());
        QFile file(pdf);
        QVERIFY(file.open(QIODevice::ReadOnly));
        const QByteArray bytes = file.readAll();
        QVERIFY(bytes.startsWith("%PDF-"));
        QVERIFY(!bytes.contains("/Subtype /Image")); // lines and letters, not a picture of them
        // 1000 x 620 pixels of 1/96 in are 750 x 465 points.
        const QRegularExpression box(QStringLiteral("/MediaBox \\[([0-9. ]+)\\]"));
        const QStringList sides =
            box.match(QString::fromLatin1(bytes)).captured(1).split(QLatin1Char(' '));
        QCOMPARE(sides.size(), 4);
        QCOMPARE(qRound(sides[2].toDouble()), 750);
        QCOMPARE(qRound(sides[3].toDouble()), 465);
        // Words as large as they were laid out for: all of them on the page, and whole.
        const QString words = tests::pdfText(pdf);
        for (const QString &part :
             {QStringLiteral("Conditionofthevalvesattheendofeachmonth"), QStringLiteral("2021-01"),
              QStringLiteral("serviceablewithadefect")}) {
            QVERIFY2(words.contains(part), qPrintable(words));
        }
        QCOMPARE(tests::pdfWordsOutside(pdf, 2), QStringList{});
        QFile::remove(screenFile(QStringLiteral("chart_file.pdf")));
        QVERIFY(QFile::copy(pdf, screenFile(QStringLiteral("chart_file.pdf"))));

        const QString csv = folder.filePath(QStringLiteral("chart.csv"));
        QVERIFY(chart.saveCsv(csv).has_value());
        QFile csvFile(csv);
        QVERIFY(csvFile.open(QIODevice::ReadOnly));
        const ReportTable table = conditionTable(countsOf(60));
        QCOMPARE(csvFile.readAll(),
                 csvBytes({table.columns, {table.rows.begin(), table.rows.end()}}));

        QVERIFY(!chart.savePng(folder.filePath(QStringLiteral("no/such/chart.png"))).has_value());
        QVERIFY(!chart.savePng(png, {0, 100}).has_value());
    }

    /// Well-formed, its words as text, its bands as shapes and no picture inside; also when only a
    /// part is seen, nothing is drawn outside of the axes.
    void svgIsTextAndShapes()
    {
        QTemporaryDir folder;
        Chart chart;
        ChartPicture shown = picture(24);
        shown.filterWords = QStringLiteral("Counted: zone <High> & Low");
        chart.show(shown);
        QVERIFY(lookAt(chart, {900, 420}));
        QTest::keyClick(&chart, Qt::Key_Plus);
        const QString path = folder.filePath(QStringLiteral("chart.svg"));
        QVERIFY(chart.saveSvg(path).has_value());
        QFile file(path);
        QVERIFY(file.open(QIODevice::ReadOnly));
        QXmlStreamReader reader(&file);
        QStringList texts;
        int shapes = 0;
        int pictures = 0;
        while (!reader.atEnd()) {
            if (reader.readNext() != QXmlStreamReader::StartElement) {
                continue;
            }
            const auto name = reader.name();
            if (name == QLatin1String("text")) {
                texts << reader.readElementText().trimmed();
            } else if (name == QLatin1String("image")) {
                ++pictures;
            } else if (name == QLatin1String("rect") || name == QLatin1String("path") ||
                       name == QLatin1String("polyline")) {
                ++shapes;
            }
        }
        QVERIFY2(!reader.hasError(), qPrintable(reader.errorString()));
        QVERIFY(texts.contains(shown.title));
        QVERIFY(texts.contains(shown.filterWords));
        QVERIFY(texts.contains(wordFor(Condition::DoesNotTurn)));
        QVERIFY(shapes > 60);
        QCOMPARE(pictures, 0);
        QFile::remove(screenFile(QStringLiteral("chart_file.svg")));
        QVERIFY(QFile::copy(path, screenFile(QStringLiteral("chart_file.svg"))));
        QSvgRenderer renderer(path);
        QVERIFY(renderer.isValid());
        QImage drawn(1000, 620, QImage::Format_RGB32);
        drawn.fill(Qt::white);
        QPainter painter(&drawn);
        renderer.render(&painter);
        QVERIFY(drawn.save(screenFile(QStringLiteral("chart_file_svg.png"))));
    }

    void theTableHoldsTheFiguresAndChooses()
    {
        Chart chart;
        chart.show(picture(12));
        QVERIFY(lookAt(chart, {900, 420}));
        QSignalSpy clicked(&chart, &Chart::itemClicked);
        QVERIFY(!chart.isTableShown());
        QTest::keyClick(&chart, Qt::Key_T);
        QVERIFY(chart.isTableShown());
        QTableView *table = chart.table();
        QVERIFY(table->isVisible());
        QCOMPARE(table->accessibleName(), chart.picture().title);
        const ReportTable expected = conditionTable(countsOf(12));
        QCOMPARE(table->model()->rowCount(), int(expected.rows.size()));
        for (int row = 0; row < 12; ++row) {
            for (int column = 0; column < expected.columns.size(); ++column) {
                QCOMPARE(table->model()->index(row, column).data().toString(),
                         expected.rows[size_t(row)][column]);
            }
        }
        table->setCurrentIndex(table->model()->index(4, 0));
        QTest::keyClick(table, Qt::Key_Return);
        QCOMPARE(clicked.size(), 1);
        QCOMPARE(clicked[0][0].toInt(), 4);
        QVERIFY(chart.grab().save(screenFile(QStringLiteral("chart_table.png"))));
        QTest::keyClick(table, Qt::Key_T); // from within the table, back to the picture
        QVERIFY(!chart.isTableShown());
    }

    /// What one axis cuts, and what a pattern draws, stays within the box: by rectangles at random.
    void linesAreCutAtTheBox()
    {
        QVERIFY(rc::check([] {
            const auto number = [] { return *rc::gen::inRange(-200, 200) / 2.0; };
            const QRectF box(QPointF(number(), number()),
                             QSizeF(*rc::gen::inRange(1, 120), *rc::gen::inRange(1, 120)));
            const QRectF grown = box.adjusted(-1e-6, -1e-6, 1e-6, 1e-6);
            const auto within = [&](const QLineF &line) {
                return grown.contains(line.p1()) && grown.contains(line.p2());
            };
            const QLineF line(number(), number(), number(), number());
            const auto cut = clippedLine(line, box);
            // The other way of asking: some of many points on the line lie within the box.
            bool anyInside = false;
            for (int step = 0; step <= 400; ++step) {
                anyInside = anyInside || box.contains(line.pointAt(step / 400.0));
            }
            RC_ASSERT(!cut || within(*cut));
            RC_ASSERT(!anyInside || cut.has_value());
            for (const Pattern pattern : {Pattern::Level, Pattern::Upright, Pattern::Rising,
                                          Pattern::Falling, Pattern::Crossed}) {
                for (const QLineF &drawn : patternLines(box, pattern)) {
                    RC_ASSERT(within(drawn));
                }
            }
        }));
    }

    /// Ticks at dates read differently and keep apart, for any span on any width.
    void datesNeverRunIntoEachOther()
    {
        QVERIFY(rc::check([] {
            const double days = *rc::gen::inRange(1, 9000) / 3.0;
            const double pixels = *rc::gen::inRange(100, 1800);
            const double from = dateKey(QDate(2019, 1, 1)) + *rc::gen::inRange(0, 700) * 86400.0;
            const QCPRange range(from, from + days * 86400);
            const QFontMetricsF metrics(QApplication::font());
            DatesTicker ticker;
            ticker.fit(range, pixels, metrics);
            QVector<double> ticks;
            QVector<QString> labels;
            ticker.generate(range, QLocale::c(), QLatin1Char('f'), 4, ticks, nullptr, &labels);
            for (qsizetype i = 1; i < ticks.size(); ++i) {
                // Of ticks out of sight the generator may give one at each end.
                const double apart = (ticks[i] - ticks[i - 1]) / range.size() * pixels;
                RC_ASSERT(apart > metrics.horizontalAdvance(labels[i]) + 4);
                RC_ASSERT(labels[i] != labels[i - 1]);
            }
        }));
        DatesTicker year; // a year on a wide chart is not left bare
        const QCPRange range(dateKey(QDate(2025, 1, 1)), dateKey(QDate(2026, 1, 1)));
        year.fit(range, 900, QFontMetricsF(QApplication::font()));
        QVector<double> ticks;
        year.generate(range, QLocale::c(), QLatin1Char('f'), 4, ticks, nullptr, nullptr);
        QVERIFY(ticks.size() >= 4);
    }

    void theUprightTitleKeepsToItsAxis()
    {
        Chart chart;
        ChartPicture shown = picture(24);
        shown.y.label = QStringLiteral("Valves out of condition that nobody knows of, of all");
        chart.show(shown);
        auto *plot = chart.findChild<QCustomPlot *>();
        const QFontMetrics metrics(plot->yAxis->labelFont());
        QStringList seen;
        for (const int height : {620, 400, 340, 280, 230, 160}) {
            QVERIFY(lookAt(chart, {900, height}));
            const QString label = plot->yAxis->label();
            for (const QString &line : label.split(QLatin1Char('\n'))) {
                QVERIFY2(metrics.horizontalAdvance(line) <= plot->axisRect()->height(),
                         qPrintable(QStringLiteral("%1: %2").arg(height).arg(line)));
            }
            seen << label;
        }
        QCOMPARE(seen.first(), shown.y.label);
        QVERIFY(seen.contains(QStringLiteral(" "))); // too low for any of it
        QVERIFY(std::ranges::any_of(
            seen, [](const QString &label) { return label.contains(QLatin1Char('\n')); }));
        QVERIFY(lookAt(chart, {900, 620}));
        QCOMPARE(plot->yAxis->label(), shown.y.label); // it comes back
    }

    /// The key has room for long names, in files too; what is cut is whole in wholeAt().
    void longNamesInTheKey()
    {
        QTemporaryDir folder;
        Chart chart;
        ChartPicture shown = picture(6);
        const QString name = QStringLiteral("valves installed 1950 to 1959, from 22 years");
        shown.series.front().name = name;
        shown.note =
            QStringLiteral("How to read it, in more words than one line of this chart has "
                           "room for, so that they go on below it and none of them is "
                           "lost to whoever reads the picture alone, far from the Office.");
        chart.show(shown);
        const QString path = folder.filePath(QStringLiteral("chart.svg"));
        QVERIFY(chart.saveSvg(path).has_value());
        QFile file(path);
        QVERIFY(file.open(QIODevice::ReadOnly));
        QXmlStreamReader reader(&file);
        QStringList texts;
        while (!reader.atEnd()) {
            if (reader.readNext() == QXmlStreamReader::StartElement &&
                reader.name() == QLatin1String("text")) {
                texts << reader.readElementText().trimmed();
            }
        }
        QVERIFY(texts.contains(name));
        QVERIFY(texts.join(QLatin1Char(' ')).contains(shown.note));
        QVERIFY(!texts.contains(shown.note));
        // Beside little room the data keep more than half of the width.
        QVERIFY(lookAt(chart, {500, 320}));
        auto *plot = chart.findChild<QCustomPlot *>();
        QVERIFY(plot->axisRect()->right() > 500 * 0.55);
        auto *key = dynamic_cast<KeyElement *>(plot->plotLayout()->element(1, 1));
        QVERIFY(key != nullptr);
        // As picture() keeps its order, the first series stands last.
        QCOMPARE(key->wholeAt(QPointF(key->rect().left() + 60, key->rect().top() + 6 + 5 * 22)),
                 shown.keyFromTop ? name : shown.series.back().name);
        QVERIFY(chart.grab().save(screenFile(QStringLiteral("chart_long_names.png"))));
    }

    void picturesToLookAt()
    {
        Chart chart;
        ChartPicture shown = picture(62);
        shown.filterWords = QStringLiteral(
            "zone Upper Reservoir and Northern Hills Pressure District (invented) or Lower Town; "
            "6 in, 8 in or 12 in; gate, geared gate or butterfly; and more words than fit on it");
        chart.show(shown);
        QVERIFY(lookAt(chart, {1060, 400}));
        chart.choose(30);
        QVERIFY(chart.grab().save(screenFile(QStringLiteral("chart_1366.png"))));
        const QImage grey = chart.grab().toImage().convertToFormat(QImage::Format_Grayscale8);
        QVERIFY(grey.save(screenFile(QStringLiteral("chart_grey.png"))));
        QVERIFY(lookAt(chart, {1600, 600}));
        QVERIFY(chart.grab().save(screenFile(QStringLiteral("chart_1920.png"))));
        QVERIFY(lookAt(chart, {420, 220}));
        QVERIFY(chart.grab().save(screenFile(QStringLiteral("chart_smallest.png"))));
        ChartPicture nothing = picture(0);
        nothing.emptyWords = QStringLiteral("No visit is on record. Record rounds in the Truck.");
        chart.show(nothing);
        QVERIFY(lookAt(chart, {900, 400}));
        QVERIFY(chart.grab().save(screenFile(QStringLiteral("chart_empty.png"))));
    }
};

QTEST_MAIN(TestChart)
#include "test_chart.moc"
