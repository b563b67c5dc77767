// SPDX-License-Identifier: GPL-3.0-or-later
// Habits of work zones and loading, saved set-ups, and what is known of a valve's place in its
// street, by clicks and keys: stored, undone, refused.
#include "app/commands/work_zone.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/list_editor.h"
#include "app/dialogs/settings_form.h"
#include "app/dialogs/valve_card.h"
#include "app/dialogs/valve_site_form.h"
#include "app/dialogs/zone_habits_editor.h"
#include "app/shell/style.h"
#include "tests/support/checked_lines.h"
#include "tests/support/on_screen.h"
#include "tests/support/settings_bench.h"

#include <QFileInfo>
#include <QLabel>
#include <QTabWidget>
#include <QTableWidget>
#include <QTest>

using namespace keyround;

class TestSettingsZones : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void habitsAreTypedAndUndone();
    void refusalsStandBesideTheLine();
    void lengthsAreTypedInTheProjectsUnits();
    void savedSetUpsAreKeptAndTakenOut();
    void theCardTellsAndTakesTheSite();
};

void TestSettingsZones::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
}

void TestSettingsZones::habitsAreTypedAndUndone()
{
    const SettingsBench test;
    auto &session = const_cast<Session &>(test.session);
    test.panel->showPage(SettingsPanel::ZonesPage);
    const auto *form = test.panel->findChild<ZoneHabitsEditor *>()->habits();
    type(lineOf(form, QStringLiteral("Length of the work space")), QStringLiteral("55"));
    QCOMPARE(session.settings().setUpHabits.workSpace.value, 55.0);
    type(lineOf(form, QStringLiteral("People at the valve")), QStringLiteral("3"));
    QCOMPARE(session.settings().setUpHabits.workers, 3);
    type(lineOf(form, QStringLiteral("Spare cones")), QStringLiteral("6"));
    QCOMPARE(session.settings().loadHabits.spareCones, 6);
    type(lineOf(form, QStringLiteral("Low speed")), QStringLiteral("35"));
    QCOMPARE(session.settings().urbanLowSpeedTo, 35.0);
    QCOMPARE(lineOf(form, QStringLiteral("Low speed"))->stored(), QStringLiteral("35 mph"));
    session.undoStack().undo();
    QCOMPARE(session.settings().urbanLowSpeedTo, 40.0);
    session.undoStack().undo();
    QCOMPARE(session.settings().loadHabits.spareCones, 2);
    QCOMPARE(lineOf(form, QStringLiteral("Spare cones"))->stored(), QStringLiteral("2"));
}

void TestSettingsZones::refusalsStandBesideTheLine()
{
    const SettingsBench test;
    auto &session = const_cast<Session &>(test.session);
    test.panel->showPage(SettingsPanel::ZonesPage);
    const auto *form = test.panel->findChild<ZoneHabitsEditor *>()->habits();
    CheckedLine *people = lineOf(form, QStringLiteral("People at the valve"));
    for (const char *wrong : {"0", "two", "1.5", "-3"}) {
        type(people, QLatin1String(wrong));
        QVERIFY2(people->isRefused(), wrong);
        QCOMPARE(session.settings().setUpHabits.workers, 2);
    }
    QTest::keyClick(people->line(), Qt::Key_Escape);
    QVERIFY(!people->isRefused());
    QCOMPARE(people->line()->text(), QStringLiteral("2"));
}

void TestSettingsZones::lengthsAreTypedInTheProjectsUnits()
{
    SettingsBench test;
    ProjectSettings metric = test.session.settings();
    metric.units = UnitSystem::Metric;
    QVERIFY(test.session.project().settings().save(metric));
    Q_EMIT test.session.notifier().settingsChanged();
    test.panel->showPage(SettingsPanel::ZonesPage);
    const auto *form = test.panel->findChild<ZoneHabitsEditor *>()->habits();
    CheckedLine *space = lineOf(form, QStringLiteral("Length of the work space"));
    QCOMPARE(space->stored(), QStringLiteral("12.19 m")); // 40 ft
    type(space, QStringLiteral("15 m"));
    QVERIFY(std::abs(test.session.settings().setUpHabits.workSpace.metres().value - 15) < 1e-9);
    type(space, QStringLiteral("40 ft"));
    QVERIFY(space->isRefused());
    CheckedLine *low = lineOf(form, QStringLiteral("Low speed"));
    QCOMPARE(low->stored(), QStringLiteral("64.4 km/h"));
    type(low, QStringLiteral("50"));
    QVERIFY(std::abs(test.session.settings().urbanLowSpeedTo - 31.0686) < 1e-3);
}

