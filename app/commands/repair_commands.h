// SPDX-License-Identifier: GPL-3.0-or-later
// Everything that is recorded of repairs. Rows are written once and never changed: undoing a
// command writes rows that take its rows back, and doing it again takes those back in turn.
#pragma once

#include "app/commands/command.h"
#include "core/repairs/backlog.h"

#include <optional>

namespace keyround {

/// How many services lose water if a valve fails when something breaks beside it. Empty without
/// mains. Builds the pipe network where it is not built yet.
[[nodiscard]] ShutStakes servicesAtStake(Session &session);
[[nodiscard]] std::vector<BacklogRow> backlogOf(Session &session, bool withClosed = false);
[[nodiscard]] std::vector<RepairProposal> proposalsOf(Session &session);

/// A valve that was replaced: the row, and what the valve in the ground is now.
struct ValveReplaced
{
    Replacement replacement; ///< valve and day; the rest is filled in
    Valve after;             ///< the inventory's fields as they should read from now on
};

/// Writes rows of requests, in one transaction with the valves that were replaced. Who, when, ids
/// and stamps are filled in.
class RecordRepairs final : public Command
{
public:
    RecordRepairs(Session &session, std::vector<RepairEvent> events, const QString &text,
                  std::vector<ValveReplaced> replaced = {});

    [[nodiscard]] const std::vector<RepairEvent> &events() const { return m_events; }

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    [[nodiscard]] Status sign(RepairEvent &event);
    [[nodiscard]] Status writeNew();
    [[nodiscard]] Status writeReplaced();
    [[nodiscard]] Status takeBack(bool restoreAfter);

    std::vector<RepairEvent> m_events;
    std::vector<ValveReplaced> m_replaced;
    std::vector<Valve> m_before; ///< of the valves that were replaced
    // What the last undo or redo wrote; taken back by the next one. Empty until the first undo.
    std::vector<RepairEvent> m_backs;
    std::vector<Replacement> m_replacementBacks;
    bool m_isWritten = false;
};

// The steps of a request's life, as rows for RecordRepairs.
[[nodiscard]] RepairEvent sentEvent(const RequestId &request, const QDate &on, const QString &to,
                                    const QString &how);
[[nodiscard]] RepairEvent scheduledEvent(const RequestId &request, const QDate &day,
                                         const QString &with);
[[nodiscard]] RepairEvent doneEvent(const RequestId &request, const QDate &on, const QString &by,
                                    const QString &work);
[[nodiscard]] RepairEvent withdrawnEvent(const RequestId &request, const QDate &on,
                                         const QString &why);
[[nodiscard]] RepairEvent notedEvent(const RequestId &request, const QDate &on,
                                     const QString &words);

/// Says yes to proposals: the rows of all of them, in one command. How many were taken.
[[nodiscard]] Result<int> acceptProposals(Session &session,
                                          const std::vector<RepairProposal> &proposals);
/// Pushes one command for the events.
[[nodiscard]] Status recordRepairs(Session &session, std::vector<RepairEvent> events,
                                   const QString &text, std::vector<ValveReplaced> replaced = {});

} // namespace keyround
