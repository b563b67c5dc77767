// SPDX-License-Identifier: GPL-3.0-or-later
// Reads instances of TSPLIB (G. Reinelt, "TSPLIB 95") into a table of whole-number lengths: the
// edge weight types EUC_2D, CEIL_2D, GEO, ATT and EXPLICIT in all its formats. Also says where the
// fetched test data lies.
#pragma once

#include "core/routing/matrix.h"
#include "core/routing/stop_order.h"

#include <QString>

#include <cctype>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace keyround::tests {

struct TspInstance
{
    std::string name;
    Matrix lengths;
};

/// A closed tour over all places of the instance, from the first.
inline OrderRequest closedTour(const TspInstance &instance)
{
    OrderRequest request;
    request.finish = 0;
    for (std::size_t i = 1; i < instance.lengths.size(); ++i) {
        request.stops.push_back(i);
    }
    return request;
}

namespace tsplib {

struct Coordinate
{
    double x = 0;
    double y = 0;
};

/// Degrees and minutes written as DDD.MM, in radians: TSPLIB 95, section 2.3, with its PI.
inline double geoRadians(double written)
{
    const double degrees = std::trunc(written);
    return 3.141592 * (degrees + 5.0 * (written - degrees) / 3.0) / 180.0;
}

inline double geoLength(const Coordinate &a, const Coordinate &b)
{
    const double q1 = std::cos(geoRadians(a.y) - geoRadians(b.y));
    const double q2 = std::cos(geoRadians(a.x) - geoRadians(b.x));
    const double q3 = std::cos(geoRadians(a.x) + geoRadians(b.x));
    return std::floor(6378.388 * std::acos(0.5 * ((1.0 + q1) * q2 - (1.0 - q1) * q3)) + 1.0);
}

inline double attLength(const Coordinate &a, const Coordinate &b)
{
    const double exact = std::sqrt(((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y)) / 10.0);
    const double rounded = std::floor(exact + 0.5);
    return rounded < exact ? rounded + 1.0 : rounded;
}

inline std::optional<double> lengthBetween(const std::string &type, const Coordinate &a,
                                           const Coordinate &b)
{
    const double straight = std::hypot(a.x - b.x, a.y - b.y);
    if (type == "EUC_2D") {
        return std::floor(straight + 0.5);
    }
    if (type == "CEIL_2D") {
        return std::ceil(straight);
    }
    if (type == "GEO") {
        return geoLength(a, b);
    }
    if (type == "ATT") {
        return attLength(a, b);
    }
    return {};
}

/// Upper case, without blanks around it.
inline std::string keyword(const std::string &text)
{
    const auto first = text.find_first_not_of(" \t\r");
    const auto last = text.find_last_not_of(" \t\r");
    std::string word =
        first == std::string::npos ? std::string() : text.substr(first, last - first + 1);
    for (char &letter : word) {
        letter = static_cast<char>(std::toupper(static_cast<unsigned char>(letter)));
    }
    return word;
}

/// The columns that a format lists of a row; the formats by columns list the mirrored triangle.
struct Columns
{
    std::size_t from = 0;
    std::size_t to = 0;
};

inline std::optional<Columns> columnsOf(const std::string &format, std::size_t row, std::size_t n)
{
    if (format == "FULL_MATRIX") {
        return Columns{0, n};
    }
    if (format == "UPPER_ROW" || format == "LOWER_COL") {
        return Columns{row + 1, n};
    }
    if (format == "LOWER_ROW" || format == "UPPER_COL") {
        return Columns{0, row};
    }
    if (format == "UPPER_DIAG_ROW" || format == "LOWER_DIAG_COL") {
        return Columns{row, n};
    }
    if (format == "LOWER_DIAG_ROW" || format == "UPPER_DIAG_COL") {
        return Columns{0, row + 1};
    }
    return {};
}

/// Reads the cells that a format lists, and mirrors the triangular ones.
inline bool readCells(std::istream &in, const std::string &format, Matrix &lengths)
{
    const std::size_t n = lengths.size();
    for (std::size_t row = 0; row < n; ++row) {
        const std::optional<Columns> columns = columnsOf(format, row, n);
        if (!columns) {
            return false;
        }
        for (std::size_t column = columns->from; column < columns->to; ++column) {
            double length = 0;
            if (!(in >> length)) {
                return false;
            }
            lengths.set(row, column, row == column ? 0.0 : length);
            if (format != "FULL_MATRIX") {
                lengths.set(column, row, row == column ? 0.0 : length);
            }
        }
    }
    return true;
}

/// Numbers of places are 1 to n, each once; the places need not be listed in that order.
inline bool readCoordinates(std::istream &in, const std::string &type, Matrix &lengths)
{
    std::vector<Coordinate> places(lengths.size());
    std::vector<char> given(lengths.size(), 0);
    for (std::size_t i = 0; i < places.size(); ++i) {
        double number = 0;
        Coordinate place;
        if (!(in >> number >> place.x >> place.y) || number < 1 ||
            number > static_cast<double>(places.size())) {
            return false;
        }
        const auto at = static_cast<std::size_t>(number) - 1;
        if (given[at] != 0) {
            return false;
        }
        given[at] = 1;
        places[at] = place;
    }
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t j = 0; j < places.size(); ++j) {
            const auto length = lengthBetween(type, places[i], places[j]);
            if (!length) {
                return false;
            }
            lengths.set(i, j, i == j ? 0.0 : *length);
        }
    }
    return true;
}

