// SPDX-License-Identifier: GPL-3.0-or-later
// The policy editor and the settings by clicks and keys, on the small invented town.
#include "app/dialogs/checked_line.h"
#include "app/dialogs/policy_editor.h"
#include "app/dialogs/policy_rule_form.h"
#include "app/dialogs/settings_panel.h"
#include "app/dialogs/typed_values.h"
#include "app/models/cells.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"
#include "tests/support/settings_bench.h"

#include <QApplication>
#include <QComboBox>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QTest>

using namespace keyround;

namespace {

struct Panel : SettingsBench
{
    void chooseRule(int row) const
    {
        QTableWidget *table = panel->policyEditor()->table();
        QTest::mouseClick(table->viewport(), Qt::LeftButton, {},
                          table->visualItemRect(table->item(row, 0)).center());
    }
    void picture(const QString &name) const
    {
        QTest::qWait(20); // the layout follows in the event loop
        QVERIFY(panel->grab().save(screenFile(name)));
    }
    [[nodiscard]] QStringList ruleNames()
    {
        QStringList names;
        for (const PolicyRule &rule : session.settings().policy.rules) {
            names << rule.name;
        }
        return names;
    }
};

} // namespace

class TestYardPolicy : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }

    void aRuleMovesAndTheDueListFollows()
    {
        Panel it;
        const QStringList before = it.ruleNames();
        QCOMPARE(before.size(), 3);
        // The hospital's valve stands under the rule for critical customers ...
        const ValveId id = it.session.valveByNumber(it.town->longWords)->id;
        QCOMPARE(it.session.dueEntry(id)->rule, before[0]);
        // ... until the rule for all others comes first.
        it.chooseRule(2);
        it.click("ruleUp");
        it.click("ruleUp");
        QCOMPARE(it.ruleNames(), QStringList({before[2], before[0], before[1]}));
        QCOMPARE(it.session.dueEntry(id)->rule, before[2]);
        it.session.undoStack().undo();
        it.session.undoStack().undo();
        QCOMPARE(it.ruleNames(), before);
        QCOMPARE(it.session.dueEntry(id)->rule, before[0]);
        it.picture(QStringLiteral("policy.png"));
    }

    void anIntervalIsRefusedOrStored()
    {
        Panel it;
        it.chooseRule(1);
        CheckedLine *months = it.panel->policyEditor()->form()->monthsLine();
        for (const char *nonsense : {"", "12.5", "-3", "yearly", "1201"}) {
            typeInto(months->line(), QLatin1String(nonsense));
            QVERIFY2(months->isRefused(), nonsense);
            QCOMPARE(it.session.settings().policy.rules[1].intervalMonths, 12);
        }
        it.picture(QStringLiteral("policy-refusal.png"));
        typeInto(months->line(), QStringLiteral("24"));
        QVERIFY(!months->isRefused());
        QCOMPARE(it.session.settings().policy.rules[1].intervalMonths, 24);
    }

    void rulesAreAddedAndRemoved()
    {
        Panel it;
        const QStringList before = it.ruleNames();
        it.click("ruleAdd");
        QCOMPARE(it.ruleNames().size(), 4);
        QCOMPARE(it.ruleNames().last(), before.last()); // the rule for all others stays the last
        it.click("ruleRemove");
        QCOMPARE(it.ruleNames(), before);
    }

    void packsCiteTheirSourcesAndCanBeUndone()
    {
        Panel it;
        const Policy before = it.session.settings().policy;
        auto *choice = it.panel->findChild<QComboBox *>(QStringLiteral("packChoice"));
        QVERIFY(choice->count() > 2);
        choice->setFocus();
        QTest::keyClick(choice, Qt::Key_Down);
        it.click("takePack");
        const Policy &taken = it.session.settings().policy;
        QCOMPARE(taken.name, choice->currentText());
        for (const PolicyRule &rule : taken.rules) {
            QVERIFY(!rule.source.isEmpty());
        }
        it.picture(QStringLiteral("policy-pack.png"));
        it.session.undoStack().undo();
        QVERIFY(it.session.settings().policy == before);
    }

    void settingsPages()
    {
        Panel it;
        it.panel->showPage(SettingsPanel::DayPage);
        it.picture(QStringLiteral("settings-day.png"));
        it.panel->showPage(SettingsPanel::ProjectPage);
        it.picture(QStringLiteral("settings-project.png"));
    }

    void timesAreReadAsTheyAreWritten_data()
    {
        QTest::addColumn<QString>("text");
        QTest::addColumn<QTime>("time");
        QTest::newRow("hours") << QStringLiteral("7") << QTime(7, 0);
        QTest::newRow("colon") << QStringLiteral(" 07:05 ") << QTime(7, 5);
        QTest::newRow("plain") << QStringLiteral("1530") << QTime(15, 30);
        QTest::newRow("no such minute") << QStringLiteral("7:60") << QTime();
        QTest::newRow("no such hour") << QStringLiteral("24:00") << QTime();
        QTest::newRow("words") << QStringLiteral("noon") << QTime();
    }
    void timesAreReadAsTheyAreWritten()
    {
        QFETCH(QString, text);
        QFETCH(QTime, time);
        const Result<QTime> read = timeTyped(text);
        QCOMPARE(read.has_value(), time.isValid());
        QCOMPARE(read.value_or(QTime()), time);
    }

    void numbersInNamesSortAsNumbers()
    {
        QVERIFY(naturalKey(QStringLiteral("V-9")) < naturalKey(QStringLiteral("v-10")));
        QVERIFY(naturalKey(QStringLiteral("A2-9")) < naturalKey(QStringLiteral("A10-1")));
        QVERIFY(naturalKey(QStringLiteral("V-9")) == naturalKey(QStringLiteral("V-09")));
    }
};

QTEST_MAIN(TestYardPolicy)
#include "test_yard_policy.moc"