void TestSettingsZones::savedSetUpsAreKeptAndTakenOut()
{
    const SettingsBench test;
    auto &session = const_cast<Session &>(test.session);
    session.setPerson(QStringLiteral("M. Invented"));
    test.panel->showPage(SettingsPanel::ZonesPage);
    ListEditor *saved = test.panel->findChild<ZoneHabitsEditor *>()->saved();
    test.click("saved-set-ups-add");
    QCOMPARE(session.settings().savedSetUps.size(), std::size_t{1});
    QCOMPARE(session.settings().savedSetUps.front().by, QStringLiteral("M. Invented"));
    type(saved->line(0), QStringLiteral("Main Street, lane shut"));
    type(saved->line(1), QStringLiteral("10"));
    type(saved->line(2), QStringLiteral("14"));
    type(saved->line(5), QStringLiteral("75"));
    const SetUpOverride kept = session.settings().savedSetUps.front();
    QCOMPARE(kept.name, QStringLiteral("Main Street, lane shut"));
    QCOMPARE(kept.application, std::optional(10));
    QCOMPARE(kept.cones, std::optional(14));
    QCOMPARE(kept.taper->value, 75.0);
    type(saved->line(1), QStringLiteral("99"));
    QVERIFY(saved->line(1)->isRefused());
    QTest::keyClick(saved->line(1)->line(), Qt::Key_Escape);
    type(saved->line(2), QString());
    QTest::keyClick(saved->line(2)->line(), Qt::Key_Backspace);
    QTest::keyClick(saved->line(2)->line(), Qt::Key_Return);
    QVERIFY(!session.settings().savedSetUps.front().cones);
    test.click("saved-set-ups-add");
    type(saved->line(0), QStringLiteral("MAIN STREET, lane shut")); // the same name again
    QVERIFY(saved->line(0)->isRefused());
    QTest::keyClick(saved->line(0)->line(), Qt::Key_Escape);
    for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
        test.panel->resize(size);
        QTest::qWait(20);
        QVERIFY(test.panel->grab().save(
            screenFile(QStringLiteral("settings-zones-%1.png").arg(size.width()))));
    }
    test.click("saved-set-ups-remove");
    QCOMPARE(session.settings().savedSetUps.size(), std::size_t{1});
    session.undoStack().undo();
    QCOMPARE(session.settings().savedSetUps.size(), std::size_t{2});
}

void TestSettingsZones::theCardTellsAndTakesTheSite()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    const Valve valve = *session.valveByNumber(town->doesNotTurn);
    ValveCard card(session);
    card.resize(360, 720);
    card.show();
    QApplication::setActiveWindow(&card);
    card.showValve(valve.id);
    auto *tabs = card.findChild<QTabWidget *>();
    tabs->setCurrentIndex(3);
    ValveSiteForm *form = card.site();
    auto *headline = form->findChild<QLabel *>(QStringLiteral("siteSetUp"));
    auto *counts = form->findChild<QLabel *>(QStringLiteral("siteCounts"));
    QCOMPARE(headline->text(), QStringLiteral("No set-up yet"));
    QVERIFY2(counts->text().contains(QStringLiteral("Where is the lid?")),
             qPrintable(counts->text()));
    QVERIFY(card.grab().save(screenFile(QStringLiteral("card-site-empty.png"))));
    const auto choose = [form](SiteQuestion question, const QString &words) {
        QComboBox *choice = form->choice(question);
        const int index = choice->findText(words);
        QVERIFY2(index > 0, qPrintable(words));
        choice->setCurrentIndex(index);
        Q_EMIT choice->activated(index);
    };
    choose(SiteQuestion::Lid, QStringLiteral("in the lane"));
    type(form->line(SiteQuestion::Speed), QStringLiteral("35"));
    choose(SiteQuestion::Setting, wordFor(RoadSetting::UrbanLowSpeed));
    type(form->line(SiteQuestion::Lanes), QStringLiteral("2"));
    type(form->line(SiteQuestion::LaneWidth), QStringLiteral("12"));
    choose(SiteQuestion::LowVolume, QStringLiteral("no"));
    // Lane of two at 35 mph with traffic: application 10, 11 cones (worked out in test_load_list).
    QVERIFY2(headline->text().contains(QStringLiteral("10")), qPrintable(headline->text()));
    QVERIFY2(counts->text().contains(QStringLiteral("11 cones, 6 signs, 2 flaggers, 4 people")),
             qPrintable(counts->text()));
    QCOMPARE(form->line(SiteQuestion::LaneWidth)->stored(), QStringLiteral("12 ft"));
    type(form->line(SiteQuestion::Speed), QStringLiteral("fast"));
    QVERIFY(form->line(SiteQuestion::Speed)->isRefused());
    QTest::keyClick(form->line(SiteQuestion::Speed)->line(), Qt::Key_Escape);
    card.grab().save(screenFile(QStringLiteral("card-site.png")));
    // Emptied: asked again; undone: known again.
    form->line(SiteQuestion::LaneWidth)->line()->clear();
    QTest::keyClick(form->line(SiteQuestion::LaneWidth)->line(), Qt::Key_Return);
    QCOMPARE(headline->text(), QStringLiteral("No set-up yet"));
    session.undoStack().undo();
    QVERIFY(headline->text().contains(QStringLiteral("10")));
    const QString sheet = town->folder.filePath(QStringLiteral("zone.pdf"));
    setNextFileForTest(sheet);
    QTest::mouseClick(form->findChild<QPushButton *>(QStringLiteral("siteSheet")), Qt::LeftButton);
    QVERIFY(QFileInfo(sheet).size() > 1000);
}

QTEST_MAIN(TestSettingsZones)
#include "test_settings_zones.moc"
