// SPDX-License-Identifier: GPL-3.0-or-later
// A day's paper sheet typed in by keyboard alone.
//
// The time it takes is worked out, not stopped: the keystroke-level model (Card, Moran and Newell,
// Communications of the ACM 23(7), 1980). Its figures were read in the University of Hamburg's
// pages on GOMS (SE_Evaluation, table 1), not in the article: 0.28 s a key for an average typist
// who is no secretary, 0.50 s for random letters, 1.35 s to prepare mentally. One preparation is
// counted for each field that is read off the paper, and the hands stay on the keyboard.
#include "app/entry/paper_sheet_page.h"
#include "app/entry/sheet_row.h"
#include "app/shell/style.h"
#include "core/storage/half_typed_store.h"
#include "core/storage/round_store.h"
#include "core/storage/visit_store.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QComboBox>
#include <QDir>
#include <QFile>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

using namespace keyround;

namespace {

constexpr double secondsPerKey = 0.28;
constexpr double secondsPerRandomKey = 0.50;
constexpr double secondsToPrepare = 1.35;

class SheetBench
{
public:
    SheetBench() : session(smallTownClock()), town(makeSmallTown(session)) {}

    /// Yesterday's round with these valves.
    RoundId addRound(const QStringList &numbers)
    {
        Round round;
        round.id = RoundId{newUuid7(session.now().utcMilliseconds)};
        round.date = session.today().addDays(-1);
        round.crew = QStringLiteral("Crew 2");
        for (const QString &number : numbers) {
            round.stops.push_back(session.valveByNumber(number)->id);
        }
        if (const Status stored = session.project().rounds().put(round); !stored) {
            qFatal("no round: %s", qPrintable(stored.error().message));
        }
        Q_EMIT session.notifier().roundsChanged();
        return round.id;
    }
    /// Numbers of valves with a place and a count to judge by.
    QStringList numbers(int count)
    {
        QStringList list;
        for (const Valve &valve : session.valves()) {
            if (valve.place.isValid() && valve.listedTurns && !valve.retired &&
                valve.normally == NormalPosition::Open && list.size() < count) {
                list << valve.number;
            }
        }
        return list;
    }
    void show(const RoundId &round, const QSize &size = {1366, 768})
    {
        page = std::make_unique<PaperSheetPage>(session, round);
        page->resize(size);
        page->show();
        page->activateWindow();
        QVERIFY(QTest::qWaitForWindowActive(page.get()));
        QTRY_VERIFY(QApplication::focusWidget() != nullptr);
    }
    static QString focus() { return QApplication::focusWidget()->objectName(); }
    void key(Qt::Key key, Qt::KeyboardModifiers modifiers = Qt::NoModifier)
    {
        ++keys;
        QTest::keyClick(QApplication::focusWidget(), key, modifiers);
    }
    /// A field's text and the key that ends it.
    void type(const QString &text, Qt::Key end = Qt::Key_Tab)
    {
        prepared += text.isEmpty() ? 0 : 1;
        keys += int(text.size());
        QTest::keyClicks(QApplication::focusWidget(), text);
        key(end);
    }
    void startCounting()
    {
        keys = 0;
        prepared = 0;
    }
    [[nodiscard]] double modelled(double perKey) const
    {
        return keys * perKey + prepared * secondsToPrepare;
    }
    [[nodiscard]] QString status(int row) const
    {
        return page->findChild<QLabel *>(QStringLiteral("row%1-status").arg(row))->accessibleName();
    }
    [[nodiscard]] QString hint() const
    {
        return page->findChild<QLabel *>(QStringLiteral("sheetHint"))->text();
    }
    [[nodiscard]] QLineEdit *edit(const char *name) const
    {
        return page->findChild<QLineEdit *>(QLatin1String(name));
    }
    int turnsOf(const QString &number)
    {
        return session.history(session.valveByNumber(number)->id).baseline.most.value / 4;
    }
    std::vector<Visit> visitsOf(const QString &number)
    {
        return *session.project().visits().ofValve(session.valveByNumber(number)->id);
    }

