// SPDX-License-Identifier: GPL-3.0-or-later
// Counting: the pad (see count_pad.h), the passes so far, and what is one key away: # types a
// number instead, T a torque, W opens the counting window.
#pragma once

#include "app/truck/steps/step.h"

#include <QTimer>

class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;
class CountPad;
class PassList;
class TurnCounter;
class TypedLine;

class TurnStep final : public Step
{
    Q_OBJECT
public:
    TurnStep(StopDesk &desk, TurnCounter &counter, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;
    bool takeKey(QKeyEvent *event) override;
    /// Only the number of the pass under count is another one.
    void showCount();

Q_SIGNALS:
    void windowAsked();

protected:
    void showEvent(QShowEvent *event) override;
    void hideEvent(QHideEvent *event) override;

private:
    enum class Typing { Nothing, Count, Torque };

    void buildTyping();
    void buildLayout();
    [[nodiscard]] QWidget *buildSide();
    void setTyping(Typing what);
    void takeCount();
    void takeTorque();
    void showElapsed();
    void remove(std::size_t index);
    [[nodiscard]] TorqueUnit torqueUnit() const;

    CountPad *m_pad;
    PassList *m_passes;
    QLabel *m_elapsed;
    QLabel *m_noPasses;
    BigButton *m_typeCount;
    BigButton *m_typeTorque;
    BigButton *m_window;
    TypedLine *m_count;
    TypedLine *m_torque;
    QTimer m_tick;
};

} // namespace keyround
