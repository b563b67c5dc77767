// SPDX-License-Identifier: GPL-3.0-or-later
// What can be done with the chosen valves in the round on the desk, as actions that lists, map,
// ribbon, menus and buttons share: keep first or last, hold together, must go, earlier, later,
// add, drop. Each is one undo step; a refusal goes to the message line.
#pragma once

#include "core/common/ids.h"
#include "core/common/result.h"
#include "core/dayplan/round.h"

#include <QList>
#include <QObject>

#include <array>

class QAction;
class QToolButton;
class QWidget;

namespace keyround {

class RoundDesk;
class Session;

class StopActions final : public QObject
{
    Q_OBJECT
public:
    enum Act { KeepFirst, KeepLast, Hold, MustGo, Earlier, Later, Add, Drop, ActCount };

    StopActions(Session &session, RoundDesk &desk, QObject *parent);

    [[nodiscard]] QAction *action(Act act) const { return m_actions[static_cast<size_t>(act)]; }
    [[nodiscard]] const QList<ValveId> &chosen() const { return m_chosen; }
    void setChosen(const QList<ValveId> &chosen);
    /// Puts all of them into the widget's menu and lets their keys work in it.
    void giveTo(QWidget *widget) const;
    /// A button that a gloved finger hits, named after the act ("stopKeepFirst").
    QToolButton *addButton(Act act, QWidget *parent) const;

private:
    void build(Act act, const QString &name, const QString &text, const QKeySequence &keys,
               const QString &tip);
    void run(Act act, bool on);
    void refresh();
    [[nodiscard]] QString named(const QString &one, const QString &many) const;
    void change(const Round &after, const QString &text);
    void say(const Status &status);

    Session &m_session;
    RoundDesk &m_desk;
    std::array<QAction *, ActCount> m_actions{};
    QList<ValveId> m_chosen;
};

} // namespace keyround
