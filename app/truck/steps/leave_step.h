// SPDX-License-Identifier: GPL-3.0-or-later
// How the valve was left, which must be said; the back-off after opening; remarks; and the
// place of the lid, where a receiver stands over it.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;
class QPlainTextEdit;

namespace keyround {

class BigButton;
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
    void showLidFix();
    void toggleLidFix();

    StandingChooser *m_chooser;
    QLabel *m_note;
    QLabel *m_backOff;
    QPlainTextEdit *m_remarks;
    BigButton *m_lidFix;
};

} // namespace keyround
