// SPDX-License-Identifier: GPL-3.0-or-later
// What the crew reports about the inventory, and what the office makes of it. A report is written
// once; a decision can be undone, which is written down as well.
#pragma once

#include "app/commands/command.h"
#include "core/fieldlog/field_reports.h"

namespace keyround {

/// Proposes the fix as the valve's place. Refused for a fix that was not measured, and where the
/// same place waits for the office already. Whether it is worth proposing: isWorthProposing().
[[nodiscard]] Result<ProposalId> proposePlace(Session &session, const ValveId &valve,
                                              const PositionFix &fix, const QString &words = {});
/// The same for a place that somebody pointed at on the map.
[[nodiscard]] Result<ProposalId> proposePlace(Session &session, const ValveId &valve,
                                              const GeoPoint &place, const QString &words);

/// Writes down a valve that the inventory does not have. Id and signature are filled in; a place is
/// needed, and something that is known of it: a number, a size or words.
[[nodiscard]] Result<CandidateId> reportCandidate(Session &session, ValveCandidate candidate);
[[nodiscard]] Status noteOnCandidate(Session &session, const CandidateId &candidate,
                                     const QString &words);

/// The valve that a candidate would become: its place, number, size, and what was said of it as
/// remarks. The office completes it.
[[nodiscard]] Valve valveFrom(const ReportedValve &report);

/// Accepts a proposed place (the valve moves; its edit record keeps the old place and why) or
/// refuses it. A refusal needs a reason.
class DecidePlace final : public Command
{
public:
    DecidePlace(Session &session, const ProposalId &proposal, Decided decided, QString why);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    [[nodiscard]] Status moveValve(const std::optional<GeoPoint> &expected, const GeoPoint &to,
                                   const QString &why);

    ProposalId m_proposal;
    Decided m_decided;
    QString m_why;
    GeoPoint m_before; ///< the valve's place when it was accepted; may be no place
};

/// Makes a candidate a valve with these values, or (without one) refuses it with a reason. Undo
/// retires the valve.
class DecideCandidate final : public Command
{
public:
    DecideCandidate(Session &session, const CandidateId &candidate, std::optional<Valve> becomes,
                    QString why);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    CandidateId m_candidate;
    std::optional<Valve> m_valve;
    QString m_why;
    bool m_isStored = false; ///< the valve is in the file, perhaps retired by an undo
};

} // namespace keyround
