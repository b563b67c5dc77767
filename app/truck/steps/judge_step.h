// SPDX-License-Identifier: GPL-3.0-or-later
// What the count says: the verdict, the baseline it was judged by, what it means, what to do.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;

namespace keyround {

class JudgeStep final : public Step
{
    Q_OBJECT
public:
    explicit JudgeStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override { return tr("Next: problems"); }

private:
    QLabel *m_verdict;
    QLabel *m_basis;
    QLabel *m_meaning;
    QLabel *m_advice;
    QLabel *m_caution;
};

} // namespace keyround