    Session session;
    std::unique_ptr<SmallTown> town;
    std::unique_ptr<PaperSheetPage> page;
    int keys = 0;
    int prepared = 0;
};

} // namespace

class TestPaperSheet : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void aDayByKeyboardAlone();
    void aValveTakesUnderFifteenSeconds();
    void theSameJudgementAsInTheTruck();
    void refusalsAreSeenAndStay();
    void halfTypedRowsComeBack();
    void whatIsRecordedIsNotRecordedTwice();
    void aHalfTypedStopInTheTruckIsLeftAlone();
    void valvesByTheirNumbers();
    void daysToComeAreRefused();
    void droppingAsksFirst();
    void pictures_data();
    void pictures();
};

void TestPaperSheet::initTestCase()
{
    applyLook(*qApp);
    keepSettingsApart();
    QDir(QStringLiteral(KEYROUND_BUILD_DIR)).mkpath(QStringLiteral("screens"));
}

void TestPaperSheet::aDayByKeyboardAlone()
{
    SheetBench bench;
    const QStringList numbers = bench.numbers(3);
    const RoundId round = bench.addRound(numbers);
    const std::size_t before = bench.session.visits().size();
    bench.show(round);
    QCOMPARE(bench.focus(), QStringLiteral("row1-found")); // the round has put the number there
    for (const QString &number : numbers) {
        const QString turns = QString::number(bench.turnsOf(number));
        bench.type(QStringLiteral("o"));
        bench.type(turns);
        bench.type(turns);
        bench.type(QStringLiteral("o"), Qt::Key_Return);
    }
    QCOMPARE(bench.focus(), QStringLiteral("row4-number")); // an empty row waits
    QVERIFY2(bench.status(1).startsWith(wordFor(Verdict::Full)), qPrintable(bench.status(1)));
    QCOMPARE(bench.session.visits().size(), before); // nothing is recorded so far
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    QVERIFY2(bench.hint().startsWith(QStringLiteral("Visits to record: 3 (")),
             qPrintable(bench.hint()));
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    QCOMPARE(bench.session.visits().size(), before + 3);
    QVERIFY2(bench.status(2).startsWith(QStringLiteral("RECORDED")), qPrintable(bench.status(2)));
    QVERIFY(bench.hint().contains(QStringLiteral("Visits recorded, each on disk: 3.")));
    const Visit visit = bench.visitsOf(numbers[1]).back();
    QCOMPARE(visit.round, round);
    QCOMPARE(visit.crew, QStringLiteral("Crew 2"));
    QCOMPARE(visit.arrived.localDate(), bench.session.today().addDays(-1));
    QVERIFY(visit.remarks.contains(QStringLiteral("from the paper sheet")));
    QCOMPARE(bench.session.round(round)->state, RoundState::UnderWay);
    QVERIFY(!paperSheetWaits(bench.session));
}

void TestPaperSheet::aValveTakesUnderFifteenSeconds()
{
    SheetBench bench;
    const QStringList numbers = bench.numbers(3);
    bench.show(bench.addRound(numbers.mid(0, 2)));
    const auto report = [&](const char *what) {
        const double usual = bench.modelled(secondsPerKey);
        const double slow = bench.modelled(secondsPerRandomKey);
        qInfo("%s: %d keys, %d fields read: %.1f s (%.1f s at half a second a key)", what,
              bench.keys, bench.prepared, usual, slow);
        return usual;
    };
    // A sound valve of the round.
    bench.startCounting();
    bench.type(QStringLiteral("o"));
    bench.type(QStringLiteral("27"));
    bench.type(QStringLiteral("27"));
    bench.type(QStringLiteral("o"), Qt::Key_Return);
    QCOMPARE(bench.keys, 10);
    QVERIFY(report("a valve of the round") < 15.0);
    // One with two problems.
    bench.startCounting();
    bench.type(QStringLiteral("o"));
    bench.type(QStringLiteral("20"));
    bench.type(QStringLiteral("20"));
    bench.type(QStringLiteral("o"));
    bench.type(QStringLiteral("hard,pack"), Qt::Key_Return);
    QVERIFY(report("a valve of the round with two problems") < 15.0);
    QVERIFY(bench.page->desk().check(1).reading.visit.problems.size() == 2);
    // One that the round does not have: number and time too.
    bench.startCounting();
    bench.type(numbers[2]);
    bench.type(QStringLiteral("0915"));
    bench.type(QStringLiteral("o"));
    bench.type(QStringLiteral("27"));
    bench.type(QStringLiteral("27"));
    bench.type(QStringLiteral("o"), Qt::Key_Return);
    QVERIFY(report("a valve by its number, with its time") < 15.0);
    QCOMPARE(bench.page->desk().check(2).valve->number, numbers[2]);
    QVERIFY(bench.page->desk().check(2).reading.isSound());
}

