// SPDX-License-Identifier: GPL-3.0-or-later
// A break on the sample town as a person meets it: how long from the click on the map to the plan
// beside it and its picture, in processor time; and pictures of the pages, to look at.
//
// Usage: bench_break PROJECT.keyround FOLDER    (the project is copied; nothing is written to it)
#include "app/dialogs/choose_file.h"
#include "app/map/map_widget.h"
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/shell/style.h"
#include "tests/support/on_screen.h"

#include <QAbstractButton>
#include <QApplication>
#include <QSettings>
#include <QTemporaryDir>

#include <cstdio>
#include <ctime>

using namespace keyround;

namespace {

double processorMilliseconds()
{
    return 1000.0 * static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

/// A main whose shut passes one stuck valve over, has a doubtful one, and leaves people dry beyond.
QString tellingMain(Session &session)
{
    const PipeNetwork &network = session.network().network;
    for (const NetMain &main : network.mains) {
        const auto at = breakOnMain(network, main.number, {}, session.units());
        if (!at) {
            continue;
        }
        const ShutPlan plan = planShut(network, session.valveStates(), *at);
        if (plan.passedOver.size() == 1 && !plan.ifFails.empty() && plan.out.services > 10 &&
            plan.outBeyond.services > 0 && plan.sourcesLost.empty()) {
            return main.number;
        }
    }
    return {};
}

class Bench
{
public:
    Bench(Session &session, const QString &folder)
        : m_session(session), m_folder(folder), m_window(session)
    {
    }

    void run(const QSize &size, const QString &main)
    {
        m_window.resize(size);
        m_window.show();
        m_window.showPlace(MainWindow::Place::Break);
        QTest::qWait(300);
        typeMain(main);
        timeClicks(main);
        typeMain(main);
        save("break-sample");
        press("shut-first");
        press("shut-first");
        save("break-sample-begun");
        setNextFileForTest(m_folder.filePath(QStringLiteral("break-sample.pdf")));
        press("break-sheet");
        press("break-network");
        save("network-sample");
        press("network-back");
        press("break-matters");
        save("matters-sample");
    }

private:
    void press(const char *name)
    {
        if (auto *button = m_window.findChild<QAbstractButton *>(QLatin1String(name))) {
            button->click();
        }
    }
    void typeMain(const QString &main)
    {
        press("break-all");
        typeInto(m_window.findChild<QLineEdit *>(QStringLiteral("break-find")), main);
        QTest::qWait(100);
    }
    void save(const char *name)
    {
        QTest::qWait(100);
        const QString file =
            QStringLiteral("%1-%2.png").arg(QLatin1String(name)).arg(m_window.width());
        if (!m_window.grab().save(m_folder.filePath(file))) {
            qWarning("%s was not written", qPrintable(file));
        }
    }
    void timeClicks(const QString &number)
    {
        const PipeNetwork &network = m_session.network().network;
        auto *map = m_window.findChild<MapWidget *>(QStringLiteral("break-map"));
        const GeoLine &line = network.mains[network.main(number)].line;
        for (int turn = 0; turn < 5; ++turn) {
            const QPoint at = map->screenPoint(line.front()).toPoint();
            const double before = processorMilliseconds();
            Q_EMIT map->placeClicked(line.front());
            const double planned = processorMilliseconds();
            QApplication::processEvents();
            std::printf("click at %d, %d: plan at the side %.1f ms, with the picture %.1f ms\n",
                        at.x(), at.y(), planned - before, processorMilliseconds() - before);
        }
    }

    Session &m_session;
    QDir m_folder;
    MainWindow m_window;
};

} // namespace

int main(int argc, char **argv)
{
    const QApplication application(argc, argv);
    const QStringList arguments = QApplication::arguments();
    if (arguments.size() != 3) {
        std::fprintf(stderr, "usage: bench_break PROJECT.keyround FOLDER\n");
        return 2;
    }
    const QTemporaryDir folder;
    QSettings::setDefaultFormat(QSettings::IniFormat);
    QSettings::setPath(QSettings::IniFormat, QSettings::UserScope, folder.path());
    applyLook(*qApp);
    for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
        const QString copy = folder.filePath(QStringLiteral("%1.keyround").arg(size.width()));
        Session session;
        if (!QFile::copy(arguments.at(1), copy) || !session.openProject(copy)) {
            std::fprintf(stderr, "%s could not be opened\n", qPrintable(arguments.at(1)));
            return 1;
        }
        session.setDay(QDate(2026, 3, 16));
        const QString main = tellingMain(session);
        if (main.isEmpty()) {
            std::fprintf(stderr, "no main of this project makes a telling break\n");
            return 1;
        }
        std::printf("main %s\n", qPrintable(main));
        Bench(session, arguments.at(2)).run(size, main);
    }
    return 0;
}
