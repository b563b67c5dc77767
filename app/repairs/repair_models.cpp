// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/repairs/repair_models.h"

#include "app/commands/repair_commands.h"
#include "app/models/cells.h"
#include "app/models/data_table.h"
#include "app/shell/style.h"
#include "core/reports/repair_table.h"
#include "core/reports/valve_words.h"

#include <QFont>

#include <algorithm>

namespace keyround {

namespace {

QString departmentOf(Session &session, const QString &key)
{
    const RepairDepartment *department = session.settings().repairs.department(key);
    return department == nullptr ? key : department->name;
}

QString proposed(ProposalKind kind)
{
    switch (kind) {
    case ProposalKind::Open:
        return QObject::tr("open a request");
    case ProposalKind::Join:
        return QObject::tr("add to the open one");
    case ProposalKind::Prove:
        return QObject::tr("proved: close it");
    case ProposalKind::Reopen:
        break;
    }
    return QObject::tr("not mended: reopen it");
}

} // namespace

TextModel::TextModel(QStringList headings, QList<int> numberColumns, QObject *parent)
    : QAbstractTableModel(parent), m_headings(std::move(headings)),
      m_numberColumns(std::move(numberColumns))
{
}

void TextModel::setRows(std::vector<QStringList> rows)
{
    beginResetModel();
    m_rows = std::move(rows);
    endResetModel();
}

int TextModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int TextModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_headings.size());
}

QVariant TextModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const QString text = m_rows[static_cast<std::size_t>(index.row())].value(index.column());
    const bool isNumber = m_numberColumns.contains(index.column());
    switch (role) {
    case Qt::DisplayRole:
        return text;
    case DataTable::sortRole:
        return isNumber ? QVariant(text.toInt()) : QVariant(naturalKey(text));
    case Qt::TextAlignmentRole:
        return isNumber ? QVariant(int(Qt::AlignRight | Qt::AlignVCenter)) : QVariant();
    default:
        return {};
    }
}

QVariant TextModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    return orientation == Qt::Horizontal && role == Qt::DisplayRole
               ? QVariant(m_headings.value(section))
               : QVariant();
}

RequestModel::RequestModel(Session &session, QObject *parent)
    : TextModel({tr("Request"), tr("Valve"), tr("Found"), tr("Department"), tr("Urgency"),
                 tr("State"), tr("Days old"), tr("Days over"), tr("Services"), tr("Where")},
                {Age, Overdue, Services}, parent),
      m_session(session)
{
}

void RequestModel::reload(bool withClosed)
{
    std::vector<QStringList> rows;
    m_requests.clear();
    m_urgencies.clear();
    m_areOverdue.clear();
    const std::vector<BacklogRow> backlog = backlogOf(m_session, withClosed);
    m_counts = countsOf(backlog);
    for (const BacklogRow &row : backlog) {
        const RepairRequest &request = *row.request;
        m_requests.push_back(request.id);
        m_urgencies.push_back(static_cast<int>(row.urgency));
        m_areOverdue.push_back(row.daysOverdue > 0);
        rows.push_back(
            {request.number, row.valve == nullptr ? QString() : row.valve->number,
             findingsWords(request.findings), row.department, wordFor(row.urgency),
             wordFor(request.state), QString::number(row.ageDays),
             row.daysOverdue > 0 ? QString::number(row.daysOverdue) : QString(),
             QString::number(row.services),
             row.valve == nullptr ? QString() : whereWords(*row.valve, m_session.units())});
    }
    setRows(std::move(rows));
}

RequestId RequestModel::requestAt(int row) const
{
    return row >= 0 && static_cast<std::size_t>(row) < m_requests.size()
               ? m_requests[static_cast<std::size_t>(row)]
               : RequestId{};
}

int RequestModel::rowOf(const RequestId &request) const
{
    const auto found = std::ranges::find(m_requests, request);
    return found == m_requests.end() ? -1 : static_cast<int>(found - m_requests.begin());
}

QVariant RequestModel::data(const QModelIndex &index, int role) const
{
    if (index.isValid()) {
        const auto row = static_cast<std::size_t>(index.row());
        if (role == DataTable::sortRole && index.column() == UrgencyColumn) {
            return m_urgencies[row];
        }
        const bool calls = index.column() == Overdue ? bool(m_areOverdue[row])
                           : index.column() == UrgencyColumn
                               ? m_urgencies[row] == static_cast<int>(Urgency::Urgent)
                               : false;
        if (calls && role == Qt::ForegroundRole) {
            return look::attention;
        }
        if (calls && role == Qt::FontRole) {
            QFont bold;
            bold.setBold(true);
            return bold;
        }
    }
    return TextModel::data(index, role);
}

ProposalModel::ProposalModel(Session &session, QObject *parent)
    : TextModel(
          {tr("Valve"), tr("Proposed"), tr("Department"), tr("Request"), tr("Urgency"), tr("Why")},
          {}, parent),
      m_session(session)
{
}

void ProposalModel::reload()
{
    m_proposals = proposalsOf(m_session);
    const ShutStakes stakes = m_proposals.empty() ? ShutStakes{} : servicesAtStake(m_session);
    std::vector<QStringList> rows;
    for (const RepairProposal &each : m_proposals) {
        const Valve *valve = m_session.valve(each.valve);
        const RepairRequest *request = m_session.repairs().request(each.request);
        const bool isFault = each.kind != ProposalKind::Prove;
        rows.push_back({valve == nullptr ? QString() : valve->number, proposed(each.kind),
                        departmentOf(m_session, each.department),
                        request == nullptr ? QString() : request->number,
                        valve == nullptr || !isFault
                            ? QString()
                            : wordFor(urgencyOf(each, *valve, m_session.history(each.valve),
                                                stakes.value(each.valve).services,
                                                m_session.settings().repairs)),
                        each.words});
    }
    setRows(std::move(rows));
}

std::vector<QStringList> sentRows(Session &session)
{
    return sentTable(session.repairs(), session.valves()).rows;
}

std::vector<QStringList> answerRows(const AnswerPlan &plan)
{
    const QStringList fates{QObject::tr("will be taken"), QObject::tr("known already"),
                            QObject::tr("not answered"), QObject::tr("refused")};
    std::vector<QStringList> rows;
    for (const PlannedAnswer &each : plan.rows) {
        rows.push_back({QString::number(each.answer.row), each.answer.number,
                        fates.at(static_cast<qsizetype>(each.fate)), each.words, each.answer.by,
                        each.answer.words});
    }
    return rows;
}

} // namespace keyround
