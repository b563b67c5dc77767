// SPDX-License-Identifier: GPL-3.0-or-later
// Which valve, where it is, how it should be, who depends on it, what the last visit found, and
// the cautions before anybody steps into the street.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;

namespace keyround {

class GetThereStep final : public Step
{
    Q_OBJECT
public:
    explicit GetThereStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    void goingOn() override;

private:
    QLabel *m_address;
    QLabel *m_facts;
    QLabel *m_direction;
    QLabel *m_critical;
    QLabel *m_standing;
    QLabel *m_last;
    QLabel *m_cautions;
    QWidget *m_arrow;
};

} // namespace keyround
