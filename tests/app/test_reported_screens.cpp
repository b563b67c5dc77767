// SPDX-License-Identifier: GPL-3.0-or-later
// The office decides on what the field reported; the line, the page and the map that say where the
// laptop is. With pictures of both sizes.
#include "app/commands/field_report_commands.h"
#include "app/dialogs/field_reports_panel.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"
#include "app/position/position_feed.h"
#include "app/position/position_line.h"
#include "app/position/position_panel.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QComboBox>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QTableView>
#include <QTest>

using namespace keyround;

namespace {

constexpr double degreesPerMetre = 1 / 111'040.0;

struct Bench
{
    Session session{smallTownClock()};
    std::unique_ptr<SmallTown> town = makeSmallTown(session);

    [[nodiscard]] PositionFix fixNear(const GeoPoint &place, double metres) const
    {
        PositionFix fix;
        fix.place = {place.latitude + metres * degreesPerMetre, place.longitude};
        fix.quality = FixQuality::Satellite;
        fix.satellites = 9;
        fix.accuracy = Metres{4.5};
        fix.heading = 120;
        fix.at = session.now();
        return fix;
    }
    void report()
    {
        const Valve first = *session.valveByNumber(QStringLiteral("V-007"));
        const Valve lost = *session.valveByNumber(town->withoutPlace);
        const Valve longOne = *session.valveByNumber(town->longWords);
        QVERIFY(proposePlace(session, first.id, fixNear(first.place, 14),
                             QStringLiteral("lid found by the ties")));
        QVERIFY(proposePlace(session, lost.id, fixNear(first.place, 60)));
        QVERIFY(proposePlace(session, longOne.id, fixNear(longOne.place, 31),
                             QStringLiteral("under the third bench and not behind it, as the long "
                                            "description in the inventory would have it")));
        ValveCandidate found;
        found.place = fixNear(first.place, -22).place;
        found.evidence = evidenceOf(fixNear(first.place, -22));
        found.size = NominalSize::ofInches(6);
        found.words = QStringLiteral("round lid, no number, before the invented laundry");
        const auto id = reportCandidate(session, found);
        QVERIFY(id);
        QVERIFY(noteOnCandidate(session, *id, QStringLiteral("2 in nut, 4 ft down")));
    }
    void selectWhere(FieldReportsPanel &panel, const QString &words) const
    {
        auto *table = panel.findChild<DataTable *>();
        auto *model = panel.findChild<FieldReportModel *>();
        for (int row = 0; row < model->rowCount(); ++row) {
            if (model->index(row, FieldReportModel::What)
                    .data(Qt::DisplayRole)
                    .toString()
                    .contains(words)) {
                table->selectRow(row);
                return;
            }
        }
        QFAIL(qPrintable(words));
    }
};

template <typename T> T *child(const QWidget &of, const char *name)
{
    return of.findChild<T *>(QLatin1String(name));
}

} // namespace

class TestReportedScreens : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        applyLook(*qApp);
        keepSettingsApart();
    }
    void theOfficeDecides();
    void nothingReportedSaysWhatToDo();
    void theLineSaysWhatIsKnown();
    void thePageRefusesWhatCannotBe();
    void pictures_data();
    void pictures();
};

void TestReportedScreens::theOfficeDecides()
{
    Bench bench;
    bench.report();
    FieldReportsPanel panel(bench.session);
    panel.resize(1280, 680);
    panel.show();
    bench.selectWhere(panel, QStringLiteral("V-007"));
    auto *words = child<QLabel>(panel, "reportWords");
    QVERIFY2(words->text().contains(QStringLiteral("46 ft to the north")),
             qPrintable(words->text()));
    const GeoPoint before = bench.session.valveByNumber(QStringLiteral("V-007"))->place;

    auto *refuse = child<QPushButton>(panel, "refuseReport");
    QTest::mouseClick(refuse, Qt::LeftButton);
    QVERIFY(child<QLabel>(panel, "reportRefusal")->text().contains(QStringLiteral("Say why")));
    QTest::mouseClick(child<QPushButton>(panel, "acceptReport"), Qt::LeftButton);
    QVERIFY(bench.session.valveByNumber(QStringLiteral("V-007"))->place != before);
    bench.session.undoStack().undo();
    QCOMPARE(bench.session.valveByNumber(QStringLiteral("V-007"))->place, before);

    bench.selectWhere(panel, QStringLiteral("not in the inventory"));
    QVERIFY(words->text().contains(QStringLiteral("nearest listed valve is V-007")));
    auto *accept = child<QPushButton>(panel, "acceptReport");
    QCOMPARE(accept->text(), QStringLiteral("Take it into the inventory"));
    QTest::mouseClick(accept, Qt::LeftButton); // without a number
    QVERIFY(child<QLabel>(panel, "reportRefusal")->text().contains(QStringLiteral("number")));
    QTest::keyClicks(child<QLineEdit>(panel, "reportNumber"), QStringLiteral("V-777"));
    QTest::mouseClick(accept, Qt::LeftButton);
    const Valve *made = bench.session.valveByNumber(QStringLiteral("V-777"));
    QVERIFY(made != nullptr);
    QVERIFY(made->remarks.contains(QStringLiteral("laundry")));
    QCOMPARE(bench.session.fieldReports().openCount(), std::size_t(3));
}

