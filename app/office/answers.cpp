// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/answers.h"

#include "app/office/answer_parts.h"
#include "core/reports/review_tables.h"
#include "core/reports/valve_words.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

using Kind = AnswerColumn::Kind;

Answer dispatched(const AnswerTask &task)
{
    switch (task.asked.question) {
    case Question::Pace:
        return paceAnswer(task);
    case Question::State:
        return stateAnswer(task);
    case Question::Changes:
        return changesAnswer(task);
    case Question::Ageing:
        return ageingAnswer(task);
    case Question::Turns:
        return turnsAnswer(task);
    case Question::Next:
        return nextAnswer(task);
    case Question::WhatIf:
        break;
    }
    return whatIfAnswer(task);
}

/// Why there are fewer valves here than in the project.
QString leftOutWords(const AnswerTask &task)
{
    const std::vector<Valve> &all = task.session.valves();
    const auto retired = std::ranges::count_if(all, [&task](const Valve &valve) {
        return valve.retired && task.asked.scope.filter.takes(valve);
    });
    return retired == 0   ? QString()
           : retired == 1 ? officeSay("Left out: 1 retired valve.")
                          : officeSay("Left out: %1 retired valves.").arg(retired);
}

/// The filter stands in the sentence and on the picture, so that neither travels without
/// it; beside every row of the figures too.
void writeFilter(Answer &answer, const QString &filterWords)
{
    if (filterWords.isEmpty()) {
        return;
    }
    answer.sentence = officeSay("%1 Counted: %2.").arg(answer.sentence, filterWords);
    answer.picture.filterWords = officeSay("Counted: %1").arg(filterWords);
    answer.picture.figures = counted(std::move(answer.picture.figures), filterWords);
}

} // namespace

QString valvesText(size_t count)
{
    return count == 1 ? officeSay("1 valve") : officeSay("%1 valves").arg(count);
}

QString joinedCautions(QStringList sentences)
{
    sentences.removeAll(QString());
    return sentences.join(QLatin1Char(' '));
}

QString foundWords(const ReadVisit &read)
{
    QStringList words;
    if (read.judgement.counted.value > 0) {
        words << officeSay("%1 turns, %2")
                     .arg(turnsText(read.judgement.counted), wordFor(read.judgement.verdict));
    }
    words << problemWords(read.visit) << read.visit.remarks;
    words.removeAll(QString());
    return words.join(QStringLiteral("; "));
}

const ReadVisit *visitWith(const ValveHistory &history, const VisitId &id)
{
    const auto found = std::ranges::find_if(
        history.visits, [&](const ReadVisit &read) { return read.visit.id == id; });
    return found == history.visits.end() ? nullptr : &*found;
}

QString chosenWords(const ChartPicture &picture, int item)
{
    if (item < 0 || item >= static_cast<int>(picture.items.size())) {
        return {};
    }
    QStringList lines =
        picture.items[static_cast<size_t>(item)].words.split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    for (QString &line : lines) {
        line = line.trimmed();
        if (!line.endsWith(QLatin1Char('.')) && !line.endsWith(QLatin1Char(':'))) {
            line += QLatin1Char('.');
        }
    }
    return lines.join(QLatin1Char(' '));
}

int severityOf(Condition condition)
{
    switch (condition) {
    case Condition::CannotReach:
        return 5;
    case Condition::DoesNotTurn:
        return 4;
    case Condition::DoesNotShut:
        return 3;
    case Condition::Defect:
        return 2;
    case Condition::NeverVisited:
        return 1;
    case Condition::Serviceable:
        break;
    }
    return 0;
}

QList<AnswerColumn> answerColumns(Question question)
{
    const AnswerColumn valve{officeSay("Valve"), Kind::Text};
    const AnswerColumn what{officeSay("What"), Kind::Text, true};
    const AnswerColumn date{officeSay("Date"), Kind::Text};
    const AnswerColumn now{officeSay("Condition now"), Kind::Condition};
    const AnswerColumn found{officeSay("The visit found"), Kind::Text, true};
    switch (question) {
    case Question::Pace:
        return {valve,
                what,
                {officeSay("Asked a year"), Kind::Number},
                {officeSay("Full cycles"), Kind::Number},
                {officeSay("Visited on"), Kind::Text},
                now,
                found};
    case Question::State:
        return {valve,
                what,
                date,
                {officeSay("Changed from"), Kind::Text},
                {officeSay("Condition"), Kind::Condition},
                found};
    case Question::Changes:
        return {valve,
                what,
                date,
                {officeSay("Change"), Kind::Text},
                {officeSay("Was"), Kind::Text},
                {officeSay("Became"), Kind::Condition},
                found};
    case Question::Ageing:
        return {valve,
                what,
                {officeSay("Counted with"), Kind::Text, true},
                {officeSay("Held at, years"), Kind::Number},
                {officeSay("Failed by, years"), Kind::Number},
                now,
                found};
    case Question::Turns:
        return {valve, what,
                date,  {officeSay("From first baseline"), Kind::Number},
                now,   {officeSay("Why it stands out"), Kind::Text, true}};
    case Question::Next:
        return {valve,
                what,
                {officeSay("Risk"), Kind::Number},
                {officeSay("Chance by now"), Kind::Number},
                {officeSay("Services"), Kind::Number},
                now,
                {officeSay("State"), Kind::Text},
                {officeSay("Why"), Kind::Text, true}};
    case Question::WhatIf:
        break;
    }
    return {valve,
            what,
            {officeSay("State"), Kind::Text},
            {officeSay("Due on"), Kind::Text},
            now,
            {officeSay("Why"), Kind::Text, true}};
}

Answer answerTo(Session &session, FigureDesk &desk, const Asked &asked)
{
    const AnswerTask task{session, desk, asked, desk.valves(asked.scope.filter)};
    const QString filterWords = asked.scope.filter.words(session.units());
    Answer answer;
    answer.views = viewsOf(asked.question);
    if (task.valves->empty()) {
        const bool none = session.valves().empty();
        answer.sentence =
            none ? officeSay("This project has no valves yet. Bring in the utility's valves "
                             "(Project, Bring in a file), and the answer stands here.")
                 : officeSay("No valve is like that. Choose more zones, sizes or types.");
        answer.emptyTable =
            none ? officeSay("No valves yet.") : officeSay("No valve is like that.");
        answer.picture.emptyWords =
            none ? officeSay("No valves yet. Bring in the utility's valves: Project, Bring in a "
                             "file.")
                 : officeSay("No valve is like that. Take back a choice at the left.");
        writeFilter(answer, filterWords);
        return answer;
    }
    answer = dispatched(task);
    if (answer.views.isEmpty()) {
        answer.views = viewsOf(asked.question);
    }
    if (asked.question == Question::State || asked.question == Question::Pace) {
        answer.caution = joinedCautions({answer.caution, leftOutWords(task)});
    }
    writeFilter(answer, filterWords);
    return answer;
}

Span wholeSpan(Session &session)
{
    const QDate today = session.today();
    QDate first = today;
    for (const Visit &visit : session.visits()) {
        first = std::min(first, visit.arrived.localDate());
    }
    return {session.visits().empty() ? today.addYears(-1) : first, today};
}

} // namespace keyround
