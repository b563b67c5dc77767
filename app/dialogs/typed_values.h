// SPDX-License-Identifier: GPL-3.0-or-later
// Reading times of day, places and numbers that people type on the screen.
#pragma once

#include "core/common/result.h"
#include "core/geo/point.h"

#include <QString>
#include <QTime>

namespace keyround {

/// "7", "7:00", "0700", "15:30".
[[nodiscard]] Result<QTime> timeTyped(const QString &text);
[[nodiscard]] QString timeText(const QTime &time); ///< "07:00"

/// "41.2345, -88.1234": latitude, then longitude, as in a valve's place.
[[nodiscard]] Result<GeoPoint> placeTyped(const QString &text);
[[nodiscard]] QString placeText(const GeoPoint &place); ///< empty when there is none

/// A number within bounds, whole or not.
[[nodiscard]] Result<double> numberTyped(const QString &text, double least, double most);

} // namespace keyround
