// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/finish_page.h"

#include "app/commands/visit_commands.h"
#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/stop_words.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QScrollArea>

namespace keyround {

FinishPage::FinishPage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(truckLabel(this, TextSize::Title, true)),
      m_done(truckLabel(this)), m_notDone(truckLabel(this)), m_left(truckLabel(this)),
      m_bad(truckLabel(this)), m_defects(truckLabel(this)),
      m_outcome(truckLabel(this, TextSize::Normal, true)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Back to the stops"), this)),
      m_finish(new BigButton(BigButton::Kind::Primary, tr("Finish the round"), this))
{
    const int gap = TruckScale::of(this).gap;
    m_done->setObjectName(QStringLiteral("outcome-done"));
    m_notDone->setObjectName(QStringLiteral("outcome-not-done"));
    m_left->setObjectName(QStringLiteral("outcome-left"));
    m_bad->setObjectName(QStringLiteral("outcome-bad"));
    m_defects->setObjectName(QStringLiteral("outcome-defects"));
    m_outcome->setObjectName(QStringLiteral("outcome"));
    m_finish->setObjectName(QStringLiteral("finish-round"));
    m_finish->setTextPixels(TruckScale::of(this).title);
    m_finish->setTargetMillimetres(110, 22);
    m_back->setHint(tr("Esc"));
    auto *inner = new QWidget;
    auto *lists = new QVBoxLayout(inner);
    lists->setContentsMargins(0, 0, 0, 0);
    lists->setSpacing(gap);
    for (QLabel *label : {m_left, m_bad, m_defects, m_notDone, m_done}) {
        lists->addWidget(label);
    }
    lists->addStretch();
    auto *scroll = new QScrollArea(this);
    scroll->setWidget(inner);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setAccessibleName(tr("What the round came to"));
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    foot->addWidget(m_back, 2);
    foot->addWidget(m_finish, 5);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap * 2, gap, gap * 2, gap);
    layout->setSpacing(gap);
    layout->addWidget(m_title);
    layout->addWidget(scroll, 1);
    layout->addWidget(m_outcome);
    layout->addLayout(foot);
    connect(m_back, &QAbstractButton::clicked, this, &FinishPage::backAsked);
    connect(m_finish, &QAbstractButton::clicked, this, &FinishPage::finish);
}

QString FinishPage::numbersOf(const std::vector<ValveId> &valves)
{
    QStringList numbers;
    for (const ValveId &id : valves) {
        const Valve *valve = m_session.valve(id);
        numbers << (valve != nullptr ? valve->number : id.text());
    }
    return numbers.join(QStringLiteral(", "));
}

QString FinishPage::leftWords(const std::vector<ValveId> &valves)
{
    QStringList words;
    for (const ValveId &id : valves) {
        const Valve *valve = m_session.valve(id);
        const auto &left = m_session.history(id).leftOtherThanNormal;
        if (valve != nullptr && left) {
            words << tr("%1 (%2, normally %3)")
                         .arg(valve->number, standingSaid(*left), wordFor(valve->normally));
        }
    }
    return words.join(QStringLiteral(", "));
}

void FinishPage::load(const RoundId &id)
{
    m_round = id;
    const Round *round = m_session.round(id);
    if (round == nullptr) {
        return;
    }
    m_finished = round->state == RoundState::Finished;
    const RoundOutcome outcome = outcomeOf(m_session, *round);
    m_title->setText(
        tr("What the round came to: %1, %2").arg(round->date.toString(Qt::ISODate), round->crew));
    const auto say = [this](QLabel *label, NoteKind kind, const std::vector<ValveId> &valves,
                            const QString &words, const QString &none) {
        const bool any = !valves.empty();
        setNote(label, any ? kind : NoteKind::Quiet,
                any ? words.arg(valves.size()).arg(numbersOf(valves)) : none);
    };
    say(m_done, NoteKind::Quiet, outcome.done, tr("Done, %1: %2"), tr("Done: none yet."));
    say(m_notDone, NoteKind::Attention, outcome.notDone, tr("Back to the due list, %1: %2"),
        tr("Back to the due list: none, every stop is done."));
    say(m_bad, NoteKind::Attention, outcome.newlyBad, tr("Newly out of condition, %1: %2"),
        tr("Newly out of condition: none."));
    say(m_defects, NoteKind::Attention, outcome.newDefects, tr("New defects, %1: %2"),
        tr("New defects: none."));
    setNote(m_left, outcome.leftAbnormal.empty() ? NoteKind::Quiet : NoteKind::Danger,
            outcome.leftAbnormal.empty()
                ? tr("No valve of this round was left out of its normal position.")
                : tr("Not left in their normal position: %1").arg(leftWords(outcome.leftAbnormal)));
    const std::vector<ValveId> halfTyped = halfTypedStops(m_session, m_round);
    setNote(m_outcome, NoteKind::Attention,
            halfTyped.empty() ? QString()
                              : tr("Half typed: valve %1. Record or drop these stops first.")
                                    .arg(numbersOf(halfTyped)));
    m_finish->setText(m_finished ? tr("Choose another round") : tr("Finish the round"));
    m_finish->setAccessibleName(m_finish->text());
}

void FinishPage::finish()
{
    if (m_finished) {
        Q_EMIT otherRoundAsked();
        return;
    }
    const auto backUp = finishRound(m_session, m_round);
    load(m_round);
    if (!backUp) {
        setNote(m_outcome, NoteKind::Danger, backUp.error().message);
        return;
    }
    const QString words = tr("The round is finished. Its back-up: %1").arg(*backUp);
    setNote(m_outcome, NoteKind::Quiet, words);
    Q_EMIT m_session.notifier().said(words);
}

void FinishPage::focusField()
{
    m_finish->setFocus();
}

void FinishPage::keyPressEvent(QKeyEvent *event)
{
    if (event->key() == Qt::Key_Escape && !event->isAutoRepeat()) {
        Q_EMIT backAsked();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround
