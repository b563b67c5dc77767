// SPDX-License-Identifier: GPL-3.0-or-later
// The inventory as a table: every field of core/inventory/valve_fields.h in the project's units,
// and what the visits say. What is looked for most stands first. Follows the session's notifier.
#pragma once

#include "core/inventory/valve_fields.h"

#include <QAbstractTableModel>

#include <variant>
#include <vector>

namespace keyround {

class Session;

class ValveModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    /// What a column shows that is no field of the valve's own.
    enum class Extra { Condition, Due, LastVisit, LastFullCycle };
    using Column = std::variant<ValveField, Extra>;

    explicit ValveModel(Session &session, QObject *parent = nullptr);

    [[nodiscard]] ValveId valveAt(int row) const;
    [[nodiscard]] int rowOf(const ValveId &valve) const; ///< -1 when it is not there
    [[nodiscard]] static int columnOf(const Column &column);

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    void reload();
    [[nodiscard]] QString text(const Valve &valve, const Column &column) const;
    [[nodiscard]] QVariant sortValue(const Valve &valve, const Column &column) const;

    Session &m_session;
    std::vector<ValveId> m_rows;
};

} // namespace keyround
