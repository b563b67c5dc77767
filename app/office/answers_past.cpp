// SPDX-License-Identifier: GPL-3.0-or-later
// What has happened: pace, state, what went out and came back.
#include "app/office/answer_parts.h"
#include "core/condition/list_offer.h"
#include "core/reports/valve_words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

/// "3 do not shut, 1 does not turn": only those that are there.
QString outWords(const PeriodCounts &counts)
{
    QStringList parts;
    const auto add = [&](Condition condition, const char *one, const char *many) {
        const int count = counts.of(condition);
        if (count > 0) {
            parts << QStringLiteral("%1 %2").arg(count).arg(officeSay(count == 1 ? one : many));
        }
    };
    add(Condition::DoesNotShut, "does not shut", "do not shut");
    add(Condition::DoesNotTurn, "does not turn", "do not turn");
    add(Condition::CannotReach, "cannot be reached", "cannot be reached");
    return parts.join(QStringLiteral(", "));
}

QString stateSentence(const PeriodCounts &counts, size_t total)
{
    const int out = counts.of(Condition::DoesNotShut) + counts.of(Condition::DoesNotTurn) +
                    counts.of(Condition::CannotReach);
    const QString kinds = out > 0 ? QStringLiteral(" (%1)").arg(outWords(counts)) : QString();
    return officeSay("On %1, of %2: %3 serviceable, %4 serviceable with a defect, %5 out of "
                     "condition%6, %7 never visited.")
        .arg(counts.end.toString(Qt::ISODate), valvesText(total))
        .arg(counts.of(Condition::Serviceable))
        .arg(counts.of(Condition::Defect))
        .arg(out)
        .arg(kinds)
        .arg(counts.of(Condition::NeverVisited));
}

/// The figure's sentence is about the last period that any valve was visited in.
bool speaksOfSample(const ConditionOverTime &figure)
{
    const auto last =
        std::find_if(figure.periods.rbegin(), figure.periods.rend(),
                     [](const BandPeriod &period) { return period.share.has_value(); });
    return last != figure.periods.rend() && last->kind == ShareKind::Sample;
}

QStringList visitCells(Session &session, const AnswerRow &row)
{
    const Valve *valve = session.valve(row.valve);
    if (valve == nullptr) {
        return {QString()};
    }
    const QString what = whatWords(*valve, session.units());
    const ReadVisit *read = visitWith(session.history(row.valve), row.visit);
    if (read == nullptr) {
        return {valve->number, what, {}, {}, wordFor(row.condition), {}};
    }
    return {valve->number,
            what,
            read->visit.arrived.localDate().toString(Qt::ISODate),
            read->before == read->after ? QString() : wordFor(read->before),
            wordFor(read->after),
            foundWords(*read)};
}

// ---- pace

/// Pictures whose items are years.
bool showsYears(int view)
{
    const auto which = static_cast<PaceView>(view);
    return which == PaceView::Years || which == PaceView::CrewDays;
}

/// The chosen year, or the one that the span ends in.
size_t yearShown(const Pace &pace, const Asked &asked)
{
    const size_t last = pace.years.size() - 1;
    if (showsYears(asked.view) && asked.item >= 0) {
        return std::min(last, static_cast<size_t>(asked.item));
    }
    if (static_cast<PaceView>(asked.view) == PaceView::ThisYear) {
        return last;
    }
    const auto found = std::ranges::find(pace.years, asked.scope.span.to.year(), &PaceYear::year);
    return found == pace.years.end() ? last : static_cast<size_t>(found - pace.years.begin());
}

ChartPicture pacePictureOf(const Pace &pace, const PaceYear &year, int view)
{
    switch (static_cast<PaceView>(view)) {
    case PaceView::ThisYear:
        return paceThisYearPicture(pace);
    case PaceView::BySize:
        return pacePartsPicture(year, false);
    case PaceView::ByZone:
        return pacePartsPicture(year, true);
    case PaceView::CrewDays:
        return crewDaysPicture(pace);
    case PaceView::Minutes:
        return stopMinutesPicture(pace);
    case PaceView::Years:
        break;
    }
    return paceYearsPicture(pace);
}

/// The last visit within some days; null where there is none.
const ReadVisit *lastWithin(const ValveHistory &history, const QDate &from, const QDate &to)
{
    const ReadVisit *last = lastVisitBy(history, to);
    return last != nullptr && last->visit.arrived.localDate() >= from ? last : nullptr;
}

