// SPDX-License-Identifier: GPL-3.0-or-later
// What the crew tells the office about the inventory: that a valve's lid lies elsewhere than the
// map says, and that there is a valve which the inventory does not have (a candidate). Written once
// and never changed or lost; what the office decided, and any change of its mind, is written after
// it, with why.
//
// A candidate carries notes of its own, not visits: a visit belongs to a valve with a number and a
// baseline, and there is none until the office says so. Once accepted it is a valve like any other.
#pragma once

#include "core/common/ids.h"
#include "core/fieldlog/fix.h"

#include <vector>

namespace keyround {

using ProposalId = Id<struct ProposalTag>;
using CandidateId = Id<struct CandidateTag>;
using CandidateNoteId = Id<struct CandidateNoteTag>;
using DecisionId = Id<struct DecisionTag>;

/// Who wrote a report, on which laptop, when.
struct ReportSigned
{
    Moment at;
    QString person;
    QString device;
    HybridTime stamp;
    friend bool operator==(const ReportSigned &, const ReportSigned &) = default;
};

/// How a reported place was come by.
struct PlaceEvidence
{
    bool isFix = false; ///< else it was pointed at on the map
    FixQuality quality = FixQuality::NotSaid;
    FixSource source = FixSource::Receiver;
    std::optional<Metres> accuracy;
    std::optional<int> satellites;
    friend bool operator==(const PlaceEvidence &, const PlaceEvidence &) = default;
};
[[nodiscard]] PlaceEvidence evidenceOf(const PositionFix &fix);
/// "satellite fix, 9 satellites, about 15 ft"; "pointed at on the map".
[[nodiscard]] QString wordsFor(const PlaceEvidence &evidence, UnitSystem units);

struct PlaceProposal
{
    ProposalId id;
    ValveId valve;
    std::optional<GeoPoint> listed; ///< where the map had it; empty when nowhere
    GeoPoint proposed;
    PlaceEvidence evidence;
    QString words;
    ReportSigned by;
    friend bool operator==(const PlaceProposal &, const PlaceProposal &) = default;
};

/// Metres that the proposal would move the valve by; empty when the map had no place.
[[nodiscard]] std::optional<Metres> moveOf(const PlaceProposal &proposal);

/// True when a fix says more than the map does: the map has no place, or the fix is measured and
/// lies farther off than it may be wrong by itself (3 m where it does not say).
[[nodiscard]] bool isWorthProposing(const std::optional<GeoPoint> &listed, const PositionFix &fix);

struct ValveCandidate
{
    CandidateId id;
    GeoPoint place;
    PlaceEvidence evidence;
    QString number; ///< as marked in the field; often empty
    NominalSize size;
    QString words; ///< what is known: lid, nut, which main, near what
    RoundId round; ///< the round that found it; may be null
    ReportSigned by;
    friend bool operator==(const ValveCandidate &, const ValveCandidate &) = default;
};

/// Something more about a candidate.
struct CandidateNote
{
    CandidateNoteId id;
    CandidateId candidate;
    QString words;
    ReportSigned by;
    friend bool operator==(const CandidateNote &, const CandidateNote &) = default;
};

enum class Decided {
    Open,
    Accepted,
    Refused,
};
[[nodiscard]] QString wordFor(Decided decided);
[[nodiscard]] QString keyFor(Decided decided);
[[nodiscard]] std::optional<Decided> decidedFromKey(const QString &key);

struct ReportDecision
{
    DecisionId id;
    QUuid report; ///< the proposal or candidate
    Decided decided = Decided::Open;
    ValveId valve; ///< that a candidate became
    QString why;
    ReportSigned by;
    friend bool operator==(const ReportDecision &, const ReportDecision &) = default;
};

struct ReportedPlace
{
    PlaceProposal proposal;
    std::vector<ReportDecision> decisions; ///< by stamp: the last one holds
};

struct ReportedValve
{
    ValveCandidate candidate;
    std::vector<CandidateNote> notes; ///< by stamp
    std::vector<ReportDecision> decisions;
};

[[nodiscard]] Decided decidedOf(const std::vector<ReportDecision> &decisions);

/// All of a project's, newest first.
struct FieldReports
{
    std::vector<ReportedPlace> places;
    std::vector<ReportedValve> valves;

    [[nodiscard]] const ReportedPlace *find(const ProposalId &id) const;
    [[nodiscard]] const ReportedValve *find(const CandidateId &id) const;
    /// Those that wait for the office.
    [[nodiscard]] std::size_t openCount() const;
};

} // namespace keyround
