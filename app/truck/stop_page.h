// SPDX-License-Identifier: GPL-3.0-or-later
// One stop: the ladder at the left, the step's question, the way on at the foot. It owns the
// half-typed stop and saves it at every change; see draft_keeper.h.
#pragma once

#include "app/dialogs/draft_keeper.h"
#include "app/truck/ladder.h"
#include "app/truck/steps/step.h"
#include "app/truck/turn_counter.h"

#include <array>

class QLabel;
class QStackedWidget;

namespace keyround {

class BigButton;
class CountWindow;
class FinishStep;
class TurnStep;

class StopPage final : public QWidget
{
    Q_OBJECT
public:
    explicit StopPage(Session &session, QWidget *parent = nullptr);
    ~StopPage() override;

    /// Opens a stop with the form as it stands: a draft that was kept, or a new one.
    void open(const ValveId &valve, const RoundId &round, const StopForm &form, bool isDraft);
    /// Opens a recorded visit to correct it.
    void openCorrection(const ReadVisit &read);
    /// Saves what waits and marks the stop as left; the page holds nothing afterwards.
    void leave();
    /// Saves what waits and keeps the stop as the one on screen.
    void flush();
    /// The project is another one: forget, save nothing.
    void forget();
    [[nodiscard]] bool holdsStop() const { return m_holds; }
    [[nodiscard]] const StopDesk &desk() const { return m_desk; }
    [[nodiscard]] const DraftKeeper &keeper() const { return m_keeper; }

    /// Puts the keyboard where the form says it was.
    void focusField();
    void refreshValve();

Q_SIGNALS:
    void recorded(const ValveId &valve);
    void skipAsked();
    void dropped(); ///< what was typed of the stop is gone, as asked
    void listAsked();
    void visitsAsked(const ValveId &valve); ///< what is on record of it

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    void buildSteps();
    void buildCounting();
    void buildFoot();
    void buildLayout();
    void gatherDesk(const ValveId &valve, const RoundId &round);
    void goTo(StopStep step, bool keepFocus = false);
    void goOn();
    void goBack();
    void record();
    /// The count that was offered and accepted takes the list's place; the edit keeps the old one.
    void correctList(const Valve &valve, QuarterTurns listed, const QString &counted);
    /// Asks on the button itself before it throws away what was typed.
    void drop();
    void changed();
    void refreshChrome();
    void refreshSaveLine();
    void focusMoved(QWidget *now);
    [[nodiscard]] Step *currentStep() const;
    [[nodiscard]] std::array<bool, stopStepCount> answered() const;

    StopDesk m_desk;
    TurnCounter m_counter;
    DraftKeeper m_keeper;
    bool m_holds = false;
    bool m_isDraft = false; ///< something was typed: it is on disk or on its way there
    bool m_dropAsked = false;
    bool m_busy = false; ///< focus moves that the page makes itself are no change

    Ladder *m_ladder;
    QLabel *m_title;
    QLabel *m_saved;
    QStackedWidget *m_stack;
    std::array<Step *, stopStepCount> m_steps{};
    FinishStep *m_finish = nullptr;
    TurnStep *m_turn = nullptr;
    CountWindow *m_window = nullptr; ///< made when it is first asked for
    BigButton *m_back;
    BigButton *m_skip;
    BigButton *m_list;
    BigButton *m_drop;
    BigButton *m_next;
};

} // namespace keyround
