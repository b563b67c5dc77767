// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/work_zone.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "core/dayplan/stop_minutes.h"
#include "core/storage/site_store.h"
#include "core/streets/street_line.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

/// Puts what is known of a street or a valve in the place of what was.
template <typename Key, typename Known> class ChangeKnown final : public Command
{
public:
    ChangeKnown(Session &session, Key key, Known before, Known after, const QString &text)
        : Command(session, text), m_key(std::move(key)), m_before(std::move(before)),
          m_after(std::move(after))
    {
    }

protected:
    Status apply() override { return session().project().sites().put(m_key, m_after); }
    Status revert() override { return session().project().sites().put(m_key, m_before); }
    void announce() override { Q_EMIT session().notifier().sitesChanged(); }

private:
    Key m_key;
    Known m_before;
    Known m_after;
};

template <typename Key, typename Known>
Status pushKnown(Session &session, const Key &key, const Known &before, const Known &after,
                 const QString &text)
{
    if (before == after) {
        return {};
    }
    return pushCommand(
        session, std::make_unique<ChangeKnown<Key, Known>>(session, key, before, after, text));
}

/// Minutes on site without cones of their own.
double minutesOf(Session &session, const Valve &valve, StreetClass kind, const SetUp *setUp)
{
    const ProjectSettings &settings = session.settings();
    return minutesFor(valve, session.history(valve.id).baseline, kind, settings.stopTimes,
                      settings.learned, setUp)
        .minutes;
}

KnownStreet streetKnown(Session &session, const QString &key)
{
    return session.knownSites().streets.value(key);
}

KnownValve valveKnown(Session &session, const ValveId &valve)
{
    return session.knownSites().valves.value(valve);
}

/// The valve's own goes before its street's.
std::optional<SetUpOverride> changeFor(Session &session, const Valve &valve, const QString &key)
{
    const std::optional<SetUpOverride> own = valveKnown(session, valve.id).change;
    return own ? own : streetKnown(session, key).change;
}

} // namespace

StopSite siteFor(Session &session, const Valve &valve)
{
    StopSite stop;
    const StreetAt at = session.streetAt(valve.id);
    StreetFacts layer;
    stop.kind = at.kind;
    if (at.index) {
        const Street &street = session.streets()[*at.index];
        layer = factsOf(street);
        stop.streetKey = siteKeyOf(street);
    } else {
        stop.streetKey = QStringLiteral("at valve ") + valve.number;
    }
    stop.streetName =
        at.name.isEmpty() ? QObject::tr("the street of valve %1").arg(valve.number) : at.name;
    stop.known.street = filledFrom(streetKnown(session, stop.streetKey).facts, layer);
    stop.known.valve = valveKnown(session, valve.id).facts;
    stop.usual = usualFacts(stop.kind, stop.known.street, session.settings().urbanLowSpeedTo);
    stop.site.street = stop.known.street;
    stop.site.lid = stop.known.valve.lid.value_or(LidPlace::Lane);
    stop.site.sightIsGood = stop.known.valve.sightIsGood;
    stop.site.minutes = minutesOf(session, valve, stop.kind, nullptr);
    if (!stop.known.valve.lid) {
        stop.questions.push_back(SiteQuestion::Lid);
    } else {
        stop.questions = missingIn(stop.site);
    }
    return stop;
}

Result<SetUp> setUpFor(Session &session, const Valve &valve, const StopSite &stop)
{
    if (!stop.questions.empty()) {
        QStringList words;
        for (const SiteQuestion question : stop.questions) {
            words << wordsFor(question);
        }
        return fail(ErrorCode::BadInput, words.join(QLatin1Char(' ')));
    }
    const SetUpHabits &habits = session.settings().setUpHabits;
    Result<SetUp> setUp = workOutSetUp(stop.site, habits);
    if (!setUp) {
        return setUp;
    }
    // The cones' own minutes count towards the duration, which may ask for another set-up.
    Site whole = stop.site;
    whole.minutes = minutesOf(session, valve, stop.kind, &*setUp);
    setUp = workOutSetUp(whole, habits);
    const auto change = changeFor(session, valve, stop.streetKey);
    return setUp && change ? applyOverride(std::move(*setUp), *change) : setUp;
}

Result<SetUp> setUpFor(Session &session, const Valve &valve)
{
    return setUpFor(session, valve, siteFor(session, valve));
}

