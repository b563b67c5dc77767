// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/valve_record.h"

#include <QObject>

#include <algorithm>
#include <iterator>

namespace keyround {

namespace {

QString standingText(const Standing &standing)
{
    QString text = wordFor(standing.position);
    if (standing.position == Position::PartOpen && standing.turnsFromClosed) {
        text =
            QObject::tr("%1, %2 turns from closed").arg(text, turnsText(*standing.turnsFromClosed));
    }
    return text;
}

QString problemsText(const Visit &visit)
{
    QStringList words;
    for (const Problem problem : visit.problems) {
        words << (problem == Problem::Other && !visit.otherProblem.isEmpty()
                      ? visit.otherProblem
                      : QString::fromUtf8(infoOf(problem).words));
    }
    return words.join(QStringLiteral("; "));
}

QString whenText(const Moment &moment)
{
    return moment.local().toString(QStringLiteral("yyyy-MM-dd HH:mm"));
}

RecordEntry entryOf(const ReadVisit &read)
{
    const Visit &visit = read.visit;
    RecordEntry entry;
    entry.heading = QStringLiteral("%1  %2").arg(visit.arrived.localDate().toString(Qt::ISODate),
                                                 wordFor(read.after));
    entry.lines << QObject::tr("%1: %2 (%3)")
                       .arg(passesText(visit.passes), wordFor(read.judgement.verdict),
                            wordsFor(read.judgement.baseline));
    entry.lines << QObject::tr("Found %1, left %2")
                       .arg(standingText(visit.found), standingText(visit.left));
    if (!visit.problems.isEmpty()) {
        entry.lines << QObject::tr("Problems: %1").arg(problemsText(visit));
    }
    if (!visit.remarks.isEmpty()) {
        entry.lines << QObject::tr("Remarks: %1").arg(visit.remarks);
    }
    if (!visit.supersedes.isNull()) {
        entry.lines << QObject::tr("Corrects an earlier record: %1").arg(visit.reason);
    }
    entry.lines << QObject::tr("%1, recorded by %2 on %3, %4")
                       .arg(visit.crew, visit.recordedBy, visit.device, whenText(visit.finished));
    return entry;
}

QString valueText(const QString &value)
{
    return value.isEmpty() ? QObject::tr("nothing") : value;
}

} // namespace

QString passesText(const std::vector<Pass> &passes)
{
    if (passes.empty()) {
        return QObject::tr("No pass made");
    }
    QStringList parts;
    for (const Pass &pass : passes) {
        parts << (pass.direction == PassDirection::Closing ? QObject::tr("closing %1")
                                                           : QObject::tr("opening %1"))
                     .arg(turnsText(pass.turns));
    }
    QString text = QObject::tr("%1 turns").arg(parts.join(QStringLiteral(", ")));
    text[0] = text[0].toUpper();
    return text;
}

std::vector<RecordEntry> visitEntries(const ValveHistory &history)
{
    std::vector<RecordEntry> entries;
    std::transform(history.visits.rbegin(), history.visits.rend(), std::back_inserter(entries),
                   entryOf);
    return entries;
}

std::vector<RecordEntry> editEntries(const std::vector<ValveEdit> &edits)
{
    std::vector<RecordEntry> entries;
    for (const ValveEdit &edit : edits) {
        const QString heading =
            QObject::tr("%1  %2 on %3")
                .arg(whenText(edit.when), edit.author.person, edit.author.device);
        if (entries.empty() || entries.back().heading != heading) {
            entries.push_back({heading, {}});
        }
        QString line = QObject::tr("%1: from %2 to %3")
                           .arg(QString::fromUtf8(infoOf(edit.field).label), valueText(edit.before),
                                valueText(edit.after));
        if (!edit.why.isEmpty()) {
            line += QStringLiteral(" (%1)").arg(edit.why);
        }
        entries.back().lines << line;
    }
    return entries;
}

} // namespace keyround
