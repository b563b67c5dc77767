// SPDX-License-Identifier: GPL-3.0-or-later
// The due list as a table, in the order of priority until a heading is clicked. Follows the
// session's notifier.
#pragma once

#include "core/schedule/due.h"

#include <QAbstractTableModel>

namespace keyround {

class Session;

class DueModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    enum Column { Number, State, Since, Rule, Place, ConditionColumn, WithoutWater, ColumnCount };
    enum class Show { ToVisit, WaitingForRepair, All };

    explicit DueModel(Session &session, QObject *parent = nullptr);

    void setShow(Show show);

    [[nodiscard]] ValveId valveAt(int row) const;
    /// -1 when the valve is not in the list shown.
    [[nodiscard]] int rowOf(const ValveId &valve) const;
    /// The reason of a row as a sentence.
    [[nodiscard]] QString reasonAt(int row) const;

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    void reload();
    [[nodiscard]] QVariant text(const DueEntry &entry, int column) const;
    [[nodiscard]] QVariant sortValue(const DueEntry &entry, int column) const;

    Session &m_session;
    Show m_show = Show::ToVisit;
    std::vector<DueEntry> m_rows;
};

} // namespace keyround
