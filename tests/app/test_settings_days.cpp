// SPDX-License-Identifier: GPL-3.0-or-later
// Crews, breaks, busy hours, skills, holidays and learned times, by clicks and keys.
#include "app/dialogs/busy_hours_editor.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/crew_editor.h"
#include "app/dialogs/learned_times_panel.h"
#include "app/dialogs/list_editor.h"
#include "app/dialogs/settings_panel.h"
#include "app/dialogs/typed_days.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"
#include "tests/support/settings_bench.h"

#include <QApplication>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QTest>

using namespace keyround;

namespace {

struct Panel : SettingsBench
{
    template <typename Editor> [[nodiscard]] Editor *editor() const
    {
        return panel->findChild<Editor *>();
    }
    void picture(const QString &name) const
    {
        for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
            panel->resize(size);
            QTest::qWait(20);
            QVERIFY(panel->grab().save(
                screenFile(QStringLiteral("%1-%2.png").arg(name, QString::number(size.width())))));
        }
    }
};

} // namespace

class TestSettingsDays : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void weekdaysAreReadAndWritten();
    void crewsAreAddedTypedAndTakenOut();
    void refusalsStandBesideTheLine();
    void busyHoursAndBreaks();
    void learnedTimesTakeAFigureOfOnesOwn();
};

void TestSettingsDays::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
}

void TestSettingsDays::weekdaysAreReadAndWritten()
{
    QCOMPARE(weekdaysTyped(QStringLiteral("Mon-Fri")).value(), (QList<int>{1, 2, 3, 4, 5}));
    QCOMPARE(weekdaysTyped(QStringLiteral("saturday; we, Mo")).value(), (QList<int>{1, 3, 6}));
    QCOMPARE(weekdaysTyped(QStringLiteral("Fri-Mon")).value(), (QList<int>{1, 5, 6, 7}));
    QVERIFY(weekdaysTyped(QString())->isEmpty());
    for (const char *wrong : {"T", "Mon-", "Mon-Wed-Fri", "8", "Noday"}) {
        QVERIFY2(!weekdaysTyped(QString::fromLatin1(wrong)), wrong);
    }
    QCOMPARE(weekdaysText({1, 2, 3, 4, 5}), QStringLiteral("Mon-Fri"));
    QCOMPARE(weekdaysText({1, 2, 5, 6, 7}), QStringLiteral("Mon, Tue, Fri-Sun"));
    QCOMPARE(weekdaysText({}), QString());
}

void TestSettingsDays::crewsAreAddedTypedAndTakenOut()
{
    Panel test;
    test.panel->showPage(SettingsPanel::CrewsPage);
    ListEditor *crews = test.editor<CrewEditor>()->crews();
    QCOMPARE(crews->table()->rowCount(), 2);
    test.click("crews-add");
    QCOMPARE(test.session.settings().crews.back().name, QStringLiteral("Crew 3"));
    typeInto(crews->line(0)->line(),
             QStringLiteral("Night crew with a long name, large valves and gearboxes"));
    typeInto(crews->line(1)->line(), QStringLiteral("tue-thu"));
    typeInto(crews->line(2)->line(), QStringLiteral("6-14:30"));
    typeInto(crews->line(3)->line(), QStringLiteral("40.001, -150.002"));
    typeInto(crews->line(4)->line(), QStringLiteral("large valves, geared gate"));
    typeInto(crews->line(5)->line(), QStringLiteral("2026-07-06, 2026-07-03"));
    const Crew &night = test.session.settings().crews.back();
    QCOMPARE(night.weekdays, (QList<int>{2, 3, 4}));
    QVERIFY(night.shift == (Shift{QTime(6, 0), QTime(14, 30)}));
    QCOMPARE(night.yard->longitude, -150.002);
    QCOMPARE(night.skills.size(), qsizetype{2});
    QCOMPARE(night.daysOff.front(), QDate(2026, 7, 3));
    QCOMPARE(crews->line(1)->line()->text(), QStringLiteral("Tue-Thu"));

    test.click("skills-add");
    test.click("holidays-add");
    QCOMPARE(test.session.settings().skillNeeds.front().sizeFrom.value(),
             NominalSize::ofInches(16));
    QCOMPARE(test.session.settings().holidays.size(), qsizetype{1});
    test.picture(QStringLiteral("settings-crews"));

    crews->choose(0);
    crews->table()->setFocus();
    QTest::keyClick(crews->table(), Qt::Key_Delete);
    QCOMPARE(test.session.settings().crews.size(), size_t{2});
    QCOMPARE(test.session.settings().crews.front().name, QStringLiteral("Crew 2"));
    test.session.undoStack().undo();
    QCOMPARE(test.session.settings().crews.size(), size_t{3});
}

void TestSettingsDays::refusalsStandBesideTheLine()
{
    Panel test;
    test.panel->showPage(SettingsPanel::CrewsPage);
    ListEditor *crews = test.editor<CrewEditor>()->crews();
    crews->choose(0);
    const auto before = test.session.settings().crews;
    const std::vector<std::pair<int, QString>> wrong{
        {0, QStringLiteral("crew 2")},  {0, QStringLiteral(" ")},
        {1, QStringLiteral("someday")}, {2, QStringLiteral("15:00-07:00")},
        {3, QStringLiteral("north")},   {5, QStringLiteral("2026-02-30")}};
    for (const auto &[column, text] : wrong) {
        typeInto(crews->line(column)->line(), text);
        QVERIFY2(crews->line(column)->isRefused(), qPrintable(text));
        QVERIFY(!crews->line(column)->line()->accessibleDescription().isEmpty());
        QVERIFY(test.session.settings().crews == before);
        if (column == 1) {
            test.picture(QStringLiteral("settings-crews-refused"));
        }
        QTest::keyClick(crews->line(column)->line(), Qt::Key_Escape);
        QVERIFY(!crews->line(column)->isRefused());
    }
}

