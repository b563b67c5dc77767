// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/here_words.h"

#include "app/commands/field_report_commands.h"
#include "app/position/position_feed.h"
#include "core/geo/bearing.h"

namespace keyround {

namespace {

/// The fix as the receiver gave it, as far as the record of the lid keeps it.
PositionFix fixFrom(const LidFix &lid, const PositionFeed &feed)
{
    PositionFix fix;
    fix.place = lid.place;
    fix.quality = fixQualityFromKey(lid.quality).value_or(FixQuality::NotSaid);
    fix.accuracy = lid.accuracy;
    fix.at = lid.takenAt;
    if (const auto last = feed.last()) {
        fix.source = last->source;
        fix.satellites = last->at == lid.takenAt ? last->satellites : std::nullopt;
    }
    return fix;
}

} // namespace

Here hereOf(Session &session, const Valve &valve)
{
    const PositionFeed &feed = session.positions();
    const UnitSystem units = session.units();
    Here here;
    const auto fix = feed.current();
    if (!fix) {
        // No receiver: nothing to say. An old or lost fix: said, and not taken for the place.
        here.words = feed.state() == FixState::NoReceiver
                         ? QString()
                         : QObject::tr("How far it is cannot be said: %1").arg(feed.words(units));
        return here;
    }
    if (!valve.place.isValid()) {
        here.words = QObject::tr("The valve has no place on record: go by the address and the "
                                 "ties.");
        return here;
    }
    here.isKnown = true;
    here.isWithin =
        distanceBetween(fix->place, valve.place) <= session.settings().truckHabits.arrivalDistance;
    here.words =
        QObject::tr("%1 (%2)").arg(awayWords(fix->place, valve.place, units), feed.words(units));
    return here;
}

ValveId arrivedAt(Session &session, const std::vector<ValveId> &stops)
{
    const auto fix = session.positions().current();
    if (!fix) {
        return {};
    }
    Metres least = session.settings().truckHabits.arrivalDistance;
    ValveId nearest;
    for (const ValveId &id : stops) {
        const Valve *valve = session.valve(id);
        if (valve == nullptr || !valve->place.isValid()) {
            continue;
        }
        const Metres away = distanceBetween(fix->place, valve->place);
        if (away <= least) {
            least = away;
            nearest = id;
        }
    }
    return nearest;
}

std::optional<LidFix> lidFixNow(Session &session)
{
    const auto fix = session.positions().current();
    // A log that is played tells where some truck was once.
    if (!fix || fix->source == FixSource::Log || !isMeasured(fix->quality)) {
        return std::nullopt;
    }
    return LidFix{fix->place, fix->accuracy, keyFor(fix->quality), session.now()};
}

QString lidFixWords(Session &session, const Valve &valve, const LidFix &fix)
{
    const UnitSystem units = session.units();
    QString words = QObject::tr("%1, %2")
                        .arg(fix.place.latitude, 0, 'f', 6)
                        .arg(fix.place.longitude, 0, 'f', 6);
    if (fix.accuracy) {
        words += QObject::tr(", about %1").arg(lengthText(*fix.accuracy, units));
    }
    return valve.place.isValid()
               ? words + QObject::tr("; %1 from the map's place")
                             .arg(lengthText(distanceBetween(fix.place, valve.place), units))
               : words + QObject::tr("; the map has no place");
}

bool proposeLidPlace(Session &session, const Valve &valve, const LidFix &lid)
{
    const PositionFix fix = fixFrom(lid, session.positions());
    const auto listed = valve.place.isValid() ? std::optional(valve.place) : std::nullopt;
    if (!isWorthProposing(listed, fix)) {
        return false;
    }
    const auto proposed = proposePlace(session, valve.id, fix);
    if (!proposed) {
        Q_EMIT session.notifier().failed(proposed.error().message);
        return false;
    }
    Q_EMIT session.notifier().said(
        QObject::tr("The place of valve %1 is proposed to the office: %2.")
            .arg(valve.number, lidFixWords(session, valve, lid)));
    return true;
}

} // namespace keyround
