// SPDX-License-Identifier: GPL-3.0-or-later
// What a chart shows, as plain values: words, axes, series, the things that can be chosen, and the
// same figures as a table. Pictures are made from figures by functions (condition_picture.h and its
// neighbours) and drawn by one widget (chart.h), so that every chart has the same hover words,
// keys, files, table and empty state.
//
// Places are in the axes' own units: a count, a share (0 to 1), the number of a name (0, 1, ...),
// or dateKey() of a day.
#pragma once

#include "core/fieldlog/judgement.h"
#include "core/reports/table.h"

#include <QColor>
#include <QDate>

#include <limits>
#include <optional>
#include <vector>

namespace keyround {

/// Laid over a fill, so that bands differ in grey too.
enum class Pattern { None, Level, Upright, Rising, Falling, Crossed };
enum class PointShape { None, Disc, Square, Triangle, Diamond, Cross, Ring };

/// Okabe and Ito's colours, which colour-blind eyes tell apart (Okabe and Ito 2008).
namespace okabe {
inline const QColor orange(0xE6, 0x9F, 0x00);
inline const QColor sky(0x56, 0xB4, 0xE9);
inline const QColor green(0x00, 0x9E, 0x73);
inline const QColor yellow(0xF0, 0xE4, 0x42);
inline const QColor blue(0x00, 0x72, 0xB2);
inline const QColor vermilion(0xD5, 0x5E, 0x00);
inline const QColor purple(0xCC, 0x79, 0xA7);
} // namespace okabe

struct ChartSeries
{
    enum class Kind {
        Boxes,   ///< from x to x2 and from y to y2: bars, bands, places where a curve is undefined
        Line,    ///< through x, y; a NaN breaks it; with a shape at each point where there is one
        Points,  ///< shapes at x, y
        Area,    ///< between y and y2 along x
        Whiskers ///< upright lines at x from y to y2, with caps
    };
    Kind kind = Kind::Boxes;
    QString name; ///< in the key; empty: not in the key
    QColor colour;
    Pattern pattern = Pattern::None;
    PointShape shape = PointShape::None;
    Qt::PenStyle stroke = Qt::SolidLine;
    double thickness = 1.6;
    bool outlined = true;          ///< boxes
    double size = 4.0;             ///< half a shape's width, in pixels
    std::optional<Condition> mark; ///< drawn beside the name in the key
    std::vector<double> x = {};
    std::vector<double> x2 = {};
    std::vector<double> y = {};
    std::vector<double> y2 = {};
};

struct ChartAxis
{
    /// BothWays: whole numbers that count upwards and downwards from zero.
    enum class Scale { Number, Whole, BothWays, Share, Names, Dates };
    QString label;
    Scale scale = Scale::Number;
    QStringList names = {}; ///< for Names
    double from = 0;        ///< all of it is seen from here ...
    double to = 1;          ///< ... to here
    /// Names in a row such as months, of which some may be left out; others are shortened.
    bool mayLeaveOut = false;

    friend bool operator==(const ChartAxis &, const ChartAxis &) = default;
};

/// Something that can be pointed at and chosen: a column (no upper or lower end), a box, a point.
struct ChartItem
{
    double x = 0;
    double x2 = 0;
    double y = -std::numeric_limits<double>::infinity();
    double y2 = std::numeric_limits<double>::infinity();
    QString words; ///< said when it is pointed at

    [[nodiscard]] bool isColumn() const { return y2 == std::numeric_limits<double>::infinity(); }
    [[nodiscard]] bool isPoint() const { return x == x2 && y == y2; }
};

/// Numbers that stand under the axis, such as how many valves were still under watch.
struct UnderAxisRow
{
    QString label;
    std::vector<double> at;
    QStringList numbers; ///< as many as `at`
};

struct ChartPicture
{
    QString title;
    QString filterWords = {}; ///< written on the chart when not empty
    QString note = {};        ///< one line below: how to read it
    QString fileStem = {};    ///< "condition": the name that its files are offered under
    ChartAxis x = {};
    ChartAxis y = {};
    std::vector<ChartSeries> series = {}; ///< painted in this order
    bool keyFromTop = false; ///< the key lists the last series first, as a stack stands
    std::vector<ChartItem> items = {};
    std::vector<UnderAxisRow> underAxis = {};
    ReportTable figures = {};  ///< what the table view, CSV and the clipboard hold
    bool rowsAreItems = false; ///< row i of the figures is item i
    QString emptyWords = {};   ///< said in place of data; nothing else is drawn
    [[nodiscard]] bool isEmpty() const { return !emptyWords.isEmpty() || series.empty(); }
};

/// A day's place on an axis of dates, and back.
[[nodiscard]] double dateKey(const QDate &day);
[[nodiscard]] QDate dayOfKey(double key);

/// A line across: from `from` to `to` at one height.
[[nodiscard]] ChartSeries levelLine(const QString &name, double height, double from, double to,
                                    const QColor &colour, Qt::PenStyle stroke);

/// Points of one look, without places yet. The size is half a shape's width, in pixels.
[[nodiscard]] ChartSeries pointSeries(const QString &name, const QColor &colour, PointShape shape,
                                      double size);

/// A rectangle among a series' boxes.
void addBox(ChartSeries &series, double x, double x2, double y, double y2);
void addPoint(ChartSeries &series, double x, double y);
/// Columns of this width stand about whole numbers.
inline constexpr double columnWidth = 0.82;
/// A column about a whole number, as wide as the picture's columns are: for items.
[[nodiscard]] ChartItem columnItem(double at, const QString &words);
/// The range that shows columns 0 to count - 1 whole.
void fitColumns(ChartAxis &axis, int count);
/// A rounded-up end for an axis of counts.
[[nodiscard]] double headroom(double most);

/// "26 1/2": turns as people say them, from a number.
[[nodiscard]] QString turnsWords(double turns);
/// "61 %", "61.4 %": a share in words.
[[nodiscard]] QString shareText(double share, int decimals = 0);

} // namespace keyround
