// SPDX-License-Identifier: GPL-3.0-or-later
// Who must be told before water goes off, and that they were told. What is recorded is written once
// and cannot be undone. A list of customers is personal data: it is made when a notice is made, and
// kept nowhere else.
#pragma once

#include "app/commands/command.h"
#include "core/dayplan/notice_text.h"

namespace keyround {

/// One planned shut that customers are told of.
struct NoticeJob
{
    ValveId valve;                           ///< that takes the water; of a larger shut its first
    QString what;                            ///< "valve 00076 at 709 Pelican Circle"
    std::vector<NoticeRecipient> recipients; ///< by street and house number
    QDate day;
    QTime from;
    QTime to;
    QDateTime latest; ///< when notice must be given, by the project's lead time
};

/// The services that go dry when this valve alone is shut. The window is the time of day given, or
/// an hour from the shift's beginning. Nobody to tell is an empty list, not an error.
[[nodiscard]] NoticeJob noticeJobFor(Session &session, const ValveId &valve, const QDate &day,
                                     const std::optional<NoticeWindow> &window = {});
/// Everybody who is without water by the plan, beyond the shut too.
[[nodiscard]] NoticeJob noticeJobFor(Session &session, const ShutPlan &plan, const QDate &day,
                                     const std::optional<NoticeWindow> &window = {});
/// The stops of a round that take somebody's water, in order, with the hours that they are planned
/// for.
[[nodiscard]] Result<std::vector<NoticeJob>> noticeJobsOf(Session &session, const Round &round);

/// What the notices of a job say alike; the reason is the usual one where none is given.
[[nodiscard]] NoticeFacts factsOf(Session &session, const NoticeJob &job,
                                  const NoticeTemplate &wording, const QString &why = {});

/// What was done about it.
struct NoticeGiven
{
    QDate forDay;    ///< null: no day was named
    QString how;     ///< "door hangers", "by phone"
    int told = 0;    ///< how many services
    QString wording; ///< the template's name; may be empty
};
/// Writes down that customers were told of this job. BadInput for nobody, or for more than there
/// are.
[[nodiscard]] Status recordNotice(Session &session, const NoticeJob &job, const NoticeGiven &given);
/// The same for all services of one valve.
[[nodiscard]] Status giveNotice(Session &session, const ValveId &valve, const QDate &forDay,
                                const QString &how);

/// Names and phones that came in before a day; see LayerStore.
struct ContactPurge
{
    QDate before;
    int services = 0; ///< whose name or phone would go
    int undated = 0;  ///< of them: nobody knows when they came in
    int kept = 0;     ///< services that keep theirs
    int backups = 0;  ///< back-up files beside the project, which hold the old data
};
[[nodiscard]] Result<ContactPurge> previewPurge(Session &session, const QDate &before);
/// Deletes them for good: it cannot be undone, and the undo list is emptied so that nothing brings
/// them back. The log keeps when, by whom and how many, never what.
[[nodiscard]] Result<ContactPurge> purgeContacts(Session &session, const QDate &before);
/// Both in words: "12 services have a name or a phone from before 2025-03-16 ...".
[[nodiscard]] QString purgeWords(const ContactPurge &purge, bool isDone);

} // namespace keyround
