// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/repair_answers.h"

#include <algorithm>
#include <array>

namespace keyround {

namespace {

struct AnswerWord
{
    const char *word; ///< letters only, lower case
    RepairStep step;
};
// Common sense, no source: the words that people write into such a column.
constexpr std::array answerWords{
    AnswerWord{"scheduled", RepairStep::Scheduled},
    AnswerWord{"planned", RepairStep::Scheduled},
    AnswerWord{"booked", RepairStep::Scheduled},
    AnswerWord{"assigned", RepairStep::Scheduled},
    AnswerWord{"done", RepairStep::Done},
    AnswerWord{"completed", RepairStep::Done},
    AnswerWord{"complete", RepairStep::Done},
    AnswerWord{"finished", RepairStep::Done},
    AnswerWord{"repaired", RepairStep::Done},
    AnswerWord{"fixed", RepairStep::Done},
    AnswerWord{"replaced", RepairStep::Done},
    AnswerWord{"declined", RepairStep::Withdrawn},
    AnswerWord{"rejected", RepairStep::Withdrawn},
    AnswerWord{"nottobedone", RepairStep::Withdrawn},
    AnswerWord{"withdrawn", RepairStep::Withdrawn},
    AnswerWord{"cancelled", RepairStep::Withdrawn},
    AnswerWord{"canceled", RepairStep::Withdrawn},
    AnswerWord{"note", RepairStep::Noted},
    AnswerWord{"noted", RepairStep::Noted},
};

QString lettersOf(const QString &text)
{
    QString letters;
    for (const QChar each : text.toLower()) {
        if (each.isLetter()) {
            letters += each;
        }
    }
    return letters;
}

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

/// True when any step of the request says the same.
bool saysAlready(const RepairRequest &request, const RepairAnswer &answer)
{
    return std::ranges::any_of(request.life, [&answer](const RepairEvent &event) {
        return event.step == *answer.step && event.on == answer.on && event.party == answer.by &&
               event.words == answer.words;
    });
}

/// Why the answer cannot be taken; empty when it can.
QString refusal(const RepairBook &book, const RepairRequest *request, const RepairAnswer &answer,
                const QDate &today)
{
    if (!answer.fault.isEmpty()) {
        return answer.fault;
    }
    if (request == nullptr) {
        const QString number = requestNumberFrom(answer.number);
        if (number.isEmpty()) {
            return QStringLiteral("\"%1\" is no request's number: one of its signs is wrong. "
                                  "Compare it with the sheet.")
                .arg(answer.number);
        }
        return book.sharedNumbers.contains(number)
                   ? QStringLiteral("two requests have the number %1. Withdraw one and open it "
                                    "anew.")
                         .arg(number)
                   : QStringLiteral("this project has no request %1").arg(number);
    }
    if (!request->isOpen()) {
        return QStringLiteral("%1 is %2 since %3. A visit that shows it again reopens it.")
            .arg(request->number, wordFor(request->state), iso(request->closedOn));
    }
    if (answer.on.isNull() && *answer.step == RepairStep::Done) {
        return QStringLiteral("the day on which it was done is missing");
    }
    if (*answer.step == RepairStep::Done && answer.on > today) {
        return QStringLiteral("%1 is still to come: something that is done has a day that is past")
            .arg(iso(answer.on));
    }
    if (answer.on.isValid() && answer.on < request->since) {
        return QStringLiteral("%1 is before the fault was found (%2)")
            .arg(iso(answer.on), iso(request->since));
    }
    if (*answer.step == RepairStep::Withdrawn && answer.words.isEmpty()) {
        return QStringLiteral("why it is not to be done is missing");
    }
    if (answer.isReplaced && *answer.step != RepairStep::Done) {
        return QStringLiteral("it gives a new valve, but does not say that the work is done");
    }
    return {};
}

PlannedAnswer planOne(const RepairBook &book, RepairAnswer answer, const QDate &today)
{
    PlannedAnswer planned;
    const RepairRequest *request = book.byTypedNumber(answer.number);
    if (request != nullptr) {
        planned.request = request->id;
    }
    if (!answer.step && answer.fault.isEmpty()) {
        planned.fate = AnswerFate::Blank;
        planned.words = QStringLiteral("not answered");
    } else if (request != nullptr && answer.fault.isEmpty() && saysAlready(*request, answer)) {
        planned.fate = AnswerFate::Known;
        planned.words = QStringLiteral("known already");
    } else if (const QString why = refusal(book, request, answer, today); !why.isEmpty()) {
        planned.words = why;
    } else {
        planned.fate = AnswerFate::Taken;
        planned.words =
            QStringLiteral("%1 -> %2%3")
                .arg(wordFor(request->state), wordFor(*answer.step),
                     answer.on.isValid() ? QStringLiteral(" on ") + iso(answer.on) : QString());
        if (answer.isReplaced) {
            planned.words += QStringLiteral(", valve replaced");
        }
    }
    planned.answer = std::move(answer);
    return planned;
}

} // namespace

std::optional<RepairStep> answerStepFrom(const QString &text)
{
    const QString letters = lettersOf(text);
    const auto *const found = std::ranges::find_if(answerWords, [&letters](const AnswerWord &each) {
        return letters == QLatin1String(each.word);
    });
    return found == answerWords.end() ? std::nullopt : std::optional(found->step);
}

bool saysReplaced(const QString &text)
{
    return lettersOf(text) == QLatin1String("replaced");
}

QString wordsFor(const AnswerPlan &plan)
{
    return QStringLiteral("%1 taken, %2 known already, %3 not answered, %4 refused")
        .arg(plan.taken)
        .arg(plan.known)
        .arg(plan.blank)
        .arg(plan.refused);
}

AnswerPlan planAnswers(const RepairBook &book, std::vector<RepairAnswer> answers,
                       const QString &source, const QDate &today)
{
    AnswerPlan plan;
    plan.source = source;
    QHash<RequestId, qint64> rows;
    for (RepairAnswer &answer : answers) {
        PlannedAnswer planned = planOne(book, std::move(answer), today);
        if (planned.fate == AnswerFate::Taken) {
            const qint64 first = rows.value(planned.request);
            if (first != 0) {
                planned.fate = AnswerFate::Refused;
                planned.words =
                    QStringLiteral("row %1 answers the same request; that row counts").arg(first);
            } else {
                rows.insert(planned.request, planned.answer.row);
            }
        }
        plan.taken += planned.fate == AnswerFate::Taken ? 1 : 0;
        plan.known += planned.fate == AnswerFate::Known ? 1 : 0;
        plan.blank += planned.fate == AnswerFate::Blank ? 1 : 0;
        plan.refused += planned.fate == AnswerFate::Refused ? 1 : 0;
        plan.rows.push_back(std::move(planned));
    }
    return plan;
}

RepairEvent eventFor(const PlannedAnswer &planned, const QString &how)
{
    RepairEvent event;
    event.request = planned.request;
    event.step = planned.answer.step.value_or(RepairStep::Noted);
    event.on = planned.answer.on;
    event.party = planned.answer.by;
    event.words = planned.answer.words;
    event.how = how;
    return event;
}

Valve valveAfter(Valve valve, const RepairAnswer &answer)
{
    valve.installYear = answer.installYear ? answer.installYear : answer.on.year();
    valve.listedTurns = answer.turns;
    if (answer.size.isKnown()) {
        valve.size = answer.size;
    }
    if (answer.type) {
        valve.type = *answer.type;
    }
    return valve;
}

} // namespace keyround
