// SPDX-License-Identifier: GPL-3.0-or-later
// Names under a chart's columns: each is there, none overlaps another. The names are invented.
#include "app/charts/axis_names.h"
#include "app/charts/chart.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QTemporaryDir>
#include <QTest>

#include <rapidcheck.h>

#include <cmath>

using namespace keyround;

namespace {

QFontMetricsF smallFont()
{
    QFont font;
    font.setPointSizeF(9.0);
    return QFontMetricsF(font);
}

double widthOf(const QString &label)
{
    double width = 0;
    for (const QString &line : label.split(QLatin1Char('\n'))) {
        width = std::max(width, smallFont().horizontalAdvance(line));
    }
    return width;
}

QString zoneName(int i)
{
    const QStringList names{
        QStringLiteral("Upper Reservoir and Northern Hills Pressure District"),
        QStringLiteral("Low"), QStringLiteral("Elmbrook Waterworks, third stage"),
        QStringLiteral("Interurbanwaterdistributionarea"), QStringLiteral("High")};
    return QStringLiteral("%1 %2").arg(names[i % names.size()]).arg(i + 1);
}

ChartPicture zones(int count)
{
    ChartPicture picture;
    picture.title = QStringLiteral("Valves by zone (invented)");
    picture.fileStem = QStringLiteral("zones");
    ChartSeries bars;
    bars.name = QStringLiteral("valves");
    bars.colour = okabe::blue;
    for (int i = 0; i < count; ++i) {
        addBox(bars, i - columnWidth / 2, i + columnWidth / 2, 0, 3 + i % 5);
        picture.x.names << zoneName(i);
        picture.items.push_back(columnItem(i, zoneName(i)));
    }
    picture.series.push_back(bars);
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.label = QStringLiteral("Zone");
    fitColumns(picture.x, count);
    picture.y = {QStringLiteral("Valves"), ChartAxis::Scale::Whole, {}, 0, 8};
    return picture;
}

} // namespace

class TestAxisNames : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    static void whatHasRoomStaysWhole()
    {
        const QStringList names{QStringLiteral("Low"), QStringLiteral("High")};
        const AxisNames made = namesUnder(names, 100, 120, false, smallFont());
        QCOMPARE(made.labels, names);
        QCOMPARE(made.turned, 0.0);
    }

    static void longNamesAreStacked()
    {
        const QStringList names{zoneName(0), zoneName(1)};
        const AxisNames made = namesUnder(names, 100, 120, false, smallFont());
        QVERIFY(made.labels[0].contains(QLatin1Char('\n')));
        QVERIFY(made.labels[0].startsWith(QStringLiteral("Upper")));
        QVERIFY2(made.labels[0].endsWith(QChar(0x2026)), qPrintable(made.labels[0]));
        QCOMPARE(made.labels[1], zoneName(1));
    }

    static void monthsMayBeLeftOut()
    {
        QStringList months;
        for (int i = 0; i < 60; ++i) {
            months << QDate(2021, 1, 1).addMonths(i).toString(QStringLiteral("yyyy-MM"));
        }
        const AxisNames made = namesUnder(months, 16, 120, true, smallFont());
        QCOMPARE(made.turned, 0.0);
        QCOMPARE(made.labels[0], months[0]);
        QVERIFY(made.labels[1].isEmpty());
        QVERIFY(made.labels.count(QString()) > 40);
    }

    /// However many and however narrow: no label reaches into its neighbour, and where a line of
    /// text has room each column is named.
    static void noneOverlaps()
    {
        QVERIFY(rc::check([] {
            const double column = *rc::gen::inRange(4, 400);
            QStringList names;
            for (int i = *rc::gen::inRange(1, 30); i > 0; --i) {
                names << zoneName(*rc::gen::inRange(0, 50));
            }
            const AxisNames made = namesUnder(names, column, 120, false, smallFont());
            RC_ASSERT(made.labels.size() == names.size());
            const double height = smallFont().height();
            if (column >= height + 1) {
                RC_ASSERT(made.labels.count(QString()) == 0);
            }
            if (made.turned == 0.0) {
                for (const QString &label : made.labels) {
                    RC_ASSERT(widthOf(label) <= column - 4);
                }
                return;
            }
            double before = -1;
            for (qsizetype i = 0; i < made.labels.size(); ++i) {
                if (made.labels[i].isEmpty()) {
                    continue;
                }
                RC_ASSERT(widthOf(made.labels[i]) <= 130.5);
                if (before >= 0) {
                    const double apart = (static_cast<double>(i) - before) * column *
                                         std::sin(std::abs(made.turned) * M_PI / 180);
                    RC_ASSERT(apart >= height - 0.01);
                }
                before = static_cast<double>(i);
            }
        }));
    }

    /// Pictures to look at; on paper every column is named by the beginning of its name.
    static void picturesToLookAt()
    {
        QTemporaryDir folder;
        for (const int count : {4, 9, 26}) {
            Chart chart;
            chart.show(zones(count));
            for (const QSize &size : {QSize(1010, 330), QSize(1560, 480)}) {
                chart.resize(size);
                static_cast<QWidget &>(chart).show();
                QVERIFY(QTest::qWaitForWindowExposed(&chart));
                QVERIFY(chart.grab().save(
                    screenFile(QStringLiteral("names_%1_%2.png").arg(count).arg(size.width()))));
            }
            if (count <= 9) {
                const QString pdf = folder.filePath(QStringLiteral("names.pdf"));
                QVERIFY(chart.savePdf(pdf).has_value());
                const QString words = tests::pdfText(pdf);
                QCOMPARE(words.count(QStringLiteral("Upper")), (count + 4) / 5);
                QVERIFY2(words.contains(QStringLiteral("Low2")), qPrintable(words));
            }
        }
    }
};

QTEST_MAIN(TestAxisNames)
#include "test_axis_names.moc"
