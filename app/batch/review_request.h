// SPDX-License-Identifier: GPL-3.0-or-later
// What `review` is asked: its options, and which figure, valves and time they name. An option that
// cannot be read is wrong use, with what it takes.
#pragma once

#include "app/batch/console.h"
#include "core/condition/ageing.h"
#include "core/condition/series.h"

namespace keyround::batch {

enum class ReviewFigure { Pace, Condition, Changes, Ageing, Turns, Next };

void describeReview(QCommandLineParser &parser);

[[nodiscard]] Outcome<ReviewFigure> figureOption(const QCommandLineParser &parser);
[[nodiscard]] Outcome<PeriodLength> lengthOption(const QCommandLineParser &parser);
/// Ageing: which valves are counted together.
[[nodiscard]] Outcome<AgeingBy> ageingOption(const QCommandLineParser &parser);
/// A size without a unit is in the project's.
[[nodiscard]] Outcome<ValveFilter> filterOption(const QCommandLineParser &parser, UnitSystem units);
/// From the first visit until the session's day, unless said otherwise.
[[nodiscard]] Outcome<Span> spanOption(const QCommandLineParser &parser, Session &session);

} // namespace keyround::batch