void TestReportedScreens::nothingReportedSaysWhatToDo()
{
    Bench bench;
    FieldReportsPanel panel(bench.session);
    panel.resize(1280, 680);
    panel.show();
    QVERIFY(!child<QPushButton>(panel, "acceptReport")->isEnabled());
    QVERIFY(panel.grab().save(screenFile(QStringLiteral("reported-empty.png"))));
}

void TestReportedScreens::theLineSaysWhatIsKnown()
{
    Bench bench;
    std::int64_t steady = 0;
    bench.session.positions().setSteadyClock([&steady] { return steady; });
    PositionLine line(bench.session);
    line.resize(700, line.sizeHint().height());
    QVERIFY(line.accessibleName().startsWith(QStringLiteral("No receiver")));
    bench.session.positions().give(bench.fixNear(smallTownCorner(2, 2), 0));
    QVERIFY2(line.accessibleName().contains(
                 QStringLiteral("satellite fix, 9 satellites, about 15 ft, 0 s old")),
             qPrintable(line.accessibleName()));
    steady = 9000;
    Q_EMIT bench.session.positions().changed(); // the watch's tick
    QVERIFY2(line.accessibleName().contains(QStringLiteral("OLD")),
             qPrintable(line.accessibleName()));
    steady = 90'000;
    Q_EMIT bench.session.positions().changed();
    QVERIFY(line.accessibleName().contains(QStringLiteral("LOST")));
}

void TestReportedScreens::thePageRefusesWhatCannotBe()
{
    Bench bench;
    PositionPanel panel(bench.session);
    panel.show();
    auto *use = child<QPushButton>(panel, "usePosition");
    auto *source = child<QComboBox>(panel, "positionSource");
    auto *refusal = child<QLabel>(panel, "positionRefusal");
    source->setCurrentIndex(int(PositionSource::Receiver));
    child<QComboBox>(panel, "positionPort")->setEditText({});
    QTest::mouseClick(use, Qt::LeftButton);
    QVERIFY(refusal->isVisible() && refusal->text().contains(QStringLiteral("port")));
    child<QComboBox>(panel, "positionPort")->setEditText(QStringLiteral("no-such-port"));
    child<QComboBox>(panel, "positionBaud")->setEditText(QStringLiteral("fast"));
    QTest::mouseClick(use, Qt::LeftButton);
    QVERIFY(refusal->text().contains(QStringLiteral("baud")));
    QCOMPARE(bench.session.positions().state(), FixState::NoReceiver); // nothing was started
    child<QComboBox>(panel, "positionBaud")->setEditText(QStringLiteral("9600"));
    QTest::mouseClick(use, Qt::LeftButton);
    QVERIFY(!refusal->isVisible());
    QCOMPARE(bench.session.positions().state(), FixState::Waiting);
    QVERIFY(child<QLabel>(panel, "positionState")->text().contains(QStringLiteral("no-such-port")));
    QCOMPARE(rememberedPositionHabits().baud, 9600);
    bench.session.positions().takeLine("$GPGGA,rubbish*00");
    auto *heard = child<QListWidget>(panel, "positionHeard");
    QVERIFY(heard->item(heard->count() - 1)->text().startsWith(QStringLiteral("REFUSED")));
    bench.session.positions().stop();
}

void TestReportedScreens::pictures_data()
{
    QTest::addColumn<QSize>("size");
    QTest::newRow("1366x768") << QSize(1366, 768);
    QTest::newRow("1920x1080") << QSize(1920, 1080);
}

void TestReportedScreens::pictures()
{
    QFETCH(const QSize, size);
    Bench bench;
    bench.report();
    std::int64_t steady = 0;
    bench.session.positions().setSteadyClock([&steady] { return steady; });
    const auto save = [&](QWidget &widget, const char *name) {
        QVERIFY(widget.grab().save(
            screenFile(QStringLiteral("%1-%2.png").arg(QLatin1String(name)).arg(size.width()))));
    };
    FieldReportsPanel panel(bench.session);
    panel.resize(size);
    panel.show();
    bench.selectWhere(panel, bench.town->longWords);
    save(panel, "reported-place");
    bench.selectWhere(panel, QStringLiteral("not in the inventory"));
    save(panel, "reported-valve");

    MapWidget map(bench.session);
    map.resize(size);
    map.show();
    bench.session.positions().give(bench.fixNear(smallTownCorner(2, 2), 12));
    map.showPlace(smallTownCorner(2, 2));
    save(map, "map-here");
    steady = 20'000;
    save(map, "map-old");

    PositionPanel page(bench.session);
    page.resize(1040, 520);
    page.show();
    child<QComboBox>(page, "positionSource")->setCurrentIndex(int(PositionSource::Receiver));
    PositionFeed &feed = bench.session.positions();
    feed.takeLine("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*48");
    feed.takeLine(nmeaLine("GPGSV,1,1,00"));
    feed.takeLine(nmeaLine("GPGGA,123520,4807.038,N,01131.000,E,0,00,,,M,,M,,"));
    feed.takeLine("\x86\xf0\x80\xfe\x01\x86\n");
    save(page, "position-page");
}

QTEST_MAIN(TestReportedScreens)
#include "test_reported_screens.moc"
