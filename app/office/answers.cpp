// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/answers.h"

#include "app/charts/condition_picture.h"
#include "app/shell/session.h"
#include "core/reports/condition_tables.h"
#include "core/reports/valve_words.h"

#include <QCoreApplication>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

QString say(const char *words)
{
    return QCoreApplication::translate("Office", words);
}

constexpr std::array outConditions{Condition::DoesNotShut, Condition::DoesNotTurn,
                                   Condition::CannotReach};

/// "3 do not shut, 1 does not turn": only those that are there.
QString outWords(const std::array<int, conditionCount> &counts)
{
    QStringList parts;
    const auto add = [&](Condition condition, const char *one, const char *many) {
        const int count = counts[static_cast<size_t>(condition)];
        if (count > 0) {
            parts << QStringLiteral("%1 %2").arg(count).arg(count == 1 ? say(one) : say(many));
        }
    };
    add(Condition::DoesNotShut, "does not shut", "do not shut");
    add(Condition::DoesNotTurn, "does not turn", "do not turn");
    add(Condition::CannotReach, "cannot be reached", "cannot be reached");
    return parts.join(QStringLiteral(", "));
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

QString foundWords(const ReadVisit &read)
{
    QStringList words;
    if (read.judgement.counted.value > 0) {
        words << say("%1 turns, %2")
                     .arg(turnsText(read.judgement.counted), wordFor(read.judgement.verdict));
    }
    words << problemWords(read.visit) << read.visit.remarks;
    words.removeAll(QString());
    return words.join(QStringLiteral("; "));
}

AnswerRow rowFor(const Valve &valve, const ReadVisit *read, UnitSystem units)
{
    AnswerRow row;
    row.valve = valve.id;
    if (read == nullptr) {
        row.severity = severityOf(Condition::NeverVisited);
        row.cells = {valve.number, whatWords(valve, units),          {},
                     {},           wordFor(Condition::NeverVisited), {}};
        return row;
    }
    row.visit = read->visit.id;
    row.condition = read->after;
    row.severity = severityOf(read->after);
    row.cells = {valve.number,
                 whatWords(valve, units),
                 read->visit.arrived.localDate().toString(Qt::ISODate),
                 wordFor(read->before),
                 wordFor(read->after),
                 foundWords(*read)};
    return row;
}

const ReadVisit *visitWith(const ValveHistory &history, const VisitId &id)
{
    const auto found = std::ranges::find_if(
        history.visits, [&](const ReadVisit &read) { return read.visit.id == id; });
    return found == history.visits.end() ? nullptr : &*found;
}

const ReadVisit *lastUntil(const ValveHistory &history, const QDate &day)
{
    const ReadVisit *last = nullptr;
    for (const ReadVisit &read : history.visits) {
        if (read.visit.arrived.localDate() <= day) {
            last = &read;
        }
    }
    return last;
}

QString periodWords(PeriodLength length)
{
    switch (length) {
    case PeriodLength::Month:
        return say("month");
    case PeriodLength::Quarter:
        return say("quarter");
    case PeriodLength::Year:
        break;
    }
    return say("year");
}

/// The filter stands in the sentence and on the picture, so that neither travels without it.
QString withFilter(const QString &sentence, const QString &filterWords)
{
    return filterWords.isEmpty() ? sentence : say("%1 Counted: %2.").arg(sentence, filterWords);
}

QString valvesText(size_t count)
{
    return count == 1 ? say("1 valve") : say("%1 valves").arg(count);
}

QString conditionSentence(const PeriodCounts &counts, size_t total)
{
    const int out = counts.of(Condition::DoesNotShut) + counts.of(Condition::DoesNotTurn) +
                    counts.of(Condition::CannotReach);
    const QString kinds =
        out > 0 ? QStringLiteral(" (%1)").arg(outWords(counts.counts)) : QString();
    return say("On %1, of %2: %3 serviceable, %4 serviceable with a defect, %5 out of "
               "condition%6, %7 never visited.")
        .arg(counts.end.toString(Qt::ISODate), valvesText(total))
        .arg(counts.of(Condition::Serviceable))
        .arg(counts.of(Condition::Defect))
        .arg(out)
        .arg(kinds)
        .arg(counts.of(Condition::NeverVisited));
}

Answer conditionAnswer(Session &session, const Asked &asked, const std::vector<Valve> &valves)
{
    Answer answer;
    const std::vector<PeriodCounts> series =
        conditionSeries(valves, session.histories(), asked.span, asked.length);
    answer.picture = conditionPicture(series);
    answer.picture.title =
        say("Condition of the valves at the end of each %1").arg(periodWords(asked.length));
    answer.figures = answer.picture.figures;
    if (series.empty()) {
        answer.sentence = say("The span holds no day: its end lies before its beginning.");
        return answer;
    }
    const auto last = static_cast<int>(series.size()) - 1;
    const PeriodCounts &counts =
        series[static_cast<size_t>(std::clamp(asked.period < 0 ? last : asked.period, 0, last))];
    for (const Valve &valve : valves) {
        answer.rows.push_back(
            rowFor(valve, lastUntil(session.history(valve.id), counts.end), session.units()));
    }
    std::ranges::stable_sort(answer.rows, std::greater{}, &AnswerRow::severity);
    answer.sentence = conditionSentence(counts, valves.size());
    if (session.visits().empty()) {
        answer.sentence = say("No visit is on record: all %1 valves count as never visited. Record "
                              "rounds in the Truck, or bring in past visits.")
                              .arg(valves.size());
    }
    return answer;
}

/// How many went out in each period, by what they became.
std::vector<PeriodCounts> wentOutSeries(const std::vector<ConditionChange> &changes,
                                        const Asked &asked)
{
    std::vector<PeriodCounts> series = periodsIn(asked.span, asked.length);
    for (const ConditionChange &change : changes) {
        const auto period =
            std::ranges::find_if(series, [&](const auto &each) { return change.date <= each.end; });
        if (period != series.end()) {
            ++period->counts[static_cast<size_t>(change.to)];
        }
    }
    return series;
}

Span spanOfPeriod(const std::vector<PeriodCounts> &series, const Asked &asked)
{
    if (asked.period < 0 || asked.period >= static_cast<int>(series.size())) {
        return asked.span;
    }
    const auto index = static_cast<size_t>(asked.period);
    return {index == 0 ? asked.span.from : series[index - 1].end.addDays(1), series[index].end};
}

QString wentOutSentence(const std::vector<ConditionChange> &changes, const Span &span, size_t total,
                        Session &session)
{
    const QString when =
        say("From %1 to %2, ").arg(span.from.toString(Qt::ISODate), span.to.toString(Qt::ISODate));
    if (changes.empty()) {
        return when + say("none of %1 went out of condition.").arg(valvesText(total));
    }
    std::array<int, conditionCount> counts{};
    QSet<ValveId> distinct;
    for (const ConditionChange &change : changes) {
        ++counts[static_cast<size_t>(change.to)];
        distinct.insert(change.valve);
    }
    const ConditionChange &latest = changes.back();
    const QString times = distinct.size() == static_cast<qsizetype>(changes.size())
                              ? QString()
                              : say(", %1 times in all").arg(changes.size());
    return when + say("%1 of %2 went out of condition%3: %4. The latest was %5 on %6.")
                      .arg(distinct.size())
                      .arg(valvesText(total))
                      .arg(times, outWords(counts), session.valve(latest.valve)->number,
                           latest.date.toString(Qt::ISODate));
}

Answer wentOutAnswer(Session &session, const Asked &asked, const std::vector<Valve> &valves)
{
    Answer answer;
    const Histories &histories = session.histories();
    const std::vector<PeriodCounts> series =
        wentOutSeries(wentOut(valves, histories, asked.span), asked);
    answer.picture = conditionPicture(series, {outConditions.begin(), outConditions.end()});
    answer.picture.title =
        say("Valves that went out of condition, by %1").arg(periodWords(asked.length));
    answer.picture.y.label = say("Valves that went out");
    if (!answer.picture.emptyWords.isEmpty()) {
        answer.picture.emptyWords = say("No valve went out of condition in this span.");
    }
    const Span span = spanOfPeriod(series, asked);
    const std::vector<ConditionChange> changes = wentOut(valves, histories, span);
    for (const ConditionChange &change : changes) {
        if (const Valve *valve = session.valve(change.valve)) {
            answer.rows.push_back(rowFor(
                *valve, visitWith(session.history(change.valve), change.visit), session.units()));
        }
    }
    answer.sentence = wentOutSentence(changes, span, valves.size(), session);
    answer.emptyTable = say("No valve went out of condition in this span. Choose a longer one, or "
                            "other valves.");
    answer.figures = wentOutTable(changes, valves, histories, session.units());
    return answer;
}

} // namespace

