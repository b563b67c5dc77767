// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/valve_importance.h"

#include "core/mains/cut_tree.h"
#include "core/mains/joined_sets.h"
#include "core/mains/shut_tracer.h"

#include <algorithm>
#include <iterator>

namespace keyround {

namespace {

bool opensShut(const NetValve &valve, const ValveState &state)
{
    return !valve.closesNothing() && state.letsBreakThrough();
}

/// Segments that are shut together because the valves between them do not hold, and what each such
/// group cuts off beyond itself. Joining over an open valve changes nothing for the supply of
/// others, so groups may stand in for segments in the graph. Over a closed valve that lets the
/// break through it would: groups held together by one are told apart as mixed, and are traced one
/// by one.
class ShutGroups
{
public:
    /// Valves in `good` are taken as holding.
    ShutGroups(const PipeNetwork &network, const ValveStates &states, const std::vector<char> &good)
        : m_network(network), m_groupOf(network.segmentCount), m_tree(build(states, good))
    {
    }

    [[nodiscard]] NetIndex of(NetIndex segment) const { return m_groupOf[segment]; }
    [[nodiscard]] std::size_t count() const { return m_loads.size(); }
    [[nodiscard]] bool isMixed(NetIndex group) const { return m_mixed[group] != 0; }
    [[nodiscard]] Load out(NetIndex group) const
    {
        return m_loads[group] + m_tree.beyondOne(group);
    }
    [[nodiscard]] Load outTogether(NetIndex a, NetIndex b) const
    {
        return a == b ? out(a) : m_loads[a] + m_loads[b] + m_tree.beyondPair(a, b);
    }

private:
    CutTree build(const ValveStates &states, const std::vector<char> &good);

    const PipeNetwork &m_network;
    std::vector<NetIndex> m_groupOf;
    std::vector<Load> m_loads;
    std::vector<char> m_mixed;
    CutTree m_tree;
};

CutTree ShutGroups::build(const ValveStates &states, const std::vector<char> &good)
{
    NetSets sets(m_network.segmentCount);
    for (std::size_t i = 0; i < m_network.valves.size(); ++i) {
        const NetValve &valve = m_network.valves[i];
        if (good[i] == 0 && !states[i].closed && opensShut(valve, states[i])) {
            sets.join(valve.sideFrom, valve.sideTo);
        }
    }
    for (NetIndex segment = 0; segment < m_network.segmentCount; ++segment) {
        const NetIndex root = sets.root(segment); // the lowest: it has its number already
        if (root == segment) {
            m_groupOf[segment] = static_cast<NetIndex>(m_loads.size());
            m_loads.emplace_back();
        }
        m_groupOf[segment] = m_groupOf[root];
        m_loads[m_groupOf[segment]] += m_network.loads[segment];
    }
    m_mixed.assign(m_loads.size(), 0);
    std::vector<CutTree::Edge> edges;
    for (std::size_t i = 0; i < m_network.valves.size(); ++i) {
        const NetValve &valve = m_network.valves[i];
        const CutTree::Edge edge{m_groupOf[valve.sideFrom], m_groupOf[valve.sideTo]};
        if (!states[i].closed) {
            edges.push_back(edge);
        } else if (good[i] == 0 && opensShut(valve, states[i])) {
            m_mixed[edge.first] = 1;
            m_mixed[edge.second] = 1;
        }
    }
    std::vector<NetIndex> roots;
    for (const NetSource &source : m_network.sources) {
        if (source.segment != noIndex) {
            roots.push_back(m_groupOf[source.segment]);
        }
    }
    return {edges, roots, m_loads};
}

class Importance
{
public:
    Importance(const PipeNetwork &network, const ValveStates &states)
        : m_network(network), m_states(states), m_tracer(network, states),
          m_result(network.valves.size())
    {
    }

    std::vector<ValveImportance> run();

private:
    /// False for a valve that is closed and holds: stuck as it is, it goes on parting its sides.
    [[nodiscard]] bool canFail(NetIndex valve) const
    {
        return !m_states[valve].closed || m_states[valve].letsBreakThrough();
    }
    [[nodiscard]] static Load worse(const ValveImportance &one)
    {
        return one.outFrom.services < one.outTo.services ? one.outTo : one.outFrom;
    }
    void compare(NetIndex valve);
    void judge(NetIndex valve, const ShutGroups &groups);
    void judgeByTracing(NetIndex valve);
    [[nodiscard]] Load traced(NetIndex segment, NetIndex stuck, NetIndex good);
    [[nodiscard]] std::vector<std::vector<NetIndex>> rounds(const ShutGroups &groups) const;

