// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/chart_on_paper.h"

#include "app/charts/chart.h"

#include <utility>

namespace keyround {

SheetPicture chartOnPaper(ChartPicture picture)
{
    return [picture = std::move(picture)](QPainter &painter, const QRectF &area) {
        Chart chart;
        chart.show(picture);
        chart.paintInto(painter, area);
    };
}

} // namespace keyround
