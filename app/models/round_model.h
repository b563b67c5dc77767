// SPDX-License-Identifier: GPL-3.0-or-later
// A round's stops with their times and with what was decided of them by hand, as a table in the
// order of driving. Whoever works the times out hands them in; the model keeps no truth of its own.
#pragma once

#include "core/dayplan/plan.h"

#include <QAbstractTableModel>

namespace keyround {

class Session;

class RoundModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    enum Column {
        Order,
        Number,
        Decided,
        Arrive,
        Leave,
        Drive,
        Wait,
        Distance,
        OnSite,
        Place,
        NoticeColumn,
        ColumnCount
    };

    explicit RoundModel(Session &session, QObject *parent = nullptr);

    void setPlan(DayPlan plan, Round round);
    /// Whether this is what the table shows already: a table filled anew forgets what is chosen.
    [[nodiscard]] bool shows(const Round &round, const DayPlan &plan) const;

    [[nodiscard]] const Round &round() const { return m_round; }
    [[nodiscard]] ValveId valveAt(int row) const;
    [[nodiscard]] int rowOf(const ValveId &valve) const; ///< -1 when it is no stop

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    [[nodiscard]] QVariant text(int row, int column) const;
    [[nodiscard]] QVariant sortValue(int row, int column) const;

    Session &m_session;
    /// "┐ held", "! must go", "▲ first": a sign and a word each.
    [[nodiscard]] QString decidedText(int row) const;
    [[nodiscard]] QString noticeText(const PlannedStop &stop) const;
    [[nodiscard]] QVariant toolTip(const PlannedStop &stop, int column) const;

    DayPlan m_plan;
    Round m_round;
};

} // namespace keyround
