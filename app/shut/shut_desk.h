// SPDX-License-Identifier: GPL-3.0-or-later
// A break as it is worked on: where it is, the plan, and what was done with each valve. No widgets;
// it reads from the session and writes through the commands. The pages show what it says.
//
// The plan is worked out as if the valves that were closed for this very shut still stood open and
// held: the list of steps stays whole while it is ticked off, and what a valve that does not hold
// changes is seen at once.
#pragma once

#include "app/commands/shut_commands.h"

namespace keyround {

/// One valve of the shut.
struct ShutRow
{
    enum class Part {
        Close,
        CloseDeadSide,
        AlreadyClosed,
        PassedOver,
        NotNeeded, ///< closed for this shut, and no longer part of its plan
    };
    enum class State { Waiting, Closed, DoesNotHold, Reopened, Checked };

    ValveId valve;
    QString number;
    Part part = Part::Close;
    int order = 0; ///< from 1 among those to close; 0 for the others
    Holds holds = Holds::Works;
    bool mayFail = false; ///< doubtful or unknown, and not tried yet
    QString why;
    QString ifFails; ///< the sentence; empty when it is trusted
    State state = State::Waiting;
    Moment at; ///< of its last step
    QString person;
    QString remark;
};
[[nodiscard]] QString wordFor(ShutRow::Part part);
[[nodiscard]] QString wordFor(ShutRow::State state);

class ShutDesk final : public QObject
{
    Q_OBJECT
public:
    explicit ShutDesk(Session &session, QObject *parent = nullptr);

    // Where the break is. Each forgets the shut that was on the desk; what was recorded stays.
    /// The main nearest to the place, within reach.
    Status breakAt(const GeoPoint &place, Metres reach = breakReach);
    /// "LAT, LON", or a main's number.
    Status breakTyped(const QString &text);
    Status open(const ShutId &shut);
    void clear();

    /// Nearest first from here; nothing: from the yard.
    void setCrew(const std::optional<GeoPoint> &place);
    [[nodiscard]] const std::optional<GeoPoint> &crew() const { return m_crew; }

    [[nodiscard]] bool hasPlan() const { return m_plan.has_value(); }
    [[nodiscard]] const ShutPlan &plan() const { return *m_plan; }
    [[nodiscard]] const std::vector<ShutRow> &rows() const { return m_rows; }
    [[nodiscard]] const ShutRow *row(const ValveId &valve) const;
    /// What is still closed for this shut, in the order of opening it again.
    [[nodiscard]] std::vector<ShutRow> toReopen() const;
    [[nodiscard]] const ShutLog *log() const;
    [[nodiscard]] bool isBegun() const { return !m_shut.isNull(); }
    [[nodiscard]] bool isEnded() const;
    /// The first valve of the plan that waits for its tick; null when all have theirs.
    [[nodiscard]] ValveId nextToClose() const;
    /// What the last tick changed, in words; empty when it changed nothing.
    [[nodiscard]] QString lastChange() const { return m_change; }
    /// The break's line: "Break on main WM-00012, 34 ft from its first point".
    [[nodiscard]] QString title() const;

    // What is recorded. Begins the shut when that was not done yet.
    Status begin();
    Status tick(const ValveId &valve, ShutAction action, const QString &remark);
    /// A valve that stands closed anyhow was looked at.
    Status check(const ValveId &valve, const QString &remark);
    Status note(const QString &words);
    /// "Still closed: V1, V2."; empty when nothing is.
    [[nodiscard]] QString stillClosedWords() const;
    Status end();

Q_SIGNALS:
    void changed();      ///< the plan or a step of it
    void breakChanged(); ///< another break, or none; changed() is not said as well

private:
    void adopt(const BreakAt &at, const QString &main);
    void listen();
    void refresh();
    void replan();
    void fillRows();
    void fillSteps(ShutRow::Part part, const std::vector<ShutStep> &steps);
    void readLog(ShutRow &row) const;
    void orderReopening();
    [[nodiscard]] ValveStates states() const;
    [[nodiscard]] QString changeSince(const ShutPlan &before, const ValveId &valve) const;

    Session &m_session;
    std::optional<BreakAt> m_at;
    QString m_main;
    std::optional<GeoPoint> m_crew;
    ShutId m_shut;
    std::optional<ShutPlan> m_plan;
    std::vector<ShutRow> m_rows;
    QString m_change;
};

/// How a shut of the log stands: "3 valves closed (V1, V2, V3), 1 does not hold".
[[nodiscard]] QString standingWords(Session &session, const ShutLog &log);

} // namespace keyround
