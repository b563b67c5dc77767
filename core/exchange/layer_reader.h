// SPDX-License-Identifier: GPL-3.0-or-later
// One layer of a file, matched to the fields of a kind, read row by row: cells as text by field,
// places and lines as WGS 84. What all readers of read_layer.h share.
#pragma once

#include "core/exchange/crs.h"
#include "core/exchange/open_source.h"
#include "core/exchange/read_layer.h"

#include <functional>

namespace keyround {

/// A row while it is being read; do not keep it.
class SourceRow
{
public:
    SourceRow(qint64 number, const OGRFeature &feature, const QMap<QString, int> &columns)
        : m_number(number), m_feature(feature), m_columns(columns)
    {
    }
    [[nodiscard]] qint64 number() const { return m_number; } ///< from 1
    /// The cell for a field, without blanks around it; empty when there is no column for it or when
    /// the cell says "nothing" in one of the usual ways.
    [[nodiscard]] QString text(const QString &field) const;
    /// By a column's own name, for tags that are no field.
    [[nodiscard]] QString tag(const char *column) const;
    [[nodiscard]] const OGRGeometry *geometry() const { return m_feature.GetGeometryRef(); }

private:
    friend class LayerReader;
    qint64 m_number;
    const OGRFeature &m_feature;
    const QMap<QString, int> &m_columns;
};

class LayerReader
{
public:
    [[nodiscard]] static Result<LayerReader> open(LayerKind kind, const ReadRequest &request);
    /// The columns of the layer that open() would read, before any is matched.
    [[nodiscard]] static Result<QStringList> columnNames(LayerKind kind,
                                                         const ReadRequest &request);

    [[nodiscard]] const ColumnMatch &columns() const { return m_match; }
    [[nodiscard]] bool has(const QString &field) const { return m_match.contains(field); }
    [[nodiscard]] bool hasPlaces() const { return m_places != Places::None; }
    [[nodiscard]] const FileFormat &format() const { return m_source.format; }
    [[nodiscard]] const QString &fileName() const { return m_source.name; }
    /// Notes on the whole file, for the warnings.
    [[nodiscard]] const std::vector<RowNote> &notes() const { return m_notes; }

    /// Hands every row to `take`. A row that is too large is rejected here.
    [[nodiscard]] Status readRows(const Progress &progress, std::vector<RowNote> &rejected,
                                  const std::function<void(const SourceRow &)> &take);

    /// Where the row lies; empty when it does not say. The error is the reason for the reject.
    [[nodiscard]] tl::expected<std::optional<GeoPoint>, RowNote> place(const SourceRow &row) const;
    /// The row's lines, one for each part; parts without length are left out.
    [[nodiscard]] tl::expected<std::vector<GeoLine>, RowNote> lines(const SourceRow &row) const;

    /// A note on one field of a row, with its column's name and value.
    [[nodiscard]] RowNote note(const SourceRow &row, const QString &field,
                               const QString &reason) const;

private:
    enum class Places { None, Geometry, LatLon, XY };

    [[nodiscard]] Status chooseLayer(LayerKind kind, const ReadRequest &request);
    [[nodiscard]] Status checkShape(LayerKind kind) const;
    [[nodiscard]] Status matchColumns(LayerKind kind, const ReadRequest &request);
    [[nodiscard]] Status findPlaces(LayerKind kind, const ReadRequest &request);
    [[nodiscard]] Status useCrs(const OGRSpatialReference *ofFile, const ReadRequest &request);
    void noteTextTable();
    [[nodiscard]] tl::expected<std::optional<GeoPoint>, RowNote>
    placeFromCells(const SourceRow &row) const;
    [[nodiscard]] QString outsideReason(double x, double y) const;

    OpenSource m_source;
    OGRLayer *m_layer = nullptr;
    ColumnMatch m_match;
    QMap<QString, int> m_columns; ///< field key to column index
    Places m_places = Places::None;
    ToWgs84 m_toGeo;
    QString m_crsName;
    std::vector<RowNote> m_notes;
};

/// At most so many rows of one layer are taken.
inline constexpr qint64 mostRows = 5'000'000;
/// The longest cell that is taken: what a spreadsheet's cell can hold.
inline constexpr qsizetype longestCell = 32767;

} // namespace keyround
