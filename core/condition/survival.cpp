// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/survival.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace keyround {

namespace {

/// The likelihood of masses on the steps. Each interval covers a run of steps.
class Likelihood
{
public:
    Likelihood(const std::vector<FailureInterval> &times, const std::vector<CurveStep> &steps)
        : m_mass(steps.size(), 1.0 / static_cast<double>(steps.size())), m_gradient(steps.size())
    {
        std::map<std::pair<std::size_t, std::size_t>, double> runs;
        for (const FailureInterval &time : times) {
            const auto first = std::ranges::lower_bound(steps, time.after, {}, &CurveStep::from);
            const auto last = std::ranges::upper_bound(steps, time.by, {}, &CurveStep::to);
            runs[{static_cast<std::size_t>(first - steps.begin()),
                  static_cast<std::size_t>(last - steps.begin())}] += time.count;
            m_valves += time.count;
        }
        for (const auto &[run, count] : runs) {
            m_runs.push_back({run.first, run.second, count, 0});
        }
        refresh();
    }

    /// One step of expectation and maximisation: never less likely than before.
    void maximise()
    {
        for (std::size_t i = 0; i < m_mass.size(); ++i) {
            m_mass[i] *= m_gradient[i] / m_valves;
        }
        refresh();
    }

    /// Moves mass from the step where it does least to the one where it does most, as far as that
    /// makes the whole more likely. Unlike maximise(), this empties a step for good.
    void exchange()
    {
        const auto best =
            static_cast<std::size_t>(std::ranges::max_element(m_gradient) - m_gradient.begin());
        std::size_t worst = m_mass.size();
        for (std::size_t i = 0; i < m_mass.size(); ++i) {
            if (m_mass[i] > 0 && (worst == m_mass.size() || m_gradient[i] < m_gradient[worst])) {
                worst = i;
            }
        }
        if (worst == m_mass.size() || worst == best || m_gradient[worst] >= m_gradient[best]) {
            return;
        }
        const double moved = bestMove(worst, best);
        m_mass[best] += moved;
        m_mass[worst] = moved >= m_mass[worst] ? 0.0 : m_mass[worst] - moved;
        refresh();
    }

    [[nodiscard]] const std::vector<double> &mass() const { return m_mass; }
    /// 0 at the optimum, by the optimality condition: no step's gradient exceeds the number.
    [[nodiscard]] double gap() const { return std::ranges::max(m_gradient) / m_valves - 1.0; }
    [[nodiscard]] double log() const
    {
        double sum = 0;
        for (const Run &run : m_runs) {
            sum += run.count * std::log(run.share);
        }
        return sum;
    }

private:
    struct Run
    {
        std::size_t first;
        std::size_t last; ///< one past the end
        double count;
        double share; ///< mass on the run
    };

    void refresh()
    {
        // Sums from the left give each run's mass, and each step's gradient, in one pass.
        std::vector<double> upTo(m_mass.size() + 1, 0.0);
        for (std::size_t i = 0; i < m_mass.size(); ++i) {
            upTo[i + 1] = upTo[i] + m_mass[i];
        }
        std::vector<double> change(m_mass.size() + 1, 0.0);
        for (Run &run : m_runs) {
            run.share = 0;
            // A run near the end of the curve would lose its digits in a difference of sums.
            if (run.last - run.first < 8 || upTo[run.last] - upTo[run.first] < 1e-6) {
                for (std::size_t i = run.first; i < run.last; ++i) {
                    run.share += m_mass[i];
                }
            } else {
                run.share = upTo[run.last] - upTo[run.first];
            }
            const double pull = run.count / run.share;
            change[run.first] += pull;
            change[run.last] -= pull;
        }
        double sum = 0;
        for (std::size_t i = 0; i < m_gradient.size(); ++i) {
            sum += change[i];
            m_gradient[i] = sum;
        }
    }

    /// The most likely amount to move, by bisection of the slope, which falls all along.
    [[nodiscard]] double bestMove(std::size_t from, std::size_t to) const
    {
        const auto slope = [&](double moved) {
            double sum = 0;
            for (const Run &run : m_runs) {
                const int gains = covers(run, to) - covers(run, from);
                if (gains != 0) {
                    sum += gains * run.count / (run.share + gains * moved);
                }
            }
            return sum;
        };
        double low = 0;
        double high = m_mass[from];
        const double all = high * (1.0 - 1e-12); // a run may have no other mass
        if (slope(all) >= 0) {
            return losesAll(from, to) ? all : high;
        }
        constexpr int halvings = 60;
        for (int i = 0; i < halvings; ++i) {
            const double middle = (low + high) / 2.0;
            (slope(middle) > 0 ? low : high) = middle;
        }
        return low;
    }

