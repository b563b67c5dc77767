// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/application.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr double shortDurationMinutes = 60.0;

/// From memory: the published layouts show one; no table here says when.
const QString arrowBoard = QStringLiteral(
    "An arrow board may be wanted where a lane of several is shut: it is not counted here. The "
    "road authority says when.");

ApplicationChoice offer(int number, const QString &why, QStringList doubts = {})
{
    ApplicationChoice choice;
    choice.application = *applicationOf(number);
    choice.why = why;
    choice.doubts = std::move(doubts);
    return choice;
}

tl::unexpected<Error> refuse(const QString &why)
{
    return fail(ErrorCode::Refused,
                why + QStringLiteral(" Ask the road authority for a traffic control plan."));
}

int lanesEachWay(const StreetFacts &street)
{
    const int lanes = street.lanes.value_or(2);
    return street.isOneWay.value_or(false) ? lanes : std::max(1, lanes / 2);
}

Result<ApplicationChoice> onShoulder(const Site &site)
{
    if (site.street.shoulderWidth->value <= 0.0) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The lid is said to be on the shoulder, but the street has "
                                   "none. Say where the lid is."));
    }
    if (site.minutes > shortDurationMinutes) {
        return offer(3, QStringLiteral("on the shoulder for more than an hour"));
    }
    return offer(4, QStringLiteral("on the shoulder for up to an hour"));
}

/// One lane of a street with one lane each way: the other lane serves both directions in turn.
ApplicationChoice oneOfTwoLanes(const Site &site)
{
    const bool isLow = site.street.isLowVolume.value_or(false);
    if (isLow && site.street.setting == RoadSetting::UrbanLowSpeed) {
        return offer(18, QStringLiteral("one lane of a minor street: low speed, low traffic"));
    }
    if (isLow && site.sightIsGood.value_or(false)) {
        return offer(11, QStringLiteral("one of two lanes, low traffic, good sight"));
    }
    ApplicationChoice choice =
        offer(10, isLow ? QStringLiteral("one of two lanes; sight past the work is not good")
                        : QStringLiteral("one of two lanes; traffic is not low"));
    choice.needsFlaggers = true;
    if (site.street.lanes.value_or(2) > 2) {
        choice.doubts << QStringLiteral("The middle lane of three may serve as a turning lane: the "
                                        "road authority may let traffic use it past the work.");
    }
    return choice;
}

Result<ApplicationChoice> inLane(const Site &site)
{
    const StreetFacts &street = site.street;
    if (lanesEachWay(street) == 1) {
        if (street.isOneWay.value_or(false)) {
            return refuse(QStringLiteral("Closing the only lane of a one-way street closes the "
                                         "street."));
        }
        return oneOfTwoLanes(site);
    }
    if (street.isDivided.value_or(false) || street.isOneWay.value_or(false)) {
        return offer(33, QStringLiteral("one lane of several on a divided or one-way road"),
                     {arrowBoard});
    }
    if (site.lid == LidPlace::InnerLane) {
        return offer(30, QStringLiteral("an inner lane of a street with several lanes each way"),
                     {arrowBoard});
    }
    return offer(30, QStringLiteral("one lane of a street with several lanes each way"),
                 {QStringLiteral("The application is published for an inner lane; for the outer "
                                 "lane its merging taper is taken from the right-hand edge. The "
                                 "road authority may name another."),
                  arrowBoard});
}

Result<ApplicationChoice> onCentre(const Site &site)
{
    if (site.street.isOneWay.value_or(false) || lanesEachWay(site.street) > 1) {
        return offer(30, QStringLiteral("between the lanes of a street with several of them"),
                     {QStringLiteral("Work between lanes closes an inner lane here."), arrowBoard});
    }
    if (site.street.isLowVolume.value_or(false)) {
        return offer(15, QStringLiteral("on the centre line, low traffic"));
    }
    ApplicationChoice choice =
        offer(10, QStringLiteral("on the centre line; traffic is not low"),
              {QStringLiteral("The published work in the centre of a road is for low traffic only; "
                              "closing one lane with flaggers is offered in its place.")});
    choice.needsFlaggers = true;
    return choice;
}

