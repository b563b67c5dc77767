// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/stop_words.h"

#include "app/truck/truck_look.h"

#include <QObject>

namespace keyround {

QString standingWords(const Standing &standing)
{
    if (standing.turnsFromClosed) {
        return QObject::tr("%1, %2 turns from closed")
            .arg(wordFor(standing.position), turnsText(*standing.turnsFromClosed));
    }
    return wordFor(standing.position);
}

QString problemWords(const QList<Problem> &problems, const QString &other)
{
    QStringList words;
    for (const Problem problem : problems) {
        const bool inWords = problem == Problem::Other && !other.isEmpty();
        words << (inWords ? other : QString::fromUtf8(infoOf(problem).words));
    }
    return words.join(QStringLiteral(", "));
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
        words += QObject::tr(" Problems: %1.")
                     .arg(problemWords(last.visit.problems, last.visit.otherProblem));
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

namespace {

QString passWords(const StopForm &form)
{
    QStringList words;
    for (const Pass &pass : countedPasses(form)) {
        words << QObject::tr("%1 %2").arg(wordFor(pass.direction).toLower(), turnsText(pass.turns));
    }
    return words.isEmpty() ? QObject::tr("not turned")
                           : QObject::tr("turned %1").arg(words.join(QStringLiteral(", ")));
}

} // namespace

QString recordSentence(const StopDesk &desk)
{
    const StopForm &form = desk.form;
    const Judgement judgement = judgementOf(desk);
    QString turned = passWords(form);
    if (judgement.verdict != Verdict::NotJudged) {
        turned += QObject::tr(" (%1; judged by %2)")
                      .arg(wordFor(judgement.verdict), wordsFor(judgement.baseline));
    }
    const QString found = form.found ? standingWords(standingFrom(form.found, form.foundTurns))
                                     : QObject::tr("not said");
    const QString left = form.left ? standingWords(standingFrom(form.left, form.leftTurns))
                                   : QObject::tr("not said");
    const QString problems = form.problems.isEmpty()
                                 ? QObject::tr("no problem")
                                 : problemWords(form.problems, form.otherProblem);
    return QObject::tr("Valve %1: found %2; %3; %4; left %5.")
        .arg(desk.valve.number, found, turned, problems, left);
}

} // namespace keyround
