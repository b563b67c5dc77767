// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/timed_visits.h"

#include <QHash>

#include <algorithm>
#include <cmath>
#include <utility>

namespace keyround {

namespace {

constexpr double millisecondsInSecond = 1000.0;
constexpr double secondsInMinute = 60.0;

class VisitReader
{
public:
    VisitReader(const std::vector<Valve> &valves, const std::vector<Street> &streets,
                const DriveGraph &graph, const TravelSettings &travel)
        : m_streets(streets), m_graph(graph), m_travel(travel)
    {
        for (const Valve &valve : valves) {
            m_valves.insert(valve.id, &valve);
        }
    }

    [[nodiscard]] bool knows(const ValveId &valve) const { return m_valves.contains(valve); }

    /// The visit with the drive from the one before, which is null for the first of a round.
    [[nodiscard]] TimedVisit read(const Visit &visit, const Visit *before)
    {
        const Valve &valve = *m_valves.value(visit.valve);
        const std::optional<Snap> &at = snapOf(valve);
        TimedVisit timed;
        timed.kind = {valve.type, sizeClassOf(valve.size),
                      at ? m_streets[m_graph.streetOf(*at)].kind : StreetClass::Unknown};
        timed.onSiteMinutes = seconds(visit.arrived, visit.finished) / secondsInMinute;
        for (const Pass &pass : visit.passes) {
            timed.turns += pass.turns.turns();
        }
        if (before != nullptr && at && before->finished.localDate() == visit.arrived.localDate()) {
            takeDrive(timed, *before, visit, *at);
        }
        return timed;
    }

private:
    static double seconds(const Moment &from, const Moment &to)
    {
        return static_cast<double>(to.utcMilliseconds - from.utcMilliseconds) /
               millisecondsInSecond;
    }

    const std::optional<Snap> &snapOf(const Valve &valve)
    {
        const auto found = m_snaps.constFind(valve.id);
        if (found != m_snaps.constEnd()) {
            return *found;
        }
        return *m_snaps.insert(valve.id, valve.place.isValid()
                                             ? m_graph.snap(valve.place, m_travel.snapMetres)
                                             : std::nullopt);
    }

    void takeDrive(TimedVisit &timed, const Visit &before, const Visit &visit, const Snap &at)
    {
        const std::optional<Snap> from = snapOf(*m_valves.value(before.valve));
        const double drove = seconds(before.finished, visit.arrived);
        if (!from || drove <= 0) {
            return;
        }
        const Way way = m_graph.wayBetween(*from, at);
        if (!std::isfinite(way.seconds) || way.byClass.empty() || drove <= way.turnSeconds) {
            return;
        }
        const auto most = std::ranges::max_element(way.byClass, {}, &DrivenOnClass::seconds);
        timed.droveSeconds = drove - way.turnSeconds;
        timed.streetSeconds = way.seconds - way.turnSeconds;
        timed.mostly = static_cast<StreetClass>(most - way.byClass.begin());
        timed.hour = before.finished.local().time().hour();
    }

    const std::vector<Street> &m_streets;
    const DriveGraph &m_graph;
    const TravelSettings &m_travel;
    QHash<ValveId, const Valve *> m_valves;
    QHash<ValveId, std::optional<Snap>> m_snaps;
};

/// The standing visits of each finished round, by arrival.
QHash<RoundId, std::vector<Visit>> byFinishedRound(const std::vector<Round> &rounds,
                                                   const std::vector<Visit> &visits)
{
    QHash<RoundId, std::vector<Visit>> byRound;
    for (const Round &round : rounds) {
        if (round.state == RoundState::Finished) {
            byRound.insert(round.id, {});
        }
    }
    StandingVisits standing = standingVisits(visits);
    for (Visit &visit : standing.visits) {
        const auto round = byRound.find(visit.round);
        if (round != byRound.end() && !visit.arrived.isNull() && !visit.finished.isNull()) {
            round->push_back(std::move(visit));
        }
    }
    return byRound;
}

} // namespace

std::vector<TimedVisit>
timedVisitsOf(const std::vector<Round> &rounds, const std::vector<Visit> &visits,
              const std::vector<Valve> &valves, const std::vector<Street> &streets,
              const DriveGraph &ownSpeeds, const TravelSettings &travel, const Progress &progress)
{
    VisitReader reader(valves, streets, ownSpeeds, travel);
    const QHash<RoundId, std::vector<Visit>> byRound = byFinishedRound(rounds, visits);
    std::vector<TimedVisit> timed;
    double read = 0;
    for (const Round &round : rounds) {
        if (!report(progress, read++ / static_cast<double>(rounds.size()),
                    QStringLiteral("Reading finished rounds"))) {
            break;
        }
        const Visit *before = nullptr;
        const auto found = byRound.constFind(round.id);
        if (found == byRound.constEnd()) {
            continue;
        }
        for (const Visit &visit : *found) {
            if (reader.knows(visit.valve)) {
                timed.push_back(reader.read(visit, before));
                before = &visit;
            } else {
                before = nullptr;
            }
        }
    }
    return timed;
}

} // namespace keyround
