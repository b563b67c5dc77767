// SPDX-License-Identifier: GPL-3.0-or-later
// The Office on the sample town, made as packaging/make-sample-project makes it: every question and
// every picture at two sizes, kept to be looked at; the figures on the screen are those of the
// core; one picture in grey; the board report.
#include "app/charts/figure_pictures.h"
#include "app/office/answers.h"
#include "app/print/board_files.h"
#include "app/print/life_pages.h"
#include "app/shell/session.h"
#include "app/shell/style.h"
#include "tests/support/office_bench.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QProcess>
#include <QSlider>
#include <QTableView>
#include <QTemporaryDir>
#include <QTest>

using namespace keyround;

namespace {

const std::array<const char *, 7> askButtons{"askPace",  "askState", "askChanges", "askAgeing",
                                             "askTurns", "askNext",  "askWhatIf"};

} // namespace

class TestOfficeSample : public QObject
{
    Q_OBJECT

    QTemporaryDir m_folder;
    Session m_session{smallTownClock()};

private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
        const QString path = m_folder.filePath(QStringLiteral("sample.keyround"));
        QProcess make;
        make.start(QStringLiteral(KEYROUND_SOURCE_DIR "/packaging/make-sample-project"),
                   {QStringLiteral(KEYROUND_BUILD_DIR "/app/keyround-batch"), path});
        QVERIFY(make.waitForFinished(120000));
        QCOMPARE(make.exitCode(), 0);
        const Status opened = m_session.openProject(path);
        QVERIFY2(opened.has_value(), opened ? "" : qPrintable(opened.error().message));
    }

    /// Every picture of every question, at both sizes.
    void everyPictureToLookAt()
    {
        for (const QSize &size : {QSize(1366, 660), QSize(1920, 970)}) {
            const auto office = shownOffice(m_session, size);
            for (const char *question : askButtons) {
                press(*office, question);
                auto *views = named<QComboBox>(*office, "pictureChoice");
                const int count = std::clamp(views->count(), 1, 6);
                for (int view = 0; view < count; ++view) {
                    choosePicture(*office, view);
                    QTest::qWait(10);
                    QVERIFY(!sentence(*office).isEmpty());
                    const bool asMap = named<QSlider>(*office, "mapSlider")->isVisible();
                    QVERIFY2(asMap || !answerChart(*office)->picture().isEmpty() ||
                                 !answerChart(*office)->picture().emptyWords.isEmpty(),
                             question);
                    QVERIFY(office->grab().save(screenFile(QStringLiteral("sample_%1_%2_%3.png")
                                                               .arg(QLatin1String(question))
                                                               .arg(view)
                                                               .arg(size.width()))));
                }
            }
        }
    }

    /// With the program's own sizes an answer shows at least five of its valves, long words have
    /// what the short columns leave, and the report is at hand however low the window is.
    void enoughIsInSight()
    {
        const auto office = shownOffice(m_session, {1366, 640});
        for (const char *question : askButtons) {
            press(*office, question);
            QTest::qWait(20);
            const QTableView *view = valvesBehind(*office)->view();
            const int rows = std::min(5, view->model()->rowCount());
            QVERIFY2(rows == 0 || view->visualRect(view->model()->index(rows - 1, 0)).bottom() <=
                                      view->viewport()->height(),
                     question);
            const int last = view->model()->columnCount() - 1;
            QVERIFY2(view->visualRect(view->model()->index(0, last)).right() <=
                         view->viewport()->width(),
                     question);
            QVERIFY2(view->columnWidth(1) >= 130 && view->columnWidth(last) >= 130, question);
        }
        office->resize(1366, 470); // with banners above
        QTest::qWait(20);
        const auto *report = named<QPushButton>(*office, "boardReport");
        QVERIFY(QRect(QPoint(), office->size())
                    .contains(QRect(report->mapTo(office.get(), QPoint()), report->size())));
        QCOMPARE(report->visibleRegion().boundingRect(), report->rect());
    }

    /// What a figure does not know stands beside it.
    void cautionsStandBesideTheFigures()
    {
        const auto office = shownOffice(m_session);
        const auto caution = [&office] { return named<QLabel>(*office, "caution")->text(); };
        press(*office, "askNext");
        QVERIFY(caution().contains(QStringLiteral("not by pressure")));
        QVERIFY(caution().contains(QStringLiteral("reckoned")));
        press(*office, "askState");
        const auto retired = std::ranges::count_if(m_session.valves(), &Valve::retired);
        QVERIFY(retired > 1);
        QVERIFY2(caution().contains(QStringLiteral("Left out: %1 retired valves.").arg(retired)),
                 qPrintable(caution()));
        const ConditionOverTime figure = conditionOverTime(
            m_session.valves(), m_session.histories(), wholeSpan(m_session), PeriodLength::Month);
        QVERIFY(figure.sentence.contains(QStringLiteral("a sample")));
        QVERIFY2(caution().contains(QStringLiteral("not drawn by chance")), qPrintable(caution()));
        Chart *chart = answerChart(*office);
        bool anySample = false;
        for (size_t i = 0; i < figure.periods.size() && !anySample; ++i) {
            if (figure.periods[i].kind == ShareKind::Sample) {
                anySample = true;
                clickItem(*chart, int(i));
                QVERIFY2(caution().contains(QStringLiteral("not drawn by chance")),
                         qPrintable(caution()));
            }
        }
        QVERIFY(anySample);
    }

    /// Chosen in the picture: the valves behind it, and the sentence about it alone.
    void aChoiceInEveryPicture()
    {
        const auto office = shownOffice(m_session);
        for (const char *question : askButtons) {
            press(*office, question);
            Chart *chart = answerChart(*office);
            if (chart->picture().isEmpty()) {
                continue;
            }
            const QString before = sentence(*office);
            const qsizetype rows = numbersShown(*office).size();
            chart->setFocus();
            QTest::keyClick(chart, Qt::Key_Left);
            QVERIFY2(chart->chosen() >= 0, question);
            QTest::keyClick(chart, Qt::Key_Left);
            QVERIFY2(chart->chosen() >= 0, question);
            QVERIFY2(sentence(*office) != before, question);
            QVERIFY2(numbersShown(*office).size() <= rows, question);
            QTest::qWait(20);
            QVERIFY(office->grab().save(
                screenFile(QStringLiteral("sample_%1_chosen.png").arg(QLatin1String(question)))));
            press(*office, "allPeriods");
            QCOMPARE(sentence(*office), before);
        }
    }

    /// The bars' heights are the core's counts.
    void barsAreTheCoresCounts()
    {
        const Span span = wholeSpan(m_session);
        const ConditionChanges figure =
            conditionChanges(m_session.valves(), m_session.histories(), span, PeriodLength::Year);
        const ChartPicture picture = changesPicture(figure);
        QCOMPARE(picture.items.size(), figure.periods.size());
        for (size_t i = 0; i < figure.periods.size(); ++i) {
            double up = 0;
            double down = 0;
            for (const ChartSeries &series : picture.series) {
                if (series.kind == ChartSeries::Kind::Boxes) {
                    up = std::max(up, series.y2[i]);
                    down = std::min(down, series.y[i]);
                }
            }
            QCOMPARE(up, double(figure.periods[i].restored.size()));
            QCOMPARE(-down, double(figure.periods[i].wentOut.size()));
        }
    }

    void inGreyItStillReads()
    {
        const auto office = shownOffice(m_session);
        for (const char *question : {"askChanges", "askAgeing"}) {
            press(*office, question);
            QVERIFY(office->grab()
                        .toImage()
                        .convertToFormat(QImage::Format_Grayscale8)
                        .save(screenFile(
                            QStringLiteral("sample_%1_grey.png").arg(QLatin1String(question)))));
        }
    }

    void aWholeLifeOnOnePage()
    {
        const auto office = shownOffice(m_session);
        // The valve with the most visits has the most to show.
        const Valve *longest = nullptr;
        size_t most = 0;
        for (const Valve &valve : m_session.valves()) {
            const size_t visits = m_session.history(valve.id).visits.size();
            if (visits > most) {
                most = visits;
                longest = &valve;
            }
        }
        QVERIFY(longest != nullptr);
        office->showLife(longest->id, m_session.history(longest->id).visits.front().visit.id);
        QTest::qWait(20);
        QVERIFY(office->grab().save(screenFile(QStringLiteral("sample_life.png"))));
        Chart *chart = answerChart(*office);
        QVERIFY(chart->picture().title.contains(longest->number));
        const ValveTurns turns =
            valveTurns(m_session.history(longest->id), longest->id, m_session.settings().tolerance);
        QCOMPARE(chart->picture().items.size(), turns.counts.size());
        // On paper too, with all its visits.
        const QString path = screenFile(QStringLiteral("sample_life.pdf"));
        QVERIFY(writeLifePage(m_session, longest->id, path).has_value());
        QCOMPARE(tests::pdfPages(path), 1);
        const QString printed = tests::pdfText(path);
        for (const ReadVisit &read : m_session.history(longest->id).visits) {
            QVERIFY(printed.contains(read.visit.arrived.localDate().toString(Qt::ISODate)));
        }
    }

    void theReportOfAYear()
    {
        const QString path = screenFile(QStringLiteral("sample_board_report.pdf"));
        const QDate today = m_session.today();
        const Status written = writeBoardReport(
            m_session, {}, {QDate(today.year() - 1, 1, 1), QDate(today.year() - 1, 12, 31)},
            PeriodLength::Month, path);
        QVERIFY2(written.has_value(), written ? "" : qPrintable(written.error().message));
        // Looked at as on another day, every head is dated that day.
        m_session.setDay(QDate(2026, 2, 3));
        const QString other = screenFile(QStringLiteral("sample_board_report_on.pdf"));
        QVERIFY(writeBoardReport(m_session, {}, {QDate(2025, 1, 1), QDate(2025, 12, 31)},
                                 PeriodLength::Quarter, other)
                    .has_value());
        m_session.setDay({});
        const QString heads = tests::pdfText(other);
        QVERIFY(heads.contains(QStringLiteral("2026-02-03page1of")));
        QVERIFY(!heads.contains(today.toString(Qt::ISODate)));
        // A span that has not begun yet is refused, and the file stays as it was.
        QVERIFY(!writeBoardReport(m_session, {}, {today.addDays(1), today.addDays(5)},
                                  PeriodLength::Month, path)
                     .has_value());
    }
};

QTEST_MAIN(TestOfficeSample)
#include "test_office_sample.moc"
