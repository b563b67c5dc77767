// SPDX-License-Identifier: GPL-3.0-or-later
// Looking into a file before anything is taken from it: which layers, columns, first rows, which
// coordinate system. All formats go through GDAL; nothing here writes.
#pragma once

#include "core/common/progress.h"
#include "core/common/result.h"
#include "core/exchange/layer_kind.h"
#include "core/geo/point.h"

#include <QVector>

namespace keyround {

enum class Shape { None, Point, Line, Other };

struct SourceLayer
{
    QString name;
    Shape shape = Shape::None;
    qint64 rows = -1; ///< -1: not known without reading it all
    QStringList columns;
    QVector<QStringList> firstRows; ///< up to 20, as text
    QString crsName;                ///< as the file says; empty when it does not
    QString crsUnit;                ///< "US survey foot", "foot", "metre", "degree"
    bool hasCrs = false;
};

struct SourceInfo
{
    QString path;
    QString format; ///< "CSV", "GPKG": GDAL's short name
    QList<SourceLayer> layers;
};

/// Opens and describes. Errors name the file and say what is wrong with it: missing, empty, cut
/// short, not what its name claims, a format that is not taken.
[[nodiscard]] Result<SourceInfo> inspectSource(const QString &path);

/// A coordinate system by its EPSG code: name and unit, or an error that says what was wrong.
struct CrsInfo
{
    int epsg = 0;
    QString name;
    QString unit;
};
[[nodiscard]] Result<CrsInfo> describeCrs(int epsg);

} // namespace keyround
