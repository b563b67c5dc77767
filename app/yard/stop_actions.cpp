// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/stop_actions.h"

#include "app/shell/session.h"
#include "app/yard/round_desk.h"
#include "app/yard/round_edit.h"

#include <QAction>
#include <QToolButton>

#include <algorithm>

namespace keyround {

StopActions::StopActions(Session &session, RoundDesk &desk, QObject *parent)
    : QObject(parent), m_session(session), m_desk(desk)
{
    build(KeepFirst, QStringLiteral("KeepFirst"), tr("Keep first"), Qt::ALT | Qt::Key_Home,
          tr("This stop is driven to first, whatever the best order is"));
    build(KeepLast, QStringLiteral("KeepLast"), tr("Keep last"), Qt::ALT | Qt::Key_End,
          tr("This stop is driven to last, whatever the best order is"));
    build(Hold, QStringLiteral("Hold"), tr("Hold together"), Qt::ALT | Qt::Key_H,
          tr("One stop stays before its next; several that follow one another stay so"));
    build(MustGo, QStringLiteral("MustGo"), tr("Must go"), Qt::ALT | Qt::Key_M,
          tr("Drawing up never gives this stop up for others"));
    build(Earlier, QStringLiteral("Earlier"), tr("Earlier"), Qt::ALT | Qt::Key_Up,
          tr("One place earlier; or drag it in the list or on the day's ribbon"));
    build(Later, QStringLiteral("Later"), tr("Later"), Qt::ALT | Qt::Key_Down,
          tr("One place later; or drag it in the list or on the day's ribbon"));
    build(Add, QStringLiteral("Add"), tr("Add to the round"), Qt::ALT | Qt::Key_Insert, QString());
    build(Drop, QStringLiteral("Drop"), tr("Drop the stop"), Qt::ALT | Qt::Key_Delete,
          tr("Delete does the same"));
    for (const Act act : {KeepFirst, KeepLast, Hold, MustGo}) {
        action(act)->setCheckable(true);
    }
    connect(&desk, &RoundDesk::changed, this, &StopActions::refresh);
    refresh();
}

void StopActions::build(Act act, const QString &name, const QString &text, const QKeySequence &keys,
                        const QString &tip)
{
    auto *made = new QAction(text, this);
    made->setObjectName(name);
    made->setShortcut(keys);
    made->setShortcutContext(Qt::WidgetWithChildrenShortcut);
    const QString shown = keys.toString(QKeySequence::NativeText);
    made->setToolTip(tip.isEmpty() ? shown : tr("%1 (%2)").arg(tip, shown));
    connect(made, &QAction::triggered, this, [this, act](bool on) { run(act, on); });
    m_actions[static_cast<size_t>(act)] = made;
}

void StopActions::giveTo(QWidget *widget) const
{
    widget->setContextMenuPolicy(Qt::ActionsContextMenu);
    QAction *first = widget->actions().isEmpty() ? nullptr : widget->actions().constFirst();
    for (QAction *each : m_actions) {
        widget->insertAction(first, each);
    }
}

QToolButton *StopActions::addButton(Act act, QWidget *parent) const
{
    auto *button = new QToolButton(parent);
    button->setDefaultAction(action(act));
    button->setObjectName(QStringLiteral("stop") + action(act)->objectName());
    button->setProperty("role", QStringLiteral("touch"));
    button->setFocusPolicy(Qt::StrongFocus);
    return button;
}

void StopActions::setChosen(const QList<ValveId> &chosen)
{
    m_chosen = chosen;
    refresh();
}

void StopActions::refresh()
{
    const Round &round = m_desk.round();
    QList<int> stops;
    for (const ValveId &valve : std::as_const(m_chosen)) {
        if (const int index = stopIndex(round, valve); index >= 0) {
            stops << index;
        }
    }
    const bool canChange = m_desk.canChange();
    const int count = static_cast<int>(round.stops.size());
    const bool isOne = canChange && m_chosen.size() == 1 && stops.size() == 1;
    const auto set = [this](Act act, bool enabled, bool checked = false) {
        action(act)->setEnabled(enabled);
        action(act)->setChecked(checked);
    };
    const int index = isOne ? stops.first() : -1;
    set(KeepFirst, isOne, isOne && index == 0 && round.firstIsPinned);
    set(KeepLast, isOne, isOne && index + 1 == count && round.lastIsPinned);
    set(Hold, canChange && !holdable(round, m_chosen).isEmpty(), isHeld(round, m_chosen));
    const bool allMustGo =
        !m_chosen.isEmpty() && std::ranges::all_of(m_chosen, [&](const ValveId &valve) {
            return round.mustGo.contains(valve);
        });
    set(MustGo, canChange && !m_chosen.isEmpty(), allMustGo);
    set(Earlier, isOne && index > 0);
    set(Later, isOne && index + 1 < count);
    const int addable = static_cast<int>(m_chosen.size() - stops.size());
    set(Add, canChange && addable > 0);
    set(Drop, canChange && !stops.isEmpty());
    action(Add)->setText(addable > 1 ? tr("Add %1 valves to the round").arg(addable)
                                     : tr("Add to the round"));
    action(Drop)->setText(stops.size() > 1 ? tr("Drop %1 stops").arg(stops.size())
                                           : tr("Drop the stop"));
}

QString StopActions::named(const QString &one, const QString &many) const
{
    const Valve *valve = m_chosen.isEmpty() ? nullptr : m_session.valve(m_chosen.first());
    return m_chosen.size() == 1 && valve != nullptr ? one.arg(valve->number)
                                                    : many.arg(m_chosen.size());
}

void StopActions::run(Act act, bool on)
{
    if (m_chosen.isEmpty()) {
        return;
    }
    const Round &round = m_desk.round();
    const ValveId one = m_chosen.first();
    const int index = stopIndex(round, one);
    switch (act) {
    case KeepFirst:
        return change(withFirstKept(round, one, on),
                      on ? named(tr("Keep %1 first"), {}) : named(tr("Let %1 go from first"), {}));
    case KeepLast:
        return change(withLastKept(round, one, on),
                      on ? named(tr("Keep %1 last"), {}) : named(tr("Let %1 go from last"), {}));
    case Hold:
        return change(withHeld(round, m_chosen, on),
                      on ? named(tr("Hold %1 to the next"), tr("Hold %1 stops together"))
                         : named(tr("Let go of what %1 is held to"), tr("Let go of %1 stops")));
    case MustGo:
        if (on) {
            for (const ValveId &valve : std::as_const(m_chosen)) {
                const Valve *known = m_session.valve(valve);
                if (known != nullptr && stopIndex(round, valve) < 0 && !known->place.isValid()) {
                    return say(m_desk.addStops({valve})); // says why it cannot be a stop
                }
            }
        }
        return change(withMustGo(round, m_chosen, on),
                      on ? named(tr("Valve %1 must go"), tr("%1 valves must go"))
                         : named(tr("Valve %1 need not go"), tr("%1 valves need not go")));
    case Earlier:
        return say(m_desk.moveStop(index, index - 1));
    case Later:
        return say(m_desk.moveStop(index, index + 1));
    case Add:
        return say(m_desk.addStops(m_chosen));
    case Drop:
        return say(m_desk.dropStops(m_chosen));
    case ActCount:
        break;
    }
}

void StopActions::change(const Round &after, const QString &text)
{
    say(m_desk.change(after, text));
    refresh(); // a check mark that a click set stands only when the round agrees
}

void StopActions::say(const Status &status)
{
    if (!status) {
        Q_EMIT m_session.notifier().failed(status.error().message);
    }
}

} // namespace keyround
