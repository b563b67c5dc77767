// SPDX-License-Identifier: GPL-3.0-or-later
// Which valves shut a break, who is without water then, and what one valve alone cuts off.
// Connectivity, not pressure: connectivityCaution() belongs on every screen and sheet.
//
// Rules: (1) a valve that is open and will not close lets the shut grow over it, again until
// nothing changes; (2) a closed valve is a boundary already, and no supply passes it; one that is
// closed but known not to hold lets the break's water through and still counts as no supply; (3)
// who was supplied before, is cut from every source after, and is not in the segment, is out beyond
// it; places dry beforehand do not count there; (4) valves that face water which still reaches a
// source stop the flow, the others are closed against drain-back; (5) a source inside the shut is
// said.
//
// Cost: one break is a few passes over the segments (a few ms at 50,000 valves).
#pragma once

#include "core/common/result.h"
#include "core/common/units.h"
#include "core/mains/pipe_network.h"

#include <QStringList>

#include <functional>
#include <optional>

namespace keyround {

/// What is known of a valve's closing.
enum class Holds {
    Works,
    Doubtful,    ///< has a defect, or its last good cycle is long ago
    Unknown,     ///< nobody has tried it
    DoesNotShut, ///< turns, but lets water through
    DoesNotTurn, ///< stuck where it is
    CannotReach, ///< not found, buried: nobody can turn it now
};
/// "works", "doubtful", "condition not known" and so on.
[[nodiscard]] QString wordFor(Holds holds);
[[nodiscard]] QString keyFor(Holds holds); ///< "does_not_turn": JSON

struct ValveState
{
    Holds holds = Holds::Unknown;
    bool closed = false; ///< as it stands now: by design, or as the last visit left it
    QString why;         ///< the caller's words, "did not turn on 2025-04-02"; may be empty

    /// The break's water passes it whatever is done: the shut has to grow over it.
    [[nodiscard]] bool letsBreakThrough() const
    {
        return closed ? holds == Holds::DoesNotShut
                      : holds == Holds::DoesNotShut || holds == Holds::DoesNotTurn ||
                            holds == Holds::CannotReach;
    }
    [[nodiscard]] bool isUncertain() const
    {
        return holds == Holds::Doubtful || holds == Holds::Unknown;
    }
};
using ValveStates = std::vector<ValveState>; ///< by index in PipeNetwork::valves

/// Every valve as it should stand, and all with one trust.
[[nodiscard]] ValveStates statesAsDesigned(const PipeNetwork &network, Holds holds = Holds::Works);
[[nodiscard]] ValveStates statesFrom(const PipeNetwork &network,
                                     const std::function<ValveState(const NetValve &)> &stateOf);

/// "Worked out from how the mains are joined, not from pressure ..."
[[nodiscard]] QString connectivityCaution();

// ---- one valve ----

struct SingleShut
{
    Load out;
    std::vector<NetIndex> services; ///< indices in PipeNetwork
    std::vector<NetIndex> critical; ///< those of the services that are critical
    std::vector<NetIndex> hydrants;
    std::vector<NetIndex> segments;
};
/// Who has a path to a source now and none when this valve is closed. Nobody when it is closed now.
[[nodiscard]] SingleShut shutOne(const PipeNetwork &network, const ValveStates &states,
                                 NetIndex valve);

/// The same for every valve at once (bridges of the graph of segments, in one pass).
class SingleShuts
{
public:
    SingleShuts() = default;
    SingleShuts(const PipeNetwork &network, const ValveStates &states);
    [[nodiscard]] const Load &of(NetIndex valve) const { return m_loads[valve]; }
    /// The segments that go dry; none when the valve cuts nobody off.
    [[nodiscard]] std::span<const NetIndex> segments(NetIndex valve) const
    {
        return std::span(m_order).subspan(m_begin[valve], m_end[valve] - m_begin[valve]);
    }

private:
    std::vector<Load> m_loads;
    std::vector<NetIndex> m_order; ///< supplied segments, each subtree in one run
    std::vector<NetIndex> m_begin;
    std::vector<NetIndex> m_end;
};

// ---- a break ----

/// Where water comes out: one segment, or several when it is not known in which.
struct BreakAt
{
    std::vector<NetIndex> segments;
    GeoPoint place;                 ///< not valid when not known
    QString words;                  ///< "on main WM-00012, 34 ft from its first point"
    bool hasOtherStretches = false; ///< its main goes on beyond valves; see breakOnMain()
};
/// The nearest main within reach.
[[nodiscard]] Result<BreakAt> breakNear(const PipeNetwork &network, const GeoPoint &place,
                                        Metres reach, UnitSystem units);
/// At metres from the main's first point; without them, on its longest stretch between valves, and
/// the plan says that there are others.
[[nodiscard]] Result<BreakAt> breakOnMain(const PipeNetwork &network, const QString &number,
                                          std::optional<Metres> along, UnitSystem units);
[[nodiscard]] BreakAt breakAtNode(const PipeNetwork &network, NetIndex node);
/// On the side of a valve that is towards its pipe's first (sideFrom) or second node.
[[nodiscard]] BreakAt breakInSegment(const PipeNetwork &network, NetIndex segment);

struct ShutStep
{
    NetIndex valve = noIndex;
    Holds holds = Holds::Works;
    QString why; ///< in words, with the valve's own `why`
};

/// What happens when a valve of the plan does not hold after all.
struct IfItFails
{
    NetIndex valve = noIndex;
    std::vector<NetIndex> instead;    ///< to close then, that the plan does not close
    std::vector<NetIndex> spared;     ///< of the plan, not needed then
    Load more;                        ///< who loses water on top
    std::vector<QString> sourcesLost; ///< on top
    QString words; ///< "If V12 does not hold: close V14 and V15; 40 more services without water."
};

struct ShutPlan
{
    BreakAt at;
    std::vector<ShutStep> close;         ///< stop the flow; nearest first in a straight line
    std::vector<ShutStep> closeDeadSide; ///< against drain-back
    std::vector<ShutStep> alreadyClosed;
    std::vector<ShutStep> passedOver; ///< lets water through, with why
    std::vector<ShutStep> reopen;     ///< everything that was closed, in order
    std::vector<IfItFails> ifFails;   ///< for each uncertain valve of close and closeDeadSide

    Load out;                  ///< in the segment
    Load outBeyond;            ///< cut off outside it
    int servicesDryBefore = 0; ///< among `out`: had no path to a source anyhow
    std::vector<NetIndex> servicesOut;
    std::vector<NetIndex> servicesBeyond;
    std::vector<NetIndex> criticalOut; ///< in the segment and beyond
    std::vector<NetIndex> hydrantsOut; ///< in the segment and beyond
    std::vector<NetIndex> sourcesLost; ///< inside the segment
    std::vector<NetIndex> segments;
    std::vector<NetIndex> segmentsBeyond;
    std::vector<NetIndex> piecesOut; ///< for the map, see PipeNetwork::lineOf()
    std::vector<NetIndex> piecesBeyond;
    QStringList notes; ///< what must be said aloud: a source inside, nobody supplied, whole main

    [[nodiscard]] Load outAltogether() const { return out + outBeyond; }
};

[[nodiscard]] ShutPlan planShut(const PipeNetwork &network, const ValveStates &states,
                                const BreakAt &at);

/// Puts `close` and `closeDeadSide` in order of seconds of travel; valves without one last.
void orderByTravel(ShutPlan &plan,
                   const std::function<std::optional<double>(NetIndex valve)> &secondsTo);

} // namespace keyround
