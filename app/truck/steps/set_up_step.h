// SPDX-License-Identifier: GPL-3.0-or-later
// The work zone before the lid comes up: what is not known is asked once, with large answers; then
// the set-up that is offered, with its drawing; and the utility's own values in its place. Nothing
// here keeps a crew from going on: they decide.
#pragma once

#include "app/commands/work_zone.h"
#include "app/truck/steps/step.h"

class QStackedWidget;

namespace keyround {

class SiteAsker;
class SetUpCard;
class SetUpChanger;

class SetUpStep final : public Step
{
    Q_OBJECT
public:
    explicit SetUpStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;
    bool takeKey(QKeyEvent *event) override;

private:
    void ask(SiteQuestion question);
    void show();
    /// Goes through the questions once more, each with the answer that it has.
    void askAgain();
    void answer(SiteQuestion question, double value);
    void goOnAsking();
    void openChange();

    QStackedWidget *m_pages;
    SiteAsker *m_asker;
    SetUpCard *m_card;
    SetUpChanger *m_changer;
    std::vector<SiteQuestion> m_again; ///< still to be gone through
    ValveId m_shown;
};

} // namespace keyround