QStringList answerColumns()
{
    return {say("Valve"), say("What"), say("Date"), say("From"), say("To"), say("The visit found")};
}

Answer answerTo(Session &session, const Asked &asked)
{
    std::vector<Valve> valves = filtered(session.valves(), asked.filter);
    std::erase_if(valves, [](const Valve &valve) { return valve.retired; });
    const QString filterWords = asked.filter.words(session.units());
    if (valves.empty()) {
        Answer answer;
        const bool none = session.valves().empty();
        answer.sentence =
            none ? say("This project has no valves yet. Bring in the utility's valves (Project, "
                       "Bring in a file), and the answer stands here.")
                 : withFilter(say("No valve is like that. Choose more zones, sizes or types."),
                              filterWords);
        answer.emptyTable = none ? say("No valves yet.") : say("No valve is like that.");
        answer.picture.emptyWords = answer.emptyTable;
        answer.picture.filterWords = filterWords;
        return answer;
    }
    Answer answer = asked.question == Question::Condition ? conditionAnswer(session, asked, valves)
                                                          : wentOutAnswer(session, asked, valves);
    answer.sentence = withFilter(answer.sentence, filterWords);
    answer.picture.filterWords =
        filterWords.isEmpty() ? QString() : say("Counted: %1").arg(filterWords);
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
