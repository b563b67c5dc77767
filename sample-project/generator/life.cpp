// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/life.h"

#include "sample-project/generator/ageing_law.h"

#include <algorithm>
#include <cmath>

namespace keyround::sample {

Life::Life(const ValvePoint &valve, Random &random) : m_kind(valve.kind), m_inches(valve.inches)
{
    const double installed = valve.year + random.share();
    m_endAt = installed + drawnLife(random);
    // The years before the simulation: broken valves were mended when somebody met them.
    while (m_endAt < simulationStart) {
        const double mended = m_endAt + random.exponential(meanYearsBrokenBefore);
        if (mended >= simulationStart) {
            drawEnd(random);
            break;
        }
        m_endAt = mended + drawnLife(random);
    }
    const double start = std::max(simulationStart, installed);
    m_hindranceAt =
        start + (random.chance(blockedAtStart) ? 0.0 : random.exponential(1.0 / blockedPerYear));
    m_defectAt = start + random.exponential(30.0);
    m_lastCycle = std::max(installed, start - random.between(0.5, 5.0));
}

double Life::drawnLife(Random &random) const
{
    const WeibullLaw law = lifeOf(m_kind, m_inches);
    return random.weibull(law.shape, law.scale);
}

void Life::drawEnd(Random &random)
{
    const EndShares shares = endSharesOf(m_kind);
    const std::size_t which = random.weighted({shares.seized, shares.closesShort, shares.spins});
    m_end = which == 0 ? End::Seized : which == 1 ? End::ClosesShort : End::Spins;
    m_partOfTurns = random.between(0.35, 0.82);
}

void Life::advanceTo(double when, Random &random)
{
    if (m_end == End::None && when >= m_endAt)
        drawEnd(random);
    if (m_clearAt && when >= *m_clearAt) {
        m_hindrance = Hindrance::None;
        m_hindranceAt = *m_clearAt + random.exponential(1.0 / blockedPerYear);
        m_clearAt.reset();
    }
    if (m_hindrance == Hindrance::None && when >= m_hindranceAt) {
        const std::size_t which = random.weighted(
            {blockedShares[0], blockedShares[1], blockedShares[2], blockedShares[3]});
        m_hindrance = static_cast<Hindrance>(which + 1);
    }
    if (m_mendAt && when >= *m_mendAt) {
        m_defect = Defect::None;
        m_defectAt = *m_mendAt + random.exponential(30.0);
        m_mendAt.reset();
    }
    if (m_defect == Defect::None && when >= m_defectAt)
        m_defect = static_cast<Defect>(1 + random.weighted({0.32, 0.26, 0.20, 0.12, 0.10}));
}

bool Life::isTight(double when, Random &random) const
{
    const double share = 1.0 - std::exp(-tightPerYear * std::max(0.0, when - m_lastCycle));
    return random.chance(std::min(tightCap, share));
}

void Life::noteHindranceSeen(double when, Random &random)
{
    if (m_clearAt)
        return;
    // A parked car is gone tomorrow; a paved-over box waits for somebody with a saw.
    const double mean = m_hindrance == Hindrance::NoAccess ? 0.03 : meanYearsToClear;
    m_clearAt = when + 0.01 + random.exponential(mean);
}

void Life::noteDefectSeen(double when, Random &random)
{
    if (!m_mendAt)
        m_mendAt = when + 0.02 + random.exponential(1.2);
}

void Life::noteEndSeen(double when, Random &random)
{
    if (m_repairAt || m_leftAlone)
        return;
    if (random.chance(shareRepaired))
        m_repairAt = when + 0.03 + random.exponential(meanYearsToRepair);
    else
        m_leftAlone = true;
}

void Life::repair(double when, Random &random)
{
    m_end = End::None;
    m_endAt = when + drawnLife(random);
    m_repairAt.reset();
    m_lastCycle = when;
    m_defect = Defect::None;
    m_mendAt.reset();
    m_defectAt = when + random.exponential(30.0);
    m_hindrance = Hindrance::None;
    m_clearAt.reset();
    m_hindranceAt = when + random.exponential(1.0 / blockedPerYear);
}

} // namespace keyround::sample
