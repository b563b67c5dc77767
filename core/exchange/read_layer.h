// SPDX-License-Identifier: GPL-3.0-or-later
// Reading a layer's rows as values of ours. Rows that cannot be taken are listed with number,
// column, value and reason; the rest come in. Reading changes nothing.
#pragma once

#include "core/exchange/source.h"
#include "core/fieldlog/visit.h"
#include "core/inventory/features.h"
#include "core/inventory/value_parsers.h"
#include "core/inventory/valve_fields.h"
#include "core/streets/street.h"

#include <QSet>

namespace keyround {

struct ReadRequest
{
    QString path{};
    QString layer{};           ///< empty: the only one, or the one that fits the kind
    ColumnMatch columns{};     ///< empty: guessed
    std::optional<int> epsg{}; ///< for files that do not say; a file that does say is believed
    std::optional<DateOrder> dateOrder{};
    BareSize bareSize = BareSize::Inches;
};

struct RowNote
{
    qint64 row = 0; ///< data rows count from 1
    QString column;
    QString value;
    QString reason;
};

template <typename Row> struct Imported
{
    std::vector<Row> rows;
    std::vector<RowNote> rejected; ///< rows that did not come in
    std::vector<RowNote>
        warnings;        ///< rows that came in with something noted, and notes on the whole (row 0)
    ColumnMatch columns; ///< the match that was used
};

/// A valve as a file gives it: id null, and only the fields the file has a column for are meant.
struct ValveRow
{
    Valve valve;
    QSet<ValveField> given;
};

/// A visit as a file gives it: the valve by number; the id is made from the row's content, so
/// that reading a file twice adds nothing.
struct VisitRow
{
    QString valveNumber;
    Visit visit;
    qint64 row = 0; ///< as RowNote counts them
};

/// The columns of the layer that would be read: for finding the match that was used for a file of
/// this layout before (layoutKey()).
[[nodiscard]] Result<QStringList> columnsFor(LayerKind kind, const ReadRequest &request);

[[nodiscard]] Result<Imported<ValveRow>> readValves(const ReadRequest &, const Progress & = {});
[[nodiscard]] Result<Imported<Street>> readStreets(const ReadRequest &, const Progress & = {});
[[nodiscard]] Result<Imported<Main>> readMains(const ReadRequest &, const Progress & = {});
[[nodiscard]] Result<Imported<Hydrant>> readHydrants(const ReadRequest &, const Progress & = {});
[[nodiscard]] Result<Imported<Service>> readServices(const ReadRequest &, const Progress & = {});
[[nodiscard]] Result<Imported<Source>> readSources(const ReadRequest &, const Progress & = {});
[[nodiscard]] Result<Imported<VisitRow>> readVisits(const ReadRequest &, const Progress & = {});

/// What is odd about where the rows lie: far from the streets, latitude and longitude swapped.
/// Sentences for people; empty when all looks right.
[[nodiscard]] QStringList placementWarnings(const std::vector<GeoPoint> &rows,
                                            const std::vector<GeoPoint> &streetPoints);

} // namespace keyround
