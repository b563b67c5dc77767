// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/layer_reader.h"

#include "core/exchange/column_matching.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

bool takesPoints(LayerKind kind)
{
    return kind == LayerKind::Valves || kind == LayerKind::Hydrants ||
           kind == LayerKind::Services || kind == LayerKind::Sources;
}

bool takesLines(LayerKind kind)
{
    return kind == LayerKind::Streets || kind == LayerKind::Mains;
}

/// A layer of mixed or undeclared shapes may fit; its rows will tell.
bool mayFit(LayerKind kind, OGRLayer &layer)
{
    const Shape shape = shapeOf(layer);
    const bool undeclared = wkbFlatten(layer.GetGeomType()) == wkbUnknown ||
                            wkbFlatten(layer.GetGeomType()) == wkbGeometryCollection;
    if (takesLines(kind)) {
        return shape == Shape::Line || undeclared;
    }
    return kind == LayerKind::Visits || shape == Shape::Point || shape == Shape::None || undeclared;
}

/// Asked of every cell, so by its bytes first: there are never fewer bytes than characters.
bool isTooLong(const OGRFeature &feature, int column)
{
    return feature.GetFieldDefnRef(column)->GetType() == OFTString &&
           feature.IsFieldSetAndNotNull(column) &&
           qstrlen(feature.GetFieldAsString(column)) > static_cast<size_t>(longestCell) &&
           cellText(feature, column).size() > longestCell;
}

QString shapeWords(OGRLayer &layer)
{
    return QString::fromUtf8(OGRGeometryTypeToName(layer.GetGeomType())).toLower();
}

/// How well a layer answers to a kind: its name, then how many of the kind's fields it has.
qsizetype fitness(LayerKind kind, OGRLayer &layer)
{
    QString stem = keyFor(kind);
    stem.chop(1); // "valves" also answers to "valve_points"
    const QString name = QString::fromUtf8(layer.GetName());
    const ColumnMatch match = guessColumns(kind, columnsOf(layer));
    qsizetype score = match.size() + (name.contains(stem, Qt::CaseInsensitive) ? 100 : 0);
    for (const ImportField &field : importFields(kind)) {
        score -= field.required && !match.contains(field.key) ? 50 : 0;
    }
    return score;
}

} // namespace

QString SourceRow::text(const QString &field) const
{
    const auto column = m_columns.constFind(field);
    if (column == m_columns.constEnd()) {
        return {};
    }
    const QString cell = cellText(m_feature, *column).trimmed();
    return isBlankValue(cell) ? QString() : cell;
}

QString SourceRow::tag(const char *column) const
{
    const int index = m_feature.GetFieldIndex(column);
    return index < 0 ? QString() : cellText(m_feature, index).trimmed();
}

Result<LayerReader> LayerReader::open(LayerKind kind, const ReadRequest &request)
{
    auto source = openSource(request.path);
    if (!source) {
        return tl::unexpected(source.error());
    }
    LayerReader reader;
    reader.m_source = std::move(*source);
    const Status ready = reader.chooseLayer(kind, request)
                             .and_then([&] { return reader.matchColumns(kind, request); })
                             .and_then([&] { return reader.findPlaces(kind, request); });
    if (!ready) {
        return tl::unexpected(ready.error());
    }
    reader.noteTextTable();
    return reader;
}

Result<QStringList> LayerReader::columnNames(LayerKind kind, const ReadRequest &request)
{
    auto source = openSource(request.path);
    if (!source) {
        return tl::unexpected(source.error());
    }
    LayerReader reader;
    reader.m_source = std::move(*source);
    return reader.chooseLayer(kind, request).map([&] { return columnsOf(*reader.m_layer); });
}

