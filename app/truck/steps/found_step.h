// SPDX-License-Identifier: GPL-3.0-or-later
// How the valve was found.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;

namespace keyround {

class StandingChooser;

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
    StandingChooser *m_chooser;
    QLabel *m_note;
};

} // namespace keyround
