// SPDX-License-Identifier: GPL-3.0-or-later
// Reading weekdays, days, kinds of street and of valve that people type on the screen as lists.
#pragma once

#include "core/common/result.h"
#include "core/inventory/valve.h"
#include "core/streets/street.h"

#include <QDate>
#include <QList>
#include <QStringList>

namespace keyround {

/// Parts between commas or semicolons, trimmed, empty ones left out.
[[nodiscard]] QStringList partsTyped(const QString &text);

/// "Mon-Fri", "Mon, Wed, Sat", "Fri-Mon"; English names from two letters on. Empty: none.
[[nodiscard]] Result<QList<int>> weekdaysTyped(const QString &text);
[[nodiscard]] QString weekdaysText(const QList<int> &weekdays); ///< "Mon-Fri, Sun"

/// "2026-07-03, 2026-12-24".
[[nodiscard]] Result<QList<QDate>> daysTyped(const QString &text);
[[nodiscard]] QString daysText(const QList<QDate> &days);

[[nodiscard]] Result<QList<StreetClass>> streetClassesTyped(const QString &text);
[[nodiscard]] QString streetClassesText(const QList<StreetClass> &classes);

[[nodiscard]] Result<QList<ValveType>> valveTypesTyped(const QString &text);
[[nodiscard]] QString valveTypesText(const QList<ValveType> &types);

} // namespace keyround
