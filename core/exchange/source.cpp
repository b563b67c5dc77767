// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/source.h"

#include "core/exchange/crs.h"
#include "core/exchange/open_source.h"

namespace keyround {

namespace {

constexpr int rowsShown = 20;
constexpr qsizetype cellShown = 1000;

/// The shape of one row, for layers that do not declare theirs.
Shape shapeOfRow(const OGRGeometry &geometry)
{
    switch (wkbFlatten(geometry.getGeometryType())) {
    case wkbPoint:
    case wkbMultiPoint:
        return Shape::Point;
    case wkbLineString:
    case wkbMultiLineString:
        return Shape::Line;
    default:
        return Shape::Other;
    }
}

void describeCrsOf(OGRLayer &layer, SourceLayer &described)
{
    const OGRSpatialReference *crs = layer.GetSpatialRef();
    if (crs != nullptr && crs->IsLocal() == 0) {
        described.hasCrs = true;
        described.crsName = QString::fromUtf8(crs->GetName());
        described.crsUnit = unitOf(*crs);
        return;
    }
    // A plain table with these two headings is in degrees of WGS 84; any kind finds them alike.
    const ColumnMatch match = guessColumns(LayerKind::Hydrants, described.columns);
    if (described.shape == Shape::None && match.contains(QStringLiteral("lat")) &&
        match.contains(QStringLiteral("lon"))) {
        described.hasCrs = true;
        described.crsName = QStringLiteral("WGS 84");
        described.crsUnit = QStringLiteral("degree");
    }
}

SourceLayer describe(OGRLayer &layer, const OpenSource &source)
{
    SourceLayer described;
    described.name = source.layerName(layer);
    described.columns = columnsOf(layer);
    described.shape = shapeOf(layer);
    if (source.text) {
        described.rows = source.text->rows;
    } else if (layer.TestCapability(OLCFastFeatureCount) != 0) {
        described.rows = static_cast<qint64>(layer.GetFeatureCount(FALSE));
    }
    bool first = true;
    for (const OGRFeatureUniquePtr &feature : layer) {
        const OGRGeometry *geometry = feature->GetGeometryRef();
        if (first && described.shape == Shape::Other && geometry != nullptr) {
            described.shape = shapeOfRow(*geometry);
        }
        first = false;
        QStringList cells;
        for (int column = 0; column < described.columns.size(); ++column) {
            cells << cellText(*feature, column).left(cellShown);
        }
        described.firstRows << cells;
        if (described.firstRows.size() >= rowsShown) {
            break;
        }
    }
    layer.ResetReading();
    describeCrsOf(layer, described);
    return described;
}

} // namespace

Result<SourceInfo> inspectSource(const QString &path)
{
    const auto source = openSource(path);
    if (!source) {
        return tl::unexpected(source.error());
    }
    const GdalMessages messages;
    SourceInfo info;
    info.path = path;
    info.format = QLatin1String(source->format.driver);
    const bool isOsm = qstrcmp(source->format.driver, "OSM") == 0;
    if (isOsm) {
        source->dataset->ReleaseResultSet(
            source->dataset->ExecuteSQL("SET interest_layers = lines", nullptr, nullptr));
    }
    for (OGRLayer *layer : source->dataset->GetLayers()) {
        if (!isOsm || qstrcmp(layer->GetName(), "lines") == 0) {
            info.layers << describe(*layer, *source);
        }
    }
    if (messages.failed()) {
        return tl::unexpected(damagedError(source->name, messages.firstFailure()));
    }
    return info;
}

} // namespace keyround
