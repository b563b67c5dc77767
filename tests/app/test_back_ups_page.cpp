// SPDX-License-Identifier: GPL-3.0-or-later
// The page of back-ups by clicks: what it lists, restoring, and a damaged project that is recovered
// on being opened; the half-typed stop while the disk refuses; the warning of a wrong clock.
#include "app/commands/visit_commands.h"
#include "app/shell/back_ups_page.h"
#include "app/shell/clock_line.h"
#include "app/shell/main_window.h"
#include "app/shell/message_line.h"
#include "app/shell/style.h"
#include "tests/support/by_name.h"
#include "tests/support/on_screen.h"
#include "tests/support/test_town.h"

#include <QAbstractButton>
#include <QDir>
#include <QFile>
#include <QLabel>
#include <QLineEdit>
#include <QStandardPaths>
#include <QTableWidget>
#include <QTest>

#include <csignal>

#include <sys/resource.h>

using namespace keyround;

namespace {

void keep(QWidget &widget, const QString &name, const QSize &size)
{
    widget.resize(size);
    QTest::qWait(30);
    QVERIFY(
        widget.grab().save(screenFile(QStringLiteral("%1-%2.png").arg(name).arg(size.width()))));
}

bool recordOne(Session &session)
{
    Visit visit;
    visit.valve = session.valves().front().id;
    visit.arrived = session.now();
    visit.left = Standing{Position::Open, {}};
    return recordVisit(session, visit).has_value();
}

} // namespace

class TestBackUpsPage : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void restoresByTwoClicks();
    void withoutBackUps();
    void recoversADamagedProject();
    void keepsTheStopWhileTheDiskRefuses();
    void saysAWrongClock();
};

void TestBackUpsPage::initTestCase()
{
    keepSettingsApart();
    QStandardPaths::setTestModeEnabled(true);
    applyLook(*qApp);
}

void TestBackUpsPage::restoresByTwoClicks()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    MainWindow window(session);
    window.show();
    const auto before = session.visits().size();
    for (int hours : {50, 26, 2}) {
        Moment then = smallTownMoment();
        then.utcMilliseconds -= std::int64_t{hours} * 3600000;
        QVERIFY(session.project().backUp(then));
    }
    QVERIFY(recordOne(session));
    QCOMPARE(session.visits().size(), before + 1);
    QMetaObject::invokeMethod(&window, "showBackUps");
    auto *table = named<QTableWidget>(&window, "backUps");
    QCOMPARE(table->rowCount(), 3);
    QCOMPARE(table->item(0, 2)->text(), QString::number(before));
    QVERIFY(!named<QAbstractButton>(&window, "recoverProject")->isVisible());
    keep(window, QStringLiteral("back-ups"), QSize(1366, 768));
    keep(window, QStringLiteral("back-ups"), QSize(1920, 1080));
    // How many are kept, with a refusal beside what was typed.
    auto *count = named<QLineEdit>(&window, "keepCount");
    QTest::mouseClick(count, Qt::LeftButton);
    count->selectAll();
    QTest::keyClicks(count, QStringLiteral("0"));
    QTest::keyClick(count, Qt::Key_Return);
    QCOMPARE(session.settings().backUps.keepCount, BackUpHabits{}.keepCount);
    count->selectAll();
    QTest::keyClicks(count, QStringLiteral("12"));
    QTest::keyClick(count, Qt::Key_Return);
    QCOMPARE(session.settings().backUps.keepCount, 12);

    table->selectRow(0);
    click(&window, "restoreBackUp");
    QCOMPARE(session.visits().size(), before + 1); // asked first
    click(&window, "restoreBackUp");
    QVERIFY(session.isOpen());
    QCOMPARE(session.visits().size(), before);
    const QDir folder(town->folder.path());
    QCOMPARE(folder.entryList({QStringLiteral("*.set-aside-*.keyround")}).size(), 1);
    QVERIFY(!table->isVisible()); // back in the places
}

void TestBackUpsPage::withoutBackUps()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    MainWindow window(session);
    window.show();
    QMetaObject::invokeMethod(&window, "showBackUps");
    QVERIFY(!named<QTableWidget>(&window, "backUps")->isVisible());
    keep(window, QStringLiteral("back-ups-none"), QSize(1366, 768));
    click(&window, "leaveBackUps");
    QVERIFY(!named<QAbstractButton>(&window, "leaveBackUps")->isVisible());
}

