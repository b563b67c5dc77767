// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/stop_words.h"

#include "core/reports/valve_words.h"

#include <QObject>

namespace keyround {

QString standingSaid(const Standing &standing)
{
    const QString words = standingWords(standing);
    return words.isEmpty() ? wordFor(standing.position) : words;
}

QString lastVisitWords(const ValveHistory &history)
{
    if (history.visits.empty()) {
        return QObject::tr("Never visited: the first full cycle will teach its count.");
    }
    const ReadVisit &last = history.visits.back();
    QString words =
        QObject::tr("Last visit %1: %2.")
            .arg(last.visit.arrived.localDate().toString(Qt::ISODate), wordFor(last.after));
    if (last.judgement.counted.value > 0) {
        words += QObject::tr(" Counted %1 turns.").arg(turnsText(last.judgement.counted));
    }
    if (!last.visit.problems.isEmpty()) {
        words += QObject::tr(" Problems: %1.").arg(problemWords(last.visit));
    }
    if (!last.visit.remarks.isEmpty()) {
        words += QObject::tr(" Remarks: %1").arg(last.visit.remarks);
    }
    return words;
}

QString titleOf(const Valve &valve, UnitSystem units)
{
    QStringList kind;
    if (valve.size.isKnown()) {
        kind << sizeText(valve.size, units);
    }
    if (valve.type != ValveType::Unknown) {
        kind << wordFor(valve.type);
    }
    QString title = QObject::tr("Valve %1").arg(valve.number);
    if (!kind.isEmpty()) {
        title += QStringLiteral(", ") + kind.join(QLatin1Char(' '));
    }
    return title + QStringLiteral(", ") + wordFor(valve.role);
}

QString recordSentence(const StopDesk &desk)
{
    const StopForm &form = desk.form;
    const Judgement judgement = judgementOf(desk);
    QString turned = countedPasses(form).empty()
                         ? QObject::tr("not turned")
                         : QObject::tr("turned: %1").arg(passWords(countedPasses(form)));
    if (judgement.verdict != Verdict::NotJudged) {
        turned += QObject::tr(" (%1; judged by %2)")
                      .arg(wordFor(judgement.verdict), wordsFor(judgement.baseline));
    }
    const auto said = [](const std::optional<Position> &position, const QString &turns) {
        return position ? standingSaid(standingFrom(position, turns)) : QObject::tr("not said");
    };
    Visit visit;
    visit.problems = form.problems;
    visit.otherProblem = form.otherProblem;
    const QString problems =
        form.problems.isEmpty() ? QObject::tr("no problem") : problemWords(visit);
    return QObject::tr("Valve %1: found %2; %3; %4; left %5.")
        .arg(desk.valve.number, said(form.found, form.foundTurns), turned, problems,
             said(form.left, form.leftTurns));
}

} // namespace keyround
