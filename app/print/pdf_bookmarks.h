// SPDX-License-Identifier: GPL-3.0-or-later
// Bookmarks for a PDF that Qt wrote: Qt 6.4 has none, so they are added behind its end, as the
// format provides for (ISO 32000-1, 7.5.6 incremental updates, 12.3.3 document outline).
#pragma once

#include "app/print/page_run.h"

namespace keyround {

/// The file with an outline of the marks; as it was when its structure is not the expected one.
[[nodiscard]] QByteArray withBookmarks(const QByteArray &pdf, const std::vector<PaperMark> &marks);

} // namespace keyround
