// SPDX-License-Identifier: GPL-3.0-or-later
// Which published typical application comes nearest to a stop: MUTCD, 11th edition, Table 6P-1
// (numbers and names as published; which one suits a valve stop is common practice, no source).
// It is offered to a trained person, never certified: the road authority, its permit and the
// person on site decide.
#pragma once

#include "core/workzone/site.h"

#include <QStringList>

#include <vector>

namespace keyround {

struct Application
{
    int number = 0;
    QString name;
    friend bool operator==(const Application &, const Application &) = default;
};

/// The applications of Table 6P-1 that a valve stop may need.
[[nodiscard]] const std::vector<Application> &applications();
/// Null when it is none of them.
[[nodiscard]] const Application *applicationOf(int number);

struct ApplicationChoice
{
    Application application;
    QString why;        ///< which of the inputs led to it
    QStringList doubts; ///< where the published text leaves something to the road authority
    bool needsFlaggers = false;
};

/// Refused with the reason where the inputs leave what is published here: freeways, darkness, over
/// 75 mph, the only lane of a one-way street. BadInput names what has to be asked first.
[[nodiscard]] Result<ApplicationChoice> chooseApplication(const Site &site);

/// MUTCD 6N.01: how long the work occupies one place.
enum class DurationClass { ShortDuration, ShortTerm, IntermediateTerm, LongTerm };
[[nodiscard]] QString wordFor(DurationClass duration);
/// Up to an hour; more than an hour in one daylight period (12 h are taken for it, common practice,
/// no source), or in the dark; up to 3 days; more.
[[nodiscard]] DurationClass durationOf(double minutes, bool isDark);

} // namespace keyround
