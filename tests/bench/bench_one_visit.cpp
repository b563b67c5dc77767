// SPDX-License-Identifier: GPL-3.0-or-later
// bench_one_visit PROJECT.keyround: what one more visit costs on a large project (bench_office
// --keep makes one of 50,000 valves and 1,000,000 visits): recorded and read back by the session
// alone, a correction of it, the due list after it, and the same with the whole window listening
// while the Truck is shown. Goal: nobody waits after a stop, so well under 0.2 s, and no more for
// ten times the visits. Works on a copy. Run with QT_QPA_PLATFORM=offscreen.
#include "app/commands/visit_commands.h"
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/shell/style.h"
#include "tests/bench/timing.h"

#include <QApplication>
#include <QFile>
#include <QSettings>
#include <QStandardPaths>
#include <QTemporaryDir>

#include <cstdio>

using namespace keyround;

namespace {

constexpr int runs = 5;

void tell(const char *what, const bench::Taken &taken)
{
    std::printf("%-56s %8.1f ms wall, %8.1f ms processor\n", what, taken.wall, taken.processor);
    std::fflush(stdout);
}

/// Records sound visits and corrections, each of another valve than the one before.
class Recorder
{
public:
    explicit Recorder(Session &session) : m_session(session) {}

    void record()
    {
        const std::vector<Valve> &valves = m_session.valves();
        const Valve &valve = valves[m_next];
        m_next = (m_next + valves.size() / 37 + 1) % valves.size();
        const int turns = valve.listedTurns ? valve.listedTurns->value : 40;
        m_last = Visit{};
        m_last.valve = valve.id;
        m_last.arrived = m_session.now();
        m_last.finished = m_session.now();
        m_last.crew = QStringLiteral("Crew 1");
        m_last.found = {Position::Open, {}};
        m_last.left = {Position::Open, {}};
        m_last.passes = {{PassDirection::Closing, {turns}}, {PassDirection::Opening, {turns}}};
        keep();
    }
    void correct()
    {
        m_last.supersedes = m_last.id;
        m_last.reason = QStringLiteral("invented: miscounted");
        m_last.passes.back().turns.value -= 1;
        keep();
    }
    /// A correction that says that it was another valve.
    void move()
    {
        m_last.valve = m_session.valves()[m_next].id;
        m_next = (m_next + 1) % m_session.valves().size();
        correct();
    }
    /// What the next stop needs of the session.
    void read()
    {
        m_seen += m_session.visits().size();
        m_seen += m_session.history(m_last.valve).visits.size();
    }

private:
    void keep()
    {
        const auto stored = recordVisit(m_session, m_last);
        if (!stored) {
            qFatal("%s", qPrintable(stored.error().message));
        }
        m_last.id = *stored;
    }

    Session &m_session;
    Visit m_last;
    std::size_t m_next = 0;
    std::size_t m_seen = 0; // so that nothing is left out
};

void benchSession(Session &session, Recorder &recorder)
{
    const auto record = [&recorder] {
        recorder.record();
        recorder.read();
    };
    tell("the first visit recorded and read back", bench::medianTaken(1, record));
    tell("a visit recorded and read back", bench::medianTaken(runs, record));
    tell("a correction recorded and read back", bench::medianTaken(runs, [&recorder] {
             recorder.correct();
             recorder.read();
         }));
    tell("a correction that moves it to another valve", bench::medianTaken(runs, [&recorder] {
             recorder.move();
             recorder.read();
         }));
    (void)session.dueList();
    tell("a visit recorded, and the due list after it", bench::medianTaken(runs, [&] {
             recorder.record();
             (void)session.dueList();
         }));
}

void benchWindow(Session &session, Recorder &recorder)
{
    MainWindow window(session);
    window.resize(1366, 768);
    window.show();
    // As on projectChanged(): the window opens with the project in it.
    Q_EMIT session.notifier().projectChanged();
    for (const auto place : {MainWindow::Place::Truck, MainWindow::Place::Yard}) {
        window.showPlace(place);
        window.grab();
        const bool isTruck = place == MainWindow::Place::Truck;
        tell(isTruck ? "a visit recorded, the whole window on the Truck"
                     : "a visit recorded, the whole window on the Yard",
             bench::medianTaken(runs, [&] {
                 recorder.record();
                 QApplication::processEvents();
             }));
    }
}

} // namespace

int main(int count, char **arguments)
{
    QApplication application(count, arguments);
    QApplication::setOrganizationName(QStringLiteral("keyround-bench"));
    QStandardPaths::setTestModeEnabled(true);
    applyLook(application);
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("copy.keyround"));
    QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope, folder.path());
    if (count < 2 || !QFile::copy(QString::fromLocal8Bit(arguments[1]), path)) {
        std::fprintf(stderr, "usage: bench_one_visit PROJECT.keyround\n");
        return 1;
    }
    Session session;
    if (const Status opened = session.openProject(path); !opened) {
        std::fprintf(stderr, "%s\n", qPrintable(opened.error().message));
        return 1;
    }
    tell("valves, visits and histories read",
         bench::medianTaken(1, [&] { (void)session.histories(); }));
    std::printf("%zu valves, %zu visits\n", session.valves().size(), session.visits().size());
    Recorder recorder(session);
    benchSession(session, recorder);
    benchWindow(session, recorder);
    return 0;
}
