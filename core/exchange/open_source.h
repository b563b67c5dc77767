// SPDX-License-Identifier: GPL-3.0-or-later
// A file opened by GDAL with the one driver that fits it, and what its layers are called.
#pragma once

#include "core/common/result.h"
#include "core/exchange/csv_text.h"
#include "core/exchange/file_checks.h"
#include "core/exchange/gdal_session.h"
#include "core/exchange/source.h"

#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include <memory>
#include <optional>

namespace keyround {

struct OpenSource
{
    QString name; ///< the file's name without its folder, for messages
    FileFormat format;
    std::optional<CsvText> text; ///< for tables in text; `plain` has been handed to GDAL
    MemoryFile memory;
    GDALDatasetUniquePtr dataset; ///< declared after memory: closed before it

    /// A layer's name for people: a text table has none of its own and goes by its file's.
    [[nodiscard]] QString layerName(OGRLayer &layer) const;
};

[[nodiscard]] Result<OpenSource> openSource(const QString &path);

[[nodiscard]] Shape shapeOf(const OGRLayer &layer);
[[nodiscard]] QStringList columnsOf(OGRLayer &layer);

/// A cell as text: numbers without needless digits, dates as ISO, lists and bytes as GDAL has them.
/// The formula guard is taken off text; nothing else is changed.
[[nodiscard]] QString cellText(const OGRFeature &feature, int column);

/// The error for a file that GDAL started to read and could not finish.
[[nodiscard]] Error damagedError(const QString &name, const QString &gdalWords);

} // namespace keyround