Status answerSite(Session &session, const Valve &valve, SiteQuestion question,
                  std::optional<double> answer)
{
    const QString key = siteFor(session, valve).streetKey;
    const KnownStreet street = streetKnown(session, key);
    const KnownValve known = valveKnown(session, valve.id);
    SiteFacts facts{street.facts, known.facts};
    if (Status set = setAnswer(facts, question, answer); !set) {
        return set;
    }
    if (isOfValve(question)) {
        return pushKnown(session, valve.id, known, KnownValve{facts.valve, known.change},
                         QObject::tr("Say of valve %1: %2").arg(valve.number, wordsFor(question)));
    }
    return pushKnown(session, key, street, KnownStreet{facts.street, street.change},
                     QObject::tr("Say of a street: %1").arg(wordsFor(question)));
}

std::optional<SetUpOverride> changeOf(Session &session, const Valve &valve, ZoneScope scope)
{
    return scope == ZoneScope::Valve
               ? valveKnown(session, valve.id).change
               : streetKnown(session, siteFor(session, valve).streetKey).change;
}

Status changeSetUp(Session &session, const Valve &valve, ZoneScope scope,
                   const std::optional<SetUpOverride> &change)
{
    const StopSite stop = siteFor(session, valve);
    if (change) {
        // Refused before it is kept: a set-up that cannot be applied would hide the one worked out.
        const Result<SetUp> tried =
            workOutSetUp(stop.site, session.settings().setUpHabits).and_then([&](SetUp &&setUp) {
                return applyOverride(std::move(setUp), *change);
            });
        if (!tried) {
            return tl::unexpected(tried.error());
        }
    }
    const QString text =
        change ? QObject::tr("Change the set-up at valve %1").arg(valve.number)
               : QObject::tr("Take back the changed set-up at valve %1").arg(valve.number);
    if (scope == ZoneScope::Valve) {
        const KnownValve known = valveKnown(session, valve.id);
        return pushKnown(session, valve.id, known, KnownValve{known.facts, change}, text);
    }
    const KnownStreet street = streetKnown(session, stop.streetKey);
    return pushKnown(session, stop.streetKey, street, KnownStreet{street.facts, change}, text);
}

Status saveSetUp(Session &session, const SetUpOverride &change)
{
    if (change.name.trimmed().isEmpty() || change.by.trimmed().isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("A set-up that is kept needs a name and who made it."));
    }
    ProjectSettings settings = session.settings();
    auto &saved = settings.savedSetUps;
    const auto same = std::ranges::find_if(saved, [&change](const SetUpOverride &each) {
        return each.name.compare(change.name, Qt::CaseInsensitive) == 0;
    });
    if (same != saved.end()) {
        *same = change;
    } else {
        saved.push_back(change);
    }
    return pushCommand(session, std::make_unique<ChangeSettings>(
                                    session, std::move(settings),
                                    QObject::tr("Keep the set-up \"%1\"").arg(change.name)));
}

std::vector<LoadStop> loadStopsOf(Session &session, const Round &round)
{
    std::vector<LoadStop> stops;
    for (const ValveId &id : round.stops) {
        const Valve *valve = session.valve(id);
        if (valve == nullptr) {
            continue;
        }
        LoadStop stop;
        stop.valve = *valve;
        if (Result<SetUp> setUp = setUpFor(session, *valve)) {
            stop.setUp = std::move(*setUp);
        }
        const ValveHistory &history = session.history(id);
        if (!history.visits.empty()) {
            stop.openProblems = history.visits.back().visit.problems;
        }
        if (!session.mains().empty()) {
            stop.notices = session.shutLoad(id).services;
        }
        stops.push_back(std::move(stop));
    }
    return stops;
}

std::vector<LoadLine> loadListOf(Session &session, const Round &round)
{
    return loadList(loadStopsOf(session, round), session.units(), session.settings().loadHabits);
}

ZoneGround groundOf(Session &session, const Valve &valve)
{
    constexpr Metres reach{500}; // past the ends of the lid's own block
    ZoneGround ground;
    ground.drivesLeft = session.settings().turns.drivingSide == DrivingSide::Left;
    const StreetAt at = session.streetAt(valve.id);
    if (!at.index || !valve.place.isValid()) {
        return ground; // drawn on a straight line to the east
    }
    const Street &street = session.streets()[*at.index];
    const StreetLine followed = followedStreet(session.streets(), *at.index, reach);
    const LocalPlane plane(valve.place);
    ground.street = plane.toPlane(followed.line);
    ground.lid = plane.toPlane(valve.place);
    // The lid lies on the own side of the traffic that loses its lane.
    ground.forward = street.oneWay == OneWay::No ? at.isRight != ground.drivesLeft
                                                 : street.oneWay == OneWay::Forward;
    ground.firstIsDeadEnd = followed.firstIsDeadEnd;
    ground.lastIsDeadEnd = followed.lastIsDeadEnd;
    return ground;
}

} // namespace keyround