void TestBackUpsPage::recoversADamagedProject()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    const auto before = session.visits().size();
    QVERIFY(before > 10);
    QVERIFY(session.project().backUp(session.now()));
    session.closeProject();
    QFile file(town->path);
    QVERIFY(file.open(QIODevice::ReadWrite));
    const QByteArray bytes = file.readAll();
    const qsizetype at = bytes.indexOf("\"arrived\"");
    QVERIFY(at > 0);
    file.seek(at + 1);
    file.write("A"); // one bit of one visit
    file.close();

    MainWindow window(session);
    window.show();
    window.openProject(town->path);
    QVERIFY(!session.isOpen());
    QVERIFY(named<QLabel>(&window, "backUpTrouble")->isVisible());
    keep(window, QStringLiteral("back-ups-damaged"), QSize(1366, 768));
    keep(window, QStringLiteral("back-ups-damaged"), QSize(1920, 1080));
    click(&window, "recoverProject");
    QVERIFY(session.isOpen());
    QCOMPARE(session.visits().size(), before - 1);
    const QString said = window.findChild<MessageLine *>()->text();
    QVERIFY2(said.contains(QStringLiteral("1 rows are doubtful")), qPrintable(said));
    const QDir folder(town->folder.path());
    QCOMPARE(folder.entryList({QStringLiteral("*.set-aside-*.keyround")}).size(), 1);
    QCOMPARE(folder.entryList({QStringLiteral("*.recovery.json")}).size(), 1);
    QVERIFY(folder.entryList({QStringLiteral("*.recovered*")}).isEmpty());
    keep(window, QStringLiteral("back-ups-recovered"), QSize(1366, 768));
}

// The project's file may not grow any more; the user's own folder is another disk.
void TestBackUpsPage::keepsTheStopWhileTheDiskRefuses()
{
    Session session(smallTownClock());
    const auto town = makeSmallTown(session);
    const ValveId valve = session.valves().front().id;
    const RoundId round{newUuid7(1)};
    const QJsonObject content{{QStringLiteral("turns"), 41},
                              {QStringLiteral("remarks"), QString(40000, QLatin1Char('r'))}};
    {
        std::signal(SIGXFSZ, SIG_IGN); // writing then fails with EFBIG
        rlimit before{};
        ::getrlimit(RLIMIT_FSIZE, &before);
        const auto size = static_cast<rlim_t>(QFileInfo(town->path).size());
        QVERIFY(size > 100000);
        const rlimit limit{size, before.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        const Status saved = saveStopDraft(session, round, valve, content);
        ::setrlimit(RLIMIT_FSIZE, &before);
        QVERIFY(!saved);
        QVERIFY2(saved.error().message.contains(QStringLiteral("kept on this computer")),
                 qPrintable(saved.error().message));
    }
    QVERIFY(session.drafts().empty());
    session.closeProject();
    QVERIFY(session.openProject(town->path));
    const auto drafts = session.drafts();
    QCOMPARE(drafts.size(), std::size_t{1});
    QCOMPARE(drafts.front().content, content);
}

void TestBackUpsPage::saysAWrongClock()
{
    auto clock = std::make_unique<FixedClock>(smallTownMoment());
    FixedClock *hands = clock.get();
    Session session(std::move(clock));
    const auto town = makeSmallTown(session);
    MainWindow window(session);
    window.show();
    QVERIFY(recordOne(session));
    auto *line = named<QLabel>(&window, "clockWarning");
    QVERIFY2(!line->isVisible(), qPrintable(line->text()));
    hands->advanceSeconds(-3 * 86400);
    window.findChild<ClockLine *>()->refresh();
    QVERIFY(line->isVisible());
    QVERIFY2(line->text().contains(QStringLiteral("behind the last record")),
             qPrintable(line->text()));
    keep(window, QStringLiteral("clock-behind"), QSize(1366, 768));
    QVERIFY(session.project().visits().clockNotes()->empty());
    QVERIFY(recordOne(session)); // nobody is kept from recording
    const auto notes = session.project().visits().clockNotes();
    QCOMPARE(notes->size(), std::size_t{1});
    QCOMPARE(notes->front().offsetSeconds, std::int64_t{-3 * 86400});
    hands->advanceSeconds(3 * 86400);
    window.findChild<ClockLine *>()->refresh();
    QVERIFY(!line->isVisible());
}

QTEST_MAIN(TestBackUpsPage)
#include "test_back_ups_page.moc"
