// SPDX-License-Identifier: GPL-3.0-or-later
// Counting. Space or the largest target counts a turn, Q a quarter, Backspace takes one back; a
// held key counts once. C closes, O opens: each begins a pass. # types a number instead.
// A tap counts when it goes down, so that a hand that slides off has counted.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;
class QVBoxLayout;

namespace keyround {

class BigButton;
class CountRing;
class TurnsLine;

class TurnStep final : public Step
{
    Q_OBJECT
public:
    explicit TurnStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;
    bool takeKey(QKeyEvent *event) override;

protected:
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    void buildLayout();
    void buildDirections();
    void buildCounters();
    void buildTyping();
    void count(QuarterTurns tapped);
    void takeBack();
    void turnTo(PassDirection direction);
    void openTyping();
    void closeTyping();
    void takeTyped();
    void showCount();
    void showPasses();
    void showDirection();

    BigButton *m_closing;
    BigButton *m_opening;
    CountRing *m_ring;
    BigButton *m_turn;
    BigButton *m_quarter;
    BigButton *m_back;
    BigButton *m_type;
    TurnsLine *m_typed;
    QLabel *m_noPasses;
    QWidget *m_list = nullptr;
    QWidget *m_passes;
    QVBoxLayout *m_passRows;
};

} // namespace keyround
