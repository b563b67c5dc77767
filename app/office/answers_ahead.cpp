// SPDX-License-Identifier: GPL-3.0-or-later
// What can be expected: ageing, drifting counts, what next, what if.
#include "app/office/answer_parts.h"
#include "core/reports/valve_words.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

QString yearsCell(double years)
{
    return std::isfinite(years) ? QString::number(years, 'f', 1) : officeSay("not yet");
}

struct LifeAt
{
    size_t group = 0;
    size_t life = 0;
};

bool failsWithin(const LifeSeen &life, const CurveStep &step)
{
    return !life.failed.isNull() && life.years.after < step.to && life.years.by > step.from;
}

std::vector<LifeAt> livesBehind(const Ageing &figure, const AgeingPicture &made, int item)
{
    std::vector<LifeAt> failed;
    std::vector<LifeAt> holding;
    const bool chosen = item >= 0 && item < static_cast<int>(made.items.size());
    for (size_t g = 0; g < figure.groups.size(); ++g) {
        const AgeingGroup &group = figure.groups[g];
        for (size_t i = 0; i < group.lives.size(); ++i) {
            const LifeSeen &life = group.lives[i];
            if (chosen) {
                const AgeingItem &box = made.items[static_cast<size_t>(item)];
                if (box.group != g || !failsWithin(life, group.curve->steps[box.step])) {
                    continue;
                }
            }
            (life.failed.isNull() ? holding : failed).push_back({g, i});
        }
    }
    failed.insert(failed.end(), holding.begin(), holding.end());
    return failed;
}

struct DriftRow
{
    ValveId valve;
    VisitId visit;
    QDate date;
    double fromFirst = 0;
    QString why;
};

QString signedNumber(double turns)
{
    return QStringLiteral("%1%2").arg(turns > 0 ? QStringLiteral("+") : QString(),
                                      QString::number(turns, 'g', 4));
}

std::vector<DriftRow> driftRows(const FleetTurns &figure, size_t group,
                                const FleetTurnsPicture &made, int item)
{
    std::vector<DriftRow> rows;
    if (group >= figure.groups.size()) {
        return rows;
    }
    const std::vector<TurnPoint> &points = figure.groups[group].points;
    QSet<ValveId> valves;
    if (item >= 0 && item < static_cast<int>(made.shown.size())) {
        const TurnPoint &point = points[made.shown[static_cast<size_t>(item)]];
        rows.push_back(
            {point.valve, point.visit, point.date, point.fromFirst,
             made.picture.items[static_cast<size_t>(item)].words.section(QLatin1Char('\n'), 2)});
        return rows;
    }
    for (const TurnPoint &point : points) {
        valves.insert(point.valve);
    }
    for (const DriftingValve &drift : figure.drifting) {
        if (valves.contains(drift.valve)) {
            rows.push_back({drift.valve, drift.visit, drift.date, drift.fromFirst, drift.words});
        }
    }
    return rows;
}

/// The visit that a row of the future rests on: the last one.
VisitId lastVisitOf(const ValveHistory &history)
{
    return history.visits.empty() ? VisitId() : history.visits.back().visit.id;
}

AnswerRow rowOf(Session &session, const ValveId &valve, size_t index)
{
    const ValveHistory &history = session.history(valve);
    return {valve, lastVisitOf(history), index, history.condition};
}

} // namespace

Answer ageingAnswer(const AnswerTask &task)
{
    const auto figure = task.desk.ageing(task.asked.scope, ageingOfView(task.asked.view));
    AgeingPicture made = ageingPicture(*figure);
    Answer answer;
    answer.picture = std::move(made.picture);
    const QString chosen = chosenWords(answer.picture, task.asked.item);
    answer.sentence = chosen.isEmpty() ? figure->sentence : chosen;
    answer.caution = figure->caution;
    auto lives =
        std::make_shared<const std::vector<LifeAt>>(livesBehind(*figure, made, task.asked.item));
    for (size_t i = 0; i < lives->size(); ++i) {
        const LifeAt &at = (*lives)[i];
        const LifeSeen &life = figure->groups[at.group].lives[at.life];
        answer.rows.push_back({life.valve, life.failed.isNull() ? life.held : life.failed, i,
                               task.session.history(life.valve).condition});
    }
    answer.cells = [&session = task.session, figure, lives](const AnswerRow &row) -> QStringList {
        const LifeAt &at = (*lives)[row.index];
        const AgeingGroup &group = figure->groups[at.group];
        const LifeSeen &life = group.lives[at.life];
        const Valve *valve = session.valve(row.valve);
        if (valve == nullptr) {
            return {QString()};
        }
        const ReadVisit *read = visitWith(session.history(row.valve), row.visit);
        return {valve->number,
                whatWords(*valve, session.units()),
                shortName(group),
                yearsCell(life.years.after),
                yearsCell(life.years.by),
                wordFor(row.condition),
                read == nullptr ? QString() : foundWords(*read)};
    };
    answer.emptyTable = officeSay("No valve has both an install year and a visit that turned it.");
    answer.hint = officeSay("Click a box to see the valves that failed within it.");
    return answer;
}