/// The name without the extension that some files carry in it.
inline std::string instanceName(const std::string &path, std::map<std::string, std::string> &head)
{
    std::string name = head["NAME"];
    if (name.empty()) {
        name = path.substr(path.find_last_of('/') + 1);
    }
    name = name.substr(0, name.find_first_of(" \t\r"));
    for (const char *extension : {".tsp", ".atsp"}) {
        const std::size_t at = name.rfind(extension);
        if (at != std::string::npos && at > 0 && at + std::strlen(extension) == name.size()) {
            name.resize(at);
        }
    }
    return name;
}

} // namespace tsplib

/// Empty when the file is missing or of a kind that is not read here.
inline std::optional<TspInstance> readTsplib(std::istream &in, const std::string &path)
{
    std::map<std::string, std::string> head;
    TspInstance instance;
    bool filled = false;
    for (std::string line; std::getline(in, line);) {
        const auto colon = line.find(':');
        const std::string key = tsplib::keyword(line.substr(0, colon));
        if (key == "NODE_COORD_SECTION") {
            filled = tsplib::readCoordinates(in, head["EDGE_WEIGHT_TYPE"], instance.lengths);
        } else if (key == "EDGE_WEIGHT_SECTION") {
            filled = tsplib::readCells(in, head["EDGE_WEIGHT_FORMAT"], instance.lengths);
        } else if (key == "EOF") {
            break;
        } else if (colon != std::string::npos) {
            const std::string value = line.substr(colon + 1);
            const auto first = value.find_first_not_of(" \t\r");
            head[key] = key == "NAME" && first != std::string::npos ? value.substr(first)
                                                                    : tsplib::keyword(value);
            if (key == "DIMENSION") {
                const unsigned long size = std::strtoul(head[key].c_str(), nullptr, 10);
                if (size == 0 || size > 20000) {
                    return {};
                }
                instance.lengths = Matrix(size);
            }
        }
        in.clear(in.rdstate() & ~std::ios::failbit);
    }
    instance.name = tsplib::instanceName(path, head);
    return filled ? std::optional<TspInstance>(std::move(instance)) : std::nullopt;
}

inline std::optional<TspInstance> readTsplib(const std::string &path)
{
    std::ifstream in(path);
    return readTsplib(in, path);
}

/// Where packaging/fetch-test-data put its files: KEYROUND_TEST_DATA, else the build's folder.
inline QString testDataFolder()
{
    const QString given = qEnvironmentVariable("KEYROUND_TEST_DATA");
    return given.isEmpty() ? QStringLiteral(KEYROUND_BUILD_DIR "/test-data") : given;
}

inline std::string debianTspFile(const char *name)
{
    return testDataFolder().toStdString() + "/usr/share/doc/glpk-utils/examples/tsp/" + name +
           ".tsp";
}

inline std::string d493File()
{
    return testDataFolder().toStdString() + "/usr/lib/R/site-library/TSP/examples/d493.tsp";
}

/// The tour that begins at the first place and may end anywhere.
inline OrderRequest openTour(const TspInstance &instance)
{
    OrderRequest request = closedTour(instance);
    request.finish.reset();
    return request;
}

} // namespace keyround::tests