Status LayerReader::chooseLayer(LayerKind kind, const ReadRequest &request)
{
    QStringList names;
    std::vector<OGRLayer *> fitting;
    for (OGRLayer *layer : m_source.dataset->GetLayers()) {
        const QString name = m_source.layerName(*layer);
        names << name;
        if (!request.layer.isEmpty() && name.compare(request.layer, Qt::CaseInsensitive) == 0) {
            m_layer = layer;
            return checkShape(kind);
        }
        if (mayFit(kind, *layer)) {
            fitting.push_back(layer);
        }
    }
    if (!request.layer.isEmpty()) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("%1 has no layer \"%2\". Its layers are: %3.")
                        .arg(m_source.name, request.layer, names.join(QStringLiteral(", "))));
    }
    if (qstrcmp(m_source.format.driver, "OSM") == 0) {
        m_layer = m_source.dataset->GetLayerByName("lines");
        return kind == LayerKind::Streets && m_layer != nullptr
                   ? Status()
                   : fail(ErrorCode::BadInput,
                          QStringLiteral("%1 is an OpenStreetMap extract: only streets are read "
                                         "from it.")
                              .arg(m_source.name));
    }
    if (fitting.empty()) {
        m_layer = m_source.dataset->GetLayer(0);
        return checkShape(kind);
    }
    std::stable_sort(fitting.begin(), fitting.end(), [kind](OGRLayer *a, OGRLayer *b) {
        return fitness(kind, *a) > fitness(kind, *b);
    });
    m_layer = fitting.front();
    if (fitting.size() > 1) {
        m_notes.push_back({0, QString(), QString::fromUtf8(m_layer->GetName()),
                           QStringLiteral("of %1 layers this one was read as %2")
                               .arg(names.size())
                               .arg(keyFor(kind))});
    }
    return checkShape(kind);
}

Status LayerReader::checkShape(LayerKind kind) const
{
    if (mayFit(kind, *m_layer)) {
        return {};
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("The layer \"%1\" of %2 holds %3; %4 must be %5. Choose another "
                               "layer or file.")
                    .arg(QString::fromUtf8(m_layer->GetName()), m_source.name,
                         shapeOf(*m_layer) == Shape::None ? QStringLiteral("no geometry")
                                                          : shapeWords(*m_layer),
                         keyFor(kind),
                         takesPoints(kind) ? QStringLiteral("points") : QStringLiteral("lines")));
}

Status LayerReader::matchColumns(LayerKind kind, const ReadRequest &request)
{
    const QStringList columns = columnsOf(*m_layer);
    auto match = matchFor(kind, columns, request.columns, m_source.name);
    if (!match) {
        return tl::unexpected(match.error());
    }
    m_match = std::move(*match);
    for (auto it = m_match.constBegin(); it != m_match.constEnd(); ++it) {
        m_columns.insert(it.key(), static_cast<int>(columns.indexOf(it.value())));
    }
    return {};
}

Status LayerReader::findPlaces(LayerKind kind, const ReadRequest &request)
{
    if (kind == LayerKind::Visits) {
        return {};
    }
    const bool fileHasCrs = m_layer->GetSpatialRef() != nullptr;
    if (m_layer->GetGeomType() != wkbNone) {
        m_places = Places::Geometry;
        return useCrs(m_layer->GetSpatialRef(), request);
    }
    const bool latLon = has(QStringLiteral("lat")) && has(QStringLiteral("lon"));
    const bool xy = has(QStringLiteral("x")) && has(QStringLiteral("y"));
    if (latLon && !fileHasCrs) {
        m_places = Places::LatLon;
        m_crsName = QStringLiteral("WGS 84");
        return {}; // ToWgs84 as it is made leaves degrees alone
    }
    if (xy) {
        m_places = Places::XY;
        return useCrs(nullptr, request);
    }
    m_notes.push_back({0, QString(), QString(),
                       QStringLiteral("the file has no positions: no geometry, no columns for "
                                      "latitude and longitude or x and y")});
    return {};
}

Status LayerReader::useCrs(const OGRSpatialReference *ofFile, const ReadRequest &request)
{
    std::optional<OGRSpatialReference> crs;
    if (ofFile != nullptr && ofFile->IsLocal() == 0) {
        crs = *ofFile;
        const QString clash = unitClash(*ofFile);
        if (!clash.isEmpty()) {
            m_notes.push_back({0, QString(), QString(), clash});
        }
    }
    if (request.epsg) {
        auto given = crsOfEpsg(*request.epsg);
        if (!given) {
            return tl::unexpected(given.error());
        }
        if (!crs) {
            crs = std::move(*given);
        } else if (crs->IsSame(&*given) == 0) {
            m_notes.push_back({0, QString(), QString::fromUtf8(crs->GetName()),
                               QStringLiteral("the file says its coordinate system itself; EPSG:%1 "
                                              "was not used")
                                   .arg(*request.epsg)});
        }
    }
    if (!crs) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 does not say in which coordinate system its positions are. "
                                   "Give the EPSG code (ask whoever made the file; --crs EPSG:n on "
                                   "the console). It is never guessed.")
                        .arg(m_source.name));
    }
    auto toGeo = ToWgs84::from(*crs);
    if (!toGeo) {
        return tl::unexpected(toGeo.error());
    }
    m_toGeo = std::move(*toGeo);
    m_crsName = QString::fromUtf8(crs->GetName());
    return {};
}

