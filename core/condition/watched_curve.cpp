// SPDX-License-Identifier: GPL-3.0-or-later
// The holding curve of valves that came under watch late (declared in survival.h).
#include "core/condition/survival.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace keyround {

namespace {

constexpr double optimalEnough = 1e-6;
/// A step's cumulative hazard at which nothing holds any more, to twelve digits.
constexpr double allFail = 28.0;

/// One valve, or several alike, that failed somewhere on a run of steps.
struct FailedRun
{
    std::size_t first = 0;
    std::size_t last = 0; ///< one past the end
    double count = 0;
    double hazard = 0; ///< of the run together
};

/// The log-likelihood by the steps' hazards: those who held through a step pull it down, those who
/// failed somewhere on a run pull it up.
class HazardLikelihood
{
public:
    HazardLikelihood(const std::vector<FailureInterval> &times, const std::vector<CurveStep> &steps)
        : m_hazard(steps.size(), 0.05), m_held(steps.size(), 0.0), m_watched(steps.size(), 0.0)
    {
        const auto from = [&steps](double time) {
            return static_cast<std::size_t>(
                std::ranges::lower_bound(steps, time, {}, &CurveStep::from) - steps.begin());
        };
        const auto upTo = [&steps](double time) {
            return static_cast<std::size_t>(
                std::ranges::upper_bound(steps, time, {}, &CurveStep::to) - steps.begin());
        };
        for (const FailureInterval &time : times) {
            m_valves += time.count;
            const std::size_t entry = from(time.watchedFrom);
            const std::size_t heldTo = upTo(time.after);
            for (std::size_t k = entry; k < heldTo; ++k) {
                m_held[k] += time.count;
            }
            const bool failed = !std::isinf(time.by);
            if (failed) {
                m_runs.push_back(
                    {from(time.after), upTo(time.by), static_cast<double>(time.count), 0});
            }
            const std::size_t watchedTo = failed ? m_runs.back().last : heldTo;
            for (std::size_t k = entry; k < watchedTo; ++k) {
                m_watched[k] += time.count;
            }
        }
        refresh();
    }

    /// One step of expectation and maximisation.
    void maximise()
    {
        std::vector<double> expected(m_hazard.size() + 1, 0.0);
        for (const FailedRun &run : m_runs) {
            const double each = run.count / -std::expm1(-run.hazard);
            expected[run.first] += each;
            expected[run.last] -= each;
        }
        double sum = 0;
        for (std::size_t k = 0; k < m_hazard.size(); ++k) {
            sum += expected[k];
            m_hazard[k] = m_watched[k] > 0
                              ? std::min(allFail, m_hazard[k] * std::max(0.0, sum) / m_watched[k])
                              : 0.0;
        }
        refresh();
    }

    /// Newton's step for each hazard in turn, the others held.
    void sweep()
    {
        for (std::size_t k = 0; k < m_hazard.size(); ++k) {
            const double now = m_hazard[k];
            const auto [slope, bend] = slopeAt(k, 0);
            double next = bend < 0 ? now - slope / bend : now;
            if (next <= 0) {
                // To nothing only where it is best so with the others as they are.
                next = now > 0 && slopeAt(k, -now).first <= 0 ? 0.0 : now / 4.0;
            }
            next = std::min(next, allFail);
            for (FailedRun &run : m_runs) {
                if (covers(run, k)) {
                    run.hazard += next - now;
                }
            }
            m_hazard[k] = next;
        }
        refresh();
    }

