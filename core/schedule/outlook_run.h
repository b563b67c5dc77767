// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the outlook: one run of one plan, month by month. outlook.h says what the model is.
#pragma once

#include "core/schedule/outlook.h"

namespace keyround {

/// Chances by number: the same for every plan, whatever another plan has drawn before.
class OutlookChances
{
public:
    explicit OutlookChances(std::uint64_t seed) : m_seed(seed) {}

    /// In (0, 1).
    [[nodiscard]] double share(std::uint64_t run, std::uint64_t valve, std::uint64_t draw) const
    {
        constexpr double steps = 9007199254740992.0; // 2^53
        const std::uint64_t mixed = mix(mix(mix(m_seed ^ run) + valve) + draw);
        return (static_cast<double>(mixed >> 11U) + 0.5) / steps;
    }
    /// Two that are normal and independent (Box and Muller 1958).
    [[nodiscard]] std::pair<double, double> normals(std::uint64_t run, std::uint64_t law) const
    {
        constexpr double turn = 6.283185307179586;
        constexpr std::uint64_t apart = 0x5EED'0000'0000'0000;
        const double length = std::sqrt(-2.0 * std::log(share(run, apart + law, 1)));
        const double angle = turn * share(run, apart + law, 2);
        return {length * std::cos(angle), length * std::sin(angle)};
    }

private:
    /// SplitMix64 (Steele, Lea and Flood 2014).
    static std::uint64_t mix(std::uint64_t value)
    {
        value += 0x9E37'79B9'7F4A'7C15;
        value = (value ^ (value >> 30U)) * 0xBF58'476D'1CE4'E5B9;
        value = (value ^ (value >> 27U)) * 0x94D0'49BB'1331'11EB;
        return value ^ (value >> 31U);
    }
    std::uint64_t m_seed;
};

/// A valve as it stands today; months count from today, back as negative ones.
struct ValveToday
{
    std::size_t law = 0; ///< index among the laws
    double ageHeld = 0;  ///< years, when it was last seen to hold
    double ageNow = 0;   ///< years
    double yearsSince = 0;
    bool ageKnown = false;
    bool isOut = false; ///< known to be
    int interval = 0;   ///< months, of the policy; 0: exempt
    double lastCycle = 0;
    bool everCycled = false;
};

struct OutlookFleet
{
    std::vector<ValveToday> valves;
    std::vector<LifeLaw> laws;
    int cannotReach = 0; ///< of those that are out
};

[[nodiscard]] OutlookFleet outlookFleet(const std::vector<Valve> &valves,
                                        const Histories &histories, const Policy &policy,
                                        const LifeLaws &laws, const QDate &today);

/// The laws of a run: drawn anew from how well they are known.
[[nodiscard]] std::vector<LifeLaw> lawsOfRun(const std::vector<LifeLaw> &laws,
                                             const OutlookChances &chances, std::uint64_t run);

/// In which month each valve fails for the first time, the same for all plans; negative: it has
/// failed already and nobody knows.
[[nodiscard]] std::vector<double> firstFailures(const OutlookFleet &fleet,
                                                const std::vector<LifeLaw> &laws,
                                                const OutlookChances &chances, std::uint64_t run);

struct OutlookMonth
{
    int out = 0;
    int unseen = 0;
    int visits = 0;
    int repairs = 0;
    int waiting = 0; ///< due and not visited
};
struct OutlookTask
{
    const OutlookFleet &fleet;
    const std::vector<LifeLaw> &laws; ///< of the run
    const OutlookChances &chances;
    std::uint64_t run;
    const OutlookPlan &plan;
    const OutlookSettings &settings;
};
/// The months, from today's state on.
[[nodiscard]] std::vector<OutlookMonth> runPlan(const OutlookTask &task,
                                                std::vector<double> failures);

} // namespace keyround
