// SPDX-License-Identifier: GPL-3.0-or-later
// What crews reported about the inventory, as a table: proposed places and valves that the
// inventory does not have, those that wait for the office first. Follows the session's notifier.
#pragma once

#include "core/fieldlog/field_reports.h"

#include <QAbstractTableModel>

#include <variant>
#include <vector>

namespace keyround {

class Session;

class FieldReportModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    enum Column { Standing, What, Moved, Evidence, Words, By, When, Decision, ColumnCount };
    using ReportId = std::variant<ProposalId, CandidateId>;

    explicit FieldReportModel(Session &session, QObject *parent = nullptr);

    [[nodiscard]] ReportId reportAt(int row) const;
    [[nodiscard]] int rowOf(const ReportId &report) const; ///< -1 when it is not there

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    struct Row
    {
        ReportId report;
        std::array<QString, ColumnCount> texts;
        double metres = 0; ///< to sort by
        bool isOpen = false;
    };
    void reload();
    [[nodiscard]] Row rowFor(const ReportedPlace &report) const;
    [[nodiscard]] Row rowFor(const ReportedValve &report) const;

    Session &m_session;
    std::vector<Row> m_rows;
};

} // namespace keyround
