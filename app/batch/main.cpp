// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"
#include "app/shell/style.h"

#include <QApplication>

#include <array>

namespace {

using keyround::batch::Done;

struct Command
{
    const char *name;
    const char *what;
    Done (*run)(const QStringList &);
};

constexpr std::array commands{
    Command{"create", "make an empty project file", keyround::batch::runCreate},
    Command{"load", "bring a layer in from a file", keyround::batch::runLoad},
    Command{"due", "list which valves are due and why", keyround::batch::runDue},
    Command{"plan", "draw up a round", keyround::batch::runPlan},
    Command{"weeks", "draw up the working days to come", keyround::batch::runWeeks},
    Command{"learn", "what finished rounds say of times", keyround::batch::runLearn},
    Command{"record", "record the visits of a round", keyround::batch::runRecord},
    Command{"condition", "condition over time, and what went out", keyround::batch::runCondition},
    Command{"review", "the office's figures over time", keyround::batch::runReview},
    Command{"set-up", "the work zone offered for a valve", keyround::batch::runSetUp},
    Command{"load-list", "what the truck must carry for a round", keyround::batch::runLoadList},
    Command{"paper", "the whole packet of a round's day as one PDF", keyround::batch::runPaper},
    Command{"notices", "tell customers before their water goes off", keyround::batch::runNotices},
    Command{"contacts", "names and phones by age, and forgetting them",
            keyround::batch::runContacts},
    Command{"shut", "which valves shut a break, and who is without water",
            keyround::batch::runShut},
    Command{"recover", "read a damaged project file into a new one", keyround::batch::runRecover},
    Command{"single-shuts", "who loses water by each valve", keyround::batch::runSingleShuts},
    Command{"repairs", "requests for repair: list, send, take answers back",
            keyround::batch::runRepairs},
};

QString usage()
{
    QString text = QStringLiteral("Usage: keyround-batch COMMAND [options]\n\nCommands:\n");
    for (const Command &command : commands) {
        text += QStringLiteral("  %1 %2\n")
                    .arg(QLatin1String(command.name), -13)
                    .arg(QLatin1String(command.what));
    }
    return text + QStringLiteral("\nkeyround-batch COMMAND --help tells the options of one.\n"
                                 "Exit code: 0 done, 1 the job failed, 2 wrong use.");
}

int dispatch(QStringList arguments)
{
    using namespace keyround::batch;
    const QString name = arguments.value(1);
    if (name == QStringLiteral("--help") || name == QStringLiteral("-h")) {
        say(usage());
        return exitDone;
    }
    if (name == QStringLiteral("--version")) {
        say(QStringLiteral("keyround-batch " KEYROUND_VERSION));
        return exitDone;
    }
    for (const Command &command : commands) {
        if (name == QLatin1String(command.name)) {
            arguments.removeAt(1);
            const Done done = command.run(arguments);
            if (!done) {
                complain(QStringLiteral("keyround-batch %1: %2").arg(name, done.error().message));
                return done.error().exitCode;
            }
            return *done;
        }
    }
    complain(name.isEmpty() ? usage()
                            : QStringLiteral("keyround-batch: there is no command \"%1\"\n\n%2")
                                  .arg(name, usage()));
    return exitWrongUse;
}

/// Qt mentions a missing runtime directory on stderr, where scripts expect our notes alone.
void forwardQtMessages(QtMsgType, const QMessageLogContext &, const QString &message)
{
    if (!message.contains(QStringLiteral("XDG_RUNTIME_DIR"))) {
        keyround::batch::complain(message);
    }
}

} // namespace

int main(int argc, char *argv[])
{
    // Charts and sheets are painted, never shown: no display is needed.
    qputenv("QT_QPA_PLATFORM", "offscreen");
    qInstallMessageHandler(forwardQtMessages);
    QApplication application(argc, argv);
    QApplication::setApplicationName(QStringLiteral("keyround"));
    QApplication::setOrganizationName(QStringLiteral("keyround"));
    keyround::applyLook(application);
    return dispatch(QApplication::arguments());
}
