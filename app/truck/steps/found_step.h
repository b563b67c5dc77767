// SPDX-License-Identifier: GPL-3.0-or-later
// What the lid and the box are like, and how the valve was found.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;

namespace keyround {

class StandingChooser;
class ToggleRow;

class FoundStep final : public Step
{
    Q_OBJECT
public:
    explicit FoundStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;
    bool takeKey(QKeyEvent *event) override;

private:
    void buildBox();

    StandingChooser *m_chooser;
    ToggleRow *m_lid;
    ToggleRow *m_box;
    QLabel *m_note;
};

} // namespace keyround