void LayerReader::noteTextTable()
{
    if (!m_source.text) {
        return;
    }
    if (m_source.text->encoding != QLatin1String("UTF-8")) {
        m_notes.push_back({0, QString(), m_source.text->encoding,
                           QStringLiteral("the file is not UTF-8; it was read as this encoding")});
    }
    const auto columns = m_source.text->headings.size();
    for (const qint64 row : m_source.text->shortRows) {
        m_notes.push_back(
            {row, QString(), QString(),
             QStringLiteral("the row has fewer fields than the %1 headings").arg(columns)});
    }
    for (const qint64 row : m_source.text->longRows) {
        m_notes.push_back({row, QString(), QString(),
                           QStringLiteral("the row has more fields than the %1 headings; the last "
                                          "were left out")
                               .arg(columns)});
    }
}

Status LayerReader::readRows(const Progress &progress, std::vector<RowNote> &rejected,
                             const std::function<void(const SourceRow &)> &take)
{
    const GdalMessages messages;
    const bool isOsm = qstrcmp(m_source.format.driver, "OSM") == 0;
    if (isOsm) { // else the driver holds the rows of its other layers in memory
        m_source.dataset->ReleaseResultSet(
            m_source.dataset->ExecuteSQL("SET interest_layers = lines", nullptr, nullptr));
    }
    const qint64 total = isOsm ? -1 : static_cast<qint64>(m_layer->GetFeatureCount(FALSE));
    const QString what = QStringLiteral("Reading %1").arg(m_source.name);
    qint64 number = 0;
    for (const OGRFeatureUniquePtr &feature : *m_layer) {
        ++number;
        const double done =
            total > 0 ? static_cast<double>(number) / static_cast<double>(total) : 0;
        if (number % 500 == 1 && !report(progress, std::min(done, 1.0), what)) {
            return fail(ErrorCode::Cancelled,
                        QStringLiteral("Reading %1 was cancelled.").arg(m_source.name));
        }
        if (number > mostRows) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("%1 has more than %2 rows; so many are not taken. Cut it "
                                       "down to your own area first.")
                            .arg(m_source.name)
                            .arg(mostRows));
        }
        const SourceRow row(number, *feature, m_columns);
        const auto tooLong =
            std::find_if(m_columns.constBegin(), m_columns.constEnd(),
                         [&feature](int column) { return isTooLong(*feature, column); });
        if (tooLong == m_columns.constEnd()) {
            take(row);
        } else {
            rejected.push_back(
                note(row, tooLong.key(),
                     QStringLiteral("the cell holds more than %1 characters").arg(longestCell)));
        }
    }
    if (messages.failed()) {
        return tl::unexpected(damagedError(m_source.name, messages.firstFailure()));
    }
    if (number == 0) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 has columns but no rows in \"%2\". Was the right layer "
                                   "exported?")
                        .arg(m_source.name, QString::fromUtf8(m_layer->GetName())));
    }
    if (!report(progress, 1.0, what)) {
        return fail(ErrorCode::Cancelled,
                    QStringLiteral("Reading %1 was cancelled.").arg(m_source.name));
    }
    return {};
}

RowNote LayerReader::note(const SourceRow &row, const QString &field, const QString &reason) const
{
    constexpr qsizetype mostShown = 200;
    const auto column = m_columns.constFind(field);
    const QString value =
        column == m_columns.constEnd() ? QString() : cellText(row.m_feature, *column).trimmed();
    return {row.number(), m_match.value(field), value.left(mostShown), reason};
}

} // namespace keyround
