// SPDX-License-Identifier: GPL-3.0-or-later
// Reads instances of TSPLIB (G. Reinelt, "TSPLIB 95") into a table of whole-number lengths: the
// edge weight types EUC_2D, CEIL_2D, GEO, ATT and EXPLICIT (full, and the triangular formats by
// rows). Also says where the fetched test data lies.
#pragma once

#include "core/routing/matrix.h"
#include "core/routing/stop_order.h"

#include <QString>

#include <cmath>
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

/// Reads the cells that a format lists, and mirrors the triangular ones.
inline bool readCells(std::istream &in, const std::string &format, Matrix &lengths)
{
    const std::size_t n = lengths.size();
    for (std::size_t row = 0; row < n; ++row) {
        std::size_t from = 0;
        std::size_t to = n;
        if (format == "LOWER_DIAG_ROW") {
            to = row + 1;
        } else if (format == "LOWER_ROW") {
            to = row;
        } else if (format == "UPPER_DIAG_ROW") {
            from = row;
        } else if (format == "UPPER_ROW") {
            from = row + 1;
        } else if (format != "FULL_MATRIX") {
            return false;
        }
        for (std::size_t column = from; column < to; ++column) {
            double length = 0;
            if (!(in >> length)) {
                return false;
            }
            lengths.set(row, column, length);
            if (format != "FULL_MATRIX") {
                lengths.set(column, row, length);
            }
        }
    }
    return true;
}

inline std::string trimmed(const std::string &text)
{
    const auto first = text.find_first_not_of(" \t\r");
    const auto last = text.find_last_not_of(" \t\r");
    return first == std::string::npos ? std::string() : text.substr(first, last - first + 1);
}

} // namespace tsplib

/// Empty when the file is missing or of a kind that is not read here.
inline std::optional<TspInstance> readTsplib(const std::string &path)
{
    std::ifstream in(path);
    std::map<std::string, std::string> head;
    TspInstance instance;
    bool filled = false;
    for (std::string line; std::getline(in, line);) {
        const auto colon = line.find(':');
        const std::string key = tsplib::trimmed(line.substr(0, colon));
        if (key == "NODE_COORD_SECTION") {
            std::vector<tsplib::Coordinate> places(instance.lengths.size());
            for (tsplib::Coordinate &place : places) {
                double number = 0;
                in >> number >> place.x >> place.y;
            }
            for (std::size_t i = 0; i < places.size() && in; ++i) {
                for (std::size_t j = 0; j < places.size(); ++j) {
                    const auto length =
                        tsplib::lengthBetween(head["EDGE_WEIGHT_TYPE"], places[i], places[j]);
                    if (!length) {
                        return {};
                    }
                    instance.lengths.set(i, j, i == j ? 0.0 : *length);
                    filled = true;
                }
            }
        } else if (key == "EDGE_WEIGHT_SECTION") {
            filled = tsplib::readCells(in, head["EDGE_WEIGHT_FORMAT"], instance.lengths);
        } else if (colon != std::string::npos) {
            head[key] = tsplib::trimmed(line.substr(colon + 1));
            if (key == "DIMENSION") {
                instance.lengths = Matrix(std::stoul(head[key]));
            }
        }
    }
    instance.name = head["NAME"];
    return filled ? std::optional<TspInstance>(std::move(instance)) : std::nullopt;
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

} // namespace keyround::tests