void TestPaperSheet::theSameJudgementAsInTheTruck()
{
    SheetBench bench;
    const QStringList numbers = bench.numbers(3);
    bench.show(bench.addRound(numbers));
    const int turns = bench.turnsOf(numbers[0]);
    bench.type(QStringLiteral("o"));
    bench.type(QString::number(turns / 2));
    bench.type({});
    bench.type(QStringLiteral("c"), Qt::Key_Return);
    QVERIFY2(bench.status(1).startsWith(QStringLiteral("LEFT CLOSED")),
             qPrintable(bench.status(1)));
    QVERIFY(bench.status(1).contains(wordFor(Verdict::Short)));
    bench.type(QStringLiteral("o"));
    bench.type({});
    bench.type({});
    bench.type(QStringLiteral("o"));
    bench.type(QStringLiteral("spin"), Qt::Key_Return);
    QVERIFY(bench.status(2).contains(wordFor(Verdict::SpinsFree)));
    QCOMPARE(bench.edit("row2-problems")->text(), QStringLiteral("Spins without end"));
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    QVERIFY2(bench.hint().contains(
                 QStringLiteral("LEFT OTHER THAN NORMAL: valve %1 (closed)").arg(numbers[0])),
             qPrintable(bench.hint()));
    QVERIFY(bench.hint().contains(QStringLiteral("Stops with nothing typed: 1.")));
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    // What the visits say afterwards is what the grid said before.
    const auto &first = bench.session.history(bench.session.valveByNumber(numbers[0])->id);
    QCOMPARE(first.visits.back().judgement.verdict, Verdict::Short);
    QCOMPARE(first.condition, Condition::DoesNotShut);
    QVERIFY(first.leftOtherThanNormal);
    const auto &second = bench.session.history(bench.session.valveByNumber(numbers[1])->id);
    QCOMPARE(second.visits.back().judgement.verdict, Verdict::SpinsFree);
}

void TestPaperSheet::refusalsAreSeenAndStay()
{
    SheetBench bench;
    const QStringList numbers = bench.numbers(2);
    bench.show(bench.addRound(numbers));
    bench.type(QStringLiteral("z"));
    QVERIFY(bench.edit("row1-found")->property("refused").toBool());
    bench.type(QStringLiteral("twenty"));
    QVERIFY(bench.edit("row1-closing")->property("refused").toBool());
    QCOMPARE(bench.edit("row1-closing")->text(), QStringLiteral("twenty")); // stays for mending
    bench.key(Qt::Key_Return);
    QVERIFY2(bench.status(1).contains(QStringLiteral("is no position")),
             qPrintable(bench.status(1)));
    QVERIFY(bench.edit("row1-left")->property("refused").toBool()); // asked once the row is left
    bench.type(QStringLiteral("o"));
    bench.type(QStringLiteral("5"));
    bench.type({});
    bench.type(QStringLiteral("o"), Qt::Key_Return);
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    QVERIFY(
        bench.hint().contains(QStringLiteral("Rows that cannot be recorded as they stand: 1 (")));
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    QVERIFY(bench.visitsOf(numbers[1]).back().remarks.contains(QStringLiteral("paper sheet")));
    QVERIFY(paperSheetWaits(bench.session)); // the refused row is still there
    QCOMPARE(bench.edit("row1-found")->text(), QStringLiteral("z"));
}

