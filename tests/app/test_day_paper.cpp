// SPDX-License-Identifier: GPL-3.0-or-later
// The day on paper: the packet of a round with its bookmarks, field sheets whose boxes are the
// order of entry, text that equals the data, both papers, the preview, the console.
#include "app/commands/round_commands.h"
#include "app/commands/work_zone.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/day_preview.h"
#include "app/dialogs/paper_preview.h"
#include "app/print/day_packet.h"
#include "app/shell/style.h"
#include "core/reports/field_sheet.h"
#include "core/storage/round_store.h"
#include "core/storage/valve_store.h"
#include "tests/support/batch_run.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QFile>
#include <QListWidget>
#include <QPushButton>
#include <QTest>

using namespace keyround;
using namespace keyround::tests;

class TestDayPaper : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void init();
    void thePacketHasAllPartsAndBookmarks();
    void fieldSheetsHaveTheirBoxesInOrder();
    void theTextIsTheData();
    void oddTextIsPlainAndNothingIsClipped();
    void bothPapers_data();
    void bothPapers();
    void partsThatSayNothingAreLeftOut();
    void thePreviewShowsTheSamePages();
    void onTheConsole();

private:
    void setUnits(UnitSystem units);
    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
    RoundId m_round;
    QString m_file;
};

void TestDayPaper::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
}

/// A round of five stops: the dead end's valve, whose shutting takes three services' water, two
/// with a work zone, one with long words, one without a place.
void TestDayPaper::init()
{
    m_session = std::make_unique<Session>(smallTownClock());
    m_town = makeSmallTown(*m_session);
    addSmallTownNetwork(*m_session);
    ProjectSettings settings = m_session->settings();
    settings.utility = QStringLiteral("Invented Water Department");
    QVERIFY(m_session->project().settings().save(settings));
    Q_EMIT m_session->notifier().settingsChanged();
    Round round = emptyRound(m_session->settings(), QStringLiteral("Crew 1"), m_session->today());
    round.id = RoundId{newUuid7(m_session->now().utcMilliseconds)};
    for (const QString &number : {QStringLiteral("G-DEAD"), m_town->doesNotTurn,
                                  m_town->neverVisited, m_town->longWords, m_town->leftClosed}) {
        round.stops.push_back(m_session->valveByNumber(number)->id);
    }
    m_round = round.id;
    QVERIFY(m_session->project().rounds().put(round));
    Q_EMIT m_session->notifier().roundsChanged();
    const Valve valve = *m_session->valveByNumber(m_town->doesNotTurn);
    QVERIFY(
        answerSite(*m_session, valve, SiteQuestion::Lid, static_cast<int>(LidPlace::OutsideRoad)));
    for (StopSite stop = siteFor(*m_session, valve); !stop.questions.empty();
         stop = siteFor(*m_session, valve)) {
        const bool isSpeed = stop.questions.front() == SiteQuestion::Speed;
        QVERIFY(answerSite(*m_session, valve, stop.questions.front(), isSpeed ? 25 : 0));
    }
    m_file = m_town->folder.filePath(QStringLiteral("day.pdf"));
}

void TestDayPaper::setUnits(UnitSystem units)
{
    ProjectSettings settings = m_session->settings();
    settings.units = units;
    QVERIFY(m_session->project().settings().save(settings));
    Q_EMIT m_session->notifier().settingsChanged();
}

void TestDayPaper::thePacketHasAllPartsAndBookmarks()
{
    const Status written =
        writeDayPacket(*m_session, m_round, packetOf(*m_session, m_round), m_file);
    QVERIFY2(written, qPrintable(written ? QString() : written.error().message));
    const QStringList marks = pdfBookmarks(m_file);
    QStringList names;
    int before = 0;
    for (const QString &mark : marks) {
        names << mark.section(QLatin1Char(' '), 1);
        const int page = mark.section(QLatin1Char(' '), 0, 0).toInt();
        QVERIFY2(page > before && page <= pdfPages(m_file), qPrintable(mark));
        before = page;
    }
    QCOMPARE(names,
             (QStringList{QStringLiteral("Route sheet"), QStringLiteral("Field sheet"),
                          QStringLiteral("Load list"), QStringLiteral("Work zones of the round"),
                          QStringLiteral("Work zone, valve ") + m_town->doesNotTurn,
                          QStringLiteral("Calls before the water goes off")}));
    // Head of every page: utility, file, page x of y, printed when.
    const QString text = pdfText(m_file);
    const int pages = pdfPages(m_file);
    for (int page = 1; page <= pages; ++page) {
        QCOMPARE(text.count(QStringLiteral("page%1of%2").arg(page).arg(pages)), 1);
    }
    QCOMPARE(text.count(QStringLiteral("2026-03-1606:45page")), pages);
    // The file is sound: another reader takes it without a word.
    const QString checked = popplerOutput(QStringLiteral("pdffonts"), {m_file});
    QVERIFY(checked.contains(QStringLiteral("DejaVu")));
}

