// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/stop_words.h"

#include "core/reports/valve_words.h"

#include <QObject>

#include <algorithm>

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
    if (last.visit.search) {
        words += QObject::tr(" The lid: %1.").arg(wordsFor(*last.visit.search));
    }
    if (hasProblems(last.visit)) {
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

QString backOffWords(StopDesk &desk)
{
    const QuarterTurns back = desk.session.settings().truckHabits.backOff;
    const bool open = desk.form.left.value_or(desk.valve.normally == NormalPosition::Open
                                                  ? Position::Open
                                                  : Position::Closed) == Position::Open;
    if (back.value == 0 || !open) {
        return {};
    }
    return QObject::tr("Opened to its stop? Turn it back %1, so that it does not stand jammed "
                       "(the utility's setting; ¼, ½ and about 1 turn are published).")
        .arg(back == QuarterTurns::ofTurns(1) ? QObject::tr("1 turn")
                                              : QObject::tr("%1 turn").arg(turnsText(back)));
}

namespace {

/// What was said besides, as clauses that end in a semicolon.
QString detailWords(const StopForm &form)
{
    QStringList words;
    if (form.search) {
        words << wordsFor(*form.search);
    }
    if (form.isSetUp) {
        words << (form.setUpWords.isEmpty() ? QObject::tr("work zone set up")
                                            : QObject::tr("set up: %1").arg(form.setUpWords));
    }
    if (form.lid) {
        words << wordFor(*form.lid);
    }
    if (form.box) {
        words << wordFor(*form.box);
    }
    return words.isEmpty() ? QString() : words.join(QStringLiteral("; ")) + QStringLiteral("; ");
}

QString torqueWords(const StopDesk &desk)
{
    std::optional<Torque> most;
    for (const CountedPass &pass : desk.form.passes) {
        if (pass.torque && pass.turns.value > 0) {
            most = std::max(most.value_or(Torque{}), *pass.torque);
        }
    }
    return most ? QObject::tr(", at most %1")
                      .arg(torqueText(*most, desk.session.settings().truckHabits.torqueUnit))
                : QString();
}

} // namespace

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
    turned += torqueWords(desk);
    const auto said = [](const std::optional<Position> &position, const QString &turns) {
        return position ? standingSaid(standingFrom(position, turns)) : QObject::tr("not said");
    };
    Visit visit;
    visit.problems = form.problems;
    visit.otherProblem = form.otherProblem;
    visit.ownProblems = form.ownProblems;
    const QString problems = hasProblems(visit) ? problemWords(visit) : QObject::tr("no problem");
    QString sentence = QObject::tr("Valve %1: %6found %2; %3; %4; left %5.")
                           .arg(desk.valve.number, said(form.found, form.foundTurns), turned,
                                problems, said(form.left, form.leftTurns), detailWords(form));
    if (form.newListedTurns && desk.valve.listedTurns) {
        sentence += QObject::tr(" The list is corrected from %1 to %2 turns.")
                        .arg(turnsText(*desk.valve.listedTurns), turnsText(*form.newListedTurns));
    }
    return sentence;
}

} // namespace keyround