    [[nodiscard]] double gap() const
    {
        double worst = 0;
        for (std::size_t k = 0; k < m_hazard.size(); ++k) {
            const double slope = slopeAt(k, 0).first;
            const bool atEdge = m_hazard[k] >= allFail;
            const double off = m_hazard[k] > 1e-9 && !atEdge ? std::abs(slope * m_hazard[k])
                                                             : slope * (atEdge ? 0.0 : 1.0);
            worst = std::max(worst, off);
        }
        return worst / m_valves;
    }
    [[nodiscard]] double log() const
    {
        double sum = 0;
        for (std::size_t k = 0; k < m_hazard.size(); ++k) {
            sum -= m_held[k] * m_hazard[k];
        }
        for (const FailedRun &run : m_runs) {
            sum += run.count * std::log(-std::expm1(-run.hazard));
        }
        return sum;
    }
    [[nodiscard]] const std::vector<double> &hazard() const { return m_hazard; }

private:
    static bool covers(const FailedRun &run, std::size_t step)
    {
        return step >= run.first && step < run.last;
    }
    void refresh()
    {
        for (FailedRun &run : m_runs) {
            run.hazard = 0;
            for (std::size_t k = run.first; k < run.last; ++k) {
                run.hazard += m_hazard[k];
            }
            run.hazard = std::max(run.hazard, 1e-300);
        }
    }
    /// First and second derivative by one hazard, moved by so much.
    [[nodiscard]] std::pair<double, double> slopeAt(std::size_t step, double moved) const
    {
        double slope = -m_held[step];
        double bend = 0;
        for (const FailedRun &run : m_runs) {
            if (covers(run, step)) {
                const double grown = std::expm1(std::max(run.hazard + moved, 1e-12));
                slope += run.count / grown;
                bend -= run.count * (1.0 + grown) / (grown * grown);
            }
        }
        return {slope, bend};
    }

    std::vector<FailedRun> m_runs;
    std::vector<double> m_hazard;
    std::vector<double> m_held;    ///< who held through a step
    std::vector<double> m_watched; ///< who held through it or may have failed on it
    double m_valves = 0;
};

void climb(HazardLikelihood &likelihood)
{
    constexpr int rounds = 400;
    constexpr int maximisingARound = 5;
    constexpr double goal = optimalEnough / 100.0;
    for (int round = 0; round < rounds && likelihood.gap() > goal; ++round) {
        for (int i = 0; i < maximisingARound; ++i) {
            likelihood.maximise();
        }
        likelihood.sweep();
    }
}

} // namespace

std::vector<CurveStep> innermostSteps(const std::vector<FailureInterval> &times)
{
    // At one time an end comes before a beginning, since (a, b] holds b and (b, c] does not.
    std::vector<std::pair<double, int>> ends; // 0: an end, 1: a beginning
    for (const FailureInterval &time : times) {
        ends.emplace_back(time.after, 1);
        ends.emplace_back(time.by, 0);
        if (time.watchedFrom > 0) {
            ends.emplace_back(time.watchedFrom, 0);
        }
    }
    std::ranges::sort(ends);
    std::vector<CurveStep> steps;
    for (std::size_t i = 1; i < ends.size(); ++i) {
        if (ends[i - 1].second == 1 && ends[i].second == 0) {
            steps.push_back({ends[i - 1].first, ends[i].first, 0, 1});
        }
    }
    return steps;
}

std::optional<HoldingCurve> curveOfWatched(const std::vector<FailureInterval> &times)
{
    std::vector<FailureInterval> sound;
    std::ranges::copy_if(times, std::back_inserter(sound), [](const FailureInterval &time) {
        return time.watchedFrom >= 0 && time.watchedFrom <= time.after && time.after < time.by &&
               time.count > 0;
    });
    if (sound.empty()) {
        return {};
    }
    const std::vector<CurveStep> steps = innermostSteps(sound);
    HazardLikelihood likelihood(sound, steps);
    climb(likelihood);
    HoldingCurve curve;
    curve.logLikelihood = likelihood.log();
    curve.optimalityGap = likelihood.gap();
    curve.isOptimal = curve.optimalityGap <= optimalEnough;
    constexpr double noMass = 1e-9;
    double holds = 1;
    for (std::size_t k = 0; k < steps.size(); ++k) {
        const bool isOpen = std::isinf(steps[k].to); // held when last seen: fails some day
        const bool all = isOpen || likelihood.hazard()[k] >= allFail;
        const double after = all ? 0.0 : holds * std::exp(-likelihood.hazard()[k]);
        if (holds - after >= noMass) {
            curve.steps.push_back({steps[k].from, steps[k].to, holds - after, after});
            holds = after;
        }
    }
    return curve;
}

} // namespace keyround
