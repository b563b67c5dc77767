// SPDX-License-Identifier: GPL-3.0-or-later
// What the count says: the verdict, the baseline it was judged by, what it means, what to try next,
// with the utility's own procedure before common practice. What a count alone cannot say (it spins,
// it does not move, water still runs) is one tap; so is another pass to work it; and where the list
// is wrong, it may be corrected from here.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;

namespace keyround {

class BigButton;
class ToggleRow;

class JudgeStep final : public Step
{
    Q_OBJECT
public:
    explicit JudgeStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override { return tr("Next: problems"); }
    bool takeKey(QKeyEvent *event) override;

private:
    void buildAnswers();
    void buildLayout();
    void showOffer();
    void toggleOffer();
    void workIt();

    QLabel *m_verdict;
    QLabel *m_basis;
    QLabel *m_meaning;
    QLabel *m_procedure;
    QLabel *m_advice;
    QLabel *m_caution;
    QLabel *m_offerWords;
    BigButton *m_offer;
    ToggleRow *m_findings;
    BigButton *m_again;
};

} // namespace keyround
