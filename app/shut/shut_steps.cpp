// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/shut_steps.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"

#include <QHBoxLayout>
#include <QLineEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

ShutSteps::ShutSteps(Session &session, ShutDesk &desk, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(desk),
      m_heading(truckLabel(this, TextSize::Normal, true)),
      m_statement(truckLabel(this, TextSize::Small)), m_remark(new QLineEdit(this)),
      m_first(new BigButton(BigButton::Kind::Primary, {}, this)),
      m_second(new BigButton(BigButton::Kind::Plain, {}, this)),
      m_phase(new BigButton(BigButton::Kind::Plain, {}, this)),
      m_end(new BigButton(BigButton::Kind::Plain, {}, this))
{
    m_heading->setObjectName(QStringLiteral("shut-next"));
    m_statement->setObjectName(QStringLiteral("shut-statement"));
    m_remark->setObjectName(QStringLiteral("shut-remark"));
    m_first->setObjectName(QStringLiteral("shut-first"));
    m_second->setObjectName(QStringLiteral("shut-second"));
    m_phase->setObjectName(QStringLiteral("shut-phase"));
    m_end->setObjectName(QStringLiteral("shut-end"));
    m_remark->setPlaceholderText(tr("Remark, kept with the step"));
    m_remark->setAccessibleName(tr("Remark, kept with the step"));
    m_remark->setFont(truckFont(this, TextSize::Small));
    connect(m_remark, &QLineEdit::returnPressed, this, [this] { m_first->setFocus(); });

    const int gap = TruckScale::of(this).gap;
    auto *valveRow = new QHBoxLayout;
    valveRow->setSpacing(gap);
    valveRow->addWidget(m_first, 3);
    valveRow->addWidget(m_second, 2);
    auto *shutRow = new QHBoxLayout;
    shutRow->setSpacing(gap);
    shutRow->addWidget(m_phase, 3);
    shutRow->addWidget(m_end, 2);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap / 2);
    layout->addWidget(m_heading);
    layout->addWidget(m_statement);
    layout->addWidget(m_remark);
    layout->addLayout(valveRow);
    layout->addLayout(shutRow);

    connect(m_first, &QAbstractButton::clicked, this, [this] { run(std::function(m_onFirst)); });
    connect(m_second, &QAbstractButton::clicked, this, [this] { run(std::function(m_onSecond)); });
    connect(m_phase, &QAbstractButton::clicked, this, [this] {
        if (m_ending) {
            m_ending = false;
            load(false);
            focusNext();
        } else {
            setReopening(!m_reopening);
            focusNext();
        }
    });
    connect(m_end, &QAbstractButton::clicked, this, [this] {
        if (m_ending) {
            run([this] { return m_desk.end(); });
            return;
        }
        m_ending = true;
        load(false);
        m_end->setFocus();
    });
}

void ShutSteps::choose(const ValveId &valve)
{
    m_current = valve;
    m_chosenByHand = !valve.isNull();
    m_ending = false;
    load(false);
    focusNext();
}

void ShutSteps::setReopening(bool on)
{
    m_reopening = on;
    m_chosenByHand = false;
    m_remark->clear();
    load(false);
    Q_EMIT reopeningChanged();
}

void ShutSteps::load(bool afresh)
{
    if (afresh) {
        m_chosenByHand = false;
        m_ending = false;
        m_remark->clear();
        // After a restart the work goes on where it broke off.
        const ShutLog *log = m_desk.log();
        m_reopening = false;
        if (log != nullptr) {
            const auto last = std::find_if(log->ticks.rbegin(), log->ticks.rend(),
                                           [](const auto &tick) { return !tick.valve.isNull(); });
            m_reopening = m_desk.isEnded() ||
                          (last != log->ticks.rend() && last->action == ShutAction::Reopened);
        }
    }
    m_reopening = m_reopening || m_desk.isEnded(); // nothing is closed any more for it
    if (!m_chosenByHand || m_desk.row(m_current) == nullptr) {
        const std::vector<ShutRow> open = m_desk.toReopen();
        m_current = !m_reopening   ? m_desk.nextToClose()
                    : open.empty() ? ValveId{}
                                   : open.front().valve;
        m_chosenByHand = false;
    }
    showActs();
    showShutButtons();
    Q_EMIT currentChanged();
}

void ShutSteps::set(BigButton *button, const Act &act)
{
    button->setText(act.words);
    button->setAccessibleName(act.words);
    button->setVisible(!act.words.isEmpty());
    button->setEnabled(static_cast<bool>(act.run));
    (button == m_first ? m_onFirst : m_onSecond) = act.run;
}

