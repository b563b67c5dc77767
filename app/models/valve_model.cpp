// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/valve_model.h"

#include "app/models/cells.h"
#include "app/models/data_table.h"
#include "app/shell/session.h"

#include <algorithm>

namespace keyround {

namespace {

using Column = ValveModel::Column;
using Extra = ValveModel::Extra;

/// The columns in order: first what is looked for most, then every other field in its own order,
/// so that a field added to the inventory appears here by itself.
const std::vector<Column> &columns()
{
    static const std::vector<Column> all = [] {
        std::vector<Column> made{ValveField::Number,     Extra::Condition, Extra::Due,
                                 ValveField::Size,       ValveField::Type, ValveField::Address,
                                 ValveField::Zone,       Extra::LastVisit, Extra::LastFullCycle,
                                 ValveField::ListedTurns};
        for (const ValveFieldInfo &info : valveFields()) {
            if (std::ranges::find(made, Column(info.field)) == made.end()) {
                made.emplace_back(info.field);
            }
        }
        return made;
    }();
    return all;
}

const Column &columnAt(int index)
{
    return columns()[static_cast<size_t>(index)];
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

int ValveModel::columnOf(const Column &column)
{
    return static_cast<int>(std::ranges::find(columns(), column) - columns().begin());
}

int ValveModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int ValveModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(columns().size());
}

QString ValveModel::text(const Valve &valve, const Column &column) const
{
    if (const auto *field = std::get_if<ValveField>(&column)) {
        return valveFieldText(valve, *field, m_session.units());
    }
    const ValveHistory &history = m_session.history(valve.id);
    switch (std::get<Extra>(column)) {
    case Extra::Condition:
        return wordFor(history.condition);
    case Extra::LastVisit:
        return dateCell(history.lastVisit);
    case Extra::LastFullCycle:
        return dateCell(history.lastFullCycle);
    case Extra::Due:
        break;
    }
    const DueEntry *due = m_session.dueEntry(valve.id);
    return due != nullptr ? wordFor(due->state) : QString(QChar(0x2013));
}

QVariant ValveModel::sortValue(const Valve &valve, const Column &column) const
{
    if (const auto *field = std::get_if<ValveField>(&column)) {
        return fieldSortValue(valve, *field, m_session.units());
    }
    const ValveHistory &history = m_session.history(valve.id);
    const auto orFirst = [](const QDate &date) { return date.isValid() ? date : QDate(1, 1, 1); };
    switch (std::get<Extra>(column)) {
    case Extra::Condition:
        return static_cast<int>(history.condition);
    case Extra::LastVisit:
        return orFirst(history.lastVisit);
    case Extra::LastFullCycle:
        return orFirst(history.lastFullCycle);
    case Extra::Due:
        break;
    }
    const DueEntry *due = m_session.dueEntry(valve.id);
    return due != nullptr ? static_cast<int>(due->state) : -1;
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
        return text(*valve, columnAt(index.column()));
    case DataTable::sortRole:
        return sortValue(*valve, columnAt(index.column()));
    case Qt::DecorationRole:
        return columnAt(index.column()) == Column(Extra::Condition)
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
    if (const auto *field = std::get_if<ValveField>(&columnAt(section))) {
        return tr(infoOf(*field).label);
    }
    switch (std::get<Extra>(columnAt(section))) {
    case Extra::Condition:
        return tr("Condition");
    case Extra::LastVisit:
        return tr("Last visit");
    case Extra::LastFullCycle:
        return tr("Last full cycle");
    case Extra::Due:
        break;
    }
    return tr("Due");
}

} // namespace keyround
