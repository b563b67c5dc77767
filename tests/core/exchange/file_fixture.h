// SPDX-License-Identifier: GPL-3.0-or-later
// Files made for a test in a folder that goes with it.
#pragma once

#include <QFile>
#include <QTemporaryDir>
#include <QTest>

#include <cpl_string.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

namespace keyround::tests {

class FileFixture
{
public:
    [[nodiscard]] QString path(const QString &name) const { return m_folder.filePath(name); }

    QString write(const QString &name, const QByteArray &bytes) const
    {
        QFile file(path(name));
        if (!file.open(QIODevice::WriteOnly) || file.write(bytes) != bytes.size()) {
            qFatal("the test's own file could not be written");
        }
        return file.fileName();
    }

    [[nodiscard]] QByteArray read(const QString &name) const
    {
        QFile file(path(name));
        return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
    }

    /// Copies the first `bytes` of a file under a new name; fewer than none: all but so many.
    QString cut(const QString &name, const QString &as, qsizetype bytes) const
    {
        const QByteArray all = read(name);
        return write(as, all.left(bytes < 0 ? all.size() + bytes : bytes));
    }

    struct Feature
    {
        QByteArray wkt;
        QStringList cells;
    };
    /// Lets GDAL make a layer with text columns: an outside hand for what our readers read.
    QString makeLayer(const QString &fileName, const char *driver, const char *layerName,
                      OGRwkbGeometryType type, const char *crs, const QStringList &columns,
                      const std::vector<Feature> &features) const
    {
        GDALAllRegister();
        const QByteArray file = path(fileName).toUtf8();
        const GDALDatasetUniquePtr dataset(GetGDALDriverManager()->GetDriverByName(driver)->Create(
            file.constData(), 0, 0, 0, GDT_Unknown, nullptr));
        OGRSpatialReference reference;
        if (crs != nullptr) {
            reference.SetFromUserInput(crs);
            reference.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
        }
        OGRLayer *layer =
            dataset->CreateLayer(layerName, crs == nullptr ? nullptr : &reference, type, nullptr);
        for (const QString &column : columns) {
            OGRFieldDefn field(column.toUtf8().constData(), OFTString);
            layer->CreateField(&field);
        }
        for (const Feature &each : features) {
            const OGRFeatureUniquePtr feature(OGRFeature::CreateFeature(layer->GetLayerDefn()));
            for (int i = 0; i < each.cells.size(); ++i) {
                feature->SetField(i, each.cells.at(i).toUtf8().constData());
            }
            OGRGeometry *geometry = nullptr;
            if (!each.wkt.isEmpty()) {
                OGRGeometryFactory::createFromWkt(each.wkt.constData(), nullptr, &geometry);
                feature->SetGeometryDirectly(geometry);
            }
            if (layer->CreateFeature(feature.get()) != OGRERR_NONE) {
                qFatal("the test's own layer could not be written");
            }
        }
        return path(fileName);
    }

private:
    QTemporaryDir m_folder;
};

/// A text of a test as a QString, for tables of cases.
inline QString s(const char *text)
{
    return QString::fromUtf8(text);
}

/// All reasons or notes in one text, for searching.
template <typename Notes> QString reasons(const Notes &notes)
{
    QStringList lines;
    for (const auto &note : notes) {
        lines << QStringLiteral("%1|%2|%3|%4")
                     .arg(note.row)
                     .arg(note.column, note.value, note.reason);
    }
    return lines.join(QLatin1Char('\n'));
}

} // namespace keyround::tests
