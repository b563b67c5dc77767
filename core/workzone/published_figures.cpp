// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/published_figures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace keyround {

namespace {

constexpr double lowestTabulated = 20.0;
constexpr double highestTabulated = 75.0;
constexpr double quadraticUpTo = 40.0;
constexpr double linearFrom = 45.0;

Status checkSpeed(double mph)
{
    if (!(mph > 0.0)) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The street's speed is not known. Give the posted speed."));
    }
    if (mph > highestTabulated) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The published tables end at 75 mph, and the street has %1. "
                                   "Ask the road authority for a traffic control plan.")
                        .arg(mph));
    }
    return {};
}

} // namespace

Feet roundedUp(Feet length)
{
    constexpr double noise = 1e-6; // of dividing and multiplying by 0.3048
    return {std::ceil(length.value - noise)};
}

QString lengthAtLeastText(Feet length, UnitSystem units)
{
    if (units == UnitSystem::Us) {
        return QStringLiteral("%1 ft").arg(roundedUp(length).value, 0, 'f', 0);
    }
    constexpr double noise = 1e-6;
    return QStringLiteral("%1 m").arg(std::ceil(length.metres().value - noise), 0, 'f', 0);
}

QString lengthAtMostText(Feet length, UnitSystem units)
{
    constexpr double noise = 1e-6;
    const bool isUs = units == UnitSystem::Us;
    const double value = std::floor((isUs ? length.value : length.metres().value) + noise);
    return QStringLiteral("%1 %2")
        .arg(value, 0, 'f', 0)
        .arg(isUs ? QStringLiteral("ft") : QStringLiteral("m"));
}

QString wordFor(RoadSetting setting)
{
    switch (setting) {
    case RoadSetting::UrbanLowSpeed:
        return QStringLiteral("urban, low speed");
    case RoadSetting::UrbanHighSpeed:
        return QStringLiteral("urban, high speed");
    case RoadSetting::Rural:
        return QStringLiteral("rural");
    case RoadSetting::Freeway:
        break;
    }
    return QStringLiteral("expressway or freeway");
}

SignSpacing advanceSignSpacing(RoadSetting setting)
{
    switch (setting) {
    case RoadSetting::UrbanLowSpeed:
        return {{100}, {100}, {100}};
    case RoadSetting::UrbanHighSpeed:
        return {{350}, {350}, {350}};
    case RoadSetting::Rural:
        return {{500}, {500}, {500}};
    case RoadSetting::Freeway:
        break;
    }
    return {{1000}, {1500}, {2640}};
}

Result<Feet> stoppingSightDistance(double mph)
{
    if (Status status = checkSpeed(mph); !status) {
        return tl::unexpected(status.error());
    }
    constexpr std::array feetFrom20By5{115.0, 155.0, 200.0, 250.0, 305.0, 360.0,
                                       425.0, 495.0, 570.0, 645.0, 730.0, 820.0};
    const double steps = std::ceil((std::max(mph, lowestTabulated) - lowestTabulated) / 5.0 - 1e-9);
    return Feet{feetFrom20By5.at(static_cast<std::size_t>(steps))};
}

Result<TaperLength> taperLength(Feet width, double mph)
{
    if (Status status = checkSpeed(mph); !status) {
        return tl::unexpected(status.error());
    }
    if (!(width.value > 0.0)) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A taper needs the width that it closes. Give the width of the "
                                   "lane or shoulder."));
    }
    const double quadratic = width.value * mph * mph / 60.0;
    const double linear = width.value * mph;
    if (mph <= quadraticUpTo) {
        return TaperLength{{quadratic}, false};
    }
    if (mph >= linearFrom) {
        return TaperLength{{linear}, false};
    }
    return TaperLength{{std::max(quadratic, linear)}, true};
}

QString wordFor(TaperKind kind)
{
    switch (kind) {
    case TaperKind::Merging:
        return QStringLiteral("merging taper");
    case TaperKind::Shifting:
        return QStringLiteral("shifting taper");
    case TaperKind::Shoulder:
        return QStringLiteral("shoulder taper");
    case TaperKind::OneLaneTwoWay:
        return QStringLiteral("one-lane, two-way taper");
    case TaperKind::Downstream:
        break;
    }
    return QStringLiteral("downstream taper");
}

Feet shortestTaper(TaperKind kind, Feet full)
{
    switch (kind) {
    case TaperKind::Merging:
        return roundedUp(full);
    case TaperKind::Shifting:
        return roundedUp({full.value / 2.0});
    case TaperKind::Shoulder:
        return roundedUp({full.value / 3.0});
    case TaperKind::OneLaneTwoWay:
    case TaperKind::Downstream:
        break;
    }
    return {50};
}

Feet longestTaper(TaperKind kind)
{
    const bool isLimited = kind == TaperKind::OneLaneTwoWay || kind == TaperKind::Downstream;
    return {isLimited ? 100.0 : std::numeric_limits<double>::infinity()};
}

Feet taperSpacing(TaperKind kind, double mph)
{
    constexpr double oneLaneTwoWay = 20.0;
    return {kind == TaperKind::OneLaneTwoWay ? std::min(oneLaneTwoWay, mph) : mph};
}

Feet tangentSpacing(double mph)
{
    return {2.0 * mph};
}

} // namespace keyround
