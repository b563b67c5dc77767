// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/arc_table.h"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/strong_components.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <utility>

namespace keyround {

namespace {

constexpr double forbidden = std::numeric_limits<double>::infinity();

class Builder
{
public:
    Builder(const std::vector<DrivenPiece> &pieces, const TurnRules &rules)
        : m_pieces(pieces), m_rules(rules)
    {
    }

    ArcTable run(const std::vector<char> &inside, std::size_t nodes)
    {
        countArms(nodes);
        layArcs(inside, nodes);
        layTurns();
        allowTurnsThatConnect();
        return std::move(m_table);
    }

private:
    void countArms(std::size_t nodes);
    void layArcs(const std::vector<char> &inside, std::size_t nodes);
    void layTurns();
    void allowTurnsThatConnect();
    [[nodiscard]] std::vector<char> outsideLargest() const;

    [[nodiscard]] const DrivenPiece &pieceOf(std::uint32_t arc) const
    {
        return m_pieces[m_table.pieceOf(arc)];
    }
    [[nodiscard]] std::uint32_t reverseOf(std::uint32_t arc) const
    {
        return m_table.arcOf(m_table.pieceOf(arc), !m_table.isForward(arc));
    }
    [[nodiscard]] double bearingLeaving(std::uint32_t arc) const
    {
        const DrivenPiece &piece = pieceOf(arc);
        return m_table.isForward(arc) ? piece.bearingAtFirst
                                      : piece.bearingAtLast + std::numbers::pi;
    }
    [[nodiscard]] double bearingArriving(std::uint32_t arc) const
    {
        const DrivenPiece &piece = pieceOf(arc);
        return m_table.isForward(arc) ? piece.bearingAtLast
                                      : piece.bearingAtFirst + std::numbers::pi;
    }
    [[nodiscard]] double turn(std::uint32_t from, std::uint32_t to) const
    {
        return secondsToTurn(m_rules, bearingArriving(from), bearingLeaving(to),
                             m_arms[m_table.arcs[from].head]);
    }
    [[nodiscard]] double uTurn(std::uint32_t arc) const;
    [[nodiscard]] std::uint8_t numberOf(double seconds);

