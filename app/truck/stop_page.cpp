// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/stop_page.h"

#include "app/commands/push_command.h"
#include "app/commands/valve_commands.h"
#include "app/commands/visit_commands.h"
#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/count_window.h"
#include "app/truck/here_words.h"
#include "app/truck/steps/finish_step.h"
#include "core/reports/valve_words.h"

#include <QApplication>
#include <QKeyEvent>
#include <QLabel>
#include <QScopedValueRollback>
#include <QStackedWidget>

#include <algorithm>
#include <utility>

namespace keyround {

StopPage::StopPage(Session &session, QWidget *parent)
    : QWidget(parent), m_desk{session}, m_counter(m_desk), m_keeper([this]() -> Status {
          if (!m_desk.session.isOpen()) {
              return {};
          }
          return saveStopDraft(m_desk.session, m_desk.round, m_desk.valve.id, toJson(m_desk.form));
      }),
      m_ladder(new Ladder(this)), m_title(truckLabel(this, TextSize::Normal, true)),
      m_saved(truckLabel(this, TextSize::Small)), m_stack(new QStackedWidget(this)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Back"), this)),
      m_skip(new BigButton(BigButton::Kind::Plain, tr("Skip"), this)),
      m_list(new BigButton(BigButton::Kind::Plain, tr("Stops"), this)),
      m_drop(new BigButton(BigButton::Kind::Plain, tr("Drop"), this)),
      m_next(new BigButton(BigButton::Kind::Primary, tr("Next"), this))
{
    buildSteps();
    buildCounting();
    buildFoot();
    buildLayout();
    connect(m_ladder, &Ladder::chosen, this, [this](StopStep step) { goTo(step); });
    connect(&m_keeper, &DraftKeeper::stateChanged, this, &StopPage::refreshSaveLine);
    connect(&m_keeper, &DraftKeeper::failed, this, [this](const QString &why) {
        Q_EMIT m_desk.session.notifier().failed(
            tr("Valve %1 is not saved: %2").arg(m_desk.valve.number, why));
    });
    connect(qApp, &QApplication::focusChanged, this,
            [this](QWidget *, QWidget *now) { focusMoved(now); });
}

StopPage::~StopPage()
{
    flush();
}

void StopPage::gatherDesk(const ValveId &valve, const RoundId &round)
{
    Session &session = m_desk.session;
    if (const Valve *known = session.valve(valve)) {
        m_desk.valve = *known;
    }
    m_desk.history = session.history(valve);
    m_desk.baseline = m_desk.history.baseline;
    m_desk.tolerance = session.settings().tolerance;
    m_desk.round = round;
    m_desk.place = 0;
    m_desk.of = 0;
    m_desk.crew = crewNames(session.settings()).value(0);
    if (const Round *day = session.round(round)) {
        const auto at = std::ranges::find(day->stops, valve);
        m_desk.place = at == day->stops.end() ? 0 : static_cast<int>(at - day->stops.begin()) + 1;
        m_desk.of = static_cast<int>(day->stops.size());
        m_desk.crew = day->crew;
    }
    if (m_desk.form.correction) {
        const auto &visits = m_desk.history.visits;
        const auto parent = std::ranges::find_if(visits, [this](const ReadVisit &read) {
            return read.visit.id == m_desk.form.correction->supersedes;
        });
        if (parent != visits.end()) {
            m_desk.baseline = parent->judgement.baseline;
        }
    }
}

void StopPage::open(const ValveId &valve, const RoundId &round, const StopForm &form, bool isDraft)
{
    leave();
    m_desk.form = form;
    m_desk.form.onScreen = true;
    gatherDesk(valve, round);
    m_holds = true;
    m_counter.setOpen(true);
    m_isDraft = isDraft;
    m_keeper.reset(isDraft ? DraftKeeper::State::Saved : DraftKeeper::State::Nothing);
    goTo(form.step, true);
    if (isDraft && !form.onScreen) {
        m_keeper.changed(); // it is the stop on screen again
    }
}

void StopPage::openCorrection(const ReadVisit &read)
{
    open(read.visit.valve, read.visit.round,
         formToCorrect(read.visit, m_desk.session.author().person), false);
}

void StopPage::leave()
{
    if (m_holds && m_isDraft) {
        m_desk.form.onScreen = false;
        m_keeper.changed();
        m_keeper.flush();
    }
    forget();
}

void StopPage::flush()
{
    if (m_holds && m_isDraft) {
        m_keeper.flush();
    }
}

void StopPage::forget()
{
    m_holds = false;
    m_counter.setOpen(false);
    m_isDraft = false;
    m_keeper.reset();
}

Step *StopPage::currentStep() const
{
    return m_steps[static_cast<std::size_t>(m_desk.form.step)];
}

void StopPage::changed()
{
    auto &accepted = m_desk.form.newListedTurns;
    if (accepted && accepted != listedTurnsOffered(m_desk)) {
        accepted.reset(); // the counts that it rested on are no more
    }
    m_isDraft = true;
    m_keeper.changed();
    refreshChrome();
    if (m_window != nullptr && m_window->isVisible()) {
        m_window->showForm(); // the second person turns by what stands there
    }
}

void StopPage::goTo(StopStep step, bool keepFocus)
{
    {
        const QScopedValueRollback<bool> busy(m_busy, true);
        m_desk.form.step = step;
        if (!keepFocus) {
            m_desk.form.focus.clear();
        }
        currentStep()->load();
        m_stack->setCurrentWidget(currentStep());
        // While counting the space bar is the count's alone, wherever the keyboard stands.
        const bool counting = step == StopStep::Turn;
        for (BigButton *button : {m_back, m_skip, m_list, m_drop, m_next}) {
            button->setSpacePresses(!counting);
        }
        refreshChrome();
        focusField();
    }
    if (m_isDraft && !keepFocus) {
        m_keeper.changed();
    }
}

void StopPage::focusField()
{
    QWidget *field = nullptr;
    if (!m_desk.form.focus.isEmpty()) {
        field = findChild<QWidget *>(m_desk.form.focus);
    }
    if (field == nullptr || !field->isVisibleTo(this)) {
        field = currentStep()->firstField();
    }
    if (field == nullptr) {
        field = m_next;
    }
    field->setFocus(Qt::OtherFocusReason);
}

void StopPage::focusMoved(QWidget *now)
{
    if (m_busy || !m_holds || now == nullptr || !isAncestorOf(now) || now->objectName().isEmpty() ||
        now->objectName() == m_desk.form.focus) {
        return;
    }
    m_desk.form.focus = now->objectName();
    if (m_isDraft) {
        m_keeper.changed();
    }
}

void StopPage::goOn()
{
    const StopStep step = m_desk.form.step;
    if (step == StopStep::Finish) {
        record();
        return;
    }
    currentStep()->goingOn();
    if (step == StopStep::GetThere) {
        m_isDraft = true; // they are at the valve: that is on record from here on
    }
    const bool nothingToTurn = step == StopStep::Found && m_desk.form.found == Position::NotSeen;
    goTo(nothingToTurn ? StopStep::Problems : static_cast<StopStep>(static_cast<int>(step) + 1));
}

void StopPage::goBack()
{
    if (m_desk.form.step == StopStep::GetThere) {
        Q_EMIT listAsked();
        return;
    }
    goTo(static_cast<StopStep>(static_cast<int>(m_desk.form.step) - 1));
}

void StopPage::record()
{
    if (const auto missing = missingIn(m_desk.form)) {
        if (missing->step != StopStep::Finish) {
            goTo(missing->step);
        } else {
            m_finish->showRefusal(missing->what);
        }
        return;
    }
    Session &session = m_desk.session;
    auto visit = visitFrom(m_desk.form, m_desk.valve.id, m_desk.round, m_desk.crew, session.now());
    if (!visit) {
        m_finish->showRefusal(visit.error().message);
        return;
    }
    if (m_desk.form.correction) {
        session.setPerson(m_desk.form.correction->who.trimmed());
    }
    const QScopedValueRollback<bool> busy(m_busy, true);
    const auto stored = recordVisit(session, std::move(*visit));
    if (!stored) {
        m_finish->showRefusal(tr("Not recorded: %1").arg(stored.error().message));
        return;
    }
    const Valve valve = m_desk.valve;
    const auto newListed = m_desk.form.newListedTurns;
    const auto lidFix = m_desk.form.correction ? std::nullopt : m_desk.form.lidFix;
    const QString counted = passWords(countedPasses(m_desk.form));
    forget();
    if (newListed && valve.listedTurns) {
        correctList(valve, *newListed, counted);
    }
    if (lidFix) {
        proposeLidPlace(session, valve, *lidFix);
    }
    Q_EMIT session.notifier().said(
        tr("Valve %1 is recorded, %2.")
            .arg(valve.number, session.now().local().time().toString(QStringLiteral("HH:mm"))));
    Q_EMIT recorded(valve.id);
}

void StopPage::correctList(const Valve &valve, QuarterTurns listed, const QString &counted)
{
    Valve after = valve;
    after.listedTurns = listed;
    const QString why = tr("Counted in the field on %1: %2; listed were %3.")
                            .arg(m_desk.session.now().localDate().toString(Qt::ISODate), counted,
                                 turnsText(*valve.listedTurns));
    // Where it fails the message line says so; the visit is recorded all the same.
    if (pushCommand(m_desk.session,
                    std::make_unique<ChangeValve>(m_desk.session, valve, after, why))) {
        Q_EMIT m_desk.session.notifier().said(
            tr("Valve %1: the list says %2 turns now, %3 before.")
                .arg(valve.number, turnsText(listed), turnsText(*valve.listedTurns)));
    }
}

void StopPage::drop()
{
    if (!m_dropAsked) {
        m_dropAsked = true;
        m_drop->setText(tr("Drop all?"));
        m_drop->setHint(tr("again: yes"));
        return;
    }
    Session &session = m_desk.session;
    m_keeper.reset(); // nothing that waits may bring it back
    if (const Status gone = dropStopDraft(session, m_desk.round, m_desk.valve.id); !gone) {
        Q_EMIT session.notifier().failed(gone.error().message);
        return;
    }
    forget();
    Q_EMIT session.notifier().said(
        tr("What was typed of valve %1 is dropped.").arg(m_desk.valve.number));
    Q_EMIT dropped();
}

void StopPage::refreshValve()
{
    if (m_holds && !m_busy) {
        gatherDesk(m_desk.valve.id, m_desk.round);
        currentStep()->load();
        refreshChrome();
    }
}

void StopPage::keyPressEvent(QKeyEvent *event)
{
    if (currentStep()->takeKey(event)) {
        event->accept();
        return;
    }
    using Button = std::pair<int, BigButton *>;
    const std::array<Button, 6> buttons{{{Qt::Key_Return, m_next},
                                         {Qt::Key_Enter, m_next},
                                         {Qt::Key_Escape, m_back},
                                         {Qt::Key_S, m_skip},
                                         {Qt::Key_Delete, m_drop},
                                         {Qt::Key_L, m_list}}};
    const auto pressed = std::ranges::find(buttons, event->key(), &Button::first);
    if (pressed == buttons.end()) {
        QWidget::keyPressEvent(event);
    } else if (!event->isAutoRepeat()) {
        pressed->second->click();
    }
}

} // namespace keyround
