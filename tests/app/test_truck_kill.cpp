// SPDX-License-Identifier: GPL-3.0-or-later
// A stop that is killed (SIGKILL: nothing is closed, flushed or said) at each of its steps comes
// back to the same step and the same field, with what was typed there.
//
// The test starts itself as the program that is killed: the Truck over a real project file, worked
// by keys up to a step; it says so on its output and then waits for its end.
#include "core/storage/visit_store.h"
#include "tests/support/truck_bench.h"

#include <QProcess>
#include <QTextStream>

#include <csignal>

using namespace keyround;

namespace {

constexpr const char *childFlag = "--child";

const QStringList stepNames{QStringLiteral("get_there"), QStringLiteral("set_up"),
                            QStringLiteral("found"),     QStringLiteral("turn"),
                            QStringLiteral("judge"),     QStringLiteral("problems"),
                            QStringLiteral("leave"),     QStringLiteral("finish")};

std::unique_ptr<TruckPlace> shownPlace(Session &session)
{
    auto place = std::make_unique<TruckPlace>(session);
    place->resize(1366, 680);
    place->show();
    place->activateWindow();
    if (!QTest::qWaitForWindowActive(place.get())) {
        qFatal("the window does not become active");
    }
    return place;
}

/// From the choice of rounds to this step, with something half done in it.
void workTo(TruckPlace &place, int step)
{
    const auto field = [&place](const char *name) {
        return place.findChild<QWidget *>(QLatin1String(name));
    };
    TruckBench::key(Qt::Key_Return); // the round
    if (step == 0) {
        TruckBench::key(Qt::Key_F); // a search under way
        TruckBench::key(Qt::Key_2);
        return;
    }
    TruckBench::key(Qt::Key_Return); // at the valve
    if (step == 1) {
        return;
    }
    TruckBench::key(Qt::Key_Return);
    TruckBench::key(Qt::Key_3); // part open
    TruckBench::type("6 1");
    if (step == 2) {
        return;
    }
    TruckBench::type("/2");
    TruckBench::key(Qt::Key_Return);
    for (int turn = 0; turn < 5; ++turn) {
        TruckBench::key(Qt::Key_Space);
    }
    if (step == 3) {
        TruckBench::key(Qt::Key_NumberSign);
        TruckBench::type("2");
        return;
    }
    TruckBench::key(Qt::Key_Return);
    if (step == 4) {
        TruckBench::key(Qt::Key_3); // water still runs
        return;
    }
    TruckBench::key(Qt::Key_Return);
    if (step == 5) {
        field("other-problem")->setFocus();
        TruckBench::type("was");
        return;
    }
    TruckBench::key(Qt::Key_Return);
    TruckBench::key(Qt::Key_2);
    if (step == 6) {
        field("remarks")->setFocus();
        TruckBench::type("lid pai");
        return;
    }
    TruckBench::key(Qt::Key_Return);
}

/// What the child does until it is killed.
int runChild(const QString &path, int step)
{
    keepSettingsApart();
    applyLook(*qApp);
    Session session(smallTownClock());
    if (const Status opened = session.openProject(path); !opened) {
        qCritical("%s", qPrintable(opened.error().message));
        return 2;
    }
    const auto place = shownPlace(session);
    workTo(*place, step);
    const auto *saved = place->findChild<QLabel *>(QStringLiteral("saved"));
    if (!QTest::qWaitFor([&] { return saved->text().contains(QStringLiteral("✓")); })) {
        qCritical("not saved: %s", qPrintable(saved->text()));
        return 3;
    }
    QTextStream(stdout) << "READY " << TruckBench::focus() << Qt::endl;
    return QApplication::exec();
}

/// Kills the child once it says that it is there; the field it stood in.
QString killAt(const QString &path, int step)
{
    QProcess child;
    child.setProcessChannelMode(QProcess::ForwardedErrorChannel);
    child.start(QCoreApplication::applicationFilePath(),
                {QLatin1String(childFlag), path, QString::number(step)});
    QString said;
    while (!said.contains(QLatin1Char('\n')) && child.waitForReadyRead(20000)) {
        said += QString::fromUtf8(child.readAllStandardOutput());
    }
    child.kill(); // SIGKILL
    child.waitForFinished();
    if (!said.startsWith(QLatin1String("READY")) || child.exitStatus() != QProcess::CrashExit ||
        child.exitCode() != SIGKILL) {
        return {};
    }
    return said.trimmed().mid(6);
}

} // namespace

