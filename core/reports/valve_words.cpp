// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/valve_words.h"

#include "core/inventory/valve_fields.h"

namespace keyround {

QString whatWords(const Valve &valve, UnitSystem units)
{
    QStringList first{sizeText(valve.size, units)};
    if (valve.type != ValveType::Unknown && valve.type != ValveType::Other) {
        first << wordFor(valve.type);
    } else {
        first << QStringLiteral("valve");
    }
    first.removeAll(QString());
    QStringList parts{first.join(QLatin1Char(' ')),
                      QStringLiteral("closes %1").arg(wordFor(valve.closes)),
                      QStringLiteral("normally %1").arg(wordFor(valve.normally))};
    if (valve.role != ValveRole::MainLine && valve.role != ValveRole::Other) {
        parts << wordFor(valve.role);
    }
    return parts.join(QStringLiteral(", "));
}

QString whereWords(const Valve &valve, UnitSystem units)
{
    QStringList parts{valve.address, valve.ties};
    if (valve.depthToNut) {
        parts << QStringLiteral("nut %1 down")
                     .arg(valveFieldText(valve, ValveField::DepthToNut, units));
    }
    parts << valve.surface;
    parts.removeAll(QString());
    if (valve.address.isEmpty() && valve.ties.isEmpty() && valve.place.isValid()) {
        parts.prepend(valveFieldText(valve, ValveField::Place, units));
    }
    return parts.join(QStringLiteral("; "));
}

QString standingWords(const Standing &standing)
{
    if (standing.position == Position::NotSeen) {
        return {};
    }
    const QString word = wordFor(standing.position);
    return standing.position == Position::PartOpen && standing.turnsFromClosed
               ? QStringLiteral("%1, %2 turns from closed")
                     .arg(word, turnsText(*standing.turnsFromClosed))
               : word;
}

QString problemWords(const Visit &visit)
{
    QStringList words;
    for (const Problem problem : visit.problems) {
        const QString word = QLatin1String(infoOf(problem).words);
        words << (problem == Problem::Other && !visit.otherProblem.isEmpty()
                      ? QStringLiteral("%1: %2").arg(word, visit.otherProblem)
                      : word);
    }
    words << visit.ownProblems;
    return words.join(QStringLiteral("; "));
}

QString passWords(const std::vector<Pass> &passes)
{
    QStringList words;
    for (const Pass &pass : passes) {
        words << QStringLiteral("%1 %2").arg(pass.direction == PassDirection::Closing
                                                 ? QStringLiteral("close")
                                                 : QStringLiteral("open"),
                                             turnsText(pass.turns));
    }
    return words.join(QStringLiteral(", "));
}

QString whatVisitFound(const ReadVisit &read)
{
    QStringList words;
    if (read.judgement.counted.value > 0) {
        words << QStringLiteral("%1 turns against %2")
                     .arg(turnsText(read.judgement.counted), wordsFor(read.judgement.baseline));
    }
    words << problemWords(read.visit) << read.visit.remarks;
    words.removeAll(QString());
    return words.join(QStringLiteral("; "));
}

} // namespace keyround
