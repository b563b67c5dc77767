// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/chart_picture.h"

#include <QDateTime>

#include <algorithm>
#include <cmath>

namespace keyround {

double dateKey(const QDate &day)
{
    return static_cast<double>(day.startOfDay(Qt::UTC).toSecsSinceEpoch());
}

QDate dayOfKey(double key)
{
    return QDateTime::fromSecsSinceEpoch(static_cast<qint64>(key), Qt::UTC).date();
}

ChartSeries levelLine(const QString &name, double height, double from, double to,
                      const QColor &colour, Qt::PenStyle stroke)
{
    ChartSeries line;
    line.kind = ChartSeries::Kind::Line;
    line.name = name;
    line.colour = colour;
    line.stroke = stroke;
    line.x = {from, to};
    line.y = {height, height};
    return line;
}

ChartSeries pointSeries(const QString &name, const QColor &colour, PointShape shape, double size)
{
    ChartSeries series;
    series.kind = ChartSeries::Kind::Points;
    series.name = name;
    series.colour = colour;
    series.shape = shape;
    series.size = size;
    return series;
}

void addBox(ChartSeries &series, double x, double x2, double y, double y2)
{
    series.x.push_back(x);
    series.x2.push_back(x2);
    series.y.push_back(y);
    series.y2.push_back(y2);
}

void addPoint(ChartSeries &series, double x, double y)
{
    series.x.push_back(x);
    series.y.push_back(y);
}

ChartItem columnItem(double at, const QString &words)
{
    ChartItem item;
    item.x = at - 0.5;
    item.x2 = at + 0.5;
    item.words = words;
    return item;
}

void fitColumns(ChartAxis &axis, int count)
{
    axis.from = -0.6;
    axis.to = std::max(1, count) - 0.4;
}

double headroom(double most)
{
    return std::max(4.0, most * 1.06);
}

QString turnsWords(double turns)
{
    return turnsText(QuarterTurns{static_cast<int>(std::lround(turns * 4.0))});
}

QString shareText(double share, int decimals)
{
    return QStringLiteral("%1 %").arg(100.0 * share, 0, 'f', decimals);
}

} // namespace keyround
