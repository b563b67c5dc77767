// SPDX-License-Identifier: GPL-3.0-or-later
// What else lies in the ground and matters to a valve crew: mains, hydrants, services, sources.
#pragma once

#include "core/common/ids.h"
#include "core/common/units.h"
#include "core/geo/point.h"

#include <QString>

#include <optional>

namespace keyround {

struct Main
{
    FeatureId id;
    QString number;
    NominalSize size;
    QString material;
    std::optional<int> installYear;
    QString zone;
    GeoLine line;
    friend bool operator==(const Main &, const Main &) = default;
};

struct Hydrant
{
    FeatureId id;
    QString number;
    GeoPoint place;
    QString address;
    friend bool operator==(const Hydrant &, const Hydrant &) = default;
};

/// A customer's connection. Name and phone are kept only where notices need them.
struct Service
{
    FeatureId id;
    QString number;
    GeoPoint place;
    QString address;
    QString customer;
    QString phone;
    QString mainNumber; ///< the main it is tapped on, where the file says so
    bool critical = false;
    friend bool operator==(const Service &, const Service &) = default;
};

enum class SourceKind { Plant, Tank, Well, Interconnection };

/// Where water comes into the mains.
struct Source
{
    FeatureId id;
    QString number; ///< unique among sources
    QString name;   ///< what people call it; may be empty
    SourceKind kind = SourceKind::Plant;
    GeoPoint place;
    friend bool operator==(const Source &, const Source &) = default;
};
/// "treatment plant", "tank", "well", "interconnection".
[[nodiscard]] QString wordFor(SourceKind kind);
[[nodiscard]] QString keyFor(SourceKind kind); ///< "plant", "tank", "well", "interconnection"
[[nodiscard]] std::optional<SourceKind> sourceKindFromKey(const QString &key);

} // namespace keyround
