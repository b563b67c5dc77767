// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/picture_files.h"

#include "app/shell/style.h"
#include "core/exchange/write_files.h"

#include <QApplication>
#include <QBuffer>
#include <QClipboard>
#include <QImage>
#include <QMimeData>
#include <QPageSize>
#include <QPdfWriter>
#include <QSvgGenerator>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// Pictures are laid out as if this high, and then enlarged, so that their words stay readable.
constexpr double laidOutHeight = 520.0;
constexpr QSize copiedSize(1600, 900);

Status checkSize(const QString &path, const QSize &size)
{
    if (size.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("The picture was not saved to %1: its width and height must be "
                                "above zero.")
                        .arg(path));
    }
    return {};
}

QImage imageOf(const FilePicture &picture, const QSize &size)
{
    const double scale = std::max(0.25, size.height() / laidOutHeight);
    QImage image(size, QImage::Format_RGB32);
    image.fill(look::card);
    picture.paint({image, scale,
                   QSize(static_cast<int>(std::ceil(size.width() / scale)),
                         static_cast<int>(std::ceil(size.height() / scale))),
                   false});
    return image;
}

} // namespace

Status savePicturePng(const FilePicture &picture, const QString &path, const QSize &size)
{
    if (Status checked = checkSize(path, size); !checked) {
        return checked;
    }
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    imageOf(picture, size).save(&buffer, "PNG");
    return writeWhole(path, bytes);
}

Status savePicturePdf(const FilePicture &picture, const QString &path, const QSize &size)
{
    if (Status checked = checkSize(path, size); !checked) {
        return checked;
    }
    // The screen's own measure, as all paper of ours: text as large as it was laid out for. A PDF
    // keeps fractions of a dot.
    constexpr double pointsPerPixel = 72.0 / 96.0;
    constexpr int dotsPerInch = 96;
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setTitle(picture.title);
        writer.setCreator(QStringLiteral("Keyround"));
        writer.setResolution(dotsPerInch);
        writer.setPageSize(
            QPageSize(QSizeF(size) * pointsPerPixel, QPageSize::Point, {}, QPageSize::ExactMatch));
        writer.setPageMargins({});
        picture.paint({writer, 1.0, size, true});
    }
    return writeWhole(path, bytes);
}

Status savePictureSvg(const FilePicture &picture, const QString &path, const QSize &size)
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
        generator.setTitle(picture.title.toHtmlEscaped());
        generator.setDescription(picture.filterWords.toHtmlEscaped());
        picture.paint({generator, 1.0, size, true});
    }
    return writeWhole(path, bytes);
}

Status saveFiguresCsv(const ReportTable &figures, const QString &path)
{
    return writeCsv(path, {figures.columns, {figures.rows.begin(), figures.rows.end()}});
}

void copyPicture(const FilePicture &picture)
{
    auto *copied = new QMimeData;
    if (picture.paint) {
        copied->setImageData(imageOf(picture, copiedSize));
    }
    QStringList lines{picture.figures.columns.join(QLatin1Char('\t'))};
    for (const QStringList &row : picture.figures.rows) {
        lines << row.join(QLatin1Char('\t'));
    }
    copied->setText(lines.join(QLatin1Char('\n')));
    QApplication::clipboard()->setMimeData(copied);
}

} // namespace keyround
