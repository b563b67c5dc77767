// SPDX-License-Identifier: GPL-3.0-or-later
// What customers are told before their water goes off, in the utility's own words: plain text with
// named fields in braces, {date} or {address}. A field that does not exist is refused, so that
// nothing unfilled hangs on a door. The wordings that come with the program are examples (common
// practice, no source). Whether water is safe to drink afterwards, and what a boil-water notice
// says, is the utility's and its regulator's to say, never this program's.
#pragma once

#include "core/common/result.h"

#include <QDate>
#include <QString>
#include <QStringList>
#include <QTime>

#include <optional>
#include <vector>

namespace keyround {

enum class NoticeForm { DoorHanger, Letter, Call };
[[nodiscard]] QString wordFor(NoticeForm form); ///< "door hanger", "letter", "call"
[[nodiscard]] QString keyFor(NoticeForm form);  ///< "door_hanger", "letter", "call"
[[nodiscard]] std::optional<NoticeForm> noticeFormFromKey(const QString &key);

struct NoticeTemplate
{
    QString name; ///< unique: "Door hanger, English"
    NoticeForm form = NoticeForm::DoorHanger;
    QString language; ///< BCP 47, for how days and hours are written: "en-US", "es-US"
    QString title;    ///< may have fields too
    QString text;
    friend bool operator==(const NoticeTemplate &, const NoticeTemplate &) = default;
};

/// The examples: door hanger, letter and words for a call, in English and Spanish.
[[nodiscard]] std::vector<NoticeTemplate> exampleNotices();

struct NoticeTemplates
{
    std::vector<NoticeTemplate> list = exampleNotices();
    QString contact;       ///< for questions: "555-0100, weekdays 8 to 5"
    QString senderAddress; ///< on letters, lines parted by line ends
    /// Names and phones older than so many days are offered for deletion.
    int keepContactDays = 365;
    friend bool operator==(const NoticeTemplates &, const NoticeTemplates &) = default;
};
/// Null when there is none; names are compared without case.
[[nodiscard]] const NoticeTemplate *templateNamed(const NoticeTemplates &templates,
                                                  const QString &name);

/// Why the water goes off, where nobody says it otherwise: for exercising a valve, in the language
/// of the wording (English or Spanish; English for others).
[[nodiscard]] QString usualReason(const QString &language);

/// The hours to announce for work that is planned from one time to another: the full half hours
/// around it (common practice, no source).
struct NoticeWindow
{
    QTime from;
    QTime to;
};
[[nodiscard]] NoticeWindow windowFor(const QTime &from, const QTime &to);

/// What is the same on all notices of one job.
struct NoticeFacts
{
    QDate day;
    QTime from;
    QTime to;
    QString why; ///< "We exercise the valve at ... so that it holds when a main breaks."
    QString utility;
    QString contact;
};

/// One service that will be without water. Customer and phone only where the utility keeps them.
struct NoticeRecipient
{
    QString service;
    QString address;
    QString customer;
    QString phone;
    bool critical = false;
    friend bool operator==(const NoticeRecipient &, const NoticeRecipient &) = default;
};

/// The names of all fields, as they are written between braces.
[[nodiscard]] const QStringList &noticeFields();

/// BadInput names the unknown field and those that there are, or the brace without its partner.
/// Two braces stand for one: "{{".
[[nodiscard]] Status checkNoticeText(const QString &text);
/// Name, title and text of a whole wording.
[[nodiscard]] Status checkTemplate(const NoticeTemplate &wording);

struct NoticeWords
{
    QString title;
    QString text;
};
/// Filled in. BadInput as checkTemplate(), and where a field that the wording names has nothing
/// to stand there (no contact is set, no day is given); a customer without a name is "Customer".
[[nodiscard]] Result<NoticeWords> noticeWords(const NoticeTemplate &wording,
                                              const NoticeFacts &facts,
                                              const NoticeRecipient &recipient);

} // namespace keyround
