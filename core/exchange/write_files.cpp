// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/write_files.h"

#include "core/exchange/csv_text.h"
#include "core/exchange/gdal_session.h"

#include <QFileInfo>
#include <QSaveFile>

#include <cpl_string.h>
#include <cpl_vsi.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

namespace keyround {

namespace {

/// Line ends inside a field become LF: CR LF ends a record, and readers differ on a lone CR.
void appendField(QByteArray &out, const QString &field)
{
    QString text = field;
    text.replace(QStringLiteral("\r\n"), QStringLiteral("\n"));
    text.replace(QLatin1Char('\r'), QLatin1Char('\n'));
    text.remove(QChar(u'\0')); // no CSV can hold one
    QByteArray bytes = guarded(text).toUtf8();
    const bool blankEnds = !bytes.isEmpty() && (bytes.front() == ' ' || bytes.back() == ' ');
    const bool quoted = blankEnds || bytes.contains(',') || bytes.contains('"') ||
                        bytes.contains('\n') || bytes.contains(';') || bytes.contains('\t') ||
                        bytes.contains('|');
    if (!quoted) {
        out += bytes;
        return;
    }
    out += '"' + bytes.replace('"', "\"\"") + '"';
}

void appendRecord(QByteArray &out, const QStringList &fields, qsizetype columns)
{
    const qsizetype start = out.size();
    for (qsizetype i = 0; i < columns; ++i) {
        if (i > 0) {
            out += ',';
        }
        appendField(out, fields.value(i));
    }
    if (out.size() == start) { // one blank field: a bare line end would be no record
        out += "\"\"";
    }
    out += "\r\n";
}

OGRFeatureUniquePtr newFeature(OGRLayer &layer)
{
    return OGRFeatureUniquePtr(OGRFeature::CreateFeature(layer.GetLayerDefn()));
}

bool addRoutePoints(GDALDataset &dataset, const GpxRoute &route, OGRSpatialReference &wgs84)
{
    OGRLayer *layer = dataset.CreateLayer("route_points", &wgs84, wkbPoint, nullptr);
    if (layer == nullptr) {
        return false;
    }
    int number = 0;
    for (const GpxWaypoint &stop : route.stops) {
        const auto feature = newFeature(*layer);
        feature->SetField("route_fid", 0);
        feature->SetField("route_point_id", number++);
        feature->SetField("name", stop.name.toUtf8().constData());
        if (!stop.description.isEmpty()) {
            feature->SetField("desc", stop.description.toUtf8().constData());
        }
        if (route.made.isValid()) {
            feature->SetField("time",
                              route.made.toUTC().toString(Qt::ISODate).toUtf8().constData());
        }
        feature->SetField("route_name", route.name.toUtf8().constData());
        const OGRPoint point(stop.place.longitude, stop.place.latitude);
        feature->SetGeometry(&point);
        if (layer->CreateFeature(feature.get()) != OGRERR_NONE) {
            return false;
        }
    }
    return true;
}

bool addTrack(GDALDataset &dataset, const GpxRoute &route, OGRSpatialReference &wgs84)
{
    OGRLayer *layer = dataset.CreateLayer("tracks", &wgs84, wkbMultiLineString, nullptr);
    if (layer == nullptr) {
        return false;
    }
    OGRLineString line;
    for (const GeoPoint &place : route.track) {
        line.addPoint(place.longitude, place.latitude);
    }
    OGRMultiLineString lines;
    lines.addGeometry(&line);
    const auto feature = newFeature(*layer);
    feature->SetField("name", route.name.toUtf8().constData());
    feature->SetGeometry(&lines);
    return layer->CreateFeature(feature.get()) == OGRERR_NONE;
}

/// GDAL writes into memory, so that the file itself can be written whole or not at all.
Result<QByteArray> gpxBytes(const GpxRoute &route)
{
    const GdalMessages messages;
    const MemoryFile file(QByteArray(), QStringLiteral("route.gpx"));
    const auto failed = [&messages] {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The route could not be written as GPX: %1.")
                        .arg(messages.firstFailure()));
    };
    GDALDriver *driver = GetGDALDriverManager()->GetDriverByName("GPX");
    VSIUnlink(file.path().constData()); // the driver refuses to write over a file
    GDALDatasetUniquePtr dataset(
        driver == nullptr ? nullptr
                          : driver->Create(file.path().constData(), 0, 0, 0, GDT_Unknown, nullptr));
    OGRSpatialReference wgs84;
    wgs84.importFromEPSG(4326);
    wgs84.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    if (!dataset || !addRoutePoints(*dataset, route, wgs84) ||
        (route.track.size() >= 2 && !addTrack(*dataset, route, wgs84))) {
        return failed();
    }
    dataset.reset(); // writes the end of the file
    vsi_l_offset size = 0;
    const GByte *bytes = VSIGetMemFileBuffer(file.path().constData(), &size, FALSE);
    if (messages.failed() || bytes == nullptr) {
        return failed();
    }
    return QByteArray(reinterpret_cast<const char *>(bytes), static_cast<qsizetype>(size));
}

} // namespace

// GDAL's CSV driver can quote and end lines as RFC 4180 asks, but it writes features of a layer:
// headings that repeat or clash are renamed, and one blank field would need a special case of ours.
QByteArray csvBytes(const CsvTable &table)
{
    QByteArray out;
    appendRecord(out, table.header, table.header.size());
    for (const QStringList &row : table.rows) {
        appendRecord(out, row, table.header.size());
    }
    return out;
}

Status writeCsv(const QString &path, const CsvTable &table)
{
    return writeWhole(path, csvBytes(table));
}

Status writeGpx(const QString &path, const GpxRoute &route)
{
    for (const GpxWaypoint &stop : route.stops) {
        if (!stop.place.isValid()) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("Stop \"%1\" has no position, so the route cannot be "
                                       "written as GPX. Give the valve a place first.")
                            .arg(stop.name));
        }
    }
    return gpxBytes(route).and_then(
        [&path](const QByteArray &bytes) { return writeWhole(path, bytes); });
}

Status writeWhole(const QString &path, const QByteArray &bytes)
{
    const auto failed = [&path](const QString &why) {
        return fail(ErrorCode::StorageFault,
                    QStringLiteral("\"%1\" could not be written: %2. Choose another place, or free "
                                   "some room; nothing was changed.")
                        .arg(path, why));
    };
    if (QFileInfo(path).isDir()) {
        return failed(QStringLiteral("it is a folder"));
    }
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly)) {
        return failed(file.errorString());
    }
    if (file.write(bytes) != bytes.size() || !file.commit()) {
        return failed(file.errorString());
    }
    return {};
}

} // namespace keyround
