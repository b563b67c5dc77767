// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: rows straight from the pages of a SQLite file, without SQLite: each page that
// looks like a leaf of a table is read by itself, so that a damaged page costs its own rows only
// (file format: sqlite.org/fileformat2.html sections 1.6, 2.1 and 2.3). Which table a row belongs
// to is not known here; freed pages hold rows of the past too. For recover.cpp only, which takes a
// row where its hash says so.
#pragma once

#include <QByteArrayView>
#include <QVariant>

#include <functional>

namespace keyround {

/// The size of a page in every file that this program makes.
inline constexpr qsizetype projectPageSize = 4096;

/// Calls take() for each row that can be read whole. Never reads outside of the bytes.
void readTablePages(QByteArrayView file, const std::function<void(const QVariantList &)> &take);

} // namespace keyround
