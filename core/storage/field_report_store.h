// SPDX-License-Identifier: GPL-3.0-or-later
// Proposed places and candidates in the project file: rows of the log, written once and never
// changed, and the office's decisions after them.
#pragma once

#include "core/common/result.h"
#include "core/fieldlog/field_reports.h"

namespace keyround {

class Project;

class FieldReportStore
{
public:
    explicit FieldReportStore(Project &project, QString connection);

    /// Ids and stamps must be set, and places valid (BadInput). Writing the same row twice is no
    /// error.
    [[nodiscard]] Status add(const PlaceProposal &proposal);
    [[nodiscard]] Status add(const ValveCandidate &candidate);
    [[nodiscard]] Status add(const CandidateNote &note);
    [[nodiscard]] Status add(const ReportDecision &decision);

    /// A note or decision whose report is not here (its laptop's rows have not come in yet) is
    /// kept in the file and waits.
    [[nodiscard]] Result<FieldReports> all() const;

private:
    [[nodiscard]] Status takeProposals(FieldReports &reports) const;
    [[nodiscard]] Status takeCandidates(FieldReports &reports) const;

    Project &m_project;
    QString m_connection;
};

} // namespace keyround