Answer turnsAnswer(const AnswerTask &task)
{
    const auto figure = task.desk.turns(task.asked.scope);
    const auto group = static_cast<size_t>(std::max(0, task.asked.view));
    const FleetTurnsPicture made = fleetTurnsPicture(*figure, group);
    Answer answer;
    for (const TurnsGroup &one : figure->groups) {
        answer.views << one.name;
    }
    answer.picture = made.picture;
    const QString chosen = chosenWords(answer.picture, task.asked.item);
    // The picture and the table are of one kind: so is the sentence, and then of all.
    answer.sentence =
        !chosen.isEmpty() ? chosen
        : group < figure->groups.size() && figure->groups.size() > 1
            ? officeSay("%1 All kinds: %2").arg(figure->groups[group].sentence, figure->sentence)
            : figure->sentence;
    auto rows = std::make_shared<const std::vector<DriftRow>>(
        driftRows(*figure, group, made, task.asked.item));
    if (!chosen.isEmpty() && rows->size() == 1) {
        const Valve *valve = task.session.valve(rows->front().valve);
        answer.sentence =
            officeSay("Valve %1, %2").arg(valve == nullptr ? QString() : valve->number, chosen);
    }
    for (size_t i = 0; i < rows->size(); ++i) {
        const DriftRow &row = (*rows)[i];
        answer.rows.push_back({row.valve, row.visit, i, task.session.history(row.valve).condition});
    }
    answer.cells = [&session = task.session, rows](const AnswerRow &row) -> QStringList {
        const DriftRow &drift = (*rows)[row.index];
        const Valve *valve = session.valve(row.valve);
        if (valve == nullptr) {
            return {QString()};
        }
        return {valve->number,
                whatWords(*valve, session.units()),
                drift.date.toString(Qt::ISODate),
                signedNumber(drift.fromFirst),
                wordFor(row.condition),
                drift.why};
    };
    answer.emptyTable = officeSay("No counts of this kind drift now.");
    answer.hint = officeSay("Click a point to see its valve and visit.");
    return answer;
}

Answer nextAnswer(const AnswerTask &task)
{
    const auto entries = task.desk.next(task.asked.scope);
    WhatNextPicture made = whatNextPicture(*entries, *task.valves, task.session.units());
    Answer answer;
    answer.picture = std::move(made.picture);
    const QString chosen = chosenWords(answer.picture, task.asked.item);
    answer.sentence = chosen.isEmpty() ? whatNextSentence(*entries) : chosen;
    answer.caution = officeSay("Services are told by how the mains connect on the map, not by "
                               "pressure. A chance below 100 % is reckoned from how long like "
                               "valves held, not seen at the valve.");
    const auto item = static_cast<size_t>(std::max(0, task.asked.item));
    for (size_t i = 0; i < entries->size(); ++i) {
        const RiskEntry &entry = (*entries)[i];
        const size_t place =
            made.isByChance ? std::min<size_t>(9, static_cast<size_t>(entry.chanceOut * 10.0)) : i;
        if (task.asked.item < 0 || place == item) {
            answer.rows.push_back(rowOf(task.session, entry.due.valve, i));
        }
    }
    answer.cells = [&session = task.session, entries](const AnswerRow &row) -> QStringList {
        const RiskEntry &entry = (*entries)[row.index];
        const Valve *valve = session.valve(row.valve);
        if (valve == nullptr) {
            return {QString()};
        }
        return {valve->number,
                whatWords(*valve, session.units()),
                entry.services ? QString::number(entry.risk, 'f', 1) : QString(),
                shareText(entry.chanceOut),
                entry.services ? QString::number(*entry.services) : QString(),
                wordFor(row.condition),
                wordFor(entry.due.state),
                entry.words};
    };
    answer.emptyTable = officeSay("No valve wants a visit, and none waits for repair.");
    answer.hint =
        made.isByChance
            ? officeSay("Click a bar to see its valves; the list below is in this order.")
            : officeSay("Click a point to see its valve; the list below is in this order.");
    return answer;
}

Answer whatIfAnswer(const AnswerTask &task)
{
    const auto figure = task.desk.outlook(task.asked.scope, task.asked.wish);
    Answer answer;
    answer.picture = outlookPicture(*figure);
    const QString chosen = chosenWords(answer.picture, task.asked.item);
    answer.sentence = chosen.isEmpty() ? figure->sentence : chosen;
    answer.caution = figure->caution;
    QSet<ValveId> ids;
    for (const Valve &valve : *task.valves) {
        ids.insert(valve.id);
    }
    auto due = std::make_shared<std::vector<DueEntry>>();
    for (const DueEntry &entry : task.session.dueList()) {
        if (ids.contains(entry.valve) && wantsVisit(entry.state)) {
            answer.rows.push_back(rowOf(task.session, entry.valve, due->size()));
            due->push_back(entry);
        }
    }
    answer.cells = [&session = task.session, due](const AnswerRow &row) -> QStringList {
        const DueEntry &entry = (*due)[row.index];
        const Valve *valve = session.valve(row.valve);
        if (valve == nullptr) {
            return {QString()};
        }
        return {valve->number,          whatWords(*valve, session.units()),
                wordFor(entry.state),   entry.dueOn.toString(Qt::ISODate),
                wordFor(row.condition), entry.reason};
    };
    answer.emptyTable = officeSay("No valve wants a visit.");
    answer.hint = officeSay("Due today: every plan begins with these valves.");
    return answer;
}

} // namespace keyround