void TestDayPaper::fieldSheetsHaveTheirBoxesInOrder()
{
    QVERIFY(writeDayPacket(*m_session, m_round, {DayPart::Field}, m_file));
    QCOMPARE(pdfPages(m_file), 4); // cautions, then five stops, two to a page
    const QString second =
        popplerOutput(QStringLiteral("pdftotext"),
                      {QStringLiteral("-f"), QStringLiteral("2"), QStringLiteral("-l"),
                       QStringLiteral("2"), QStringLiteral("-raw"), m_file, QStringLiteral("-")});
    QVERIFY(second.contains(QStringLiteral("G-DEAD")));
    QVERIFY(second.contains(m_session->round(m_round)->date.toString(Qt::ISODate)));
    int number = 0;
    for (const FieldBoxInfo &box : fieldBoxes()) {
        ++number;
        const QString name = QLatin1String(box.label);
        const QString label = box.isTyped ? QStringLiteral("%1 %2").arg(number).arg(name) : name;
        QCOMPARE(second.count(label), 2); // one for each of the page's stops
    }
    QCOMPARE(pdfWordsOutside(m_file), QStringList());
}

void TestDayPaper::theTextIsTheData()
{
    QVERIFY(writeDayPacket(*m_session, m_round, {DayPart::Route}, m_file));
    const QString text = pdfText(m_file);
    const Round round = *m_session->round(m_round);
    const auto plan = timesOf(*m_session, round);
    QVERIFY(plan);
    const Sheet sheet =
        routeSheet(round, *plan, m_session->valves(), m_session->histories(),
                   m_session->settings().utility, m_session->units(), extrasOf(*m_session, round));
    QCOMPARE(sheet.table.rows.size() >= 5, true);
    for (const QStringList &row : sheet.table.rows) {
        for (const QString &cell : row) {
            QVERIFY2(text.contains(withoutSpaces(cell)), qPrintable(cell));
        }
    }
    for (const QStringList &list : {sheet.headerLines, sheet.notes, sheet.cautions}) {
        for (const QString &line : list) {
            QVERIFY2(text.contains(withoutSpaces(line)), qPrintable(line));
        }
    }
    // Set-up and who is told stand with their stops.
    QVERIFY(text.contains(QStringLiteral("setup:Typicalapplication1:")));
    QVERIFY(text.contains(QStringLiteral("3services")));
}

void TestDayPaper::oddTextIsPlainAndNothingIsClipped()
{
    Valve odd = *m_session->valveByNumber(m_town->neverVisited);
    // 200 characters of remark, markup, one very long word, right-to-left words.
    odd.remarks =
        QStringLiteral("<b>bold</b> & &amp; ") + QStringLiteral("Wordaftrword").repeated(15);
    QCOMPARE(odd.remarks.size(), 200);
    odd.address = QString::fromUtf8("12 \u05e8\u05d7\u05d5\u05d1 \u05d4\u05e0\u05d4\u05e8");
    odd.ties = QString(120, QLatin1Char('W'));
    QVERIFY(m_session->project().valves().update(odd, m_session->author(), m_session->now(),
                                                 QStringLiteral("test")));
    Q_EMIT m_session->notifier().valvesChanged();
    for (const DayPart part : {DayPart::Route, DayPart::Field}) {
        QVERIFY(writeDayPacket(*m_session, m_round, {part}, m_file));
        const QString text = pdfText(m_file);
        QVERIFY(text.contains(withoutSpaces(odd.remarks)));
        QVERIFY(text.count(QLatin1Char('W')) >= 120);
        for (const QChar letter : odd.address) {
            QVERIFY(letter.isSpace() || text.contains(letter));
        }
        // Where a word was broken, its parts still lie within the page.
        QCOMPARE(pdfWordsOutside(m_file), QStringList());
    }
}