    const PipeNetwork &m_network;
    const ValveStates &m_states;
    ShutTracer m_tracer;
    std::vector<ValveImportance> m_result;
};

/// Valves that do not hold, laid out in rounds: in each round at most one of a group is taken as
/// good, so that what it would part is seen while all others stay as they are. (Whether two
/// segments that are not shut are one vertex or two with an open edge is all the same.)
std::vector<std::vector<NetIndex>> Importance::rounds(const ShutGroups &groups) const
{
    std::vector<std::size_t> taken(groups.count(), 0);
    std::vector<std::vector<NetIndex>> rounds;
    for (NetIndex i = 0; i < m_network.valves.size(); ++i) {
        const NetValve &valve = m_network.valves[i];
        if (m_states[i].closed || !opensShut(valve, m_states[i])) {
            continue;
        }
        const std::size_t round = taken[groups.of(valve.sideFrom)]++;
        if (round == rounds.size()) {
            rounds.emplace_back();
        }
        rounds[round].push_back(i);
    }
    return rounds;
}

std::vector<ValveImportance> Importance::run()
{
    std::vector<char> good(m_network.valves.size(), 0);
    const ShutGroups today(m_network, m_states, good);
    for (NetIndex i = 0; i < m_network.valves.size(); ++i) {
        if (m_states[i].closed || !opensShut(m_network.valves[i], m_states[i])) {
            judge(i, today);
        }
    }
    // A round costs a pass over the whole network, a trace of one valve costs three: many rounds
    // for a few valves each come of large groups.
    constexpr std::size_t fewValves = 4;
    for (const std::vector<NetIndex> &round : rounds(today)) {
        if (round.size() < fewValves) {
            std::ranges::for_each(round, [this](NetIndex valve) { judgeByTracing(valve); });
            continue;
        }
        for (const NetIndex valve : round) {
            good[valve] = 1;
        }
        const ShutGroups then(m_network, m_states, good);
        for (const NetIndex valve : round) {
            judge(valve, then);
            good[valve] = 0;
        }
    }
    for (NetIndex i = 0; i < m_result.size(); ++i) {
        compare(i);
    }
    return std::move(m_result);
}

void Importance::compare(NetIndex index)
{
    if (!canFail(index)) {
        return;
    }
    ValveImportance &one = m_result[index];
    const auto [lesser, greater] = std::minmax(one.outFrom.services, one.outTo.services);
    const auto [few, many] = std::minmax(one.outFrom.critical, one.outTo.critical);
    one.more = one.outIfStuck.services - greater;
    one.moreAtMost = one.outIfStuck.services - lesser;
    one.criticalMore = one.outIfStuck.critical - many;
    one.criticalMoreAtMost = one.outIfStuck.critical - few;
}

void Importance::judge(NetIndex index, const ShutGroups &groups)
{
    const NetValve &valve = m_network.valves[index];
    const NetIndex from = groups.of(valve.sideFrom);
    const NetIndex to = groups.of(valve.sideTo);
    if (groups.isMixed(from) || groups.isMixed(to)) {
        judgeByTracing(index);
        return;
    }
    ValveImportance &result = m_result[index];
    result.outFrom = groups.out(from);
    result.outTo = groups.out(to);
    result.outIfStuck = canFail(index) ? groups.outTogether(from, to) : worse(result);
}

Load Importance::traced(NetIndex segment, NetIndex stuck, NetIndex good)
{
    const ShutTracer::Trace trace = m_tracer.trace({segment}, stuck, good);
    return trace.out + trace.outBeyond;
}

void Importance::judgeByTracing(NetIndex index)
{
    const NetValve &valve = m_network.valves[index];
    ValveImportance &result = m_result[index];
    result.outFrom = traced(valve.sideFrom, noIndex, index);
    result.outTo = traced(valve.sideTo, noIndex, index);
    result.outIfStuck = canFail(index) ? traced(valve.sideFrom, index, noIndex) : worse(result);
}

} // namespace

std::vector<ValveImportance> valveImportance(const PipeNetwork &network, const ValveStates &states)
{
    return Importance(network, states).run();
}

QString wordsFor(const ValveImportance &importance)
{
    if (importance.moreAtMost <= 0) {
        return {};
    }
    QString words = QStringLiteral("If it sticks, a break beside it takes up to %1 service%2 more")
                        .arg(importance.moreAtMost)
                        .arg(importance.moreAtMost == 1 ? QString() : QStringLiteral("s"));
    if (importance.criticalMoreAtMost > 0) {
        words += QStringLiteral(", up to %1 of them critical").arg(importance.criticalMoreAtMost);
    }
    return words + QLatin1Char('.');
}

std::vector<LargeShut> largestShuts(const PipeNetwork &network, const ValveStates &states,
                                    std::size_t count)
{
    const ShutGroups groups(network, states, std::vector<char>(network.valves.size(), 0));
    ShutTracer tracer(network, states);
    std::vector<NetIndex> firstOf(groups.count(), noIndex);
    for (NetIndex segment = network.segmentCount; segment-- > 0;) {
        firstOf[groups.of(segment)] = segment;
    }
    std::vector<std::pair<int, NetIndex>> bySize;
    for (NetIndex group = 0; group < groups.count(); ++group) {
        const int services =
            groups.isMixed(group)
                ? (tracer.trace({firstOf[group]}).out + tracer.trace({firstOf[group]}).outBeyond)
                      .services
                : groups.out(group).services;
        bySize.emplace_back(-services, firstOf[group]);
    }
    std::sort(bySize.begin(), bySize.end());
    std::vector<LargeShut> largest;
    std::vector<char> seen(network.segmentCount, 0);
    for (const auto &[services, segment] : bySize) {
        if (largest.size() == count || services == 0) {
            break;
        }
        if (seen[segment] != 0) {
            continue; // part of a shut that is listed already
        }
        const ShutTracer::Trace trace = tracer.trace({segment});
        for (const NetIndex one : trace.segments) {
            seen[one] = 1;
        }
        largest.push_back({trace.segments, trace.out + trace.outBeyond, trace.around});
    }
    return largest;
}

} // namespace keyround
