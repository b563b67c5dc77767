// SPDX-License-Identifier: GPL-3.0-or-later
// The condition chart under a hand and in files: clicks on bands, keys, zoom, copies, PNG and PDF,
// long words, nothing to count. The counts are invented.
#include "app/charts/condition_chart.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QClipboard>
#include <QFile>
#include <QImage>
#include <QMimeData>
#include <QRegularExpression>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

using namespace keyround;

namespace {

ConditionPicture picture(int months)
{
    ConditionPicture made;
    made.title = QStringLiteral("Condition of the valves at the end of each month");
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
        made.series.push_back(counts);
        first = first.addMonths(1);
    }
    return made;
}

bool lookAt(ConditionChart &chart, const QSize &size)
{
    chart.resize(size);
    chart.setVisible(true);
    const bool exposed = QTest::qWaitForWindowExposed(&chart);
    chart.grab();
    return exposed;
}

} // namespace

class TestConditionChart : public QObject
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
        ConditionChart chart;
        chart.show(picture(12));
        QVERIFY(lookAt(chart, {900, 420}));
        QSignalSpy clicked(&chart, &ConditionChart::periodClicked);
        auto *plot = chart.childAt(chart.placeOf(7, Condition::Serviceable));
        QVERIFY(plot != nullptr);
        for (const Condition band : {Condition::Serviceable, Condition::NeverVisited}) {
            const QPoint at = plot->mapFrom(&chart, chart.placeOf(7, band));
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
        ConditionChart chart;
        chart.show(picture(6));
        QVERIFY(lookAt(chart, {900, 520}));
        const QImage shown = chart.grab().toImage();
        const QPoint solid = chart.placeOf(5, Condition::Serviceable);
        QCOMPARE(shown.pixelColor(solid), colourOf(Condition::Serviceable));
        const auto holds = [&](Condition condition) {
            // A pattern may cover the very middle: the fill shows within a few pixels.
            const QPoint at = chart.placeOf(5, condition);
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
        ConditionChart chart;
        chart.show(picture(3));
        const QString words = chart.wordsFor(1);
        QVERIFY2(words.contains(QStringLiteral("2021-02")), qPrintable(words));
        QVERIFY2(words.contains(wordFor(Condition::Serviceable) + QStringLiteral(": 48 (4 %)")),
                 qPrintable(words));
        QVERIFY2(words.contains(wordFor(Condition::NeverVisited) + QStringLiteral(": 1120 (93 %)")),
                 qPrintable(words));
    }

    void keysChooseStretchAndShowAll()
    {
        ConditionChart chart;
        chart.show(picture(24));
        QVERIFY(lookAt(chart, {900, 420}));
        QSignalSpy clicked(&chart, &ConditionChart::periodClicked);
        connect(&chart, &ConditionChart::periodClicked, &chart, &ConditionChart::choose);
        QTest::keyClick(&chart, Qt::Key_Left);
        QCOMPARE(chart.chosen(), 23);
        QTest::keyClick(&chart, Qt::Key_Left);
        QCOMPARE(chart.chosen(), 22);
        QTest::keyClick(&chart, Qt::Key_Right);
        QTest::keyClick(&chart, Qt::Key_Right);
        QCOMPARE(chart.chosen(), 23);
        QCOMPARE(chart.seenPeriods(), 24);
        QTest::keyClick(&chart, Qt::Key_Plus);
        QVERIFY(chart.seenPeriods() < 24);
        for (int times = 0; times < 20; ++times) {
            QTest::keyClick(&chart, Qt::Key_Plus);
        }
        QVERIFY(chart.seenPeriods() >= 1);
        QTest::keyClick(&chart, Qt::Key_Home);
        QCOMPARE(chart.seenPeriods(), 24);
        QTest::keyClick(&chart, Qt::Key_Minus); // farther than all is all
        QCOMPARE(chart.seenPeriods(), 24);
    }

    void copyGivesPictureAndCounts()
    {
        ConditionChart chart;
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
        ConditionChart chart;
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
        QFile::remove(screenFile(QStringLiteral("chart_file.pdf")));
        QVERIFY(QFile::copy(pdf, screenFile(QStringLiteral("chart_file.pdf"))));

        QVERIFY(!chart.savePng(folder.filePath(QStringLiteral("no/such/chart.png"))).has_value());
        QVERIFY(!chart.savePng(png, {0, 100}).has_value());
    }

    void picturesToLookAt()
    {
        ConditionChart chart;
        ConditionPicture shown = picture(62);
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
        chart.show({QStringLiteral("Nothing"), {}, {}});
        QVERIFY(lookAt(chart, {900, 400}));
        QVERIFY(chart.grab().save(screenFile(QStringLiteral("chart_empty.png"))));
    }
};

QTEST_MAIN(TestConditionChart)
#include "test_condition_chart.moc"