void TestDayPaper::bothPapers_data()
{
    QTest::addColumn<int>("units");
    QTest::addColumn<QString>("size");
    // ANSI/ASME Y14.1 size A: 8.5 by 11 in, of 72 pt. ISO 216 A4: 210 by 297 mm, 595.28 by 841.89
    // pt, which Qt rounds. Landscape.
    QTest::newRow("Letter") << int(UnitSystem::Us) << QStringLiteral("792 x 612 pts");
    QTest::newRow("A4") << int(UnitSystem::Metric) << QStringLiteral("842 x 595 pts");
}

void TestDayPaper::bothPapers()
{
    QFETCH(int, units);
    QFETCH(QString, size);
    setUnits(static_cast<UnitSystem>(units));
    QVERIFY(writeDayPacket(*m_session, m_round, packetOf(*m_session, m_round), m_file));
    QCOMPARE(pdfPageSize(m_file), size);
    QCOMPARE(pdfWordsOutside(m_file), QStringList());
    const QString kept = screenFile(
        QStringLiteral("day-%1.pdf").arg(QLatin1String(QTest::currentDataTag()).toString()));
    QFile::remove(kept);
    QVERIFY(QFile::copy(m_file, kept));
}

void TestDayPaper::partsThatSayNothingAreLeftOut()
{
    const auto parts = packetOf(*m_session, m_round);
    QVERIFY(std::ranges::find(parts, DayPart::Log) == parts.end()); // nothing was done yet
    const auto log = dayPaper(*m_session, m_round, {DayPart::Log});
    QVERIFY(!log);
    QVERIFY(!dayPaper(*m_session, RoundId{newUuid7(1)}, {DayPart::Route}));
    QVERIFY(!dayPaper(*m_session, m_round, {}));
}

void TestDayPaper::thePreviewShowsTheSamePages()
{
    QWidget owner;
    owner.resize(400, 300);
    owner.show();
    PaperPreview *preview = openDayPreview(&owner, *m_session, m_round);
    QVERIFY(preview != nullptr);
    QVERIFY(QTest::qWaitForWindowExposed(preview));
    QVERIFY(writeDayPacket(*m_session, m_round, packetOf(*m_session, m_round), m_file));
    QCOMPARE(preview->pageCount(), pdfPages(m_file));
    QVERIFY(preview->grab().save(screenFile(QStringLiteral("preview-day.png"))));
    QTest::mouseClick(preview->findChild<QPushButton *>(QStringLiteral("previewNext")),
                      Qt::LeftButton);
    QTest::qWait(20);
    QVERIFY(preview->grab().save(screenFile(QStringLiteral("preview-day-2.png"))));
    // Only the load list: one page, and that is what is saved.
    for (int i = 0; i < preview->choices()->count(); ++i) {
        preview->choices()->item(i)->setCheckState(i == 2 ? Qt::Checked : Qt::Unchecked);
    }
    QCOMPARE(preview->pageCount(), 1);
    const QString saved = m_town->folder.filePath(QStringLiteral("load.pdf"));
    setNextFileForTest(saved);
    QTest::mouseClick(preview->findChild<QPushButton *>(QStringLiteral("previewSave")),
                      Qt::LeftButton);
    QCOMPARE(pdfPages(saved), 1);
    QVERIFY(pdfText(saved).contains(QStringLiteral("Loadlist")));
    // Nothing is ticked: said, and nothing can be saved.
    preview->choices()->item(2)->setCheckState(Qt::Unchecked);
    QVERIFY(!preview->findChild<QPushButton *>(QStringLiteral("previewSave"))->isEnabled());
}

void TestDayPaper::onTheConsole()
{
    const QString date = m_session->today().toString(Qt::ISODate);
    m_session->closeProject();
    const auto run = [&](const QStringList &more) {
        return runBatch(QStringList{QStringLiteral("paper"), QStringLiteral("--project"),
                                    m_town->path, QStringLiteral("--date"), date} +
                        more);
    };
    const BatchRun all = run({QStringLiteral("--out"), m_file});
    QVERIFY2(all.exitCode == 0, qPrintable(all.err));
    QCOMPARE(pdfBookmarks(m_file).size(), 6);
    const BatchRun some = run(
        {QStringLiteral("--parts"), QStringLiteral("field,load"), QStringLiteral("--out"), m_file});
    QVERIFY2(some.exitCode == 0, qPrintable(some.err));
    QCOMPARE(pdfPages(m_file), 5);
    QCOMPARE(
        run({QStringLiteral("--parts"), QStringLiteral("menu"), QStringLiteral("--out"), m_file})
            .exitCode,
        2);
    QCOMPARE(run({}).exitCode, 2);
}

QTEST_MAIN(TestDayPaper)
#include "test_day_paper.moc"
