// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/weight_model.h"

#include "app/models/cells.h"
#include "app/models/data_table.h"

namespace keyround {

namespace {

constexpr std::size_t largestShown = 50;

} // namespace

WeightModel::WeightModel(Session &session, QObject *parent)
    : QAbstractTableModel(parent), m_session(session)
{
}

void WeightModel::reload()
{
    beginResetModel();
    m_rows = static_cast<int>(m_session.importances().size());
    endResetModel();
}

int WeightModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : m_rows;
}

int WeightModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : ColumnCount;
}

int WeightModel::figure(NetIndex valve, int column) const
{
    const Load &alone = m_session.singleShuts().of(valve);
    const ValveImportance &importance = m_session.importances()[valve];
    switch (column) {
    case OutAlone:
        return alone.services;
    case MoreIfStuck:
        return importance.moreAtMost;
    case OutIfStuck:
        return importance.outIfStuck.services;
    case Critical:
        return importance.outIfStuck.critical;
    case Hydrants:
        return importance.outIfStuck.hydrants;
    default:
        return 0;
    }
}

QString WeightModel::text(NetIndex valve, int column) const
{
    const NetValve &placed = m_session.network().network.valves[valve];
    const ValveState &state = m_session.valveStates()[valve];
    switch (column) {
    case Number:
        return placed.number;
    case Place: {
        const Valve *known = m_session.valve(placed.id);
        return known != nullptr ? known->address : QString();
    }
    case State: {
        const QString words = state.why.isEmpty()
                                  ? wordFor(state.holds)
                                  : tr("%1: %2").arg(wordFor(state.holds), state.why);
        return state.closed ? tr("closed now; %1").arg(words) : words;
    }
    default:
        return QString::number(figure(valve, column));
    }
}

QVariant WeightModel::data(const QModelIndex &index, int role) const
{
    // Between a change and the next reload() there may be fewer valves than rows.
    if (!index.isValid() ||
        static_cast<std::size_t>(index.row()) >= m_session.network().network.valves.size()) {
        return {};
    }
    const NetIndex valve = valveAt(index.row());
    const bool isFigure = index.column() >= OutAlone;
    switch (role) {
    case Qt::DisplayRole:
        return text(valve, index.column());
    case DataTable::sortRole:
        return isFigure ? QVariant(figure(valve, index.column()))
               : index.column() == State
                   ? QVariant(static_cast<int>(m_session.valveStates()[valve].holds))
                   : QVariant(naturalKey(text(valve, index.column())));
    case Qt::TextAlignmentRole:
        return isFigure ? QVariant(int(Qt::AlignRight | Qt::AlignVCenter)) : QVariant();
    default:
        return {};
    }
}

QVariant WeightModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    switch (section) {
    case Number:
        return tr("Valve");
    case Place:
        return tr("Place");
    case State:
        return tr("Will it hold?");
    case OutAlone:
        return tr("Out, shut alone");
    case MoreIfStuck:
        return tr("More if it sticks");
    case OutIfStuck:
        return tr("Out if it sticks");
    case Critical:
        return tr("Critical then");
    case Hydrants:
        return tr("Hydrants then");
    default:
        return {};
    }
}

LargeShutModel::LargeShutModel(Session &session, QObject *parent)
    : QAbstractTableModel(parent), m_session(session)
{
}

void LargeShutModel::reload()
{
    beginResetModel();
    m_shuts = largestShuts(m_session.network().network, m_session.valveStates(), largestShown);
    endResetModel();
}

int LargeShutModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_shuts.size());
}

int LargeShutModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : ColumnCount;
}

QVariant LargeShutModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const LargeShut &shut = shutAt(index.row());
    const std::vector<NetValve> &valves = m_session.network().network.valves;
    const int figures[]{shut.out.services, shut.out.critical, shut.out.hydrants};
    const bool isFigure = index.column() < Valves;
    if (role == Qt::TextAlignmentRole && isFigure) {
        return int(Qt::AlignRight | Qt::AlignVCenter);
    }
    if (role != Qt::DisplayRole && role != DataTable::sortRole) {
        return {};
    }
    if (isFigure) {
        const int figure = figures[index.column()];
        return role == Qt::DisplayRole ? QVariant(QString::number(figure)) : QVariant(figure);
    }
    QStringList numbers;
    for (const NetIndex valve : shut.valves) {
        if (valve < valves.size()) {
            numbers << valves[valve].number;
        }
    }
    return tr("%1: %2").arg(numbers.size()).arg(numbers.join(QStringLiteral(", ")));
}

QVariant LargeShutModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    const QString headings[]{tr("Services out"), tr("Critical"), tr("Hydrants"),
                             tr("Valves around it")};
    return headings[section];
}

} // namespace keyround
