// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/condition_picture.h"

#include "app/shell/style.h"
#include "core/reports/condition_tables.h"

#include <QCoreApplication>

#include <algorithm>

namespace keyround {

namespace {

QString say(const char *words)
{
    return QCoreApplication::translate("Chart", words);
}

QString wordsFor(const PeriodCounts &counts, const QList<Condition> &bands, int total)
{
    QStringList lines{say("%1 (until %2)").arg(counts.period, counts.end.toString(Qt::ISODate))};
    for (qsizetype i = bands.size() - 1; i >= 0; --i) {
        const int count = counts.of(bands[i]);
        const double share = total > 0 ? static_cast<double>(count) / total : 0.0;
        lines << say("%1: %2 (%3)").arg(wordFor(bands[i])).arg(count).arg(shareText(share));
    }
    return lines.join(QLatin1Char('\n'));
}

} // namespace

QList<Condition> conditionBands()
{
    return {Condition::Serviceable, Condition::Defect,      Condition::DoesNotShut,
            Condition::DoesNotTurn, Condition::CannotReach, Condition::NeverVisited};
}

Pattern patternOf(Condition condition)
{
    switch (condition) {
    case Condition::Serviceable:
        return Pattern::None;
    case Condition::Defect:
        return Pattern::Level;
    case Condition::DoesNotShut:
        return Pattern::Rising;
    case Condition::DoesNotTurn:
        return Pattern::Crossed;
    case Condition::CannotReach:
        return Pattern::Upright;
    case Condition::NeverVisited:
        break;
    }
    return Pattern::Falling;
}

ChartSeries conditionSeriesLook(Condition condition)
{
    ChartSeries look;
    look.kind = ChartSeries::Kind::Boxes;
    look.name = wordFor(condition);
    look.colour = colourOf(condition);
    look.pattern = patternOf(condition);
    look.mark = condition;
    return look;
}

QString periodAxisWords(const QString &period)
{
    return period.contains(QLatin1Char('Q'))   ? say("Quarter")
           : period.contains(QLatin1Char('-')) ? say("Month")
                                               : say("Year");
}

ChartPicture conditionPicture(const std::vector<PeriodCounts> &series,
                              const QList<Condition> &bandsFromFoot)
{
    ChartPicture picture;
    picture.fileStem = QStringLiteral("condition");
    picture.keyFromTop = true;
    picture.figures = conditionTable(series);
    picture.rowsAreItems = true;
    int most = 0;
    std::vector<double> foot(series.size(), 0.0);
    for (const Condition condition : bandsFromFoot) {
        ChartSeries band = conditionSeriesLook(condition);
        for (size_t i = 0; i < series.size(); ++i) {
            const double at = static_cast<double>(i);
            const double top = foot[i] + series[i].of(condition);
            addBox(band, at - columnWidth / 2, at + columnWidth / 2, foot[i], top);
            foot[i] = top;
        }
        picture.series.push_back(std::move(band));
    }
    for (size_t i = 0; i < series.size(); ++i) {
        const int total = static_cast<int>(foot[i]);
        most = std::max(most, total);
        picture.x.names << series[i].period;
        picture.items.push_back(
            columnItem(static_cast<double>(i), wordsFor(series[i], bandsFromFoot, total)));
    }
    picture.x.scale = ChartAxis::Scale::Names;
    picture.x.mayLeaveOut = true;
    picture.x.label = series.empty() ? QString() : periodAxisWords(series.front().period);
    fitColumns(picture.x, static_cast<int>(series.size()));
    picture.y = {say("Valves"), ChartAxis::Scale::Whole, {}, 0, headroom(most)};
    if (most == 0) {
        picture.emptyWords = say("Nothing to count.");
    }
    return picture;
}

} // namespace keyround
