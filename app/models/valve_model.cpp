// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/valve_model.h"

#include "app/models/cells.h"
#include "app/models/data_table.h"
#include "app/shell/session.h"
#include "core/inventory/valve_fields.h"

#include <algorithm>

namespace keyround {

namespace {

int fieldCount()
{
    return static_cast<int>(valveFields().size());
}

QVariant fieldSortValue(const Valve &valve, ValveField field, UnitSystem units)
{
    switch (field) {
    case ValveField::DepthToNut:
        return valve.depthToNut ? valve.depthToNut->value : -1.0;
    case ValveField::Size:
        return valve.size.quarterInches;
    case ValveField::ListedTurns:
        return valve.listedTurns ? valve.listedTurns->value : -1;
    case ValveField::InstallYear:
        return valve.installYear.value_or(-1);
    case ValveField::Place:
        return valve.place.isValid() ? valve.place.latitude : -91.0;
    default:
        return naturalKey(valveFieldText(valve, field, units));
    }
}

} // namespace

ValveModel::ValveModel(Session &session, QObject *parent)
    : QAbstractTableModel(parent), m_session(session)
{
    Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::projectChanged, this, &ValveModel::reload);
    connect(&notifier, &Notifier::valvesChanged, this, &ValveModel::reload);
    connect(&notifier, &Notifier::visitsChanged, this, &ValveModel::reload);
    connect(&notifier, &Notifier::settingsChanged, this, &ValveModel::reload);
    reload();
}

void ValveModel::reload()
{
    std::vector<ValveId> rows;
    for (const Valve &valve : m_session.valves()) {
        rows.push_back(valve.id);
    }
    // The same valves in the same order: their cells changed, the selection and place stay.
    if (rows == m_rows) {
        if (!m_rows.empty()) {
            Q_EMIT dataChanged(index(0, 0), index(rowCount() - 1, columnCount() - 1));
        }
        return;
    }
    beginResetModel();
    m_rows = std::move(rows);
    endResetModel();
}

ValveId ValveModel::valveAt(int row) const
{
    return m_rows.at(static_cast<size_t>(row));
}

int ValveModel::rowOf(const ValveId &valve) const
{
    const auto found = std::ranges::find(m_rows, valve);
    return found == m_rows.end() ? -1 : static_cast<int>(found - m_rows.begin());
}

int ValveModel::columnOf(Extra extra)
{
    return fieldCount() + extra;
}

int ValveModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int ValveModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : fieldCount() + ExtraCount;
}

QVariant ValveModel::text(const Valve &valve, int column) const
{
    if (column < fieldCount()) {
        const ValveField field = valveFields()[static_cast<size_t>(column)].field;
        return valveFieldText(valve, field, m_session.units());
    }
    const ValveHistory &history = m_session.history(valve.id);
    switch (column - fieldCount()) {
    case ConditionColumn:
        return wordFor(history.condition);
    case LastVisit:
        return dateCell(history.lastVisit);
    case LastFullCycle:
        return dateCell(history.lastFullCycle);
    case DueColumn: {
        const DueEntry *due = m_session.dueEntry(valve.id);
        return due != nullptr ? wordFor(due->state) : QString(QChar(0x2013));
    }
    default:
        return {};
    }
}

QVariant ValveModel::sortValue(const Valve &valve, int column) const
{
    if (column < fieldCount()) {
        return fieldSortValue(valve, valveFields()[static_cast<size_t>(column)].field,
                              m_session.units());
    }
    const ValveHistory &history = m_session.history(valve.id);
    switch (column - fieldCount()) {
    case ConditionColumn:
        return static_cast<int>(history.condition);
    case LastVisit:
        return history.lastVisit.isValid() ? history.lastVisit : QDate(1, 1, 1);
    case LastFullCycle:
        return history.lastFullCycle.isValid() ? history.lastFullCycle : QDate(1, 1, 1);
    case DueColumn: {
        const DueEntry *due = m_session.dueEntry(valve.id);
        return due != nullptr ? static_cast<int>(due->state) : -1;
    }
    default:
        return {};
    }
}

QVariant ValveModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const Valve *valve = m_session.valve(valveAt(index.row()));
    if (valve == nullptr) {
        return {};
    }
    switch (role) {
    case Qt::DisplayRole:
        return text(*valve, index.column());
    case DataTable::sortRole:
        return sortValue(*valve, index.column());
    case Qt::DecorationRole:
        return index.column() == columnOf(ConditionColumn)
                   ? QVariant(conditionIcon(m_session.history(valve->id).condition))
                   : QVariant();
    default:
        return {};
    }
}

QVariant ValveModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    if (section < fieldCount()) {
        return tr(valveFields()[static_cast<size_t>(section)].label);
    }
    switch (section - fieldCount()) {
    case ConditionColumn:
        return tr("Condition");
    case LastVisit:
        return tr("Last visit");
    case LastFullCycle:
        return tr("Last full cycle");
    case DueColumn:
        return tr("Due");
    default:
        return {};
    }
}

} // namespace keyround
