// SPDX-License-Identifier: GPL-3.0-or-later
// A crew's day, told to a project file as the app tells it: half-typed stops, visits, corrections,
// notices, photos, back-ups. What is stored is said on standard output once the call has returned
// (see ledger.h). It runs in a process of its own, which the faults are done to.
#pragma once

#include <QString>

namespace keyround {

struct ScriptedDay
{
    QString path;
    int stops = 0;        ///< how many; 0: until killed
    int giveUpAfter = 0;  ///< refusals after which to stop; 0: never
    bool unsafe = false;  ///< synchronous=OFF: shows that the power cuts can fail
    bool backUps = false; ///< makes copies too
};

/// A project with twenty invented valves. False, with words on standard error: it failed.
[[nodiscard]] bool makeDayProject(const QString &path);

/// The exit code: 0 done, 3 the project did not open (said as a refusal).
[[nodiscard]] int runScriptedDay(const ScriptedDay &day);

} // namespace keyround
