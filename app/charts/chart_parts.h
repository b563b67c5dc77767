// SPDX-License-Identifier: GPL-3.0-or-later
// What a chart holds: the plot with its series, axes, key and marks, and the table. Private to
// app/charts.
#pragma once

#include "app/charts/chart.h"
#include "app/charts/chart_elements.h"

class QStackedLayout;

namespace keyround {

class FiguresModel;

struct Chart::Parts
{
    explicit Parts(Chart &owner);

    void build();
    void buildTable();
    void listenToPlot();
    void take(const ChartPicture &shown);
    void setAxis(QCPAxis &axis, const ChartAxis &wanted);
    void keepWithin(QCPAxis &axis, const QCPRange &range, const ChartAxis &whole) const;
    void thinTicks(double pixels);
    /// About how long the x axis becomes in a picture this wide. The axis itself knows only after
    /// the layout that the ticks are wanted for.
    [[nodiscard]] double axisPixels(int width) const
    {
        return std::max(100, width - key->minimumOuterSizeHint().width() - 70);
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

/// The picture's figures for the table view.
class FiguresModel final : public QAbstractTableModel
{
public:
    using QAbstractTableModel::QAbstractTableModel;
    void setTable(const ReportTable &table);
    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    ReportTable m_table;
};

} // namespace keyround
