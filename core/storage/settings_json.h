// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the settings as named JSON objects, and back. Each setting is an object of its
// own, so that a new one needs no new column, and a file without it takes the default.
#pragma once

#include "core/storage/settings_store.h"

#include <QJsonObject>

namespace keyround {

using SettingValues = QMap<QString, QJsonObject>;

[[nodiscard]] SettingValues toValues(const ProjectSettings &settings);
[[nodiscard]] Result<ProjectSettings> fromValues(const SettingValues &values);

/// What could not be read back, or would keep days from being drawn up, is refused.
[[nodiscard]] Status checkSettings(const ProjectSettings &settings);

} // namespace keyround
