// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/map_view.h"

#include <algorithm>

namespace keyround {

MapView viewOf(const PlaneBox &box, const QSizeF &size, double marginPixels)
{
    MapView view;
    if (box.isEmpty()) {
        return view;
    }
    view.centre = box.middle();
    const double width = std::max(1.0, size.width() - 2 * marginPixels);
    const double height = std::max(1.0, size.height() - 2 * marginPixels);
    constexpr double leastMetres = 120.0;
    view.pixelsPerMetre = std::min(width / std::max(box.width(), leastMetres),
                                   height / std::max(box.height(), leastMetres));
    view.pixelsPerMetre = std::clamp(view.pixelsPerMetre, MapView::leastScale, MapView::mostScale);
    return view;
}

} // namespace keyround
