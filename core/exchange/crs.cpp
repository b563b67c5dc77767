// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/crs.h"

#include "core/exchange/gdal_session.h"

#include <cmath>

namespace keyround {

namespace {

/// The survey foot is longer than the international by 2 parts in a million (85 FR 62698), so a
/// tenth of that tells them apart safely.
bool isLength(double metres, double unit)
{
    return std::abs(metres / unit - 1.0) < 2e-7;
}

} // namespace

QString unitOf(const OGRSpatialReference &crs)
{
    if (crs.IsGeographic() != 0) {
        return QStringLiteral("degree");
    }
    const char *name = nullptr;
    const double metres = crs.GetLinearUnits(&name);
    if (isLength(metres, metresPerSurveyFoot)) {
        return QStringLiteral("US survey foot");
    }
    if (isLength(metres, metresPerFoot)) {
        return QStringLiteral("foot");
    }
    return isLength(metres, 1.0) ? QStringLiteral("metre") : QString::fromUtf8(name);
}

Result<OGRSpatialReference> crsOfEpsg(int epsg)
{
    const GdalMessages messages;
    OGRSpatialReference crs;
    if (crs.importFromEPSG(epsg) != OGRERR_NONE) {
        return fail(ErrorCode::NotFound,
                    QStringLiteral("EPSG:%1 is no coordinate system that is known here. Codes of "
                                   "State Plane systems look like EPSG:2227 or EPSG:6557.")
                        .arg(epsg));
    }
    if (crs.IsGeographic() == 0 && crs.IsProjected() == 0) {
        return fail(
            ErrorCode::BadInput,
            QStringLiteral("EPSG:%1 (%2) does not say where on the earth a point lies. Give "
                           "a system of map coordinates or of degrees.")
                .arg(epsg)
                .arg(QString::fromUtf8(crs.GetName())));
    }
    crs.StripVertical();
    crs.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    return crs;
}

Result<CrsInfo> describeCrs(int epsg)
{
    return crsOfEpsg(epsg).map([epsg](const OGRSpatialReference &crs) {
        return CrsInfo{epsg, QString::fromUtf8(crs.GetName()), unitOf(crs)};
    });
}

QString unitClash(const OGRSpatialReference &crs)
{
    const char *authority = crs.GetAuthorityName(nullptr);
    const char *code = crs.GetAuthorityCode(nullptr);
    if (authority == nullptr || code == nullptr || QByteArray(authority) != "EPSG") {
        return {};
    }
    const auto listed = crsOfEpsg(QByteArray(code).toInt());
    if (!listed || unitOf(*listed) == unitOf(crs)) {
        return {};
    }
    return QStringLiteral(
               "The file names EPSG:%1, whose unit is the %2, but writes its coordinates "
               "in the unit \"%3\". The unit written in the file was used; look at the "
               "map before you go on.")
        .arg(QString::fromLatin1(code), unitOf(*listed), unitOf(crs));
}

Result<ToWgs84> ToWgs84::from(const OGRSpatialReference &crs)
{
    const GdalMessages messages;
    OGRSpatialReference source(crs);
    source.StripVertical();
    source.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    OGRSpatialReference target;
    target.importFromEPSG(4326);
    target.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    ToWgs84 result;
    if (source.IsSame(&target) != 0) {
        return result;
    }
    result.m_transformation.reset(OGRCreateCoordinateTransformation(&source, &target));
    if (!result.m_transformation) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Places in \"%1\" cannot be turned into latitude and longitude: "
                                   "%2. Give the EPSG code of the right system.")
                        .arg(QString::fromUtf8(source.GetName()), messages.firstFailure()));
    }
    return result;
}

std::optional<GeoPoint> ToWgs84::convert(double x, double y) const
{
    if (!std::isfinite(x) || !std::isfinite(y)) {
        return std::nullopt;
    }
    if (m_transformation) {
        const GdalMessages messages;
        if (m_transformation->Transform(1, &x, &y) == 0 || !std::isfinite(x) || !std::isfinite(y)) {
            return std::nullopt;
        }
    }
    if (std::abs(y) > 90.0 || std::abs(x) > 180.0) {
        return std::nullopt;
    }
    return GeoPoint{y, x};
}

} // namespace keyround