    const std::vector<DrivenPiece> &m_pieces;
    const TurnRules &m_rules;
    std::vector<unsigned> m_arms; ///< by node: how many ends of pieces meet there
    ArcTable m_table;
};

void Builder::countArms(std::size_t nodes)
{
    m_arms.assign(nodes, 0);
    for (const DrivenPiece &piece : m_pieces) {
        ++m_arms[piece.from];
        ++m_arms[piece.to];
    }
}

void Builder::layArcs(const std::vector<char> &inside, std::size_t nodes)
{
    m_table.first.assign(nodes + 1, 0);
    for (std::size_t i = 0; i < m_pieces.size(); ++i) {
        if (inside[i] != 0) {
            m_table.first[m_pieces[i].from + 1] += m_pieces[i].forward ? 1U : 0U;
            m_table.first[m_pieces[i].to + 1] += m_pieces[i].backward ? 1U : 0U;
        }
    }
    std::partial_sum(m_table.first.begin(), m_table.first.end(), m_table.first.begin());
    m_table.arcs.resize(m_table.first.back());
    m_table.metres.resize(m_table.first.back());
    m_table.halves.resize(m_table.first.back());
    m_table.arcOfHalf.assign(2 * m_pieces.size(), noArc);
    std::vector<std::uint32_t> next(m_table.first.begin(), m_table.first.end() - 1);
    for (std::uint32_t i = 0; i < m_pieces.size(); ++i) {
        const DrivenPiece &piece = m_pieces[i];
        for (const bool forward : {true, false}) {
            if (inside[i] == 0 || !piece.allows(forward)) {
                continue;
            }
            const std::uint32_t arc = next[forward ? piece.from : piece.to]++;
            const std::uint32_t half = 2 * i + (forward ? 1U : 0U);
            m_table.arcs[arc] = {piece.seconds(), forward ? piece.to : piece.from, 0};
            m_table.metres[arc] = piece.metres;
            m_table.halves[arc] = half;
            m_table.arcOfHalf[half] = arc;
        }
    }
}

double Builder::uTurn(std::uint32_t arc) const
{
    const std::uint32_t node = m_table.arcs[arc].head;
    const std::uint32_t back = reverseOf(arc);
    const TurnRules::OfClass &allows = m_rules.at(pieceOf(arc).kind);
    if (m_table.first[node + 1] - m_table.first[node] == 1) {
        return m_rules.deadEndSeconds;
    }
    if (allows.uTurnMidStreet || (allows.uTurnAtJunction && m_arms[node] >= 3)) {
        return m_rules.uTurnSeconds;
    }
    double best = forbidden;
    for (std::uint32_t side = m_table.first[node]; side < m_table.first[node + 1]; ++side) {
        const std::uint32_t out = reverseOf(side);
        if (side != back && out != noArc && m_rules.at(pieceOf(side).kind).uTurnMidStreet) {
            best = std::min(best, turn(arc, side) + m_rules.uTurnSeconds + turn(out, back));
        }
    }
    return best;
}

/// Rules have at most 15 different seconds: the turn in, the turn out and the U-turn in the mouth
/// of a side street give nine sums of three kinds of turn, and there are the six of the rules.
std::uint8_t Builder::numberOf(double seconds)
{
    std::vector<double> &known = m_table.turnSeconds;
    auto found = std::find(known.begin(), known.end(), seconds);
    if (found == known.end()) {
        found = known.insert(known.end(), seconds);
    }
    return static_cast<std::uint8_t>(found - known.begin());
}

void Builder::layTurns()
{
    for (std::uint32_t a = 0; a < m_table.arcs.size(); ++a) {
        DriveArc &arc = m_table.arcs[a];
        arc.firstTurn = static_cast<std::uint32_t>(m_table.turns.size());
        const std::uint32_t back = reverseOf(a);
        for (std::uint32_t b = m_table.first[arc.head]; b < m_table.first[arc.head + 1]; ++b) {
            m_table.turns.push_back(numberOf(b == back ? uTurn(a) : turn(a, b)));
        }
    }
}

/// By arc: whether it lies outside the largest set of arcs that all lead to each other.
std::vector<char> Builder::outsideLargest() const
{
    using Graph = boost::compressed_sparse_row_graph<boost::directedS>;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> steps;
    steps.reserve(m_table.turns.size());
    for (std::uint32_t a = 0; a < m_table.arcs.size(); ++a) {
        const DriveArc &arc = m_table.arcs[a];
        for (std::uint32_t b = m_table.first[arc.head]; b < m_table.first[arc.head + 1]; ++b) {
            if (m_table.turnBetween(a, b) < forbidden) {
                steps.emplace_back(a, b);
            }
        }
    }
    const Graph graph(boost::edges_are_sorted, steps.begin(), steps.end(), m_table.arcs.size());
    std::vector<std::uint32_t> part(m_table.arcs.size(), 0);
    const auto parts = boost::strong_components(
        graph,
        boost::make_iterator_property_map(part.begin(), boost::get(boost::vertex_index, graph)));
    std::vector<std::size_t> sizes(parts, 0);
    for (const std::uint32_t p : part) {
        ++sizes[p];
    }
    const auto largest =
        static_cast<std::uint32_t>(std::max_element(sizes.begin(), sizes.end()) - sizes.begin());
    std::vector<char> outside(part.size(), 0);
    std::transform(part.begin(), part.end(), outside.begin(),
                   [largest](std::uint32_t p) { return p != largest ? 1 : 0; });
    return outside;
}

/// Every piece can be driven to and left by nodes. Take a way by nodes between two arcs: it fails
/// by arcs only where it would turn back on the street it came by, as its first step or its last.
/// With U-turns into and out of all arcs outside the largest part allowed, that step is allowed,
/// or it is needless because both directions of that street are in the largest part.
void Builder::allowTurnsThatConnect()
{
    if (m_table.arcs.empty()) {
        return;
    }
    const std::vector<char> outside = outsideLargest();
    for (std::uint32_t a = 0; a < m_table.arcs.size(); ++a) {
        const std::uint32_t back = reverseOf(a);
        if (back == noArc || (outside[a] == 0 && outside[back] == 0)) {
            continue;
        }
        const DriveArc &arc = m_table.arcs[a];
        if (m_table.turnBetween(a, back) == forbidden) {
            m_table.turns[arc.firstTurn + back - m_table.first[arc.head]] =
                numberOf(m_rules.uTurnSeconds);
        }
    }
}

} // namespace

ArcTable arcTable(const std::vector<DrivenPiece> &pieces, const std::vector<char> &inside,
                  std::size_t nodes, const TurnRules &rules)
{
    return Builder(pieces, rules).run(inside, nodes);
}

} // namespace keyround
