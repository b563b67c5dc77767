// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/open_source.h"

#include <QDateTime>
#include <QFile>
#include <QFileInfo>

#include <cpl_string.h>

#include <cmath>

namespace keyround {

namespace {

/// Which tags of a way we ask the OSM driver for; closed ways stay lines unless they are areas.
constexpr const char *osmSettings = "closed_ways_are_polygons=building,landuse,natural,leisure\n"
                                    "attribute_name_laundering=no\n"
                                    "[points]\nosm_id=yes\n"
                                    "[lines]\nosm_id=yes\nother_tags=no\n"
                                    "attributes=name,highway,oneway,maxspeed,access,vehicle,"
                                    "motor_vehicle,motorcar,junction,service,lanes\n"
                                    "[multipolygons]\nosm_id=yes\n"
                                    "[multilinestrings]\nosm_id=yes\n"
                                    "[other_relations]\nosm_id=yes\n";

const QByteArray &osmSettingsPath()
{
    static const MemoryFile file(QByteArray(osmSettings), QStringLiteral("osm.ini"));
    return file.path();
}

GDALDatasetUniquePtr openWith(const char *driver, const QByteArray &path,
                              const CPLStringList &options)
{
    CPLStringList drivers;
    drivers.AddString(driver);
    return GDALDatasetUniquePtr(GDALDataset::Open(path.constData(),
                                                  GDAL_OF_VECTOR | GDAL_OF_READONLY, drivers.List(),
                                                  options.List(), nullptr));
}

Result<MemoryFile> plainTable(const QString &path, OpenSource &source)
{
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) {
        return fail(ErrorCode::Refused,
                    QStringLiteral("%1 cannot be read: %2.").arg(source.name, file.errorString()));
    }
    auto text = readCsvText(file.readAll(), source.name);
    if (!text) {
        return tl::unexpected(text.error());
    }
    source.text = std::move(*text);
    MemoryFile memory(std::exchange(source.text->plain, {}), QStringLiteral("table.csv"));
    return memory;
}

QString momentText(const OGRFeature &feature, int column, OGRFieldType type)
{
    int year = 0;
    int month = 0;
    int day = 0;
    int hour = 0;
    int minute = 0;
    float second = 0;
    int zone = 0; // GDAL: 0 unknown, 1 local, 100 UTC, then quarter-hours
    feature.GetFieldAsDateTime(column, &year, &month, &day, &hour, &minute, &second, &zone);
    const QTime time(hour, minute, static_cast<int>(second));
    if (type == OFTTime) {
        return time.toString(Qt::ISODate);
    }
    QString text = QDate(year, month, day).toString(Qt::ISODate);
    if (type == OFTDateTime) {
        text += QLatin1Char('T') + time.toString(Qt::ISODate);
        if (zone >= 2) {
            const int minutes = (zone - 100) * 15;
            text += QStringLiteral("%1%2:%3")
                        .arg(minutes < 0 ? QLatin1Char('-') : QLatin1Char('+'))
                        .arg(std::abs(minutes) / 60, 2, 10, QLatin1Char('0'))
                        .arg(std::abs(minutes) % 60, 2, 10, QLatin1Char('0'));
        }
    }
    return text;
}

} // namespace

Error damagedError(const QString &name, const QString &gdalWords)
{
    return {
        ErrorCode::Damaged,
        QStringLiteral("%1 is cut short or damaged and cannot be read to its end%2. Copy or "
                       "export it again.")
            .arg(name, gdalWords.isEmpty() ? QString() : QStringLiteral(" (%1)").arg(gdalWords))};
}

Result<OpenSource> openSource(const QString &path)
{
    const auto format = checkFile(path);
    if (!format) {
        return tl::unexpected(format.error());
    }
    OpenSource source;
    source.name = QFileInfo(QFileInfo(path).absoluteFilePath()).fileName();
    source.format = *format;
    const GdalMessages messages;
    QByteArray gdalPath = path.toUtf8();
    CPLStringList options;
    if (format->isText) {
        auto memory = plainTable(path, source);
        if (!memory) {
            return tl::unexpected(memory.error());
        }
        source.memory = std::move(*memory);
        gdalPath = source.memory.path();
        options.SetNameValue("HEADERS", "YES");
        options.SetNameValue("AUTODETECT_TYPE", "NO");
        options.SetNameValue("MAX_LINE_SIZE", "-1");
    } else if (qstrcmp(format->driver, "OSM") == 0) {
        options.SetNameValue("CONFIG_FILE", osmSettingsPath().constData());
    }
    const GdalSetting xlsxHeadings("OGR_XLSX_HEADERS", "FORCE");
    const GdalSetting odsHeadings("OGR_ODS_HEADERS", "FORCE");
    source.dataset = openWith(format->driver, gdalPath, options);
    if (!source.dataset) {
        return tl::unexpected(damagedError(source.name, messages.firstFailure()));
    }
    if (source.dataset->GetLayerCount() == 0) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 has no layer or table with rows in it.").arg(source.name));
    }
    for (OGRLayer *layer : source.dataset->GetLayers()) {
        layer->GetLayerDefn()
            ->GetFieldCount(); // spreadsheets read headings only now, while we say how
    }
    return source;
}

Shape shapeOf(const OGRLayer &layer)
{
    switch (wkbFlatten(const_cast<OGRLayer &>(layer).GetGeomType())) { // GDAL's getter is not const
    case wkbNone:
        return Shape::None;
    case wkbPoint:
    case wkbMultiPoint:
        return Shape::Point;
    case wkbLineString:
    case wkbMultiLineString:
    case wkbCircularString:
    case wkbCompoundCurve:
    case wkbMultiCurve:
        return Shape::Line;
    default:
        return Shape::Other;
    }
}

QStringList columnsOf(OGRLayer &layer)
{
    QStringList columns;
    const OGRFeatureDefn *definition = layer.GetLayerDefn();
    for (int i = 0; i < definition->GetFieldCount(); ++i) {
        const char *name = definition->GetFieldDefn(i)->GetNameRef();
        if (qstrcmp(name, csvPadding) != 0) {
            columns << QString::fromUtf8(name);
        }
    }
    return columns;
}

QString cellText(const OGRFeature &feature, int column)
{
    if (!feature.IsFieldSetAndNotNull(column)) {
        return {};
    }
    const OGRFieldType type = feature.GetFieldDefnRef(column)->GetType();
    switch (type) {
    case OFTReal:
        return QString::number(feature.GetFieldAsDouble(column), 'g', 15);
    case OFTDate:
    case OFTTime:
    case OFTDateTime:
        return momentText(feature, column, type);
    default:
        return unguarded(QString::fromUtf8(feature.GetFieldAsString(column)));
    }
}

QString OpenSource::layerName(OGRLayer &layer) const
{
    return text ? name.section(QLatin1Char('.'), 0, -2) : QString::fromUtf8(layer.GetName());
}

} // namespace keyround
