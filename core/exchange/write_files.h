// SPDX-License-Identifier: GPL-3.0-or-later
// Files out: CSV that comes back unchanged through the importer and that a spreadsheet cannot run
// as a formula, and GPX 1.1 for a round. Written whole or not at all.
#pragma once

#include "core/common/result.h"
#include "core/geo/point.h"

#include <QDateTime>
#include <QStringList>
#include <QVector>

namespace keyround {

struct CsvTable
{
    QStringList header;
    QVector<QStringList> rows;
};
/// RFC 4180 with UTF-8 and CRLF. A field that starts with = + - @ TAB or CR, unless it is a plain
/// number, gets a leading apostrophe (which the importer takes off again).
[[nodiscard]] QByteArray csvBytes(const CsvTable &table);
[[nodiscard]] Status writeCsv(const QString &path, const CsvTable &table);

struct GpxWaypoint
{
    QString name;
    QString description;
    GeoPoint place;
};
struct GpxRoute
{
    QString name;
    QDateTime made;                 ///< UTC
    std::vector<GpxWaypoint> stops; ///< start, stops, finish in order
    GeoLine track;                  ///< the way along the streets
};
/// GPX 1.1: waypoints as a route (rte), and the driven line as a track (trk).
[[nodiscard]] Status writeGpx(const QString &path, const GpxRoute &route);

/// Writes bytes to a path whole or not at all (QSaveFile), with a message that names the place.
[[nodiscard]] Status writeWhole(const QString &path, const QByteArray &bytes);

} // namespace keyround
