// SPDX-License-Identifier: GPL-3.0-or-later
// How the valve was left, which must be said; the back-off after opening; and remarks.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;
class QPlainTextEdit;

namespace keyround {

class StandingChooser;

class LeaveStep final : public Step
{
    Q_OBJECT
public:
    explicit LeaveStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override { return tr("Next: finish"); }
    [[nodiscard]] QWidget *firstField() override;
    bool takeKey(QKeyEvent *event) override;

protected:
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    StandingChooser *m_chooser;
    QLabel *m_note;
    QLabel *m_backOff;
    QPlainTextEdit *m_remarks;
};

} // namespace keyround
