// SPDX-License-Identifier: GPL-3.0-or-later
// Visits in the project file: written once, never changed, never deleted; each with a hash of its
// content. And the half-typed stop, saved at every change, so that a power cut costs nothing.
#pragma once

#include "core/common/result.h"
#include "core/fieldlog/clock_check.h"
#include "core/fieldlog/visit.h"

#include <QJsonObject>

#include <optional>
#include <vector>

namespace keyround {

class Project;
struct Author;

/// A visit whose moments were taken from a clock that was doubted.
struct ClockNote
{
    VisitId visit;
    ClockFault fault = ClockFault::None;
    Moment shown;                   ///< what the clock said
    std::int64_t offsetSeconds = 0; ///< from the record before to that; negative: behind it
};

/// A stop that is being recorded: the Truck's fields as they stand. The content is the Truck's
/// own JSON; storage keeps it as it is.
struct StopDraft
{
    RoundId round;
    ValveId valve;
    QJsonObject content;
    Moment savedAt;
};

class VisitStore
{
public:
    explicit VisitStore(Project &project, QString connection);

    /// All visits that were not set aside on opening, superseded ones too, by stamp.
    [[nodiscard]] Result<std::vector<Visit>> all() const;
    [[nodiscard]] Result<std::vector<Visit>> ofValve(const ValveId &valve) const;

    enum class Added { New, AlreadyThere };
    /// Adds a visit; its id and stamp must be set. A visit that is there already with the same
    /// content is no error; one with the same id and other content is (Damaged).
    [[nodiscard]] Result<Added> add(const Visit &visit);
    /// Adds many, all or none, with the statements prepared once; how many were new.
    [[nodiscard]] Result<int> addAll(const std::vector<Visit> &visits);

    /// Says of a visit that it was recorded by a doubtful clock. With the visit, in one
    /// transaction.
    [[nodiscard]] Status noteClock(const VisitId &visit, const ClockCheck &check,
                                   const Author &author);
    [[nodiscard]] Result<std::vector<ClockNote>> clockNotes() const; ///< by stamp

    [[nodiscard]] Status saveDraft(const StopDraft &draft);
    [[nodiscard]] Result<std::vector<StopDraft>> drafts() const;
    [[nodiscard]] Status dropDraft(const RoundId &round, const ValveId &valve);

private:
    Project &m_project;
    QString m_connection;
};

/// The visit as canonical JSON: sorted keys, compact, UTF-8. What is stored and hashed.
[[nodiscard]] QByteArray canonicalJson(const Visit &visit);
/// Reads it back; fails with Damaged where it cannot be read.
[[nodiscard]] Result<Visit> visitFromJson(const QByteArray &json);
/// SHA-256 over the visit's canonical JSON (sorted keys, UTF-8), as hex.
[[nodiscard]] QString contentHash(const Visit &visit);

} // namespace keyround
