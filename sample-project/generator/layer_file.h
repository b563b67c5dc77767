// SPDX-License-Identifier: GPL-3.0-or-later
// One layer in one file, through GDAL: text, whole and fractional fields, and one shape a row.
#pragma once

#include "sample-project/generator/plane.h"

#include <memory>
#include <string>
#include <variant>
#include <vector>

class GDALDataset;
class OGRCoordinateTransformation;
class OGRLayer;

namespace keyround::sample {

enum class FieldKind { Text, Whole, Real };
struct Field
{
    std::string name;
    FieldKind kind = FieldKind::Text;
    int decimals = 0; ///< of a Real field in a text format
};
/// A cell: nothing at all, text, a whole or a fractional number.
using Cell = std::variant<std::monostate, std::string, int, double>;

enum class FileKind { Csv, GeoPackage, GeoJson };

class LayerFile
{
public:
    LayerFile(FileKind kind, const std::string &path, const std::string &layer,
              const std::string &description, const std::vector<Field> &fields);
    ~LayerFile();
    LayerFile(const LayerFile &) = delete;
    LayerFile &operator=(const LayerFile &) = delete;

    void addRow(const std::vector<Cell> &cells); ///< no shape
    void addLine(const std::vector<Cell> &cells, const Line &line);
    void addPoint(const std::vector<Cell> &cells, Spot spot); ///< GeoJson: put into degrees
    /// Closes the file. Empty on success, else what went wrong first.
    [[nodiscard]] std::string finish();

private:
    void add(const std::vector<Cell> &cells, const Line &shape, bool isLine);

    FileKind m_kind;
    std::string m_path;
    std::vector<Field> m_fields;
    GDALDataset *m_dataset = nullptr;
    OGRLayer *m_layer = nullptr;
    std::unique_ptr<OGRCoordinateTransformation> m_toDegrees;
    std::string m_error;
};

} // namespace keyround::sample
