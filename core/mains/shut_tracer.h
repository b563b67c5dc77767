// SPDX-License-Identifier: GPL-3.0-or-later
// The tracing itself, without words: how far a shut grows, what stands around it, and what is cut
// off beyond it. Keeps its working arrays from one trace to the next, so one tracer serves many.
// Used within core/mains only.
#pragma once

#include "core/mains/shut.h"

namespace keyround {

class ShutTracer
{
public:
    /// Both must outlive the tracer.
    ShutTracer(const PipeNetwork &network, const ValveStates &states);

    struct Trace
    {
        std::vector<NetIndex> segments; ///< shut, ascending
        std::vector<NetIndex> beyond;   ///< cut off outside of it, ascending
        std::vector<NetIndex> around;   ///< valves with one side in the shut, ascending
        std::vector<NetIndex> passed;   ///< valves that it grew over, ascending
        Load out;
        Load outBeyond;
    };
    /// `stuck`: a valve to take as letting through; `good`: one to take as holding.
    [[nodiscard]] Trace trace(const std::vector<NetIndex> &segments, NetIndex stuck = noIndex,
                              NetIndex good = noIndex);
    /// Of the last trace: whether the segment outside still reaches a source.
    [[nodiscard]] bool isFedAfter(NetIndex segment) const { return m_fedAfter[segment] != 0; }
    [[nodiscard]] bool isFedBefore(NetIndex segment) const { return m_fedBefore[segment] != 0; }

private:
    void findOpenWays();
    void feed(std::vector<char> &fed, const std::vector<char> *shut);
    void grow(Trace &trace, NetIndex stuck, NetIndex good);

    const PipeNetwork &m_network;
    const ValveStates &m_states;
    IndexRows m_openTo; ///< by segment: the segments across its open valves
    std::vector<char> m_fedBefore;
    std::vector<char> m_fedAfter;
    std::vector<char> m_shut;
    std::vector<NetIndex> m_queue;
};

} // namespace keyround
