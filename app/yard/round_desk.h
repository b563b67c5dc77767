// SPDX-License-Identifier: GPL-3.0-or-later
// The round that lies on the Yard's desk: which one it is, how it works out in time, and every
// change to it as an undoable command. A new round is a draft without an id until it gets its
// first stops; only then is it stored. Finished rounds can be looked at, not changed.
#pragma once

#include "core/common/progress.h"
#include "core/dayplan/plan.h"

#include <QHash>
#include <QObject>
#include <QSet>

namespace keyround {

class Session;

class RoundDesk final : public QObject
{
    Q_OBJECT
public:
    explicit RoundDesk(Session &session, QObject *parent = nullptr);

    [[nodiscard]] const Round &round() const { return m_round; }
    [[nodiscard]] const DayPlan &plan() const { return m_plan; }
    /// Why the times could not be worked out; empty when they were.
    [[nodiscard]] QString planTrouble() const { return m_planTrouble; }
    /// The valves that the last drawing up left out and that are still no stops.
    [[nodiscard]] std::vector<LeftOut> leftOut() const;
    /// Stops that have a visit of this round already.
    [[nodiscard]] const QSet<ValveId> &visited() const { return m_visited; }

    [[nodiscard]] bool isStored() const { return !m_round.id.isNull(); }
    [[nodiscard]] bool canChange() const;
    /// Drawing up and reordering are for rounds that have not begun.
    [[nodiscard]] bool canOrder() const;
    [[nodiscard]] bool isStop(const ValveId &valve) const;

    void choose(const RoundId &id);
    void startNew();
    void startNew(const QString &crew, const QDate &date);

    [[nodiscard]] Status drawUp(const Progress &progress);
    Status bestOrder();
    Status addStops(const QList<ValveId> &valves);
    Status dropStops(const QList<ValveId> &valves);
    /// Takes the stop at `from` and puts it where it becomes number `to` (both from 0).
    Status moveStop(int from, int to);
    /// The same, said by the stop before which it is let go (the count of stops: at the end).
    Status moveBefore(int from, int before);
    /// Stores the round as a hand or a plan has changed it (app/yard/round_edit.h).
    Status change(Round after, const QString &text);
    /// Another date, crew, shift, start or finish.
    Status changeDay(Round after, const QString &text);

Q_SIGNALS:
    void changed();

private:
    void reload();
    void workOut();
    void readVisited();
    Status store(Round after, const QString &text);
    [[nodiscard]] Status refuseUnlessChangeable() const;
    [[nodiscard]] Round blank() const;

    Session &m_session;
    Round m_round;
    RoundId m_undone; ///< whose making was undone last, and may be done again
    DayPlan m_plan;
    QString m_planTrouble;
    QSet<ValveId> m_visited;
    QHash<RoundId, std::vector<LeftOut>> m_leftOut;
};

} // namespace keyround
