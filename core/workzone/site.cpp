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

QStringList questionsOf(const Site &site)
{
    const StreetFacts &street = site.street;
    QStringList questions;
    const auto ask = [&questions](bool known, const char *question) {
        if (!known) {
            questions << QString::fromLatin1(question);
        }
    };
    ask(street.mph.has_value(), "What is the posted speed?");
    ask(street.setting.has_value(), "Is the road urban (low or high speed) or rural?");
    if (site.lid == LidPlace::Shoulder || site.lid == LidPlace::LaneEdge) {
        ask(street.shoulderWidth.has_value(), "How wide is the shoulder?");
    }
    if (takesFromTheRoad(site.lid)) {
        ask(street.isOneWay.has_value(), "Is the street one-way?");
        ask(street.lanes.has_value(), "How many lanes has the street, both directions together?");
        ask(street.laneWidth.has_value(), "How wide is a lane?");
        ask(street.isLowVolume.has_value(), "Is the traffic low, by the road authority's limit?");
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
