// SPDX-License-Identifier: GPL-3.0-or-later
// One rule of the policy as fields to type into. Every field left empty means "any".
#pragma once

#include "core/schedule/policy.h"

#include <QWidget>

#include <functional>

class QCheckBox;

namespace keyround {

class CheckedLine;

class PolicyRuleForm final : public QWidget
{
    Q_OBJECT
public:
    /// Stores a changed rule, or says why not.
    using Store = std::function<Status(const PolicyRule &rule)>;

    explicit PolicyRuleForm(Store store, QWidget *parent = nullptr);

    /// Another rule (its index differs from the one shown) takes the place of what is typed.
    void showRule(int index, const PolicyRule &rule, UnitSystem units);
    [[nodiscard]] CheckedLine *monthsLine() const { return m_months; }

private:
    using Change = std::function<Status(PolicyRule &rule, const QString &text)>;
    CheckedLine *addLine(const QString &label, const QString &hint, Change change);

    Store m_store;
    int m_index = -1;
    PolicyRule m_rule;
    CheckedLine *m_name;
    CheckedLine *m_months;
    CheckedLine *m_source;
    CheckedLine *m_sizeFrom;
    CheckedLine *m_sizeTo;
    CheckedLine *m_types;
    CheckedLine *m_roles;
    CheckedLine *m_zones;
    QCheckBox *m_critical;
};

/// "6 in to 12 in, gate, zone High, critical customers"; "every valve" when nothing is asked.
[[nodiscard]] QString appliesToText(const PolicyRule &rule, UnitSystem units);

} // namespace keyround
