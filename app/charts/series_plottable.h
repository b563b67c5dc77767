// SPDX-License-Identifier: GPL-3.0-or-later
// One series on QCustomPlot's axes. It cuts everything at the axes itself, because SVG as Qt 6.4
// writes it knows no clipping. Private to app/charts.
#pragma once

#include "app/charts/chart_elements.h"

namespace keyround {

class SeriesPlottable final : public QCPAbstractPlottable
{
public:
    SeriesPlottable(QCPAxis *x, QCPAxis *y, ChartSeries series);

    double selectTest(const QPointF &at, bool onlySelectable, QVariant *details) const override;
    QCPRange getKeyRange(bool &found, QCP::SignDomain domain) const override;
    QCPRange getValueRange(bool &found, QCP::SignDomain domain,
                           const QCPRange &within) const override;

protected:
    void draw(QCPPainter *painter) override;
    void drawLegendIcon(QCPPainter *painter, const QRectF &rect) const override;

private:
    [[nodiscard]] QRectF area() const;
    [[nodiscard]] QPointF pixel(double x, double y) const;
    [[nodiscard]] QPen line() const;
    void drawBoxes(QCPPainter &painter) const;
    void drawLine(QCPPainter &painter) const;
    void drawPoints(QCPPainter &painter) const;
    void drawArea(QCPPainter &painter) const;
    void drawWhiskers(QCPPainter &painter) const;

    ChartSeries m_series;
};

} // namespace keyround
