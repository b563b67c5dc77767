// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/site.h"

#include <QStringList>

namespace keyround {

namespace {

bool takesFromTheRoad(LidPlace lid)
{
    return lid != LidPlace::OutsideRoad && lid != LidPlace::Shoulder;
}

template <typename T> void fill(std::optional<T> &target, const std::optional<T> &other)
{
    if (!target) {
        target = other;
    }
}

} // namespace

QString wordFor(LidPlace place)
{
    switch (place) {
    case LidPlace::OutsideRoad:
        return QStringLiteral("outside the road");
    case LidPlace::Shoulder:
        return QStringLiteral("on the shoulder");
    case LidPlace::LaneEdge:
        return QStringLiteral("at the lane's edge");
    case LidPlace::Lane:
        return QStringLiteral("in the lane");
    case LidPlace::InnerLane:
        return QStringLiteral("in an inner lane");
    case LidPlace::Centre:
        return QStringLiteral("on the centre line");
    case LidPlace::IntersectionNear:
        return QStringLiteral("at an intersection, before it");
    case LidPlace::IntersectionFar:
        return QStringLiteral("at an intersection, past it");
    case LidPlace::IntersectionMiddle:
        return QStringLiteral("in the middle of an intersection");
    case LidPlace::IntersectionSide:
        break;
    }
    return QStringLiteral("at the side of an intersection");
}

QString wordsFor(SiteQuestion question)
{
    switch (question) {
    case SiteQuestion::Lid:
        return QStringLiteral("Where is the lid?");
    case SiteQuestion::Speed:
        return QStringLiteral("What is the posted speed?");
    case SiteQuestion::Setting:
        return QStringLiteral("Is the road urban (low or high speed) or rural?");
    case SiteQuestion::ShoulderWidth:
        return QStringLiteral("How wide is the shoulder?");
    case SiteQuestion::OneWay:
        return QStringLiteral("Is the street one-way?");
    case SiteQuestion::Lanes:
        return QStringLiteral("How many lanes has the street, both directions together?");
    case SiteQuestion::LaneWidth:
        return QStringLiteral("How wide is a lane?");
    case SiteQuestion::Divided:
        return QStringLiteral("Is the road divided, with a median between the directions?");
    case SiteQuestion::LowVolume:
        return QStringLiteral("Is the traffic low, by the road authority's limit?");
    case SiteQuestion::Sight:
        break;
    }
    return QStringLiteral("Do drivers from both sides see each other past the work?");
}

std::vector<SiteQuestion> missingIn(const Site &site)
{
    const StreetFacts &street = site.street;
    std::vector<SiteQuestion> missing;
    const auto ask = [&missing](bool known, SiteQuestion question) {
        if (!known) {
            missing.push_back(question);
        }
    };
    ask(street.mph.has_value(), SiteQuestion::Speed);
    ask(street.setting.has_value(), SiteQuestion::Setting);
    if (site.lid == LidPlace::Shoulder || site.lid == LidPlace::LaneEdge) {
        ask(street.shoulderWidth.has_value(), SiteQuestion::ShoulderWidth);
    }
    if (!takesFromTheRoad(site.lid)) {
        return missing;
    }
    ask(street.isOneWay.has_value(), SiteQuestion::OneWay);
    ask(street.lanes.has_value(), SiteQuestion::Lanes);
    ask(street.laneWidth.has_value(), SiteQuestion::LaneWidth);
    const bool isInLane = site.lid == LidPlace::Lane || site.lid == LidPlace::InnerLane;
    if (isInLane && street.lanes.value_or(0) > 2 && !street.isOneWay.value_or(true)) {
        ask(street.isDivided.has_value(), SiteQuestion::Divided);
    }
    ask(street.isLowVolume.has_value(), SiteQuestion::LowVolume);
    // Sight decides between flaggers and none where one of two lanes of a quiet road is shut.
    const bool isMinor = street.setting == RoadSetting::UrbanLowSpeed;
    if (isInLane && street.lanes.value_or(9) <= 3 && street.isLowVolume.value_or(false) &&
        !isMinor) {
        ask(site.sightIsGood.has_value(), SiteQuestion::Sight);
    }
    return missing;
}

QStringList questionsOf(const Site &site)
{
    QStringList questions;
    for (const SiteQuestion question : missingIn(site)) {
        questions << wordsFor(question);
    }
    return questions;
}

StreetFacts filledFrom(StreetFacts facts, const StreetFacts &others)
{
    fill(facts.mph, others.mph);
    fill(facts.lanes, others.lanes);
    fill(facts.laneWidth, others.laneWidth);
    fill(facts.shoulderWidth, others.shoulderWidth);
    fill(facts.isOneWay, others.isOneWay);
    fill(facts.isDivided, others.isDivided);
    fill(facts.setting, others.setting);
    fill(facts.isLowVolume, others.isLowVolume);
    return facts;
}

} // namespace keyround
