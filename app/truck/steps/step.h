// SPDX-License-Identifier: GPL-3.0-or-later
// One question of a stop. A step shows what the desk's form holds and writes what the person does
// back into it; the page saves, goes on and goes back.
#pragma once

#include "app/shell/session.h"
#include "app/truck/stop_form.h"
#include "core/condition/history.h"

#include <QWidget>

class QKeyEvent;

namespace keyround {

/// What lies before the crew: the valve, what is known of it, and the form.
struct StopDesk
{
    Session &session;
    Valve valve{};
    ValveHistory history{};
    Baseline baseline{}; ///< for this visit; for a correction the one its visit was judged by
    Tolerance tolerance{};
    RoundId round{}; ///< null outside a round
    QString crew{};
    int place = 0; ///< in the round, from 1; 0 when it is no stop of it
    int of = 0;
    StopForm form{};
};

[[nodiscard]] Judgement judgementOf(const StopDesk &desk);
/// The count that may be put in the list's place. Not in a correction: what was judged then stays.
[[nodiscard]] std::optional<QuarterTurns> listedTurnsOffered(const StopDesk &desk);

class Step : public QWidget
{
    Q_OBJECT
public:
    explicit Step(StopDesk &desk, QWidget *parent = nullptr) : QWidget(parent), m_desk(desk) {}

    /// Shows the form as it stands.
    virtual void load() = 0;
    /// What the largest button says.
    [[nodiscard]] virtual QString nextWords() const { return tr("Next"); }
    /// Where the keyboard begins; null leaves it with the largest button.
    [[nodiscard]] virtual QWidget *firstField() { return nullptr; }
    /// The person goes on.
    virtual void goingOn() {}
    /// A key that no field took; true when the step used it.
    virtual bool takeKey(QKeyEvent *) { return false; }

Q_SIGNALS:
    /// The form changed: save it.
    void edited();
    /// A field of the step took the key that goes on.
    void nextAsked();
    /// The step's answer makes others needless.
    void jumpAsked(StopStep step);

protected:
    [[nodiscard]] StopDesk &desk() const { return m_desk; }
    [[nodiscard]] StopForm &form() const { return m_desk.form; }

private:
    StopDesk &m_desk;
};

} // namespace keyround