/// Which rows of a year a choice in the picture leaves; may name another visit of the year.
bool takesPaceRow(const AnswerTask &task, const PaceYear &year, const PaceRow &row,
                  AnswerRow &shown)
{
    const auto view = static_cast<PaceView>(task.asked.view);
    const auto item = static_cast<size_t>(std::max(0, task.asked.item));
    if (task.asked.item < 0 || showsYears(task.asked.view)) {
        return true;
    }
    if (view == PaceView::ThisYear) {
        if (item >= year.months.size()) {
            return true;
        }
        const QDate from =
            item == 0 ? QDate(year.year, 1, 1) : year.months[item - 1].end.addDays(1);
        const ReadVisit *read =
            lastWithin(task.session.history(row.valve), from, year.months[item].end);
        shown.visit = read == nullptr ? VisitId() : read->visit.id;
        return read != nullptr;
    }
    const Valve *valve = task.session.valve(row.valve);
    const std::vector<PaceCounts> &parts = view == PaceView::ByZone ? year.byZone : year.bySize;
    if (valve == nullptr || (view != PaceView::Minutes && item >= parts.size())) {
        return valve != nullptr;
    }
    if (view == PaceView::Minutes) {
        const auto pace = task.desk.pace(task.asked.scope);
        return item >= pace->minutes.size() ||
               (valve->type == pace->minutes[item].type &&
                sizeClassOf(valve->size) == pace->minutes[item].size);
    }
    return view == PaceView::ByZone ? valve->zone == parts[item].name
                                    : wordFor(sizeClassOf(valve->size)) == parts[item].name;
}

QString paceYearSentence(const PaceYear &year)
{
    return officeSay("In %1%2, %3 of %4 valves were inspected and %5 full cycles counted, of %6 "
                     "that the policy asks for.")
        .arg(year.year)
        .arg(year.isWhole ? QString() : officeSay(" so far"))
        .arg(year.all.inspected)
        .arg(year.all.valves)
        .arg(year.all.cycles)
        .arg(wholeCycles(year.all.target));
}

// ---- changes

Answer changesOf(const AnswerTask &task)
{
    const auto figure = task.desk.changes(task.asked.scope);
    Answer answer;
    answer.picture = changesPicture(*figure);
    answer.sentence = figure->sentence;
    const auto take = [&](size_t index) {
        const KeyChange &one = figure->all[index];
        answer.rows.push_back({one.change.valve, one.change.visit, index, one.change.to});
    };
    const auto item = static_cast<size_t>(std::max(0, task.asked.item));
    if (task.asked.item >= 0 && item < figure->periods.size()) {
        const ChangePeriod &period = figure->periods[item];
        std::vector<size_t> indices = period.wentOut;
        indices.insert(indices.end(), period.restored.begin(), period.restored.end());
        std::ranges::for_each(indices, take);
        answer.sentence = chosenWords(answer.picture, task.asked.item);
    } else {
        for (size_t i = 0; i < figure->all.size(); ++i) {
            take(i);
        }
    }
    answer.cells = [&session = task.session, figure](const AnswerRow &row) -> QStringList {
        const KeyChange &one = figure->all[row.index];
        const Valve *valve = session.valve(row.valve);
        if (valve == nullptr) {
            return {QString()};
        }
        const ReadVisit *read = visitWith(session.history(row.valve), row.visit);
        return {valve->number,
                whatWords(*valve, session.units()),
                one.change.date.toString(Qt::ISODate),
                one.byReplacement ? officeSay("replaced") : wordFor(one.kind),
                wordFor(one.change.from),
                wordFor(one.change.to),
                read == nullptr ? QString() : foundWords(*read)};
    };
    return answer;
}

} // namespace