ApplicationChoice atIntersection(const Site &site)
{
    const QStringList doubts{
        QStringLiteral("Every street that enters the intersection needs its own signs; people on "
                       "foot and turning traffic are for the person on site to judge.")};
    switch (site.lid) {
    case LidPlace::IntersectionNear:
        return offer(21, QStringLiteral("a lane before an intersection"), doubts);
    case LidPlace::IntersectionFar:
        return offer(22, QStringLiteral("a right-hand lane past an intersection"), doubts);
    case LidPlace::IntersectionMiddle:
        return offer(26, QStringLiteral("the middle of an intersection"), doubts);
    default:
        break;
    }
    return offer(27, QStringLiteral("the side of an intersection"), doubts);
}

Status checkRange(const Site &site)
{
    constexpr double highestPublished = 75.0;
    if (const QStringList questions = questionsOf(site); !questions.isEmpty()) {
        return fail(ErrorCode::BadInput, questions.join(QLatin1Char(' ')));
    }
    if (site.street.setting == RoadSetting::Freeway) {
        return refuse(QStringLiteral("No set-up is offered for expressways and freeways."));
    }
    if (*site.street.mph > highestPublished) {
        return refuse(QStringLiteral("The published tables end at 75 mph."));
    }
    if (site.isDark) {
        return refuse(QStringLiteral("No set-up is offered for work in the dark: lighting and "
                                     "other signs are needed."));
    }
    return {};
}

} // namespace

const std::vector<Application> &applications()
{
    static const std::vector<Application> all{
        {1, QStringLiteral("Work Beyond the Shoulder")},
        {3, QStringLiteral("Work on the Shoulders")},
        {4, QStringLiteral("Short-Duration or Mobile Operation on a Shoulder")},
        {6, QStringLiteral("Shoulder Work with Minor Encroachment")},
        {10, QStringLiteral("Lane Closure on a Two-Lane Road Using Flaggers")},
        {11, QStringLiteral("Lane Closure on a Two-Lane Road with Low Traffic Volumes")},
        {15, QStringLiteral("Work in the Center of a Road with Low Traffic Volumes")},
        {18, QStringLiteral("Lane Closure on a Minor Street")},
        {21, QStringLiteral("Lane Closure on the Near Side of an Intersection")},
        {22, QStringLiteral("Right-Hand Lane Closure on the Far Side of an Intersection")},
        {26, QStringLiteral("Closure in the Center of an Intersection")},
        {27, QStringLiteral("Closure at the Side of an Intersection")},
        {30, QStringLiteral("Interior Lane Closure on a Multi-Lane Street")},
        {33, QStringLiteral("Stationary Lane Closure on a Divided Highway")},
    };
    return all;
}

const Application *applicationOf(int number)
{
    const auto &all = applications();
    const auto found = std::ranges::find(all, number, &Application::number);
    return found == all.end() ? nullptr : &*found;
}

Result<ApplicationChoice> chooseApplication(const Site &site)
{
    if (Status status = checkRange(site); !status) {
        return tl::unexpected(status.error());
    }
    switch (site.lid) {
    case LidPlace::OutsideRoad:
        return offer(1, QStringLiteral("outside the road"));
    case LidPlace::Shoulder:
        return onShoulder(site);
    case LidPlace::LaneEdge:
        return offer(6, QStringLiteral("a foot or two into the lane"));
    case LidPlace::Lane:
    case LidPlace::InnerLane:
        return inLane(site);
    case LidPlace::Centre:
        return onCentre(site);
    default:
        break;
    }
    return atIntersection(site);
}

QString wordFor(DurationClass duration)
{
    switch (duration) {
    case DurationClass::ShortDuration:
        return QStringLiteral("short duration (up to 1 h)");
    case DurationClass::ShortTerm:
        return QStringLiteral("short-term stationary (more than 1 h by day)");
    case DurationClass::IntermediateTerm:
        return QStringLiteral("intermediate-term stationary (up to 3 days, or over 1 h by night)");
    case DurationClass::LongTerm:
        break;
    }
    return QStringLiteral("long-term stationary (more than 3 days)");
}

DurationClass durationOf(double minutes, bool isDark)
{
    constexpr double daylightPeriod = 12.0 * 60.0;
    constexpr double threeDays = 3.0 * 24.0 * 60.0;
    if (minutes <= shortDurationMinutes) {
        return DurationClass::ShortDuration;
    }
    if (minutes <= daylightPeriod && !isDark) {
        return DurationClass::ShortTerm;
    }
    return minutes <= threeDays ? DurationClass::IntermediateTerm : DurationClass::LongTerm;
}

} // namespace keyround
