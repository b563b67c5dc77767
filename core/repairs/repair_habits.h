// SPDX-License-Identifier: GPL-3.0-or-later
// How the utility handles its repairs, as data: which department a finding belongs to, how urgent
// a request is, and how many days a department has. What projects start with is common practice,
// no source; the utility's own table replaces it.
#pragma once

#include "core/fieldlog/judgement.h"

#include <QList>
#include <QStringList>

#include <array>
#include <optional>
#include <vector>

namespace keyround {

enum class Urgency { Routine, Soon, Urgent };
inline constexpr std::size_t urgencyCount = 3;
[[nodiscard]] QString wordFor(Urgency urgency);
[[nodiscard]] QString keyFor(Urgency urgency);
[[nodiscard]] std::optional<Urgency> urgencyFromKey(const QString &key);

// Findings that are no problem of the list: what a count says, and what a shut found.
inline constexpr const char *shortCountKey = "short_count";
inline constexpr const char *longCountKey = "long_count";
inline constexpr const char *didNotHoldKey = "did_not_hold";

struct RepairDepartment
{
    QString key;          ///< "valves": kept in rows, so it stays when the name changes
    QString name;         ///< "Valves"
    QString sendTo;       ///< who takes its requests; may be empty
    QStringList findings; ///< keys of problems and of the findings above
    /// Days from opening after which a request is overdue, by Urgency's order; 0: never overdue.
    std::array<int, urgencyCount> days{};
    /// A valve with an open request here is left out of rounds until a visit has to prove the work.
    bool holdsRounds = true;
    friend bool operator==(const RepairDepartment &, const RepairDepartment &) = default;
};

/// The first rule that matches gives the urgency; routine where none does.
struct UrgencyRule
{
    QString name;                ///< "does not hold, 50 services and more"
    QList<Condition> conditions; ///< empty: any
    QStringList findings;        ///< any of these; empty: any
    int servicesFrom = 0;        ///< services without water if the valve fails
    bool criticalOnly = false;
    Urgency urgency = Urgency::Routine;
    friend bool operator==(const UrgencyRule &, const UrgencyRule &) = default;
};

struct RepairHabits
{
    std::vector<RepairDepartment> departments;
    std::vector<UrgencyRule> urgency;
    friend bool operator==(const RepairHabits &, const RepairHabits &) = default;

    /// Null when there is none.
    [[nodiscard]] const RepairDepartment *department(const QString &key) const;
    /// Whose finding it is; null when nobody's: it is noted and not sent anywhere. A problem of the
    /// utility's own that no department names goes where "other" goes.
    [[nodiscard]] const RepairDepartment *departmentFor(const QString &finding) const;
    [[nodiscard]] Urgency urgencyOf(Condition condition, const QStringList &findings, int services,
                                    bool isCritical) const;
};

/// Valves; boxes and paving; leaks; records. A common division of the work, no source.
[[nodiscard]] RepairHabits startingRepairHabits();

/// A finding in words: a problem's, or one of the keys above; the key itself where it is neither.
[[nodiscard]] QString findingWords(const QString &key);
[[nodiscard]] QString findingsWords(const QStringList &keys);

} // namespace keyround
