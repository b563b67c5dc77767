// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/axis_names.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double gap = 10;          ///< pixels between two names side by side
constexpr double leastStacked = 52; ///< a narrower column has its name aslant
constexpr int mostLines = 3;
constexpr double slant = -60;
constexpr double longestSlanted = 130;

double widthOf(const QString &name, const QFontMetricsF &metrics)
{
    double width = 0;
    for (const QString &line : name.split(QLatin1Char('\n'))) {
        width = std::max(width, metrics.horizontalAdvance(line));
    }
    return width;
}

double widest(const QStringList &names, const QFontMetricsF &metrics)
{
    double width = 0;
    for (const QString &name : names) {
        width = std::max(width, widthOf(name, metrics));
    }
    return width;
}

/// Broken between words, as many lines as there may be; the rest is said to be missing.
QString stacked(const QString &name, double room, const QFontMetricsF &metrics)
{
    QStringList lines;
    const QStringList given = name.split(QLatin1Char('\n'));
    for (const QString &part : given) {
        QString line;
        for (const QString &word : part.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
            const QString longer = line.isEmpty() ? word : line + QLatin1Char(' ') + word;
            if (line.isEmpty() || metrics.horizontalAdvance(longer) <= room) {
                line = longer;
            } else {
                lines << line;
                line = word;
            }
        }
        lines << line;
    }
    if (lines.size() > mostLines) {
        lines[mostLines - 1] = lines.mid(mostLines - 1).join(QLatin1Char(' '));
        lines = lines.mid(0, mostLines);
    }
    for (QString &line : lines) {
        line = metrics.elidedText(line, Qt::ElideRight, room);
    }
    return lines.join(QLatin1Char('\n'));
}

QStringList eachOf(const QStringList &names, int every)
{
    QStringList labels;
    for (qsizetype i = 0; i < names.size(); ++i) {
        labels << (i % every == 0 ? names[i] : QString());
    }
    return labels;
}

/// Steps that people count months and quarters by.
int stepFor(double perName, double column)
{
    int every = 1;
    for (const int step : {2, 3, 4, 6, 12, 24, 48, 120, 240}) {
        if (column * every < perName) {
            every = step;
        }
    }
    return every;
}

} // namespace

AxisNames namesUnder(const QStringList &names, double column, double tallest, bool mayLeaveOut,
                     const QFontMetricsF &metrics)
{
    const double needed = widest(names, metrics) + gap;
    if (needed <= column || mayLeaveOut) {
        return {eachOf(names, stepFor(needed, column)), 0};
    }
    AxisNames made;
    if (column >= leastStacked) {
        for (const QString &name : names) {
            made.labels << stacked(name, column - gap, metrics);
        }
        return made;
    }
    // Lines aslant stand as far apart as their columns, seen from the side.
    const double apart = column * std::sin(-slant * M_PI / 180.0);
    made.turned = apart >= metrics.height() ? slant : -90;
    const double length = std::min(longestSlanted, tallest);
    for (const QString &name : eachOf(names, stepFor(metrics.height() + 1, column))) {
        made.labels << metrics.elidedText(
            QString(name).replace(QLatin1Char('\n'), QStringLiteral(", ")), Qt::ElideRight, length);
    }
    return made;
}

} // namespace keyround
