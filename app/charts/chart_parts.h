// SPDX-License-Identifier: GPL-3.0-or-later
// What a chart holds: the plot with its series, axes, key and marks, and the table. Private to
// app/charts.
#pragma once

#include "app/charts/chart.h"
#include "app/charts/chart_elements.h"
#include "app/models/figures_model.h"

class QStackedLayout;

namespace keyround {

struct Chart::Parts
{
    explicit Parts(Chart &owner);

    void build();
    void buildTable();
    void listenToPlot();
    void take(const ChartPicture &shown);
    void setAxis(QCPAxis &axis, const ChartAxis &wanted);
    void keepWithin(QCPAxis &axis, const QCPRange &range, const ChartAxis &whole) const;
    void thinTicks(const QSizeF &size);
    /// The upright axis' title as it fits beside axes so high: whole, on two lines, or not at all.
    /// Called before the layout with what the axes become at most, and after it with what they are.
    void fitUprightTitle(int height, bool isLaidOut);
    void prepare(const QSize &size);
    [[nodiscard]] QString wordsAt(const QPointF &at) const;
    /// About how large the axes become in a picture of this size. The axis itself knows only after
    /// the layout that the ticks are wanted for.
    [[nodiscard]] QSizeF axisPixels(const QSize &size) const
    {
        return {std::max(100.0, size.width() - key->widthIn(size.width()) - 70.0),
                static_cast<double>(size.height())};
    }
    void chosenChanged();
    /// The item under a place on the plot; -1 when there is none.
    [[nodiscard]] int itemAt(const QPointF &at) const;
    [[nodiscard]] QPointF middleOf(const ChartItem &item) const;
    [[nodiscard]] bool hasColumns() const
    {
        return picture.items.empty() || picture.items.front().isColumn();
    }
    /// The next item to the right or left by place.
    [[nodiscard]] int neighbour(int step) const;
    void zoomAboutMiddle(double factor);
    void showWhole();
    void click(int item);
    /// Lays the picture out at this size and paints it; the choice is left off.
    void render(QCPPainter &painter, const QSize &size);
    [[nodiscard]] int count() const { return static_cast<int>(picture.items.size()); }

    Chart &chart;
    QCustomPlot *plot;
    QTableView *table = nullptr;
    FiguresModel *figures = nullptr;
    QStackedLayout *stack = nullptr;
    TitleElement *title = nullptr;
    KeyElement *key = nullptr;
    UnderAxisElement *under = nullptr;
    QCPItemRect *mark = nullptr;
    QCPItemText *empty = nullptr;
    ChartPicture picture;
    int chosen = -1;
    QPoint pressedAt;
};

} // namespace keyround
