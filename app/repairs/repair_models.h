// SPDX-License-Identifier: GPL-3.0-or-later
// The backlog, what nobody has decided on yet, what was sent, and what a file of answers would do,
// as tables. Read when asked to (reload()): the figures follow from all visits.
#pragma once

#include "app/shell/session.h"
#include "core/repairs/backlog.h"
#include "core/repairs/repair_answers.h"
#include "core/reports/table.h"

#include <QAbstractTableModel>

namespace keyround {

/// A table of texts with headings; some columns are numbers, by which they are sorted.
class TextModel : public QAbstractTableModel
{
    Q_OBJECT
public:
    explicit TextModel(QStringList headings, QList<int> numberColumns = {},
                       QObject *parent = nullptr);
    void setRows(std::vector<QStringList> rows);

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    QStringList m_headings;
    QList<int> m_numberColumns;
    std::vector<QStringList> m_rows;
};

class RequestModel final : public TextModel
{
    Q_OBJECT
public:
    enum Column {
        Number,
        ValveNumber,
        Found,
        Department,
        UrgencyColumn,
        State,
        Age,
        Overdue,
        Services,
        Where,
        ColumnCount
    };
    explicit RequestModel(Session &session, QObject *parent = nullptr);
    void reload(bool withClosed);

    [[nodiscard]] RequestId requestAt(int row) const;
    [[nodiscard]] int rowOf(const RequestId &request) const; ///< -1: not shown
    [[nodiscard]] BacklogCounts counts() const { return m_counts; }
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;

private:
    Session &m_session;
    std::vector<RequestId> m_requests;
    std::vector<int> m_urgencies;
    std::vector<bool> m_areOverdue;
    BacklogCounts m_counts;
};

class ProposalModel final : public TextModel
{
    Q_OBJECT
public:
    explicit ProposalModel(Session &session, QObject *parent = nullptr);
    void reload();
    [[nodiscard]] const std::vector<RepairProposal> &proposals() const { return m_proposals; }

private:
    Session &m_session;
    std::vector<RepairProposal> m_proposals;
};

[[nodiscard]] std::vector<QStringList> sentRows(Session &session);
[[nodiscard]] std::vector<QStringList> answerRows(const AnswerPlan &plan);

} // namespace keyround
