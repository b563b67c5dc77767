// SPDX-License-Identifier: GPL-3.0-or-later
// The town as the ordinary files of a utility, a bit untidy as such files are. Written through
// GDAL with fixed dates and identifiers, so that the bytes are the same on every run.
#pragma once

#include "sample-project/generator/town.h"

#include <string>

namespace keyround::sample {

/// Writes all seven files into a folder that exists. Empty on success, else what went wrong.
[[nodiscard]] std::string writeTown(const Town &town, const std::string &folder);

} // namespace keyround::sample
