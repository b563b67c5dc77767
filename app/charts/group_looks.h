// SPDX-License-Identifier: GPL-3.0-or-later
// Looks for groups that stand side by side: colour, pattern, stroke and shape all differ, so that
// any one of them is enough.
#pragma once

#include "app/charts/chart_picture.h"

#include <QCoreApplication>

#include <array>

namespace keyround {

struct GroupLook
{
    QColor colour;
    Pattern pattern;
    Qt::PenStyle stroke;
    PointShape shape;
};

inline const std::array<GroupLook, 5> groupLooks{{
    {okabe::blue, Pattern::Rising, Qt::SolidLine, PointShape::Disc},
    {okabe::vermilion, Pattern::Falling, Qt::DashLine, PointShape::Square},
    {okabe::green, Pattern::Level, Qt::DashDotLine, PointShape::Triangle},
    {okabe::purple, Pattern::Upright, Qt::DotLine, PointShape::Diamond},
    {okabe::orange, Pattern::Crossed, Qt::DashDotDotLine, PointShape::Cross},
}};

/// Words of the charts, for translation.
[[nodiscard]] inline QString chartSay(const char *words)
{
    return QCoreApplication::translate("Chart", words);
}

[[nodiscard]] inline QColor faint(QColor colour, int alpha = 70)
{
    // Mixed with the card's white, not see-through: a printer's file stays simple.
    const auto mix = [alpha](int part) { return 255 - (255 - part) * alpha / 255; };
    return QColor(mix(colour.red()), mix(colour.green()), mix(colour.blue()));
}

} // namespace keyround