    static int covers(const Run &run, std::size_t step)
    {
        return step >= run.first && step < run.last ? 1 : 0;
    }
    /// Whether some run would be left without any mass.
    [[nodiscard]] bool losesAll(std::size_t from, std::size_t to) const
    {
        return std::ranges::any_of(m_runs, [&](const Run &run) {
            return covers(run, from) == 1 && covers(run, to) == 0 &&
                   run.share <= m_mass[from] * (1.0 + 1e-9);
        });
    }

    std::vector<Run> m_runs;
    std::vector<double> m_mass;
    std::vector<double> m_gradient;
    double m_valves = 0;
};

constexpr double optimalEnough = 1e-6;

void climb(Likelihood &likelihood)
{
    constexpr int rounds = 4000;
    constexpr int exchangesARound = 6;
    constexpr int maximisingARound = 4;
    constexpr double goal = optimalEnough / 100.0;
    for (int round = 0; round < rounds && likelihood.gap() > goal; ++round) {
        for (int i = 0; i < exchangesARound; ++i) {
            likelihood.exchange();
        }
        for (int i = 0; i < maximisingARound; ++i) {
            likelihood.maximise();
        }
    }
}

} // namespace

std::optional<HoldingCurve> turnbullCurve(const std::vector<FailureInterval> &times)
{
    std::vector<FailureInterval> sound;
    std::ranges::copy_if(times, std::back_inserter(sound), [](const FailureInterval &time) {
        return time.after >= 0 && time.after < time.by && time.count > 0;
    });
    if (sound.empty()) {
        return {};
    }
    if (std::ranges::any_of(sound,
                            [](const FailureInterval &time) { return time.watchedFrom > 0; })) {
        return curveOfWatched(sound);
    }
    const std::vector<CurveStep> steps = innermostSteps(sound);
    Likelihood likelihood(sound, steps);
    climb(likelihood);

    HoldingCurve curve;
    curve.logLikelihood = likelihood.log();
    curve.optimalityGap = likelihood.gap();
    curve.isOptimal = curve.optimalityGap <= optimalEnough;
    constexpr double noMass = 1e-9;
    double holds = 1;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const double mass = likelihood.mass()[i];
        if (mass < noMass) {
            continue;
        }
        holds = std::max(0.0, holds - mass);
        curve.steps.push_back({steps[i].from, steps[i].to, mass, holds});
    }
    return curve;
}

Interval HoldingCurve::holdsAt(double time) const
{
    double before = 1;
    for (const CurveStep &step : steps) {
        if (time <= step.from) {
            return {before, before};
        }
        if (time < step.to) {
            return {step.holdsAfter, before};
        }
        before = step.holdsAfter;
    }
    return {before, before};
}

Interval HoldingCurve::timeOf(double share) const
{
    constexpr double noise = 1e-9;
    for (const CurveStep &step : steps) {
        if (step.holdsAfter <= share + noise) {
            return {step.from, step.to};
        }
    }
    return {steps.empty() ? 0.0 : steps.back().to, neverSeen};
}

int atRisk(const std::vector<FailureInterval> &times, double time)
{
    int count = 0;
    for (const FailureInterval &one : times) {
        const bool watched = one.watchedFrom < time || one.watchedFrom <= 0;
        count += watched && one.after >= time ? one.count : 0;
    }
    return count;
}

int watchedAt(const std::vector<FailureInterval> &times, double time)
{
    int count = 0;
    for (const FailureInterval &one : times) {
        count += one.watchedFrom <= time && one.after >= time ? one.count : 0;
    }
    return count;
}

std::vector<ExactStep> kaplanMeier(std::vector<ExactTime> times)
{
    std::ranges::sort(times, {}, &ExactTime::time);
    std::vector<ExactStep> steps;
    double holds = 1;
    double greenwood = 0;
    for (std::size_t first = 0; first < times.size();) {
        std::size_t last = first;
        int failed = 0;
        while (last < times.size() && times[last].time == times[first].time) {
            failed += times[last].failed ? 1 : 0;
            ++last;
        }
        const auto watched = static_cast<int>(times.size() - first);
        if (failed > 0) {
            holds *= 1.0 - static_cast<double>(failed) / watched;
            greenwood += failed / (static_cast<double>(watched) * (watched - failed));
            ExactStep step{times[first].time, watched, failed, holds, 0, {}};
            if (failed < watched) {
                step.standardError = holds * std::sqrt(greenwood);
                const double reach = normal975 * std::sqrt(greenwood) / std::log(holds);
                step.limits =
                    Interval{std::pow(holds, std::exp(-reach)), std::pow(holds, std::exp(reach))};
            }
            steps.push_back(step);
        }
        first = last;
    }
    return steps;
}

} // namespace keyround