void TestSettingsDays::busyHoursAndBreaks()
{
    Panel test;
    test.panel->showPage(SettingsPanel::HoursPage);
    test.picture(QStringLiteral("settings-hours-empty"));
    ListEditor *hours = test.editor<BusyHoursEditor>()->hours();
    test.click("busy-hours-add");
    test.click("busy-hours-add");
    typeInto(hours->line(0)->line(),
             QStringLiteral("Boulevard of the Invented Long Names of the Eastern Quarter"));
    typeInto(hours->line(1)->line(), QStringLiteral("Arterial; collector"));
    typeInto(hours->line(2)->line(), QString());
    typeInto(hours->line(4)->line(), QStringLiteral("18:30"));
    typeInto(hours->line(3)->line(), QStringLiteral("16:00"));
    typeInto(hours->line(5)->line(), QStringLiteral("commuters"));
    const BusyHours &rule = test.session.settings().busyHours.back();
    QCOMPARE(rule.classes, (QList<StreetClass>{StreetClass::Arterial, StreetClass::Collector}));
    QVERIFY(rule.weekdays.isEmpty());
    QCOMPARE(rule.from, QTime(16, 0));
    QCOMPARE(rule.to, QTime(18, 30));
    typeInto(hours->line(1)->line(), QStringLiteral("lane"));
    QVERIFY(hours->line(1)->isRefused());
    QTest::keyClick(hours->line(1)->line(), Qt::Key_Escape);
    typeInto(hours->line(4)->line(), QStringLiteral("15:00")); // before it begins
    QVERIFY(hours->line(4)->isRefused());
    QCOMPARE(test.session.settings().busyHours.back().to, QTime(18, 30));
    QTest::keyClick(hours->line(4)->line(), Qt::Key_Escape);

    ListEditor *breaks = test.editor<BusyHoursEditor>()->breaks();
    breaks->choose(0);
    typeInto(breaks->line(2)->line(), QStringLiteral("45"));
    QCOMPARE(test.session.settings().breaks.front().minutes, 45.0);
    test.picture(QStringLiteral("settings-hours"));
}

void TestSettingsDays::learnedTimesTakeAFigureOfOnesOwn()
{
    Panel test;
    test.panel->showPage(SettingsPanel::LearnedPage);
    ListEditor *figures = test.editor<LearnedTimesPanel>()->figures();
    QCOMPARE(figures->table()->rowCount(), 1); // the seconds a turn, with their default
    test.click("learn");                       // nothing is finished yet
    const QList<QLabel *> labels = test.editor<LearnedTimesPanel>()->findChildren<QLabel *>();
    QVERIFY(std::ranges::any_of(labels, [](const QLabel *label) {
        return label->isVisible() && label->text().contains(QStringLiteral("No round is finished"));
    }));
    test.picture(QStringLiteral("settings-learned-empty"));

    ProjectSettings settings = test.session.settings();
    settings.learned.secondsPerTurn = {3.25, 212, 2.5, 4.75, std::nullopt};
    for (const ValveType type : {ValveType::Gate, ValveType::GearedGate, ValveType::Butterfly}) {
        for (const SizeClass size : {SizeClass::UpTo8, SizeClass::From10To14, SizeClass::From16}) {
            settings.learned.stops.push_back(
                {{type, size, StreetClass::Residential}, {12.5, 34, 9.25, 15.75, std::nullopt}});
        }
    }
    settings.learned.stops.push_back({{ValveType::Plug, SizeClass::UpTo8, StreetClass::Arterial},
                                      {std::nullopt, 3, 0, 0, std::nullopt}});
    settings.learned.driving = {{StreetClass::Arterial, 7, {1.35, 40, 1.1, 1.62, std::nullopt}},
                                {StreetClass::Unknown, -1, {1.08, 300, 0.97, 1.25, std::nullopt}}};
    QVERIFY(test.session.project().settings().save(settings));
    Q_EMIT test.session.notifier().settingsChanged();
    QCOMPARE(figures->table()->rowCount(), 13);
    QCOMPARE(figures->table()->item(0, 2)->text(), QStringLiteral("3.25"));
    figures->choose(1);
    typeInto(figures->line(5)->line(), QStringLiteral("11"));
    QCOMPARE(test.session.settings().learned.stops.front().minutes.set.value(), 11.0);
    figures->choose(12);
    typeInto(figures->line(5)->line(), QStringLiteral("-1"));
    QVERIFY(figures->line(5)->isRefused());
    QTest::keyClick(figures->line(5)->line(), Qt::Key_Escape);
    typeInto(figures->line(5)->line(), QStringLiteral("1.2"));
    QCOMPARE(classFactors(test.session.settings().learned)[0], 1.2);
    test.picture(QStringLiteral("settings-learned"));
    typeInto(figures->line(5)->line(), QString());
    QVERIFY(!test.session.settings().learned.driving.back().factor.set);
}

QTEST_MAIN(TestSettingsDays)
#include "test_settings_days.moc"
