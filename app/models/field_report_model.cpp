// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/field_report_model.h"

#include "app/models/data_table.h"
#include "app/shell/session.h"
#include "core/geo/bearing.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

QString whenWords(const Moment &at)
{
    return at.local().toString(QStringLiteral("yyyy-MM-dd HH:mm"));
}

QString decisionWords(const std::vector<ReportDecision> &decisions)
{
    if (decidedOf(decisions) == Decided::Open) {
        return {};
    }
    const ReportDecision &last = decisions.back();
    QString words = QObject::tr("%1, %2").arg(last.by.person, whenWords(last.by.at));
    return last.why.isEmpty() ? words : QObject::tr("%1: %2").arg(words, last.why);
}

} // namespace

FieldReportModel::FieldReportModel(Session &session, QObject *parent)
    : QAbstractTableModel(parent), m_session(session)
{
    const Notifier &notifier = session.notifier();
    for (auto signal : {&Notifier::fieldReportsChanged, &Notifier::valvesChanged,
                        &Notifier::settingsChanged, &Notifier::projectChanged}) {
        connect(&notifier, signal, this, &FieldReportModel::reload);
    }
    reload();
}

void FieldReportModel::reload()
{
    beginResetModel();
    m_rows.clear();
    for (const ReportedPlace &report : m_session.fieldReports().places) {
        m_rows.push_back(rowFor(report));
    }
    for (const ReportedValve &report : m_session.fieldReports().valves) {
        m_rows.push_back(rowFor(report));
    }
    std::ranges::stable_partition(m_rows, &Row::isOpen);
    endResetModel();
}

FieldReportModel::Row FieldReportModel::rowFor(const ReportedPlace &report) const
{
    const PlaceProposal &proposal = report.proposal;
    const Valve *valve = m_session.valve(proposal.valve);
    Row row{proposal.id, {}, 0, decidedOf(report.decisions) == Decided::Open};
    row.texts[Standing] = wordFor(decidedOf(report.decisions));
    row.texts[What] =
        tr("Place of valve %1").arg(valve != nullptr ? valve->number : proposal.valve.text());
    row.metres = moveOf(proposal).value_or(Metres{}).value;
    row.texts[Moved] = proposal.listed
                           ? awayWords(*proposal.listed, proposal.proposed, m_session.units())
                           : tr("had no place");
    row.texts[Evidence] = wordsFor(proposal.evidence, m_session.units());
    row.texts[Words] = proposal.words;
    row.texts[By] = proposal.by.person;
    row.texts[When] = whenWords(proposal.by.at);
    row.texts[Decision] = decisionWords(report.decisions);
    return row;
}

FieldReportModel::Row FieldReportModel::rowFor(const ReportedValve &report) const
{
    const ValveCandidate &candidate = report.candidate;
    Row row{candidate.id, {}, 0, decidedOf(report.decisions) == Decided::Open};
    row.texts[Standing] = wordFor(decidedOf(report.decisions));
    row.texts[What] = candidate.number.isEmpty()
                          ? tr("Valve not in the inventory")
                          : tr("Valve not in the inventory, marked %1").arg(candidate.number);
    row.texts[Evidence] = wordsFor(candidate.evidence, m_session.units());
    QStringList words{sizeText(candidate.size, m_session.units()), candidate.words};
    for (const CandidateNote &note : report.notes) {
        words << note.words;
    }
    words.removeAll(QString());
    row.texts[Words] = words.join(QStringLiteral("; "));
    row.texts[By] = candidate.by.person;
    row.texts[When] = whenWords(candidate.by.at);
    row.texts[Decision] = decisionWords(report.decisions);
    return row;
}

FieldReportModel::ReportId FieldReportModel::reportAt(int row) const
{
    return m_rows.at(std::size_t(row)).report;
}

int FieldReportModel::rowOf(const ReportId &report) const
{
    const auto found = std::ranges::find(m_rows, report, &Row::report);
    return found == m_rows.end() ? -1 : int(found - m_rows.begin());
}

int FieldReportModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : int(m_rows.size());
}

int FieldReportModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : int(ColumnCount);
}

QVariant FieldReportModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const Row &row = m_rows.at(std::size_t(index.row()));
    if (role == Qt::DisplayRole) {
        return row.texts.at(std::size_t(index.column()));
    }
    if (role == DataTable::sortRole && index.column() == Moved) {
        return row.metres;
    }
    return {};
}

QVariant FieldReportModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (role != Qt::DisplayRole || orientation != Qt::Horizontal) {
        return {};
    }
    switch (Column(section)) {
    case Standing:
        return tr("State");
    case What:
        return tr("What");
    case Moved:
        return tr("From the map's place");
    case Evidence:
        return tr("How it is known");
    case Words:
        return tr("In words");
    case By:
        return tr("Reported by");
    case When:
        return tr("When");
    case Decision:
        return tr("Decided");
    case ColumnCount:
        break;
    }
    return {};
}

} // namespace keyround