class TestTruckKill : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
        TruckBench bench;
        bench.addRound({QStringLiteral("V-002"), QStringLiteral("V-001")});
        bench.session.closeProject();
        m_made = m_folder.filePath(QStringLiteral("made.keyround"));
        QVERIFY(QFile::copy(bench.town->path, m_made));
    }

    void comesBackToTheSameField_data()
    {
        QTest::addColumn<int>("step");
        for (int step = 0; step < stepNames.size(); ++step) {
            QTest::newRow(qPrintable(stepNames.at(step))) << step;
        }
    }

    void comesBackToTheSameField()
    {
        QFETCH(int, step);
        const QString path = m_folder.filePath(stepNames.at(step) + QStringLiteral(".keyround"));
        QVERIFY(QFile::copy(m_made, path));
        const QString focus = killAt(path, step);
        QVERIFY2(!focus.isEmpty(), "the child did not get there");

        Session session(smallTownClock());
        const Status opened = session.openProject(path);
        QVERIFY2(opened.has_value(), opened ? "" : qPrintable(opened.error().message));
        const auto drafts = session.drafts();
        QCOMPARE(drafts.size(), std::size_t(1));
        QCOMPARE(drafts.front().content.value(QLatin1String("step")).toString(),
                 stepNames.at(step));
        const auto place = shownPlace(session);
        QVERIFY(place->hasStopUnderWay());
        QCOMPARE(TruckBench::focus(), focus);
        verifyTyped(*place, step);
        // And it goes on from there to the record.
        const std::size_t before = session.visits().size();
        workToTheRecord(*place, session, step);
        QCOMPARE(session.visits().size(), before + 1);
    }

private:
    static void verifyTyped(const TruckPlace &place, int step)
    {
        const auto text = [&place](const char *name) {
            return place.findChild<QLineEdit *>(QLatin1String(name))->text();
        };
        const auto isDown = [&place](const char *name) {
            return place.findChild<QAbstractButton *>(QLatin1String(name))->isChecked();
        };
        switch (step) {
        case 0:
            QVERIFY(isDown("search-probed"));
            break;
        case 2:
            QCOMPARE(text("found-turns"), QStringLiteral("6 1"));
            break;
        case 3:
            QCOMPARE(text("typed-count"), QStringLiteral("2"));
            break;
        case 4:
            QVERIFY(isDown("judge-flows"));
            break;
        case 5:
            QCOMPARE(text("other-problem"), QStringLiteral("was"));
            break;
        case 6:
            QVERIFY(isDown("left-closed"));
            break;
        default:
            break;
        }
    }

    static void workToTheRecord(TruckPlace &place, Session &session, int step)
    {
        const std::size_t before = session.visits().size();
        if (step == 0) {
            TruckBench::key(Qt::Key_7); // not found
        } else if (step == 1) {
            TruckBench::key(Qt::Key_Return);
            TruckBench::key(Qt::Key_1); // found open
        } else if (step == 2) {
            TruckBench::type("/2");
        } else if (step == 3) {
            TruckBench::type("7");
            TruckBench::key(Qt::Key_Return);
        }
        for (int i = 0; i < 12 && session.visits().size() == before; ++i) {
            const auto *left = place.findChild<QWidget *>(QStringLiteral("left-open"));
            if (left->isVisible() && TruckBench::focus() != QLatin1String("remarks")) {
                TruckBench::key(Qt::Key_1);
            }
            TruckBench::key(Qt::Key_Return);
        }
    }

    QTemporaryDir m_folder;
    QString m_made;
};

int main(int argc, char **argv)
{
    QApplication application(argc, argv);
    const QStringList arguments = QCoreApplication::arguments();
    if (arguments.size() == 4 && arguments.at(1) == QLatin1String(childFlag)) {
        return runChild(arguments.at(2), arguments.at(3).toInt());
    }
    TestTruckKill test;
    return QTest::qExec(&test, argc, argv);
}
#include "test_truck_kill.moc"
