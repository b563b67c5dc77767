// SPDX-License-Identifier: GPL-3.0-or-later
// A day's plan cut into stretches of time, and how a stretch is drawn to scale: the same in the
// day's ribbon and in the small ribbons of the coming days. Seconds count from midnight. Every
// kind has a form as well as a colour: driving is a line with its direction, waiting is dotted,
// set-up is hatched, turning is filled, a break is striped.
#pragma once

#include "core/dayplan/plan.h"

#include <QRectF>

class QPainter;

namespace keyround {

class Session;

struct RibbonStretch
{
    enum class Kind { Drive, SetUp, Turning, Wait, Break };
    Kind kind = Kind::Drive;
    double from = 0;
    double to = 0;
    int stop = -1; ///< index of the stop that it belongs to or leads to; -1: of none
};
[[nodiscard]] QString wordFor(RibbonStretch::Kind kind);

[[nodiscard]] double secondOf(const QTime &time); ///< 0 when there is none
/// When work begins at a stop: after waiting for the street's hours.
[[nodiscard]] double beginOfWork(const PlannedStop &stop);
[[nodiscard]] double endOfWork(const PlannedStop &stop);

/// `setUpMinutes` holds one number a stop; what is left of its minutes is turning.
[[nodiscard]] std::vector<RibbonStretch> stretchesOf(const DayPlan &plan, const Shift &shift,
                                                     const std::vector<double> &setUpMinutes);

/// The minutes of each stop that go into parking, cones, lid and notes, by the settings.
[[nodiscard]] std::vector<double> setUpMinutesOf(Session &session, const DayPlan &plan);

/// Draws one stretch into the band's part that is its own.
void drawStretch(QPainter &painter, RibbonStretch::Kind kind, const QRectF &box);
/// Each kind's sample with its word, in a row; gives back where it ends.
double drawStretchKey(QPainter &painter, const QPointF &topLeft);

} // namespace keyround
