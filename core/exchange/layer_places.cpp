// SPDX-License-Identifier: GPL-3.0-or-later
// The half of LayerReader that turns geometries and coordinate columns into places.
#include "core/exchange/layer_reader.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

using PlaceResult = tl::expected<std::optional<GeoPoint>, RowNote>;

/// GDAL's straight-line form of any geometry (arcs are cut into short chords).
OGRGeometryUniquePtr straight(const OGRGeometry &geometry)
{
    return OGRGeometryUniquePtr(geometry.getLinearGeometry());
}

QString kindWords(const OGRGeometry &geometry)
{
    return QString::fromUtf8(OGRGeometryTypeToName(geometry.getGeometryType())).toLower();
}

} // namespace

QString LayerReader::outsideReason(double x, double y) const
{
    if (!std::isfinite(x) || !std::isfinite(y)) {
        return QStringLiteral("the position is not a number");
    }
    if (m_places == Places::LatLon && std::abs(x) <= 90.0 && std::abs(y) <= 180.0) {
        return QStringLiteral("no such place: latitude %1 is beyond 90. Are latitude and longitude "
                              "swapped?")
            .arg(y);
    }
    return QStringLiteral("no such place on the earth: %1, %2 in %3")
        .arg(x, 0, 'g', 12)
        .arg(y, 0, 'g', 12)
        .arg(m_crsName);
}

PlaceResult LayerReader::placeFromCells(const SourceRow &row) const
{
    const bool latLon = m_places == Places::LatLon;
    const QString xKey = latLon ? QStringLiteral("lon") : QStringLiteral("x");
    const QString yKey = latLon ? QStringLiteral("lat") : QStringLiteral("y");
    const auto x = parseNumber(row.text(xKey));
    const auto y = parseNumber(row.text(yKey));
    if (!x || !y) {
        return tl::unexpected(
            note(row, x ? yKey : xKey, x ? y.error().message : x.error().message));
    }
    if (!x->has_value() && !y->has_value()) {
        return std::optional<GeoPoint>();
    }
    if (!x->has_value() || !y->has_value()) {
        return tl::unexpected(note(row, x->has_value() ? yKey : xKey,
                                   QStringLiteral("half of the position is missing")));
    }
    if (**x == 0.0 && **y == 0.0) {
        return std::optional<GeoPoint>(); // what a table writes for "not surveyed"
    }
    const auto place = m_toGeo.convert(**x, **y);
    if (!place) {
        return tl::unexpected(note(row, yKey, outsideReason(**x, **y)));
    }
    return place;
}

PlaceResult LayerReader::place(const SourceRow &row) const
{
    if (m_places == Places::None) {
        return std::optional<GeoPoint>();
    }
    if (m_places != Places::Geometry) {
        return placeFromCells(row);
    }
    const OGRGeometry *geometry = row.geometry();
    if (geometry == nullptr || geometry->IsEmpty() != 0) {
        return std::optional<GeoPoint>();
    }
    const auto flat = wkbFlatten(geometry->getGeometryType());
    const OGRPoint *point = flat == wkbPoint ? geometry->toPoint() : nullptr;
    if (flat == wkbMultiPoint && geometry->toMultiPoint()->getNumGeometries() == 1) {
        point = geometry->toMultiPoint()->getGeometryRef(0);
    }
    if (point == nullptr) {
        return tl::unexpected(RowNote{row.number(), QString(), kindWords(*geometry),
                                      QStringLiteral("the row's shape is not one point")});
    }
    if (point->getX() == 0.0 && point->getY() == 0.0) {
        return std::optional<GeoPoint>();
    }
    const auto place = m_toGeo.convert(point->getX(), point->getY());
    if (!place) {
        return tl::unexpected(RowNote{row.number(), QString(), QString(),
                                      outsideReason(point->getX(), point->getY())});
    }
    return place;
}

tl::expected<std::vector<GeoLine>, RowNote> LayerReader::lines(const SourceRow &row) const
{
    const auto refuse = [&row](const QString &value, const QString &reason) {
        return tl::unexpected(RowNote{row.number(), QString(), value, reason});
    };
    if (row.geometry() == nullptr || row.geometry()->IsEmpty() != 0) {
        return refuse(QString(), QStringLiteral("the row has no line"));
    }
    const OGRGeometryUniquePtr geometry = straight(*row.geometry());
    std::vector<const OGRLineString *> parts;
    const auto flat = wkbFlatten(geometry->getGeometryType());
    if (flat == wkbLineString) {
        parts.push_back(geometry->toLineString());
    } else if (flat == wkbMultiLineString) {
        for (const OGRLineString *part : *geometry->toMultiLineString()) {
            parts.push_back(part);
        }
    } else {
        return refuse(kindWords(*geometry), QStringLiteral("the row's shape is not a line"));
    }
    std::vector<GeoLine> lines;
    for (const OGRLineString *part : parts) {
        GeoLine line;
        for (const OGRPoint &point : *part) {
            const auto place = m_toGeo.convert(point.getX(), point.getY());
            if (!place) {
                return refuse(QString(), outsideReason(point.getX(), point.getY()));
            }
            if (line.empty() || !(line.back() == *place)) {
                line.push_back(*place);
            }
        }
        if (line.size() >= 2) {
            lines.push_back(std::move(line));
        }
    }
    if (lines.empty()) {
        return refuse(QString(), QStringLiteral("the line has no length"));
    }
    return lines;
}

} // namespace keyround