ShutSteps::Act ShutSteps::ticking(const QString &words, const ShutRow &row, ShutAction action)
{
    return {words.arg(row.number),
            [this, id = row.valve, action] { return m_desk.tick(id, action, m_remark->text()); }};
}

std::vector<ShutSteps::Act> ShutSteps::actsFor(const ShutRow &row)
{
    const Act closed = ticking(tr("%1 is closed"), row, ShutAction::Closed);
    const Act fails = ticking(tr("%1 does not hold"), row, ShutAction::DidNotHold);
    const Act reopened = ticking(tr("%1 is open again"), row, ShutAction::Reopened);
    if (m_desk.isEnded()) {
        return row.state == ShutRow::State::Closed ? std::vector{reopened} : std::vector<Act>{};
    }
    if (row.state == ShutRow::State::Closed) {
        return {reopened, fails};
    }
    switch (row.part) {
    case ShutRow::Part::AlreadyClosed:
        return {{tr("%1 is closed: looked at").arg(row.number),
                 [this, id = row.valve] { return m_desk.check(id, m_remark->text()); }},
                fails};
    case ShutRow::Part::PassedOver:
        return {ticking(tr("%1 is closed, and holds after all"), row, ShutAction::Closed)};
    default:
        return {closed, fails};
    }
}

QString ShutSteps::headingFor(const ShutRow *row) const
{
    if (!m_desk.isBegun()) {
        return tr("Nothing is recorded yet");
    }
    if (m_ending) {
        return tr("End the shut?");
    }
    if (row == nullptr) {
        return m_desk.isEnded()        ? tr("This shut has ended")
               : m_reopening           ? tr("Nothing is closed for this shut")
               : m_desk.rows().empty() ? tr("No valve is known that shuts it")
                                       : tr("Every valve of the plan is closed");
    }
    if (m_reopening || m_desk.isEnded()) {
        return tr("Open again: %1").arg(row->number);
    }
    return row->part == ShutRow::Part::Close || row->part == ShutRow::Part::CloseDeadSide
               ? tr("%1. %2: %3").arg(row->order).arg(wordFor(row->part), row->number)
               : tr("%1: %2").arg(wordFor(row->part), row->number);
}

void ShutSteps::showActs()
{
    const ShutRow *row = m_current.isNull() ? nullptr : m_desk.row(m_current);
    m_heading->setText(headingFor(row));
    std::vector<Act> acts;
    if (!m_desk.isBegun()) {
        acts = {{tr("Begin the shut"), [this] { return m_desk.begin(); }}};
    } else if (row != nullptr && !m_ending) {
        acts = actsFor(*row);
    }
    acts.resize(2);
    set(m_first, acts[0]);
    set(m_second, acts[1]);
    m_remark->setVisible(m_desk.isBegun() && row != nullptr && !m_ending);
    QString statement;
    if (m_ending) {
        const QString closed = m_desk.stillClosedWords();
        statement = closed.isEmpty()
                        ? tr("Nothing is closed for this shut any more. End it?")
                        : tr("%1 It stays so after the end, and every place goes on saying it, "
                             "until each is open again. End the shut all the same?")
                              .arg(closed);
    } else if (m_desk.isEnded()) {
        statement = m_desk.stillClosedWords();
    }
    setNote(m_statement,
            m_desk.stillClosedWords().isEmpty() ? NoteKind::Attention : NoteKind::Danger,
            statement);
}

void ShutSteps::showShutButtons()
{
    const bool goesOn = m_desk.isBegun() && !m_desk.isEnded();
    m_phase->setVisible(goesOn);
    m_end->setVisible(goesOn);
    m_phase->setText(m_ending      ? tr("Not yet")
                     : m_reopening ? tr("Back to closing")
                                   : tr("Go on to opening again"));
    m_end->setText(m_ending
                       ? (m_desk.stillClosedWords().isEmpty() ? tr("End the shut")
                                                              : tr("End it with valves closed"))
                       : tr("End the shut…"));
    for (BigButton *button : {m_phase, m_end}) {
        button->setAccessibleName(button->text());
    }
}

void ShutSteps::run(const std::function<Status()> &act)
{
    if (!act) {
        return;
    }
    m_chosenByHand = false;
    const Status done = act();
    m_ending = false;
    if (!done) {
        Q_EMIT m_session.notifier().failed(done.error().message);
    } else {
        m_remark->clear();
    }
    load(false);
    focusNext();
}

void ShutSteps::focusNext()
{
    for (BigButton *button : {m_first, m_phase, m_end}) {
        if (button->isVisibleTo(this) && button->isEnabled()) {
            // With all closed the next thing is opening again, with all open the end.
            const bool isPast = button == m_phase && m_reopening && !m_ending;
            if (!isPast) {
                button->setFocus();
                return;
            }
        }
    }
}

} // namespace keyround
