// SPDX-License-Identifier: GPL-3.0-or-later
// The Office by clicks and keys on the small invented town: every question, filters, spans,
// periods, the visits behind a row, a valve's whole life, files, and what it says when there is
// nothing.
#include "app/dialogs/choose_file.h"
#include "app/office/answers.h"
#include "app/shell/style.h"
#include "core/exchange/write_files.h"
#include "core/storage/valve_store.h"
#include "tests/support/office_bench.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QFile>
#include <QImage>
#include <QSignalSpy>
#include <QSlider>
#include <QTableView>
#include <QTemporaryDir>
#include <QTest>
#include <QXmlStreamReader>

#include <algorithm>
#include <array>

using namespace keyround;

namespace {

QByteArray fileBytes(const QString &path)
{
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
}

const std::array<const char *, 7> askButtons{"askPace",  "askState", "askChanges", "askAgeing",
                                             "askTurns", "askNext",  "askWhatIf"};

} // namespace

class TestOffice : public QObject
{
    Q_OBJECT

    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;

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
        const auto office = shownOffice(*m_session);
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

    /// A condition that a visit left as it was is not said to have changed.
    void onlyAChangeNamesWhatWasBefore()
    {
        const auto office = shownOffice(*m_session);
        const auto lines = valvesBehind(*office)->shownText();
        const qsizetype from = lines[0].indexOf(QStringLiteral("Changed from"));
        const qsizetype now = lines[0].indexOf(QStringLiteral("Condition"));
        QVERIFY(from > 0 && now > 0);
        int changed = 0;
        for (qsizetype row = 1; row < lines.size(); ++row) {
            QVERIFY(lines[row][from] != lines[row][now]);
            const auto &visits =
                m_session->history(m_session->valveByNumber(lines[row][0])->id).visits;
            const bool differs = !visits.empty() && visits.back().before != visits.back().after;
            QCOMPARE(!lines[row][from].isEmpty(), differs);
            changed += differs ? 1 : 0;
        }
        QVERIFY(changed > 0 && changed < lines.size() - 1);
    }

    void whatWentOutListsTheVisitThatShowedIt()
    {
        const auto office = shownOffice(*m_session);
        press(*office, "askChanges");
        const auto changes =
            wentOut(m_session->valves(), m_session->histories(), wholeSpan(*m_session));
        QVERIFY(!changes.empty());
        const ConditionChanges figure =
            conditionChanges(m_session->valves(), m_session->histories(), wholeSpan(*m_session),
                             PeriodLength::Month);
        QCOMPARE(numbersShown(*office).size(), qsizetype(figure.all.size()));
        QVERIFY(numbersShown(*office).contains(m_town->doesNotTurn));
        QCOMPARE(sentence(*office), figure.sentence);

        // Enter on the row opens the valve's visits; the one that showed it stands out.
        auto *view = valvesBehind(*office)->view();
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
        const auto office = shownOffice(*m_session);
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
        const auto office = shownOffice(*m_session);
        press(*office, "askChanges");
        const QString whole = sentence(*office);
        typeInto(named<QLineEdit>(*office, "spanFrom"), QStringLiteral("2026-99-01"));
        QVERIFY(named<QLineEdit>(*office, "spanFrom")->property("refused").toBool());
        QCOMPARE(sentence(*office), whole);
        typeInto(named<QLineEdit>(*office, "spanFrom"),
                 QStringLiteral("2027-01-01")); // after the span's end
        QVERIFY(named<QLineEdit>(*office, "spanFrom")->property("refused").toBool());
        QCOMPARE(sentence(*office), whole);
        typeInto(named<QLineEdit>(*office, "spanFrom"), QStringLiteral("2026-03-10"));
        QVERIFY(!named<QLineEdit>(*office, "spanFrom")->property("refused").toBool());
        const Span week{QDate(2026, 3, 10), QDate(2026, 3, 16)};
        QCOMPARE(sentence(*office), conditionChanges(m_session->valves(), m_session->histories(),
                                                     week, PeriodLength::Month)
                                        .sentence);
        QCOMPARE(named<QLineEdit>(*office, "spanFrom")->text(), QStringLiteral("2026-03-10"));
        QCOMPARE(numbersShown(*office).size(), 0);
        QVERIFY(answerChart(*office)->picture().isEmpty());
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_none_went_out.png"))));
    }

    void whatIsWishedForStaysInItsLine()
    {
        const auto office = shownOffice(*m_session);
        press(*office, "askWhatIf");
        const auto type = [&office](const char *name, const QString &text) {
            auto *line = named<QLineEdit>(*office, name);
            line->setFocus();
            line->selectAll();
            QTest::keyClicks(line, text);
            QTest::keyClick(line, Qt::Key_Return);
            return line->text();
        };
        QCOMPARE(type("wishDays", QStringLiteral("20")), QStringLiteral("20"));
        QVERIFY2(sentence(*office).contains(QStringLiteral("20 crew-days more")),
                 qPrintable(sentence(*office)));
        QCOMPARE(type("wishMonths", QStringLiteral("120")), QStringLiteral("120"));
        QCOMPARE(type("wishDays", QStringLiteral("many")), QStringLiteral("many"));
        QVERIFY(named<QLineEdit>(*office, "wishDays")->property("refused").toBool());
        press(*office, "askPace");
        press(*office, "askWhatIf");
        QCOMPARE(named<QLineEdit>(*office, "wishMonths")->text(), QStringLiteral("120"));
    }

    void aClickOnAPeriodAsksAboutItAlone()
    {
        const auto office = shownOffice(*m_session);
        auto *chart = answerChart(*office);
        const QString before = sentence(*office);
        clickItem(*chart, 3);
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
        const auto office = shownOffice(*m_session);
        auto *chart = answerChart(*office);
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

    /// Each question's picture in each format; the CSV is the table of the picture.
    void everythingCanBeSaved()
    {
        QTemporaryDir folder;
        const auto office = shownOffice(*m_session);
        for (const char *question : askButtons) {
            press(*office, question);
            const ChartPicture picture = answerChart(*office)->picture();
            if (picture.isEmpty()) {
                QVERIFY(!named<QPushButton>(*office, "savePng")->isEnabled());
                continue;
            }
            const auto path = [&](const char *ending) {
                return folder.filePath(QLatin1String(question) + QLatin1String(ending));
            };
            for (const auto &[button, ending] :
                 {std::pair("savePng", ".png"), std::pair("savePdf", ".pdf"),
                  std::pair("saveSvg", ".svg"), std::pair("saveCsv", ".csv")}) {
                setNextFileForTest(path(ending));
                press(*office, button);
            }
            QVERIFY(!QImage(path(".png")).isNull());
            QVERIFY(fileBytes(path(".pdf")).startsWith("%PDF-"));
            QXmlStreamReader svg(fileBytes(path(".svg")));
            int texts = 0;
            while (!svg.atEnd()) {
                texts += svg.readNext() == QXmlStreamReader::StartElement &&
                                 svg.name() == QLatin1String("text")
                             ? 1
                             : 0;
            }
            QVERIFY2(!svg.hasError() && texts > 5, qPrintable(svg.errorString()));
            const ReportTable &figures = picture.figures;
            QVERIFY(!figures.rows.empty());
            QCOMPARE(fileBytes(path(".csv")),
                     csvBytes({figures.columns, {figures.rows.begin(), figures.rows.end()}}));
        }
    }

    /// Every question with a filter: the words stand in the sentence and on the picture, and only
    /// valves of the filter stand behind it.
    void filtersActOnEveryQuestion()
    {
        const auto office = shownOffice(*m_session);
        tick(*office, "zoneChoice", QStringLiteral("High"));
        typeInto(named<QLineEdit>(*office, "installedFrom"), QStringLiteral("1900"));
        for (const char *question : askButtons) {
            press(*office, question);
            QVERIFY2(sentence(*office).contains(QStringLiteral("zone High")), question);
            QVERIFY2(sentence(*office).contains(QStringLiteral("installed 1900 or later")),
                     question);
            QVERIFY2(
                answerChart(*office)->picture().filterWords.contains(QStringLiteral("zone High")),
                question);
            for (const QString &number : numbersShown(*office)) {
                const Valve *valve = m_session->valveByNumber(number);
                QVERIFY2(valve != nullptr && valve->zone == QStringLiteral("High"), question);
                QVERIFY2(valve->installYear.value_or(0) >= 1900, question);
            }
        }
        typeInto(named<QLineEdit>(*office, "installedFrom"), QStringLiteral("soon"));
        QVERIFY(named<QLineEdit>(*office, "installedFrom")->property("refused").toBool());
    }

    /// From a bar of what went out to the visit that showed it, the valve's whole life, and its
    /// repair.
    void fromABarDownToTheVisitAndTheRepair()
    {
        const auto office = shownOffice(*m_session);
        press(*office, "askChanges");
        Chart *chart = answerChart(*office);
        const ValveId valve = m_session->valveByNumber(m_town->doesNotTurn)->id;
        const ConditionChanges figure =
            conditionChanges(m_session->valves(), m_session->histories(), wholeSpan(*m_session),
                             PeriodLength::Month);
        int item = -1;
        VisitId showed;
        for (size_t period = 0; period < figure.periods.size(); ++period) {
            for (const size_t index : figure.periods[period].wentOut) {
                if (figure.all[index].change.valve == valve) {
                    item = int(period);
                    showed = figure.all[index].change.visit;
                }
            }
        }
        QVERIFY(item > 0);
        clickItem(*chart, item - 1); // another period first: the valve is not behind that
        QVERIFY(!numbersShown(*office).contains(m_town->doesNotTurn));
        clickItem(*chart, item);
        QCOMPARE(chart->chosen(), item);
        const qsizetype row = numbersShown(*office).indexOf(m_town->doesNotTurn);
        QVERIFY(row >= 0);
        QTableView *view = valvesBehind(*office)->view();
        view->setFocus();
        view->setCurrentIndex(view->model()->index(int(row), 0));
        QTest::keyClick(view, Qt::Key_Return);
        QVERIFY(named<QFrame>(*office, "showedIt")->isVisible());
        QSignalSpy repair(office.get(), &OfficePlace::repairAsked);
        press(*office, "showRepair");
        QCOMPARE(repair.size(), 1);
        QCOMPARE(repair[0][0].value<ValveId>(), valve);
        QCOMPARE(repair[0][1].value<VisitId>(), showed);
        press(*office, "showLife");
        QVERIFY(named<QLabel>(*office, "lifeTitle")->isVisible());
        QVERIFY(named<QLabel>(*office, "lifeTitle")->text().contains(m_town->doesNotTurn));
        QTest::qWait(20);
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_life.png"))));
        press(*office, "lifeBack");
        QVERIFY(!named<QLabel>(*office, "lifeTitle")->isVisible());
        QCOMPARE(chart->chosen(), item);
    }

    void theMapFollowsTheSlider()
    {
        const auto office = shownOffice(*m_session);
        press(*office, "askChanges");
        choosePicture(*office, int(ChangesView::Map));
        auto *slider = named<QSlider>(*office, "mapSlider");
        QVERIFY(slider->isVisible());
        const auto periods = periodsIn(wholeSpan(*m_session), PeriodLength::Month);
        QCOMPARE(slider->maximum(), int(periods.size()) - 1);
        slider->setFocus();
        QTest::keyClick(slider, Qt::Key_Home);
        QVERIFY(named<QLabel>(*office, "mapWords")->text().startsWith(periods[0].period));
        QVERIFY(named<QLabel>(*office, "mapWords")->text().contains(QStringLiteral(": 0 out")));
        QTest::keyClick(slider, Qt::Key_End);
        int out = 0;
        for (const Valve &valve : m_session->valves()) {
            out += isOutOfCondition(m_session->history(valve.id).condition) ? 1 : 0;
        }
        const QString words = named<QLabel>(*office, "mapWords")->text();
        QVERIFY2(words.contains(QStringLiteral(": %1 out of condition").arg(out)),
                 qPrintable(words));
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_map_over_time.png"))));
        choosePicture(*office, int(ChangesView::Bars));
        QVERIFY(!slider->isVisible());
        QVERIFY(named<QPushButton>(*office, "savePng")->isVisible());
    }

    /// Without a mouse: Tab to a question, Space asks it; to the chart, arrows choose; to the
    /// table, Enter opens the visits; Escape on the valve's page goes back.
    void theKeyboardAloneDoes()
    {
        const auto office = shownOffice(*m_session);
        office->activateWindow();
        const auto tabTo = [&](const QWidget *wanted) {
            for (int times = 0; times < 80; ++times) {
                if (wanted->hasFocus()) {
                    return true;
                }
                QTest::keyClick(QApplication::focusWidget() == nullptr
                                    ? static_cast<QWidget *>(office.get())
                                    : QApplication::focusWidget(),
                                Qt::Key_Tab);
            }
            return false;
        };
        named<QPushButton>(*office, "askState")->setFocus();
        auto *changes = named<QPushButton>(*office, "askChanges");
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Down);
        QVERIFY(changes->hasFocus() || tabTo(changes));
        QTest::keyClick(changes, Qt::Key_Space);
        QVERIFY(changes->isChecked());
        Chart *chart = answerChart(*office);
        QVERIFY(tabTo(chart));
        QTest::keyClick(chart, Qt::Key_Left);
        QVERIFY(chart->chosen() >= 0);
        QTest::keyClick(chart, Qt::Key_Escape);
        QCOMPARE(chart->chosen(), -1);
        QTest::keyClick(chart, Qt::Key_T);
        QVERIFY(chart->isTableShown());
        QTest::keyClick(chart->table(), Qt::Key_T);
        QTableView *view = valvesBehind(*office)->view();
        QVERIFY(tabTo(view));
        view->setCurrentIndex(view->model()->index(0, 0));
        QTest::keyClick(view, Qt::Key_Return);
        auto *life = named<QPushButton>(*office, "showLife");
        QVERIFY(life->isVisible());
        QVERIFY(tabTo(life));
        QTest::keyClick(life, Qt::Key_Space);
        auto *title = named<QLabel>(*office, "lifeTitle");
        QVERIFY(title->isVisible());
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Escape);
        QVERIFY(!title->isVisible());
    }

    void aVisitRecordedElsewhereChangesTheAnswer()
    {
        const auto office = shownOffice(*m_session);
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
            const auto office = shownOffice(*m_session, size);
            for (const char *question : askButtons) {
                press(*office, question);
                QTest::qWait(20); // the words' new heights are laid out later
                QVERIFY(office->grab().save(screenFile(QStringLiteral("office_%1_%2.png")
                                                           .arg(QLatin1String(question))
                                                           .arg(size.width()))));
            }
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
        const auto office = shownOffice(*m_session);
        tick(*office, "zoneChoice", valve.zone);
        QVERIFY(sentence(*office).contains(valve.zone));
        auto *view = valvesBehind(*office)->view();
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
        const auto office = shownOffice(*m_session);
        QVERIFY2(sentence(*office).contains(QStringLiteral("Bring in")),
                 qPrintable(sentence(*office)));
        for (const char *question : askButtons) {
            press(*office, question);
            QVERIFY2(sentence(*office).contains(QStringLiteral("Bring in")), question);
            QVERIFY(!named<QPushButton>(*office, "saveCsv")->isEnabled());
        }
        QVERIFY(office->grab().save(screenFile(QStringLiteral("office_empty.png"))));
    }
};

QTEST_MAIN(TestOffice)
#include "test_office.moc"