void TestPaperSheet::halfTypedRowsComeBack()
{
    SheetBench bench;
    const QStringList numbers = bench.numbers(2);
    const RoundId round = bench.addRound(numbers);
    bench.show(round);
    bench.type(QStringLiteral("o"));
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("1")); // the field is not left
    QCOMPARE(bench.page->findChild<QLabel *>(QStringLiteral("sheetKept"))->text(),
             QStringLiteral("Kept on disk"));
    // A kill: nobody closes the page. The file is read again by another session.
    Session after(smallTownClock());
    const QString copy = bench.town->folder.filePath(QStringLiteral("after.keyround"));
    QVERIFY(QFile::copy(bench.town->path, copy));
    QVERIFY(after.openProject(copy));
    QVERIFY(paperSheetWaits(after));
    PaperSheetPage page(after, round);
    QCOMPARE(page.findChild<QLineEdit *>(QStringLiteral("row1-found"))->text(),
             QStringLiteral("o"));
    QCOMPARE(page.findChild<QLineEdit *>(QStringLiteral("row1-closing"))->text(),
             QStringLiteral("1"));
    QCOMPARE(page.findChild<QLineEdit *>(QStringLiteral("row2-number"))->text(), numbers[1]);
}

void TestPaperSheet::whatIsRecordedIsNotRecordedTwice()
{
    SheetBench bench;
    const QStringList numbers = bench.numbers(2);
    const RoundId round = bench.addRound(numbers);
    bench.show(round);
    const auto typeRow = [&] {
        bench.type(QStringLiteral("o"));
        bench.type({});
        bench.type({});
        bench.type(QStringLiteral("o"), Qt::Key_Return);
    };
    typeRow();
    bench.type(QStringLiteral("z"), Qt::Key_Return); // keeps the sheet open
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    QCOMPARE(bench.page->desk().check(0).state, CheckedSheetLine::State::Recorded);
    QVERIFY(!bench.edit("row1-found")->isEnabled());
    const std::size_t recorded = bench.session.visits().size();
    bench.page.reset();
    bench.show(round); // the half-typed sheet comes back with the row as recorded
    QCOMPARE(bench.page->desk().check(0).state, CheckedSheetLine::State::Recorded);
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    QCOMPARE(bench.session.visits().size(), recorded);
    // Typed once more in a row of its own: refused.
    bench.edit("row3-number")->setFocus();
    bench.type(numbers[0], Qt::Key_Return);
    QVERIFY2(bench.page->desk().check(2).firstRefusal().contains(QStringLiteral("row 1 too")),
             qPrintable(bench.page->desk().check(2).firstRefusal()));
}

void TestPaperSheet::aHalfTypedStopInTheTruckIsLeftAlone()
{
    SheetBench bench;
    const QStringList numbers = bench.numbers(1);
    const RoundId round = bench.addRound(numbers);
    const ValveId valve = bench.session.valveByNumber(numbers[0])->id;
    QVERIFY(bench.session.project().visits().saveDraft(
        {round, valve, {{QStringLiteral("step"), 3}}, bench.session.now()}));
    Q_EMIT bench.session.notifier().draftsChanged();
    bench.show(round);
    bench.type(QStringLiteral("o"));
    bench.key(Qt::Key_Return);
    QVERIFY2(bench.status(1).contains(QStringLiteral("waits in the Truck")),
             qPrintable(bench.status(1)));
    QVERIFY(bench.page->desk().summary().sound == 0);
}

