// SPDX-License-Identifier: GPL-3.0-or-later
// A chart's files: PNG, PDF, SVG, CSV; and its picture on somebody else's page.
#include "app/charts/chart.h"

#include "app/charts/chart_parts.h"
#include "app/shell/style.h"
#include "core/exchange/write_files.h"

#include <QBuffer>
#include <QImage>
#include <QPageSize>
#include <QPdfWriter>
#include <QPicture>
#include <QSvgGenerator>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// Pictures are laid out as if this high, and then enlarged, so that their words stay readable.
constexpr double laidOutHeight = 520.0;

Status checkSize(const QString &path, const QSize &size)
{
    if (size.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    Chart::tr("The chart was not saved to %1: its width and height must be above "
                              "zero.")
                        .arg(path));
    }
    return {};
}

} // namespace

Status Chart::savePng(const QString &path, const QSize &size)
{
    if (Status checked = checkSize(path, size); !checked) {
        return checked;
    }
    const double scale = std::max(0.25, size.height() / laidOutHeight);
    QImage image(size, QImage::Format_RGB32);
    image.fill(look::card);
    {
        QCPPainter painter;
        painter.begin(&image);
        painter.scale(scale, scale);
        m_parts->render(painter, QSize(static_cast<int>(std::ceil(size.width() / scale)),
                                       static_cast<int>(std::ceil(size.height() / scale))));
    }
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image.save(&buffer, "PNG");
    return writeWhole(path, bytes);
}

Status Chart::savePdf(const QString &path, const QSize &size)
{
    if (Status checked = checkSize(path, size); !checked) {
        return checked;
    }
    constexpr double pointsPerPixel = 72.0 / 96.0;
    constexpr int dotsPerInch = 1200;
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setTitle(m_parts->picture.title);
        writer.setCreator(QStringLiteral("Keyround"));
        writer.setResolution(dotsPerInch);
        writer.setPageSize(
            QPageSize(QSizeF(size) * pointsPerPixel, QPageSize::Point, {}, QPageSize::ExactMatch));
        writer.setPageMargins({});
        QCPPainter painter;
        painter.begin(&writer);
        painter.setModes(QCPPainter::pmVectorized | QCPPainter::pmNoCaching);
        painter.scale(dotsPerInch / 96.0, dotsPerInch / 96.0);
        m_parts->render(painter, size);
    }
    return writeWhole(path, bytes);
}

Status Chart::saveSvg(const QString &path, const QSize &size)
{
    if (Status checked = checkSize(path, size); !checked) {
        return checked;
    }
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QSvgGenerator generator;
        generator.setOutputDevice(&buffer);
        generator.setSize(size);
        generator.setViewBox(QRect({0, 0}, size));
        generator.setResolution(96);
        // Qt writes these two as they are: an ampersand would break the file.
        generator.setTitle(m_parts->picture.title.toHtmlEscaped());
        generator.setDescription(m_parts->picture.filterWords.toHtmlEscaped());
        QCPPainter painter;
        painter.begin(&generator);
        painter.setModes(QCPPainter::pmVectorized | QCPPainter::pmNoCaching);
        m_parts->render(painter, size);
    }
    return writeWhole(path, bytes);
}

Status Chart::saveCsv(const QString &path) const
{
    const ReportTable &figures = m_parts->picture.figures;
    return writeCsv(path, {figures.columns, {figures.rows.begin(), figures.rows.end()}});
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
