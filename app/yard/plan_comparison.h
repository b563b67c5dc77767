// SPDX-License-Identifier: GPL-3.0-or-later
// Two plans of one day side by side: the one on the desk and one that was set aside, with stops,
// driving, waiting, finish, priority and the valves that only one of them has. They change places
// with one click, which is one undo step. What is set aside is kept while the program runs.
#pragma once

#include "core/dayplan/plan.h"

#include <QFrame>

#include <array>
#include <optional>

class QGridLayout;
class QLabel;
class QPushButton;

namespace keyround {

class RoundDesk;
class Session;

class PlanComparison final : public QFrame
{
    Q_OBJECT
public:
    PlanComparison(Session &session, RoundDesk &desk, QWidget *parent = nullptr);

    /// Keeps the desk's round as it is now, to compare with what comes.
    void setAside();
    /// The plan set aside comes to the desk, and the desk's is set aside.
    void swap();
    void putAway();
    [[nodiscard]] bool hasAside() const { return m_aside.has_value(); }
    [[nodiscard]] const std::optional<Round> &aside() const { return m_aside; }

private:
    enum Column { Name, Stops, Driving, Waiting, Finish, Priority, OnlyHere, ColumnCount };
    using Row = std::array<QLabel *, ColumnCount>;

    void addRow(QGridLayout *grid, int at, Row &row);
    void fill(const Row &row, const QString &name, const Round &round, const Round &other,
              const DayPlan &plan);
    void deskChanged();
    void refresh();
    [[nodiscard]] QString numbersOnlyIn(const Round &round, const Round &other) const;

    Session &m_session;
    RoundDesk &m_desk;
    std::optional<Round> m_aside;
    std::optional<Round> m_swapped; ///< what lay on the desk when it changed places last
    Row m_onDesk{};
    Row m_setAside{};
    QPushButton *m_swap;
    QPushButton *m_putAway;
};

} // namespace keyround
