// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/tables.h"

#include "core/exchange/open_source.h"

#include <cpl_vsi.h>

namespace keyround {

namespace {

Status fillSheet(OGRLayer &layer, const CsvTable &table)
{
    for (const QString &heading : table.header) {
        OGRFieldDefn field(heading.toUtf8().constData(), OFTString);
        if (layer.CreateField(&field) != OGRERR_NONE) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("The column \"%1\" could not be written.").arg(heading));
        }
    }
    for (const QStringList &row : table.rows) {
        const OGRFeatureUniquePtr feature(OGRFeature::CreateFeature(layer.GetLayerDefn()));
        for (qsizetype i = 0; i < table.header.size(); ++i) {
            if (const QString cell = row.value(i); !cell.isEmpty()) {
                feature->SetField(static_cast<int>(i), guarded(cell).toUtf8().constData());
            }
        }
        if (layer.CreateFeature(feature.get()) != OGRERR_NONE) {
            return fail(
                ErrorCode::BadInput,
                QStringLiteral("The row of \"%1\" could not be written.").arg(row.value(0)));
        }
    }
    return {};
}

/// GDAL writes into memory, so that the file itself can be written whole or not at all.
Result<QByteArray> xlsxBytes(const CsvTable &table, const QString &sheetName)
{
    prepareGdal();
    const GdalMessages messages;
    const MemoryFile file(QByteArray(), QStringLiteral("table.xlsx"));
    GDALDriver *driver = GetGDALDriverManager()->GetDriverByName("XLSX");
    VSIUnlink(file.path().constData()); // the driver refuses to write over a file
    GDALDatasetUniquePtr dataset(
        driver == nullptr ? nullptr
                          : driver->Create(file.path().constData(), 0, 0, 0, GDT_Unknown, nullptr));
    OGRLayer *layer =
        dataset ? dataset->CreateLayer(sheetName.toUtf8().constData(), nullptr, wkbNone, nullptr)
                : nullptr;
    const auto failed = [&messages] {
        return fail(ErrorCode::BadInput, QStringLiteral("The table could not be written as XLSX: "
                                                        "%1. Choose CSV.")
                                             .arg(messages.firstFailure()));
    };
    if (layer == nullptr) {
        return failed();
    }
    if (Status filled = fillSheet(*layer, table); !filled) {
        return tl::unexpected(filled.error());
    }
    dataset.reset(); // writes the file
    vsi_l_offset size = 0;
    const GByte *bytes = VSIGetMemFileBuffer(file.path().constData(), &size, FALSE);
    if (messages.failed() || bytes == nullptr) {
        return failed();
    }
    return QByteArray(reinterpret_cast<const char *>(bytes), static_cast<qsizetype>(size));
}

} // namespace

Result<CsvTable> readTable(const QString &path)
{
    auto source = openSource(path);
    if (!source) {
        return tl::unexpected(source.error());
    }
    const GdalMessages messages;
    OGRLayer *layer = source->dataset->GetLayer(0);
    CsvTable table{columnsOf(*layer), {}};
    layer->ResetReading();
    while (const OGRFeatureUniquePtr feature{layer->GetNextFeature()}) {
        QStringList cells;
        for (int i = 0; i < table.header.size(); ++i) {
            cells << cellText(*feature, i);
        }
        table.rows.push_back(std::move(cells));
    }
    if (messages.failed()) {
        return tl::unexpected(damagedError(source->name, messages.firstFailure()));
    }
    return table;
}

Status writeXlsx(const QString &path, const CsvTable &table, const QString &sheetName)
{
    return xlsxBytes(table, sheetName).and_then([&path](const QByteArray &bytes) {
        return writeWhole(path, bytes);
    });
}

Status writeTable(const QString &path, const CsvTable &table, const QString &sheetName)
{
    return path.endsWith(QLatin1String(".xlsx"), Qt::CaseInsensitive)
               ? writeXlsx(path, table, sheetName)
               : writeCsv(path, table);
}

} // namespace keyround
