// SPDX-License-Identifier: GPL-3.0-or-later
// Coordinate systems: what one is, and places in it as WGS 84 degrees. The east coordinate (or
// longitude) always comes first, whatever an authority's axis order says. Datum shifts are those of
// the installed PROJ without its grids: within a metre or two between NAD 83 and WGS 84.
#pragma once

#include "core/common/result.h"
#include "core/exchange/source.h"
#include "core/geo/point.h"

#include <QString>

#include <ogr_spatialref.h>

#include <memory>
#include <optional>
#include <utility>

namespace keyround {

/// "US survey foot", "foot", "metre", "degree", or the unit's own name.
[[nodiscard]] QString unitOf(const OGRSpatialReference &crs);

[[nodiscard]] Result<OGRSpatialReference> crsOfEpsg(int epsg);

/// A system whose EPSG code says another unit than the system itself does (GDAL issue 990): a
/// sentence about it, else empty. The unit that is written out holds.
[[nodiscard]] QString unitClash(const OGRSpatialReference &crs);

class ToWgs84
{
public:
    [[nodiscard]] static Result<ToWgs84> from(const OGRSpatialReference &crs);
    /// Empty where there is no such place on the earth.
    [[nodiscard]] std::optional<GeoPoint> convert(double x, double y) const;

private:
    struct Closer
    {
        void operator()(OGRCoordinateTransformation *t) const
        {
            OGRCoordinateTransformation::DestroyCT(t);
        }
    };
    std::unique_ptr<OGRCoordinateTransformation, Closer>
        m_transformation; ///< null: degrees already
};

} // namespace keyround
