// SPDX-License-Identifier: GPL-3.0-or-later
// What was wrong: large toggles in their groups; "other" asks for words.
#pragma once

#include "app/truck/steps/step.h"
#include "core/fieldlog/visit.h"

#include <QHash>

class QLineEdit;

namespace keyround {

class BigButton;

class ProblemsStep final : public Step
{
    Q_OBJECT
public:
    explicit ProblemsStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;

private:
    [[nodiscard]] BigButton *toggleFor(const ProblemInfo &info);
    void setProblem(Problem problem, bool on);

    QHash<int, BigButton *> m_toggles; ///< by Problem
    QLineEdit *m_other;
};

} // namespace keyround
