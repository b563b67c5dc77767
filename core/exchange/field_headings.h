// SPDX-License-Identifier: GPL-3.0-or-later
// The headings that usually carry each field, best first. Common sense and common practice, no
// source: plain words and their usual shortenings, lower case, letters and digits only.
#pragma once

#include "core/exchange/layer_kind.h"

namespace keyround {

/// "Valve No." and "VALVE_NO" are one heading: lower case, letters and digits only.
[[nodiscard]] QString plainHeading(const QString &heading);

[[nodiscard]] QList<ImportField> valveImportFields();
[[nodiscard]] QList<ImportField> streetImportFields();
[[nodiscard]] QList<ImportField> mainImportFields();
[[nodiscard]] QList<ImportField> hydrantImportFields();
[[nodiscard]] QList<ImportField> serviceImportFields();
[[nodiscard]] QList<ImportField> sourceImportFields();
[[nodiscard]] QList<ImportField> visitImportFields();

} // namespace keyround
