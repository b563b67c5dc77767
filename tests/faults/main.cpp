// SPDX-License-Identifier: GPL-3.0-or-later
// Faults on purpose: what was acknowledged must be stored after each of them. Prints the counts;
// the exit code is 0 when no run broke a promise.
//
//   keyround_faults                     the short form (what ctest runs)
//   keyround_faults --long              500 kills, 100 power cuts, 1,000 flips
//   keyround_faults --kills N --cuts N --full N --io N --flips N
//   keyround_faults --unsafe-cuts N     power cuts with synchronous=OFF: shows that they can fail
//
// Power cuts and full disks need root; without it they are said to be not tried.
#include "tests/faults/faults.h"
#include "tests/faults/scripted_day.h"

#include <QCommandLineParser>
#include <QCoreApplication>

#include <cstdio>

using namespace keyround;

namespace {

int number(const QCommandLineParser &parser, const char *name, int otherwise)
{
    const QString option = QLatin1String(name);
    return parser.isSet(option) ? parser.value(option).toInt() : otherwise;
}

int runDay(const QCommandLineParser &parser)
{
    ScriptedDay day;
    day.path = parser.value(QStringLiteral("day"));
    day.stops = number(parser, "stops", 0);
    day.giveUpAfter = number(parser, "give-up", 0);
    day.unsafe = parser.isSet(QStringLiteral("unsafe"));
    day.backUps = parser.isSet(QStringLiteral("back-ups"));
    return runScriptedDay(day);
}

/// What is asked for by name is all that is done; else the short or the long form.
FaultRuns askedFor(const QCommandLineParser &parser)
{
    constexpr FaultRuns shortForm{
        .kills = 25, .cuts = 6, .fullDisks = 4, .ioErrors = 10, .flips = 120};
    constexpr FaultRuns longForm{
        .kills = 500, .cuts = 100, .fullDisks = 50, .ioErrors = 100, .flips = 1000};
    FaultRuns runs{.kills = number(parser, "kills", 0),
                   .cuts = number(parser, "cuts", 0),
                   .fullDisks = number(parser, "full", 0),
                   .ioErrors = number(parser, "io", 0),
                   .flips = number(parser, "flips", 0)};
    const bool named = runs.kills + runs.cuts + runs.fullDisks + runs.ioErrors + runs.flips > 0;
    if (!named) {
        runs = parser.isSet(QStringLiteral("long")) ? longForm : shortForm;
    }
    if (parser.isSet(QStringLiteral("unsafe-cuts"))) {
        runs = FaultRuns{.cuts = number(parser, "unsafe-cuts", 0), .unsafe = true};
    }
    return runs;
}

} // namespace

int main(int argc, char *argv[])
{
    const QCoreApplication application(argc, argv);
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);
    QCommandLineParser parser;
    for (const char *name :
         {"day", "stops", "give-up", "kills", "cuts", "full", "io", "flips", "unsafe-cuts"}) {
        parser.addOption({QLatin1String(name), QString(), QStringLiteral("value")});
    }
    for (const char *name : {"unsafe", "back-ups", "long"}) {
        parser.addOption(QCommandLineOption(QLatin1String(name)));
    }
    parser.process(application);
    if (parser.isSet(QStringLiteral("day"))) {
        return runDay(parser);
    }
    const FaultRuns runs = askedFor(parser);
    int broken = 0;
    broken += runs.kills > 0 ? runKills(runs.kills) : 0;
    broken += runs.cuts > 0 ? runPowerCuts(runs.cuts, runs.unsafe) : 0;
    broken += runs.fullDisks > 0 ? runFullDisks(runs.fullDisks) : 0;
    broken += runs.ioErrors > 0 ? runIoErrors(runs.ioErrors) : 0;
    broken += runs.flips > 0 ? runFlips(runs.flips) : 0;
    std::printf("%d runs broke a promise.\n", broken);
    return broken == 0 ? 0 : 1;
}
