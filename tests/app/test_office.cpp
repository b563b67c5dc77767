// SPDX-License-Identifier: GPL-3.0-or-later
// The Office by clicks and keys on the small invented town: both questions, filters, spans,
// periods, the visits behind a row, files, and what it says when there is nothing.
#include "app/charts/chart.h"
#include "app/dialogs/choose_file.h"
#include "app/models/data_table.h"
#include "app/office/answers.h"
#include "app/office/choice_button.h"
#include "app/office/office_place.h"
#include "app/shell/style.h"
#include "core/storage/valve_store.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QFile>
#include <QImage>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTableView>
#include <QTest>

#include <algorithm>

using namespace keyround;

namespace {

template <typename T> T *named(QWidget &place, const char *name)
{
    auto *found = place.findChild<T *>(QLatin1String(name));
    if (found == nullptr) {
        qFatal("no child is named %s", name);
    }
    return found;
}

void press(QWidget &place, const char *name)
{
    QTest::mouseClick(named<QPushButton>(place, name), Qt::LeftButton);
}

QString sentence(QWidget &place)
{
    return named<QLabel>(place, "answer")->text();
}

QStringList numbersShown(QWidget &place)
{
    QStringList numbers;
    const auto lines = place.findChild<DataTable *>()->shownText();
    for (qsizetype i = 1; i < lines.size(); ++i) {
        numbers << lines[i].first();
    }
    return numbers;
}

void tick(QWidget &place, const char *name, const QString &words)
{
    auto *choice = named<ChoiceButton>(place, name);
    QTest::mouseClick(choice, Qt::LeftButton);
    const auto items = choice->list()->findItems(words, Qt::MatchExactly);
    QCOMPARE(items.size(), 1);
    QTest::mouseClick(choice->list()->viewport(), Qt::LeftButton, {},
                      choice->list()->visualItemRect(items.first()).center());
    choice->list()->window()->hide();
}

void typeInto(QWidget &place, const char *name, const QString &text)
{
    auto *line = named<QLineEdit>(place, name);
    line->setFocus();
    line->selectAll();
    QTest::keyClicks(line, text);
    QTest::keyClick(line, Qt::Key_Return);
}

} // namespace

class TestOffice : public QObject
{
    Q_OBJECT

    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;

