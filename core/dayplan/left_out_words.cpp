// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/left_out_words.h"

#include "core/dayplan/crew.h"
#include "core/dayplan/day_clock.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

QString notOfferedText(const LeftOutStop &left, const StopCandidate &candidate)
{
    QString text = QStringLiteral("Busy hours (%1) leave no time for it on this day: the crew "
                                  "could begin work there at %2")
                       .arg(rulesText(candidate.hours.closedBy), clockText(left.couldBegin));
    if (left.nearestWindow && left.nearestWindow->from > left.couldBegin) {
        text += QStringLiteral(", which is too early before %1")
                    .arg(clockText(left.nearestWindow->from));
    } else if (left.nearestWindow && left.nearestWindow->to < left.couldBegin) {
        text += QStringLiteral(", and must begin by %1").arg(clockText(left.nearestWindow->to));
    }
    return text + QStringLiteral(". Without them it would fit.");
}

} // namespace

QString barText(const StopCandidate &candidate, const QDate &date)
{
    if (!candidate.place.isValid()) {
        return QStringLiteral("It has no place on the map. Give it one, then plan again.");
    }
    if (!candidate.heldBy.isEmpty()) {
        return candidate.heldBy;
    }
    if (!candidate.lacking.isEmpty()) {
        return skillsText(candidate.lacking);
    }
    if (candidate.notBefore.isValid() && date.isValid() && date < candidate.notBefore) {
        return QStringLiteral("Not before %1: a day from then on would let it in.")
            .arg(candidate.notBefore.toString(Qt::ISODate));
    }
    return {};
}

QString missingText(double seconds)
{
    return QStringLiteral("Does not fit the shift: %1 more would let it in.")
        .arg(minutesText(seconds));
}

QString aboutMissingText(double seconds)
{
    return QStringLiteral("Does not fit the shift: about %1 more would let it in.")
        .arg(minutesText(seconds));
}

QString neverOpenText(const StopCandidate &candidate)
{
    return QStringLiteral("Busy hours (%1) leave no time within the shift for its %2 of work. "
                          "Another day, another shift or a change of the hours would let it in.")
        .arg(rulesText(candidate.hours.closedBy), minutesText(candidate.minutes * 60.0));
}

QString leftOutText(const LeftOutStop &left, const StopCandidate &candidate)
{
    switch (left.cause) {
    case LeftOutCause::NoWay:
        break;
    case LeftOutCause::WindowNeverMet:
        return neverOpenText(candidate);
    case LeftOutCause::DoesNotFit:
        return missingText(left.missingSeconds);
    case LeftOutCause::WindowNotOffered:
        return notOfferedText(left, candidate);
    }
    return QStringLiteral("No way leads there and back on the streets that are loaded.");
}

} // namespace keyround
