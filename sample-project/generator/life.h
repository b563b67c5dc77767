// SPDX-License-Identifier: GPL-3.0-or-later
// What is really the matter with a valve at a time, seen or not: the hidden side of the simulation,
// following ageing_law.h. Times are years with a fraction and only go forward.
#pragma once

#include "sample-project/generator/random.h"
#include "sample-project/generator/town.h"

#include <optional>

namespace keyround::sample {

inline constexpr double simulationStart = 2020.0;

enum class End { None, Seized, ClosesShort, Spins };
enum class Hindrance { None, NotFound, PavedOver, BoxFull, NoAccess };
enum class Defect { None, PackingLeak, BoxShifted, LidMissing, NutBroken, StemBent };

class Life
{
public:
    Life(const ValvePoint &valve, Random &random);

    void advanceTo(double when, Random &random);
    [[nodiscard]] End end() const { return m_end; }
    [[nodiscard]] Hindrance hindrance() const { return m_hindrance; }
    [[nodiscard]] Defect defect() const { return m_defect; }
    /// Of a valve that closes short: the part of its turns that it makes.
    [[nodiscard]] double partOfTurns() const { return m_partOfTurns; }
    [[nodiscard]] bool isTight(double when, Random &random) const;

    /// A crew has seen what is wrong; perhaps a repair or a clearing follows.
    void noteHindranceSeen(double when, Random &random);
    void noteDefectSeen(double when, Random &random);
    void noteEndSeen(double when, Random &random);
    void noteFullCycle(double when) { m_lastCycle = when; }

    [[nodiscard]] std::optional<double> repairDue() const { return m_repairAt; }
    void repair(double when, Random &random);

private:
    void drawEnd(Random &random);
    [[nodiscard]] double drawnLife(Random &random) const;

    Kind m_kind;
    int m_inches;
    End m_end = End::None;
    double m_endAt = 0;
    double m_partOfTurns = 1;
    std::optional<double> m_repairAt;
    bool m_leftAlone = false; ///< seen, and nobody will repair it in these years
    Hindrance m_hindrance = Hindrance::None;
    double m_hindranceAt = 0;
    std::optional<double> m_clearAt;
    Defect m_defect = Defect::None;
    double m_defectAt = 0;
    std::optional<double> m_mendAt;
    double m_lastCycle = 0;
};

} // namespace keyround::sample
