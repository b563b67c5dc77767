// SPDX-License-Identifier: GPL-3.0-or-later
// What stands round the step's question: ladder, title, the line that says what is saved, the way
// on at the foot.
#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/count_window.h"
#include "app/truck/steps/finish_step.h"
#include "app/truck/steps/found_step.h"
#include "app/truck/steps/get_there_step.h"
#include "app/truck/steps/judge_step.h"
#include "app/truck/steps/leave_step.h"
#include "app/truck/steps/problems_step.h"
#include "app/truck/steps/set_up_step.h"
#include "app/truck/steps/turn_step.h"
#include "app/truck/stop_page.h"
#include "app/truck/stop_words.h"

#include <QHBoxLayout>
#include <QStackedWidget>

namespace keyround {

void StopPage::buildSteps()
{
    m_finish = new FinishStep(m_desk, this);
    m_turn = new TurnStep(m_desk, m_counter, this);
    auto *getThere = new GetThereStep(m_desk, this);
    connect(getThere, &GetThereStep::visitsAsked, this,
            [this] { Q_EMIT visitsAsked(m_desk.valve.id); });
    m_steps = {getThere,
               new SetUpStep(m_desk, this),
               new FoundStep(m_desk, this),
               m_turn,
               new JudgeStep(m_desk, this),
               new ProblemsStep(m_desk, this),
               new LeaveStep(m_desk, this),
               m_finish};
    for (Step *step : m_steps) {
        m_stack->addWidget(step);
        connect(step, &Step::edited, this, &StopPage::changed);
        connect(step, &Step::nextAsked, this, &StopPage::goOn);
        connect(step, &Step::jumpAsked, this, [this](StopStep to) { goTo(to); });
    }
}

void StopPage::buildCounting()
{
    // The count may come from the counting window while another step is on the screen.
    const auto counted = [this] {
        changed();
        // Only these two speak of the count; what somebody types in another is left in peace.
        if (m_desk.form.step == StopStep::Judge ||
            (m_desk.form.step == StopStep::Finish && !m_finish->showsPhotos())) {
            currentStep()->load();
        }
    };
    connect(&m_counter, &TurnCounter::counted, this, counted);
    connect(&m_counter, &TurnCounter::passesChanged, this, counted);
    connect(m_turn, &TurnStep::windowAsked, this, [this] {
        if (m_window == nullptr) {
            m_window = new CountWindow(m_desk, m_counter, this);
        }
        m_window->open();
    });
}

void StopPage::buildFoot()
{
    m_back->setObjectName(QStringLiteral("back"));
    m_back->setHint(tr("Esc"));
    m_skip->setObjectName(QStringLiteral("skip"));
    m_skip->setHint(tr("S"));
    m_list->setObjectName(QStringLiteral("stops"));
    m_list->setHint(tr("L"));
    m_drop->setObjectName(QStringLiteral("drop"));
    m_drop->setHint(tr("Delete"));
    m_next->setObjectName(QStringLiteral("next"));
    m_next->setHint(tr("Enter"));
    m_next->setTextPixels(TruckScale::of(this).title);
    m_next->setTargetMillimetres(110, 22);
    connect(m_back, &QAbstractButton::clicked, this, &StopPage::goBack);
    connect(m_skip, &QAbstractButton::clicked, this, &StopPage::skipAsked);
    connect(m_list, &QAbstractButton::clicked, this, &StopPage::listAsked);
    connect(m_drop, &QAbstractButton::clicked, this, &StopPage::drop);
    connect(m_next, &QAbstractButton::clicked, this, &StopPage::goOn);
}

void StopPage::buildLayout()
{
    const int gap = TruckScale::of(this).gap;
    m_saved->setObjectName(QStringLiteral("saved"));
    m_saved->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    m_title->setObjectName(QStringLiteral("stop-title"));
    auto *head = new QHBoxLayout;
    head->addWidget(m_title, 1);
    head->addWidget(m_saved);
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    foot->addWidget(m_back, 2);
    foot->addWidget(m_skip, 2);
    foot->addWidget(m_list, 2);
    foot->addWidget(m_drop, 2);
    foot->addWidget(m_next, 9);
    auto *column = new QVBoxLayout;
    column->setSpacing(gap);
    column->addLayout(head);
    column->addWidget(m_stack, 1);
    column->addLayout(foot);
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(gap, gap / 2, gap, gap / 2);
    layout->setSpacing(gap);
    layout->addWidget(m_ladder);
    layout->addLayout(column, 1);
}

std::array<bool, stopStepCount> StopPage::answered() const
{
    const StopForm &form = m_desk.form;
    const bool turned = !countedPasses(form).empty();
    return {!form.arrived.isNull(),
            form.isSetUp,
            form.found.has_value(),
            turned,
            turned && form.step > StopStep::Judge,
            form.step > StopStep::Problems || !form.problems.isEmpty() ||
                !form.ownProblems.isEmpty(),
            form.left.has_value(),
            false};
}

void StopPage::refreshChrome()
{
    m_ladder->show(m_desk.form.step, answered());
    QString title = titleOf(m_desk.valve, m_desk.session.units());
    if (m_desk.form.correction) {
        title = tr("Correction: %1").arg(title);
    } else if (m_desk.place > 0) {
        title = tr("Stop %1 of %2. %3").arg(m_desk.place).arg(m_desk.of).arg(title);
    }
    m_title->setText(title);
    m_dropAsked = false;
    m_drop->setText(tr("Drop"));
    m_drop->setHint(tr("Delete"));
    m_drop->setAccessibleName(tr("Drop what was typed of this stop"));
    m_drop->setEnabled(m_isDraft);
    m_next->setText(currentStep()->nextWords());
    m_next->setAccessibleName(m_next->text());
    m_skip->setEnabled(!m_desk.round.isNull() && m_desk.place > 0 && !m_desk.form.correction);
    refreshSaveLine();
}

void StopPage::refreshSaveLine()
{
    switch (m_keeper.state()) {
    case DraftKeeper::State::Nothing:
        setNote(m_saved, NoteKind::Quiet, tr("nothing to save"));
        break;
    case DraftKeeper::State::Saving:
        setNote(m_saved, NoteKind::Quiet, tr("saving…"));
        break;
    case DraftKeeper::State::Saved:
        setNote(m_saved, NoteKind::Quiet, tr("✓ saved"));
        break;
    case DraftKeeper::State::Failed:
        setNote(m_saved, NoteKind::Danger, tr("NOT SAVED"));
        break;
    }
}

} // namespace keyround
