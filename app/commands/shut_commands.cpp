// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/shut_commands.h"

#include "app/commands/sign_row.h"
#include "core/dayplan/plan.h"
#include "core/storage/layer_store.h"
#include "core/storage/network_fix_store.h"
#include "core/storage/shut_store.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace keyround {

namespace {

/// Seconds from the crew to each valve of the plan, in one table.
std::vector<std::pair<NetIndex, double>> secondsToValves(Session &session, const ShutPlan &plan,
                                                         const GeoPoint &crew)
{
    const PipeNetwork &network = session.network().network;
    std::vector<NetIndex> valves;
    std::vector<GeoPoint> places{crew};
    for (const auto *steps : {&plan.close, &plan.closeDeadSide}) {
        for (const ShutStep &step : *steps) {
            valves.push_back(step.valve);
            places.push_back(network.valves[step.valve].place);
        }
    }
    const TravelTable table = travelTable(session.driveGraph(), places, session.settings().travel);
    std::vector<std::pair<NetIndex, double>> seconds;
    for (std::size_t i = 0; i < valves.size(); ++i) {
        seconds.emplace_back(valves[i], table.seconds.at(0, i + 1));
    }
    return seconds;
}

} // namespace

ShutPlan shutFor(Session &session, const BreakAt &at, const ValveStates &states,
                 const std::optional<GeoPoint> &crew)
{
    ShutPlan plan = planShut(session.network().network, states, at);
    const std::optional<GeoPoint> from = crew ? crew : session.settings().yard;
    if (from && from->isValid()) {
        const auto seconds = secondsToValves(session, plan, *from);
        orderByTravel(plan, [&seconds](NetIndex valve) -> std::optional<double> {
            for (const auto &[index, drive] : seconds) {
                if (index == valve && std::isfinite(drive)) {
                    return drive;
                }
            }
            return {};
        });
    }
    return plan;
}

Result<BreakAt> breakOf(Session &session, const ShutBegun &begun)
{
    const PipeNetwork &network = session.network().network;
    return begun.place.isValid() ? breakNear(network, begun.place, breakReach, session.units())
                                 : breakOnMain(network, begun.main, {}, session.units());
}

Result<ShutId> beginShut(Session &session, const BreakAt &at, const QString &main)
{
    ShutBegun begun;
    begun.at = session.now();
    begun.id = ShutId{newUuid7(begun.at.utcMilliseconds)};
    begun.place = at.place;
    begun.main = main;
    begun.words = at.words;
    const Status stored =
        signRow(session, begun).and_then([&] { return session.project().shuts().begin(begun); });
    if (!stored) {
        return tl::unexpected(stored.error());
    }
    Q_EMIT session.notifier().shutsChanged();
    return begun.id;
}

Status tickShut(Session &session, const ShutId &shut, ShutAction action, const ValveId &valve,
                const QString &words)
{
    const ShutLog *log = session.shut(shut);
    if (log == nullptr) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("This shut is not in the project. Begin it anew."));
    }
    // A valve that is still closed can be reopened after the end too: nothing is forgotten.
    if (standingOf(*log).isEnded && action != ShutAction::Reopened) {
        return fail(ErrorCode::Refused,
                    QObject::tr("This shut has ended; only reopening can still be recorded."));
    }
    ShutTick tick;
    tick.at = session.now();
    tick.id = TickId{newUuid7(tick.at.utcMilliseconds)};
    tick.shut = shut;
    tick.action = action;
    tick.valve = valve;
    tick.words = words;
    Status stored =
        signRow(session, tick).and_then([&] { return session.project().shuts().tick(tick); });
    if (stored) {
        Q_EMIT session.notifier().shutsChanged();
    }
    return stored;
}

PlaceSource::PlaceSource(Session &session, Source source)
    : Command(session, QObject::tr("Place source %1").arg(source.number)),
      m_source(std::move(source))
{
}

Status PlaceSource::apply()
{
    if (std::ranges::find(session().sources(), m_source.number, &Source::number) !=
        session().sources().end()) {
        return fail(ErrorCode::Refused,
                    QObject::tr("There is a source %1 already. Give this one another number.")
                        .arg(m_source.number));
    }
    return session().project().layers().put(std::vector<Source>{m_source});
}

Status PlaceSource::revert()
{
    return session().project().layers().removeSource(m_source.number);
}

void PlaceSource::announce()
{
    Q_EMIT session().notifier().layersChanged();
}

ChangeNetworkFixes::ChangeNetworkFixes(Session &session, NetworkFixes after, const QString &text)
    : Command(session, text), m_before(session.networkFixes()), m_after(std::move(after))
{
}

Status ChangeNetworkFixes::apply()
{
    return session().project().networkFixes().save(m_after);
}

Status ChangeNetworkFixes::revert()
{
    return session().project().networkFixes().save(m_before);
}

void ChangeNetworkFixes::announce()
{
    Q_EMIT session().notifier().networkFixesChanged();
}

} // namespace keyround