void TestPaperSheet::valvesByTheirNumbers()
{
    SheetBench bench;
    const QString number = bench.numbers(1).front();
    bench.show({});
    QCOMPARE(bench.focus(), QStringLiteral("row1-number"));
    bench.type(QStringLiteral("no-such-valve"));
    QVERIFY(bench.edit("row1-number")->property("refused").toBool()); // checked at once
    bench.edit("row1-number")->setFocus();
    bench.type(number);
    QVERIFY(!bench.edit("row1-number")->property("refused").toBool());
    QVERIFY(!bench.status(1).isEmpty()); // the count that it is judged by
    bench.type(QStringLiteral("1015"));
    bench.type({});
    bench.type({});
    bench.type({});
    bench.type({});
    bench.type(QStringLiteral("no acc"), Qt::Key_Return);
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    // Today at 10:15 is still to come at 06:45: refused, and said.
    QVERIFY(bench.page->desk().check(0).firstRefusal().contains(QStringLiteral("still to come")));
    QLineEdit *day = bench.edit("sheetDate");
    day->setFocus();
    day->setText(QStringLiteral("2026-03-13"));
    QTest::keyClick(day, Qt::Key_Return);
    QVERIFY(bench.page->desk().check(0).reading.isSound());
    bench.edit("row2-number")->setFocus();
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    const Visit visit = bench.visitsOf(number).back();
    QVERIFY(visit.round.isNull());
    QCOMPARE(visit.problems, QList<Problem>{Problem::NoAccess});
    QCOMPARE(visit.arrived.iso(), QStringLiteral("2026-03-13T10:15:00.000-05:00"));
}

void TestPaperSheet::daysToComeAreRefused()
{
    SheetBench bench;
    bench.show({});
    QLineEdit *day = bench.edit("sheetDate");
    day->setFocus();
    day->setText(QStringLiteral("2026-03-17"));
    QTest::keyClick(day, Qt::Key_Return);
    QVERIFY(day->property("refused").toBool());
    QCOMPARE(bench.page->desk().date(), bench.session.today());
}

void TestPaperSheet::droppingAsksFirst()
{
    SheetBench bench;
    bench.show(bench.addRound(bench.numbers(1)));
    bench.type(QStringLiteral("o"));
    auto *drop = bench.page->findChild<QPushButton *>(QStringLiteral("sheetDrop"));
    drop->click();
    QVERIFY(paperSheetWaits(bench.session));
    QCOMPARE(drop->text(), QStringLiteral("Really drop it?"));
    drop->click();
    QVERIFY(!paperSheetWaits(bench.session));
    QCOMPARE(bench.edit("row1-found")->text(), QString());
}

void TestPaperSheet::pictures_data()
{
    QTest::addColumn<QSize>("size");
    QTest::newRow("1366x768") << QSize(1366, 768);
    QTest::newRow("1920x1080") << QSize(1920, 1080);
}

void TestPaperSheet::pictures()
{
    QFETCH(const QSize, size);
    SheetBench bench;
    QStringList numbers = bench.numbers(9);
    numbers.insert(2, bench.town->longWords);
    numbers.removeDuplicates();
    bench.show(bench.addRound(numbers), size);
    const QString turns = QString::number(bench.turnsOf(numbers[0]));
    const auto typeRow = [&](const QStringList &fields) {
        for (int i = 0; i < fields.size(); ++i) {
            bench.type(fields[i], i + 1 == fields.size() ? Qt::Key_Return : Qt::Key_Tab);
        }
    };
    const auto save = [&](const char *name) {
        const QString path = QStringLiteral("%1/screens/sheet-%2-%3.png")
                                 .arg(QStringLiteral(KEYROUND_BUILD_DIR), QLatin1String(name))
                                 .arg(size.width());
        QVERIFY(bench.page->grab().save(path));
    };
    typeRow({QStringLiteral("o"), turns, turns, QStringLiteral("o")});
    typeRow({QStringLiteral("o"), QStringLiteral("8"), QStringLiteral("8"), QStringLiteral("c"),
             QStringLiteral("hard, nut b"), QStringLiteral("worked it to and fro three times")});
    typeRow({QStringLiteral("q"), QStringLiteral("27.1"), {}, {}});
    typeRow({{}, {}, {}, {}, QStringLiteral("paved")});
    typeRow({QStringLiteral("p 3"), QStringLiteral("12+14"), QStringLiteral("26"),
             QStringLiteral("o")});
    bench.type(QStringLiteral("o"));
    bench.type(turns);
    bench.type(turns);
    bench.type(QStringLiteral("o"));
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("hard, found"));
    save("typing");
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    save("summary");
    bench.key(Qt::Key_Return, Qt::ControlModifier);
    save("recorded");
}

QTEST_MAIN(TestPaperSheet)
#include "test_paper_sheet.moc"
