// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/layer_file.h"

#include "sample-project/generator/town.h"

#include <cpl_conv.h>
#include <cpl_string.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include <cstdio>

namespace keyround::sample {

namespace {

const char *driverName(FileKind kind)
{
    switch (kind) {
    case FileKind::Csv:
        return "CSV";
    case FileKind::GeoPackage:
        return "GPKG";
    case FileKind::GeoJson:
        break;
    }
    return "GeoJSON";
}

OGRFieldType ogrType(FieldKind kind)
{
    switch (kind) {
    case FieldKind::Whole:
        return OFTInteger;
    case FieldKind::Real:
        return OFTReal;
    case FieldKind::Text:
        break;
    }
    return OFTString;
}

} // namespace

LayerFile::LayerFile(FileKind kind, const std::string &path, const std::string &layer,
                     const std::string &description, const std::vector<Field> &fields)
    : m_kind(kind), m_path(path), m_fields(fields)
{
    // A GeoPackage notes when it was last changed; a fixed day keeps its bytes the same.
    CPLSetConfigOption("OGR_CURRENT_DATE", "2026-01-31T00:00:00.000Z");
    std::remove(path.c_str());
    GDALDriver *driver = GetGDALDriverManager()->GetDriverByName(driverName(kind));
    m_dataset = driver ? driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr) : nullptr;
    if (!m_dataset) {
        m_error = path + ": cannot be made; check that the folder can be written to";
        return;
    }
    OGRSpatialReference plane;
    plane.importFromEPSG(townEpsg);
    plane.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    OGRSpatialReference degrees;
    degrees.importFromEPSG(4326);
    degrees.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    CPLStringList options;
    OGRSpatialReference *reference = nullptr;
    OGRwkbGeometryType shape = wkbNone;
    if (kind == FileKind::GeoPackage) {
        reference = &plane;
        shape = wkbLineString;
        options.SetNameValue("FID", "fid");
        options.SetNameValue("DESCRIPTION", description.c_str());
    } else if (kind == FileKind::GeoJson) {
        // NAD83 is taken for WGS 84 here, as EPSG's null transformation 1188 does: no grid files,
        // so the same digits on every machine.
        const std::unique_ptr<OGRSpatialReference> geographic(plane.CloneGeogCS());
        geographic->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
        m_toDegrees.reset(OGRCreateCoordinateTransformation(&plane, geographic.get()));
        reference = &degrees;
        shape = wkbPoint;
        options.SetNameValue("RFC7946", "YES");
        options.SetNameValue("DESCRIPTION", description.c_str());
    } else {
        options.SetNameValue("LINEFORMAT", "CRLF");
        options.SetNameValue("STRING_QUOTING", "IF_NEEDED");
    }
    m_layer = m_dataset->CreateLayer(layer.c_str(), reference, shape, options.List());
    if (!m_layer) {
        m_error = path + ": the layer cannot be made";
        return;
    }
    for (const Field &field : fields) {
        OGRFieldDefn definition(field.name.c_str(), ogrType(field.kind));
        if (field.kind == FieldKind::Real && kind == FileKind::Csv) {
            definition.SetWidth(16);
            definition.SetPrecision(field.decimals);
        }
        m_layer->CreateField(&definition);
    }
    m_dataset->StartTransaction();
}

LayerFile::~LayerFile()
{
    GDALClose(m_dataset);
}

void LayerFile::add(const std::vector<Cell> &cells, const Line &shape, bool isLine)
{
    if (!m_error.empty())
        return;
    OGRFeature feature(m_layer->GetLayerDefn());
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const int field = static_cast<int>(i);
        if (const auto *text = std::get_if<std::string>(&cells[i]))
            feature.SetField(field, text->c_str());
        else if (const auto *whole = std::get_if<int>(&cells[i]))
            feature.SetField(field, *whole);
        else if (const auto *real = std::get_if<double>(&cells[i]))
            feature.SetField(field, *real);
        else if (m_kind != FileKind::Csv)
            feature.SetFieldNull(field);
    }
    if (isLine) {
        OGRLineString line;
        for (const Spot spot : shape)
            line.addPoint(rounded(spot).x + originEast, rounded(spot).y + originNorth);
        feature.SetGeometry(&line);
    } else if (!shape.empty()) {
        double x = shape.front().x + originEast;
        double y = shape.front().y + originNorth;
        if (m_toDegrees && !m_toDegrees->Transform(1, &x, &y))
            m_error = m_path + ": a place cannot be put into degrees";
        const OGRPoint point(x, y);
        feature.SetGeometry(&point);
    }
    if (m_layer->CreateFeature(&feature) != OGRERR_NONE)
        m_error = m_path + ": a row cannot be written; the disk may be full";
}

void LayerFile::addRow(const std::vector<Cell> &cells)
{
    add(cells, {}, false);
}

void LayerFile::addLine(const std::vector<Cell> &cells, const Line &line)
{
    add(cells, line, true);
}

void LayerFile::addPoint(const std::vector<Cell> &cells, Spot spot)
{
    add(cells, {spot}, false);
}

std::string LayerFile::finish()
{
    if (m_dataset) {
        if (m_error.empty() && m_dataset->TestCapability(ODsCTransactions) &&
            m_dataset->CommitTransaction() != OGRERR_NONE)
            m_error = m_path + ": cannot be finished; the disk may be full";
        GDALClose(m_dataset);
        m_dataset = nullptr;
    }
    return m_error;
}

} // namespace keyround::sample