Answer paceAnswer(const AnswerTask &task)
{
    const auto pace = task.desk.pace(task.asked.scope);
    Answer answer;
    if (pace->years.empty()) {
        answer.sentence = pace->sentence;
        answer.picture = paceYearsPicture(*pace);
        return answer;
    }
    const PaceYear &year = pace->years[yearShown(*pace, task.asked)];
    answer.picture = pacePictureOf(*pace, year, task.asked.view);
    const bool chosen = task.asked.item >= 0;
    answer.sentence = !chosen ? pace->sentence
                      : static_cast<PaceView>(task.asked.view) == PaceView::Years
                          ? paceYearSentence(year)
                          : chosenWords(answer.picture, task.asked.item);
    const auto rows = task.desk.paceRows(task.asked.scope, year.year);
    for (size_t i = 0; i < rows->size(); ++i) {
        const PaceRow &row = (*rows)[i];
        AnswerRow shown{row.valve, row.visit, i, task.session.history(row.valve).condition};
        if (takesPaceRow(task, year, row, shown)) {
            answer.rows.push_back(shown);
        }
    }
    std::ranges::stable_partition(answer.rows,
                                  [](const AnswerRow &row) { return row.visit.isNull(); });
    answer.cells = [&session = task.session, rows](const AnswerRow &row) -> QStringList {
        const PaceRow &counts = (*rows)[row.index];
        const Valve *valve = session.valve(row.valve);
        if (valve == nullptr) {
            return {QString()};
        }
        const ReadVisit *read = visitWith(session.history(row.valve), row.visit);
        return {valve->number,
                whatWords(*valve, session.units()),
                QString::number(counts.target, 'g', 3),
                QString::number(counts.cycles),
                read == nullptr ? officeSay("not in this time")
                                : read->visit.arrived.localDate().toString(Qt::ISODate),
                wordFor(row.condition),
                read == nullptr ? QString() : foundWords(*read)};
    };
    answer.hint = officeSay("Click in the picture to see the valves behind it.");
    return answer;
}

Answer stateAnswer(const AnswerTask &task)
{
    const auto figure = task.desk.condition(task.asked.scope);
    Answer answer;
    answer.picture = static_cast<StateView>(task.asked.view) == StateView::Share
                         ? sharePicture(*figure)
                         : conditionOverTimePicture(*figure);
    if (figure->periods.empty()) {
        answer.sentence = officeSay("The span holds no day: its end lies before its beginning.");
        return answer;
    }
    const auto last = static_cast<int>(figure->periods.size()) - 1;
    const int item = std::clamp(task.asked.item < 0 ? last : task.asked.item, 0, last);
    const BandPeriod &period = figure->periods[static_cast<size_t>(item)];
    for (const Valve &valve : *task.valves) {
        const ReadVisit *read = lastVisitBy(task.session.history(valve.id), period.counts.end);
        answer.rows.push_back({valve.id, read == nullptr ? VisitId() : read->visit.id, 0,
                               read == nullptr ? Condition::NeverVisited : read->after});
    }
    std::ranges::stable_sort(answer.rows, std::greater{},
                             [](const AnswerRow &row) { return severityOf(row.condition); });
    answer.cells = [&session = task.session](const AnswerRow &row) {
        return visitCells(session, row);
    };
    answer.sentence = stateSentence(period.counts, task.valves->size());
    if (task.session.visits().empty()) {
        answer.sentence = officeSay("No visit is on record: all %1 valves count as never visited. "
                                    "Record rounds in the Truck, or bring in past visits.")
                              .arg(task.valves->size());
    } else {
        // An interval is reckoned as if chance had drawn the valves.
        const bool isSample = task.asked.item < 0
                                  ? speaksOfSample(*figure)
                                  : period.kind == ShareKind::Sample && period.interval.has_value();
        answer.caution = joinedCautions(
            {task.asked.item < 0 ? figure->sentence : QString(),
             task.asked.item < 0
                 ? doubtedByListWords(doubtedByListAlone(*task.valves, task.session.histories()))
                 : QString(),
             isSample ? officeSay("The valves visited were not drawn by chance: crews went where "
                                  "work was due, so all valves may be better or worse than the "
                                  "interval says.")
                      : QString()});
    }
    answer.hint = officeSay("Click a period to see the valves as they stood then.");
    return answer;
}

Answer changesAnswer(const AnswerTask &task)
{
    Answer answer = changesOf(task);
    answer.emptyTable = officeSay("No valve went out of condition or came back in this span. "
                                  "Choose a longer one, or other valves.");
    answer.hint = static_cast<ChangesView>(task.asked.view) == ChangesView::Map
                      ? officeSay("Move the slider through time; click a valve to see its visits.")
                      : officeSay("Click a bar to see the valves behind it.");
    return answer;
}

} // namespace keyround
