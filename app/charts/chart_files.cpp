// SPDX-License-Identifier: GPL-3.0-or-later
// A chart's files, and its picture on somebody else's page.
#include "app/charts/chart.h"

#include "app/charts/chart_parts.h"

#include <QPicture>

namespace keyround {

FilePicture Chart::filePicture()
{
    const ChartPicture &picture = m_parts->picture;
    return {picture.title, picture.filterWords, picture.fileStem, picture.figures,
            [this](const PictureTarget &target) {
                QCPPainter painter;
                painter.begin(&target.device);
                if (target.isVector) {
                    painter.setModes(QCPPainter::pmVectorized | QCPPainter::pmNoCaching);
                }
                painter.scale(target.scale, target.scale);
                m_parts->render(painter, target.size);
            }};
}

bool Chart::hasPicture() const
{
    return !m_parts->picture.isEmpty();
}

Status Chart::savePng(const QString &path, const QSize &size)
{
    return savePicturePng(filePicture(), path, size);
}

Status Chart::savePdf(const QString &path, const QSize &size)
{
    return savePicturePdf(filePicture(), path, size);
}

Status Chart::saveSvg(const QString &path, const QSize &size)
{
    return savePictureSvg(filePicture(), path, size);
}

Status Chart::saveCsv(const QString &path)
{
    return saveFiguresCsv(m_parts->picture.figures, path);
}

void Chart::copy()
{
    copyPicture(filePicture());
}

void Chart::paintInto(QPainter &painter, const QRectF &area)
{
    // A page has its own width; the chart is laid out for the screen's and then fitted to it.
    constexpr double laidOutWidth = 960.0;
    const double scale = area.width() / laidOutWidth;
    const QSize size(static_cast<int>(laidOutWidth), static_cast<int>(area.height() / scale));
    QPicture picture;
    {
        QCPPainter recorder;
        recorder.begin(&picture);
        recorder.setModes(QCPPainter::pmVectorized | QCPPainter::pmNoCaching);
        m_parts->render(recorder, size);
    }
    painter.save();
    painter.translate(area.topLeft());
    painter.scale(scale, scale);
    painter.drawPicture(0, 0, picture);
    painter.restore();
}

Status savePng(const ChartPicture &picture, const QString &path, const QSize &size)
{
    Chart chart;
    chart.show(picture);
    return chart.savePng(path, size);
}

} // namespace keyround
