// SPDX-License-Identifier: GPL-3.0-or-later
// The inventory as a table: every field of core/inventory/valve_fields.h in the project's units,
// then what the visits say. Follows the session's notifier.
#pragma once

#include "core/inventory/valve.h"

#include <QAbstractTableModel>

#include <vector>

namespace keyround {

class Session;

class ValveModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    /// Columns after the valve's own fields.
    enum Extra { ConditionColumn, LastVisit, LastFullCycle, DueColumn, ExtraCount };

    explicit ValveModel(Session &session, QObject *parent = nullptr);

    [[nodiscard]] ValveId valveAt(int row) const;
    [[nodiscard]] int rowOf(const ValveId &valve) const; ///< -1 when it is not there
    [[nodiscard]] static int columnOf(Extra extra);

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    void reload();
    [[nodiscard]] QVariant text(const Valve &valve, int column) const;
    [[nodiscard]] QVariant sortValue(const Valve &valve, int column) const;

    Session &m_session;
    std::vector<ValveId> m_rows;
};

} // namespace keyround
