// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/due_model.h"

#include "app/models/cells.h"
#include "app/models/data_table.h"
#include "app/models/notice_words.h"
#include "app/shell/session.h"

#include <algorithm>
#include <iterator>

namespace keyround {

namespace {

bool isShown(DueState state, DueModel::Show show)
{
    switch (show) {
    case DueModel::Show::ToVisit:
        return wantsVisit(state);
    case DueModel::Show::WaitingForRepair:
        return state == DueState::WaitingForRepair;
    case DueModel::Show::All:
        break;
    }
    return true;
}

} // namespace

DueModel::DueModel(Session &session, QObject *parent)
    : QAbstractTableModel(parent), m_session(session)
{
    Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::projectChanged, this, &DueModel::reload);
    connect(&notifier, &Notifier::valvesChanged, this, &DueModel::reload);
    connect(&notifier, &Notifier::visitsChanged, this, &DueModel::reload);
    connect(&notifier, &Notifier::settingsChanged, this, &DueModel::reload);
    for (const auto change :
         {&Notifier::layersChanged, &Notifier::networkFixesChanged, &Notifier::shutsChanged}) {
        connect(&notifier, change, this, &DueModel::reload);
    }
    reload();
}

void DueModel::setShow(Show show)
{
    m_show = show;
    reload();
}

void DueModel::reload()
{
    beginResetModel();
    m_rows.clear();
    std::ranges::copy_if(m_session.dueList(), std::back_inserter(m_rows),
                         [this](const DueEntry &entry) { return isShown(entry.state, m_show); });
    endResetModel();
}

ValveId DueModel::valveAt(int row) const
{
    return m_rows.at(static_cast<size_t>(row)).valve;
}

int DueModel::rowOf(const ValveId &valve) const
{
    const auto found = std::ranges::find(m_rows, valve, &DueEntry::valve);
    return found == m_rows.end() ? -1 : static_cast<int>(found - m_rows.begin());
}

QString DueModel::reasonAt(int row) const
{
    const DueEntry &entry = m_rows.at(static_cast<size_t>(row));
    const QString water = whoLosesWater(m_session, entry.valve);
    return water.isEmpty() ? entry.reason : entry.reason + QStringLiteral(". ") + water;
}

int DueModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int DueModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : ColumnCount;
}

QVariant DueModel::text(const DueEntry &entry, int column) const
{
    const Valve *valve = m_session.valve(entry.valve);
    switch (column) {
    case Number:
        return valve != nullptr ? valve->number : QString();
    case State:
        return wordFor(entry.state);
    case Since:
        return !entry.dueOn.isValid() && wantsVisit(entry.state) ? tr("at once")
                                                                 : dateCell(entry.dueOn);
    case Rule:
        return entry.rule;
    case Place:
        return valve != nullptr ? valve->address : QString();
    case ConditionColumn:
        return wordFor(m_session.history(entry.valve).condition);
    case WithoutWater: {
        const int services = m_session.shutLoad(entry.valve).services;
        return services > 0 ? QString::number(services) : QString();
    }
    default:
        return {};
    }
}

QVariant DueModel::sortValue(const DueEntry &entry, int column) const
{
    switch (column) {
    case Number:
        return naturalKey(text(entry, Number).toString());
    case State:
        return static_cast<int>(entry.state);
    case Since:
        // Without a date it is due at once, before every date.
        return entry.dueOn.isValid() ? entry.dueOn : QDate(1, 1, 1);
    case ConditionColumn:
        return static_cast<int>(m_session.history(entry.valve).condition);
    case WithoutWater:
        return m_session.shutLoad(entry.valve).services;
    default:
        return naturalKey(text(entry, column).toString());
    }
}

QVariant DueModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const DueEntry &entry = m_rows[static_cast<size_t>(index.row())];
    switch (role) {
    case Qt::DisplayRole:
        return text(entry, index.column());
    case DataTable::sortRole:
        return sortValue(entry, index.column());
    case Qt::DecorationRole:
        return index.column() == ConditionColumn
                   ? QVariant(conditionIcon(m_session.history(entry.valve).condition))
                   : QVariant();
    default:
        return {};
    }
}

QVariant DueModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    switch (section) {
    case Number:
        return tr("Number");
    case State:
        return tr("State");
    case Since:
        return tr("Due since");
    case Rule:
        return tr("Rule");
    case Place:
        return tr("Place");
    case ConditionColumn:
        return tr("Condition");
    case WithoutWater:
        return tr("Services out");
    default:
        return {};
    }
}

} // namespace keyround
