// SPDX-License-Identifier: GPL-3.0-or-later
// Notices on paper: door hangers to cut, letters, a list to call by; and the list of services as
// CSV. Window and console use the same functions. What goes to customers carries no page head.
#pragma once

#include "app/commands/notice_commands.h"
#include "app/print/page_run.h"
#include "core/exchange/write_files.h"
#include "core/reports/sheet.h"

namespace keyround {

/// How a job's notices are worded: of several languages, one after the other on each hanger's turn.
struct NoticePrint
{
    std::vector<NoticeTemplate> wordings;
    QString why;     ///< empty: the usual reason
    QString contact; ///< empty: the project's
};

/// Three to a landscape page with lines to cut and the place of the hole; a service gets one of
/// each wording. BadInput where a wording cannot be filled or is too long for a hanger.
[[nodiscard]] Status writeDoorHangers(Session &session, const NoticeJob &job,
                                      const NoticePrint &print, const QString &path);
/// A page each, the address where a window envelope shows it.
[[nodiscard]] Status writeLetters(Session &session, const NoticeJob &job, const NoticePrint &print,
                                  const QString &path);

/// Who is called, with what to say and room to write down what came of it. Those who cannot go
/// without water first.
[[nodiscard]] Result<Sheet> callSheet(Session &session, const NoticeJob &job,
                                      const NoticePrint &print);
[[nodiscard]] Status writeCallList(Session &session, const NoticeJob &job, const NoticePrint &print,
                                   const QString &path);
/// Number, address, customer, phone, critical.
[[nodiscard]] CsvTable recipientsTable(const NoticeJob &job);
[[nodiscard]] Status writeRecipientsCsv(const NoticeJob &job, const QString &path);

/// All notices that were given: when, for what, how many, how, by whom.
[[nodiscard]] Status writeNoticeLog(Session &session, const QString &path);

/// By the form of the wordings, which must be one: hangers, letters or the call list.
[[nodiscard]] Status writeNotices(Session &session, const NoticeJob &job, const NoticePrint &print,
                                  const QString &path);

/// The hangers as pages, for the preview.
[[nodiscard]] Result<std::vector<PaperPart>> hangerPaper(Session &session, const NoticeJob &job,
                                                         const NoticePrint &print);
[[nodiscard]] Result<std::vector<PaperPart>> letterPaper(Session &session, const NoticeJob &job,
                                                         const NoticePrint &print);

/// Any of the three.
[[nodiscard]] Result<std::vector<PaperPart>> noticePaper(Session &session, const NoticeJob &job,
                                                         const NoticePrint &print, NoticeForm form);

} // namespace keyround
