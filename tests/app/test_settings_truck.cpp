// SPDX-License-Identifier: GPL-3.0-or-later
// The habits of the work at the stop, typed in the settings: stored, undone, refused.
#include "app/dialogs/checked_line.h"
#include "app/dialogs/list_editor.h"
#include "app/dialogs/truck_habits_editor.h"
#include "app/shell/style.h"
#include "tests/support/checked_lines.h"
#include "tests/support/settings_bench.h"

#include <QDir>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QTest>

using namespace keyround;

class TestSettingsTruck : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
        QDir(QStringLiteral(KEYROUND_BUILD_DIR)).mkpath(QStringLiteral("screens"));
    }

    void habitsAreTypedUndoneAndRefused()
    {
        SettingsBench test;
        test.panel->showPage(SettingsPanel::TruckPage);
        auto *editor = test.panel->findChild<TruckHabitsEditor *>();
        QVERIFY(editor != nullptr && editor->isVisible());
        const auto habits = [&]() -> const TruckHabits & {
            return test.session.settings().truckHabits;
        };
        type(lineOf(editor, QStringLiteral("Metres within")), QStringLiteral("45"));
        QCOMPARE(habits().arrivalDistance.value, 45.0);
        type(lineOf(editor, QStringLiteral("Turns back")), QStringLiteral("1/2"));
        QCOMPARE(habits().backOff.value, 2);
        type(lineOf(editor, QStringLiteral("Unit of torque")), QStringLiteral("Nm"));
        QVERIFY(habits().torqueUnit == TorqueUnit::NewtonMetres);
        type(lineOf(editor, QStringLiteral("Unit of torque")), QStringLiteral("stone"));
        QVERIFY(lineOf(editor, QStringLiteral("Unit of torque"))->isRefused());
        test.session.undoStack().undo();
        QVERIFY(habits().torqueUnit == TorqueUnit::FootPounds);
        auto *procedure = editor->findChild<QPlainTextEdit *>(QStringLiteral("stuckProcedure"));
        procedure->setFocus();
        QTest::keyClicks(procedure, QStringLiteral("Invented: <call> first."));
        type(lineOf(editor, QStringLiteral("Metres within")), QStringLiteral("20"));
        QCOMPARE(procedure->toPlainText(), QStringLiteral("Invented: <call> first.")); // it stays
        test.click("keepProcedure");
        QCOMPARE(habits().stuckProcedure, QStringLiteral("Invented: <call> first."));
    }

    void ownProblemsAreAddedAndNamedOnce()
    {
        SettingsBench test;
        test.panel->showPage(SettingsPanel::TruckPage);
        auto *list = test.panel->findChild<TruckHabitsEditor *>()->findChild<ListEditor *>();
        auto *add = list->findChild<QPushButton *>(QStringLiteral("ownProblems-add"));
        QVERIFY(add != nullptr);
        QTest::mouseClick(add, Qt::LeftButton);
        const auto own = [&]() -> const std::vector<OwnProblem> & {
            return test.session.settings().truckHabits.ownProblems;
        };
        QCOMPARE(own().size(), std::size_t(1));
        type(list->line(0), QStringLiteral("Hard to turn")); // the trade's own has it already
        QCOMPARE(own().front().words, QStringLiteral("Problem 1"));
        type(list->line(0), QStringLiteral("Ants (invented)"));
        QCOMPARE(own().front().words, QStringLiteral("Ants (invented)"));
        type(list->line(1), QStringLiteral("Box and lid"));
        QVERIFY(own().front().group == ProblemGroup::Box);
        type(list->line(2), QStringLiteral("no"));
        QVERIFY(!own().front().inUse);
        QTest::qWait(1);
        // It fits the panel as it is opened (other pages may ask for more).
        QVERIFY(test.panel->findChild<TruckHabitsEditor *>()->minimumSizeHint().width() < 1100);
        QVERIFY(test.panel->grab().save(
            QStringLiteral(KEYROUND_BUILD_DIR "/screens/settings-truck.png")));
    }
};

QTEST_MAIN(TestSettingsTruck)
#include "test_settings_truck.moc"
