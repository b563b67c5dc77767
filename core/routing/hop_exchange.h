// SPDX-License-Identifier: GPL-3.0-or-later
// The chains of exchanged hops that tour_search.h speaks of: improves a tour around the places
// that it is told about, until none of them has a chain that shortens it.
#pragma once

#include "core/routing/tour.h"
#include "core/routing/tour_costs.h"

#include <array>
#include <cstdint>
#include <vector>

namespace keyround {

class HopExchange
{
public:
    HopExchange(const TourCosts &costs, Tour &tour);

    /// The surroundings of this place have changed.
    void touch(std::uint32_t place);
    /// Shortens the tour until no touched place has anything left to give; what was saved.
    std::int64_t improve();
    /// Exchanges pieces whatever it costs, and touches their ends; what was saved, negative when
    /// the tour got longer. No piece is turned.
    std::int64_t force(const Tour::Pieces &pieces);
    /// The tour was changed from outside.
    void tourReplaced() { m_turningKnown = false; }

    [[nodiscard]] const Candidates &candidates() const { return m_candidates; }

private:
    /// A chain as far as it has been built: hop i led between odd[i] and even[i]; from even[i] the
    /// new hop leads to odd[i + 1].
    struct Chain
    {
        std::array<std::uint32_t, Tour::mostCuts> low{};
        std::array<std::uint32_t, Tour::mostCuts> odd{};
        std::array<std::uint32_t, Tour::mostCuts> even{};
        std::array<bool, Tour::mostCuts> oddIsTail{};
        std::size_t cuts = 0;
        std::int64_t gain = 0;
        [[nodiscard]] bool cutsAt(std::uint32_t index) const;
    };

    bool improveAt(std::uint32_t place);
    bool beginChain(std::uint32_t place);
    bool extendEitherWay(Chain &chain);
    bool extendForward(Chain &chain);
    bool beginTurning(std::uint32_t place);
    bool extendTurning(Chain &chain);
    bool closeEitherWay(const Chain &chain, std::int64_t gain);
    bool closeForward(const Chain &chain, std::int64_t gain);
    bool closeTurning(const Chain &chain);
    void take(const Tour::Pieces &pieces, std::int64_t gain);
    void learnTurning();
    [[nodiscard]] std::int64_t turningCost(const Tour::Piece &piece) const;
    [[nodiscard]] std::int64_t drivenCost(const Tour::Pieces &pieces) const;
    [[nodiscard]] std::int64_t bothWays(std::uint32_t a, std::uint32_t b) const
    {
        return m_costs->at(a, b) + m_costs->at(b, a);
    }

    const TourCosts *m_costs;
    Tour *m_tour;
    Candidates m_candidates; ///< by the cost of driving there
    Candidates m_guide;      ///< by the cost of there and back, where they differ
    std::vector<std::uint32_t> m_queue;
    std::vector<char> m_queued;
    std::size_t m_nextQueued = 0;
    std::int64_t m_saved = 0;
    /// Up to each index, what it would cost more to drive the tour backwards.
    std::vector<std::int64_t> m_turning;
    bool m_turningKnown = false;
    bool m_turns; ///< there and back are alike enough for turned stretches to be worth a look
};

} // namespace keyround
