// SPDX-License-Identifier: GPL-3.0-or-later
// How often a valve must be exercised: the utility's own ordered rules; the first that matches a
// valve counts. Intervals of statutes and standards come as packs of data that cite their source,
// never as constants.
#pragma once

#include "core/common/result.h"
#include "core/inventory/valve.h"

#include <QJsonObject>

#include <optional>
#include <vector>

namespace keyround {

struct PolicyRule
{
    QString name;   ///< "16 in and larger"
    QString source; ///< where the interval comes from; "utility's own" when nobody else says so
    std::optional<NominalSize> sizeFrom; ///< inclusive
    std::optional<NominalSize> sizeTo;   ///< inclusive
    QList<ValveType> types;
    QList<ValveRole> roles;
    QStringList zones;
    bool criticalOnly = false;
    int intervalMonths = 0; ///< 0: valves of this rule are not exercised (exempt)

    [[nodiscard]] bool matches(const Valve &valve) const;
    friend bool operator==(const PolicyRule &, const PolicyRule &) = default;
};

struct Policy
{
    QString name;
    QString note; ///< what its user should know: other readings of the source, what is left open
    std::vector<PolicyRule> rules;
    int dueSoonDays = 90; ///< a valve whose date is this near counts as due, not yet overdue

    /// The first rule that matches; null when none does.
    [[nodiscard]] const PolicyRule *ruleFor(const Valve &valve) const;
    friend bool operator==(const Policy &, const Policy &) = default;
};

/// JSON: name, note, due_soon_days, rules; of a rule: name, source, size_from, size_to ("16 in"),
/// types, roles (the words of wordFor()), zones, critical_only, interval_months. What is left out
/// does not limit. Entries of other names are refused.
[[nodiscard]] QJsonObject toJson(const Policy &policy);
[[nodiscard]] Result<Policy> policyFromJson(const QJsonObject &json);
/// What a project starts with until the utility has decided: 16 in and larger and critical
/// customers yearly, the rest every 3 years. An example that says so, and the first of the packs.
[[nodiscard]] Policy startingPolicy();

/// The ready packs in resources (each rule cites its source; TRADE figures).
[[nodiscard]] Result<std::vector<Policy>> policyPacks(const QByteArray &json);

} // namespace keyround