    std::unique_ptr<OfficePlace> shownOffice(const QSize &size = {1366, 660})
    {
        auto office = std::make_unique<OfficePlace>(*m_session);
        office->resize(size);
        office->show();
        if (!QTest::qWaitForWindowExposed(office.get())) {
            qFatal("the window does not show");
        }
        return office;
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

    void theSentenceCountsWhatTheHistoriesSay()
    {
        const auto office = shownOffice();
        int serviceable = 0;
        int never = 0;
        int out = 0;
        for (const Valve &valve : m_session->valves()) {
            const Condition condition = m_session->history(valve.id).condition;
            serviceable += condition == Condition::Serviceable ? 1 : 0;
            never += condition == Condition::NeverVisited ? 1 : 0;
            out += isOutOfCondition(condition) ? 1 : 0;
        }
        QVERIFY(serviceable > 0 && never > 0 && out > 0);
        const QString said = sentence(*office);
        for (const QString &part : {QStringLiteral("On 2026-03-16"),
                                    QStringLiteral("of %1 valves").arg(m_session->valves().size()),
                                    QStringLiteral(": %1 serviceable,").arg(serviceable),
                                    QStringLiteral("%1 out of condition").arg(out),
                                    QStringLiteral("%1 never visited").arg(never)}) {
            QVERIFY2(said.contains(part), qPrintable(said + QStringLiteral(" / ") + part));
        }
        QCOMPARE(numbersShown(*office).size(), qsizetype(m_session->valves().size()));
    }

    void whatWentOutListsTheVisitThatShowedIt()
    {
        const auto office = shownOffice();
        press(*office, "askWentOut");
        const auto changes =
            wentOut(m_session->valves(), m_session->histories(), wholeSpan(*m_session));
        QVERIFY(!changes.empty());
        QCOMPARE(numbersShown(*office).size(), qsizetype(changes.size()));
        QVERIFY(numbersShown(*office).contains(m_town->doesNotTurn));
        QVERIFY2(sentence(*office).contains(QStringLiteral("went out of condition")),
                 qPrintable(sentence(*office)));

        // Enter on the row opens the valve's visits; the one that showed it stands out.
        auto *view = office->findChild<DataTable *>()->view();
        const qsizetype row = numbersShown(*office).indexOf(m_town->doesNotTurn);
        view->setFocus();
        view->setCurrentIndex(view->model()->index(int(row), 0));
        QTest::keyClick(view, Qt::Key_Return);
        QVERIFY(named<QLabel>(*office, "historyTitle")->isVisible());
        QVERIFY(named<QLabel>(*office, "historyTitle")->text().contains(m_town->doesNotTurn));
        auto *marked = named<QFrame>(*office, "showedIt");
        QStringList words;
        for (const QLabel *label : marked->findChildren<QLabel *>()) {
            words << label->text();
        }
        const auto change = std::ranges::find(
            changes, m_session->valveByNumber(m_town->doesNotTurn)->id, &ConditionChange::valve);
        QVERIFY2(words.join(QLatin1Char(' ')).contains(change->date.toString(Qt::ISODate)),
                 qPrintable(words.join(QLatin1Char(' '))));
    }

    void aFilterIsWrittenInTheSentenceAndCounts()
    {
        const auto office = shownOffice();
        tick(*office, "zoneChoice", QStringLiteral("High"));
        qsizetype high = 0;
        for (const Valve &valve : m_session->valves()) {
            high += valve.zone == QStringLiteral("High") ? 1 : 0;
        }
        QVERIFY(high > 0 && high < qsizetype(m_session->valves().size()));
        QVERIFY2(sentence(*office).contains(QStringLiteral("of %1 valves").arg(high)),
                 qPrintable(sentence(*office)));
        QVERIFY2(sentence(*office).contains(QStringLiteral("zone High")),
                 qPrintable(sentence(*office)));
        QCOMPARE(numbersShown(*office).size(), high);
        tick(*office, "typeChoice", QStringLiteral("butterfly")); // none of those in this zone
        QVERIFY2(sentence(*office).contains(QStringLiteral("No valve is like that")),
                 qPrintable(sentence(*office)));
        QVERIFY(!named<QPushButton>(*office, "savePng")->isEnabled());
        QCOMPARE(numbersShown(*office).size(), 0);
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_no_match.png"))));
        tick(*office, "typeChoice", QStringLiteral("butterfly"));
        tick(*office, "zoneChoice", QStringLiteral("High"));
        QVERIFY(!sentence(*office).contains(QStringLiteral("zone")));
    }

    void spansAreTypedAndRefusedVisibly()
    {
        const auto office = shownOffice();
        press(*office, "askWentOut");
        const QString whole = sentence(*office);
        typeInto(*office, "spanFrom", QStringLiteral("2026-99-01"));
        QVERIFY(named<QLineEdit>(*office, "spanFrom")->property("refused").toBool());
        QCOMPARE(sentence(*office), whole);
        typeInto(*office, "spanFrom", QStringLiteral("2027-01-01")); // after the span's end
        QVERIFY(named<QLineEdit>(*office, "spanFrom")->property("refused").toBool());
        QCOMPARE(sentence(*office), whole);
        typeInto(*office, "spanFrom", QStringLiteral("2026-03-10"));
        QVERIFY(!named<QLineEdit>(*office, "spanFrom")->property("refused").toBool());
        QVERIFY2(
            sentence(*office).startsWith(QStringLiteral("From 2026-03-10 to 2026-03-16, none")),
            qPrintable(sentence(*office)));
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_none_went_out.png"))));
    }

    void aClickOnAPeriodAsksAboutItAlone()
    {
        const auto office = shownOffice();
        auto *chart = office->findChild<Chart *>();
        const QString before = sentence(*office);
        const QPoint at = chart->placeOf(3);
        QWidget *plot = chart->childAt(at);
        QTest::mouseClick(plot, Qt::LeftButton, {}, plot->mapFrom(chart, at));
        QCOMPARE(chart->chosen(), 3);
        QVERIFY(sentence(*office) != before);
        const auto periods = periodsIn(wholeSpan(*m_session), PeriodLength::Month);
        QVERIFY2(sentence(*office).contains(periods[3].end.toString(Qt::ISODate)),
                 qPrintable(sentence(*office)));
        press(*office, "allPeriods");
        QCOMPARE(chart->chosen(), -1);
        QCOMPARE(sentence(*office), before);
    }

    void byQuarterMakesFewerPeriods()
    {
        const auto office = shownOffice();
        auto *chart = office->findChild<Chart *>();
        const int months = chart->seenItems();
        for (QPushButton *button : office->findChildren<QPushButton *>()) {
            if (button->text() == QStringLiteral("quarter")) {
                QTest::mouseClick(button, Qt::LeftButton);
            }
        }
        QCOMPARE(chart->seenItems(),
                 int(periodsIn(wholeSpan(*m_session), PeriodLength::Quarter).size()));
        QVERIFY(chart->seenItems() < months);
    }

    void everythingCanBeSaved()
    {
        QTemporaryDir folder;
        const auto office = shownOffice();
        for (const char *question : {"askCondition", "askWentOut"}) {
            press(*office, question);
            const auto path = [&](const char *ending) {
                return folder.filePath(QLatin1String(question) + QLatin1String(ending));
            };
            setNextFileForTest(path(".png"));
            press(*office, "savePng");
            QVERIFY(!QImage(path(".png")).isNull());
            setNextFileForTest(path(".pdf"));
            press(*office, "savePdf");
            QFile pdf(path(".pdf"));
            QVERIFY(pdf.open(QIODevice::ReadOnly));
            QVERIFY(pdf.readAll().startsWith("%PDF-"));
            setNextFileForTest(path(".csv"));
            press(*office, "saveCsv");
            QFile csv(path(".csv"));
            QVERIFY(csv.open(QIODevice::ReadOnly));
            QVERIFY(csv.readAll().count('\n') >= 2);
        }
    }

    void aVisitRecordedElsewhereChangesTheAnswer()
    {
        const auto office = shownOffice();
        const QString before = sentence(*office);
        Visit visit;
        visit.id = VisitId{newUuid7(m_session->now().utcMilliseconds)};
        visit.stamp = *m_session->project().nextStamp(m_session->now());
        visit.valve = m_session->valveByNumber(m_town->neverVisited)->id;
        visit.arrived = visit.finished = m_session->now();
        visit.problems = {Problem::CouldNotOperate};
        QVERIFY(m_session->project().visits().add(visit).has_value());
        Q_EMIT m_session->notifier().visitsChanged();
        QVERIFY(sentence(*office) != before);
    }

    void picturesOfBothSizes()
    {
        for (const QSize &size : {QSize(1366, 660), QSize(1920, 970)}) {
            const auto office = shownOffice(size);
            const QString ending = QStringLiteral("_%1.png").arg(size.width());
            QVERIFY(office->grab().save(screenFile(QStringLiteral("office_condition") + ending)));
            press(*office, "askWentOut");
            auto *view = office->findChild<DataTable *>()->view();
            view->setFocus();
            view->setCurrentIndex(view->model()->index(0, 0));
            QTest::keyClick(view, Qt::Key_Return);
            QTest::qWait(20);
            QVERIFY(office->grab().save(screenFile(QStringLiteral("office_went_out") + ending)));
        }
    }

    void longNamesStayInTheirPlaces()
    {
        Valve valve = *m_session->valveByNumber(m_town->longWords);
        valve.zone = QStringLiteral("Upper Reservoir & Northern Hills <b>Pressure District</b> "
                                    "(an invented name that is far too long)");
        QVERIFY(m_session->project()
                    .valves()
                    .update(valve, m_session->author(), m_session->now(), QStringLiteral("test"))
                    .has_value());
        Q_EMIT m_session->notifier().valvesChanged();
        const auto office = shownOffice();
        tick(*office, "zoneChoice", valve.zone);
        QVERIFY(sentence(*office).contains(valve.zone));
        auto *view = office->findChild<DataTable *>()->view();
        view->setCurrentIndex(view->model()->index(0, 0));
        view->setFocus();
        QTest::keyClick(view, Qt::Key_Return);
        QTest::qWait(20);
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_long.png"))));
        QVERIFY(office->minimumSizeHint().width() <= 1366);
    }

    void nothingSaysWhatToDo()
    {
        m_session->closeProject();
        const auto office = shownOffice();
        QVERIFY2(sentence(*office).contains(QStringLiteral("Bring in")),
                 qPrintable(sentence(*office)));
        QVERIFY(!named<QPushButton>(*office, "saveCsv")->isEnabled());
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_empty.png"))));
    }
};

QTEST_MAIN(TestOffice)
#include "test_office.moc"
