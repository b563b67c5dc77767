// SPDX-License-Identifier: GPL-3.0-or-later
// What a condition chart holds: the plot with its bands, axes, key and marks. Private to
// app/charts.
#pragma once

#include "app/charts/chart_parts.h"
#include "app/charts/condition_chart.h"

namespace keyround {

struct ConditionChart::Parts
{
    explicit Parts(ConditionChart &owner);

    void build();
    void buildBands();
    void setData();
    void setAxes();
    void keepWithin(const QCPRange &range);
    void thinTicks(double pixels);
    /// About how long the time axis becomes in a picture this wide. The axis itself knows only
    /// after the layout that the ticks are wanted for.
    [[nodiscard]] double axisPixels(int width) const
    {
        return std::max(100, width - key->minimumOuterSizeHint().width() - 70);
    }
    void chosenChanged();
    /// The period under a place on the plot; -1 when there is none.
    [[nodiscard]] int periodAt(const QPointF &at) const;
    [[nodiscard]] int count() const { return static_cast<int>(picture.series.size()); }
    [[nodiscard]] int total(int period) const;
    [[nodiscard]] QCPRange wholeRange() const { return {-0.6, std::max(1, count()) - 0.4}; }
    void zoomAboutMiddle(double factor);
    void click(int period);
    /// Lays the picture out at this size and paints it; the choice is left off.
    void render(QCPPainter &painter, const QSize &size);

    ConditionChart &chart;
    QCustomPlot *plot;
    TitleElement *title = nullptr;
    KeyElement *key = nullptr;
    QCPItemRect *mark = nullptr;
    QCPItemText *empty = nullptr;
    QList<QCPBars *> bars; ///< fill and pattern of each band in turn
    ConditionPicture picture;
    int chosen = -1;
    QPoint pressedAt;
};

} // namespace keyround
