// SPDX-License-Identifier: GPL-3.0-or-later
// The files of everything the Office shows as a picture (a chart, the map over time): PNG, PDF,
// SVG, the figures as CSV, the clipboard. Files are written whole or not at all.
#pragma once

#include "core/common/result.h"
#include "core/reports/table.h"

#include <QSize>

#include <functional>

class QPaintDevice;

namespace keyround {

/// Where a picture is painted: laid out at `size`, then enlarged by `scale`.
struct PictureTarget
{
    QPaintDevice &device;
    double scale = 1.0;
    QSize size;
    bool isVector = false; ///< lines and text stay what they are
};

struct FilePicture
{
    QString title;
    QString filterWords; ///< painted in the picture by `paint`; beside it in SVG
    QString fileStem;    ///< "condition": the name that its files are offered under
    ReportTable figures;
    std::function<void(const PictureTarget &)> paint;
};

/// A widget whose picture and figures can be saved, copied, and read as a table.
class PictureView
{
public:
    PictureView() = default;
    PictureView(const PictureView &) = delete;
    PictureView &operator=(const PictureView &) = delete;
    virtual ~PictureView() = default;

    /// Its painter is to be used at once.
    [[nodiscard]] virtual FilePicture filePicture() = 0;
    [[nodiscard]] virtual bool hasPicture() const = 0;
    virtual void setTableShown(bool on) = 0;
    [[nodiscard]] virtual bool isTableShown() const = 0;
};

/// The size is in pixels for PNG, in 1/96 in for the others.
[[nodiscard]] Status savePicturePng(const FilePicture &picture, const QString &path,
                                    const QSize &size = {1600, 900});
[[nodiscard]] Status savePicturePdf(const FilePicture &picture, const QString &path,
                                    const QSize &size = {1000, 620});
[[nodiscard]] Status savePictureSvg(const FilePicture &picture, const QString &path,
                                    const QSize &size = {1000, 620});
[[nodiscard]] Status saveFiguresCsv(const ReportTable &figures, const QString &path);
/// The picture, and the figures as text with tabs.
void copyPicture(const FilePicture &picture);

} // namespace keyround
