// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/valve_life.h"

#include "core/reports/valve_words.h"

#include <algorithm>
#include <map>
#include <utility>

namespace keyround {

namespace {

QString iso(const QDate &day)
{
    return day.toString(Qt::ISODate);
}

QString countedVisits(std::size_t count)
{
    return count == 1 ? QStringLiteral("1 visit") : QStringLiteral("%1 visits").arg(count);
}

QString lifeWords(const ValveLife &life)
{
    const QString from = life.began.isValid() ? QStringLiteral("put in on %1").arg(iso(life.began))
                         : life.installed.isValid()
                             ? QStringLiteral("installed in %1").arg(life.installed.year())
                             : QStringLiteral("install year not known");
    const QString to = life.ended.isValid() ? QStringLiteral("replaced on %1").arg(iso(life.ended))
                                            : QStringLiteral("in the ground");
    return QStringLiteral("%1, %2; %3")
        .arg(from, to, countedVisits(life.endVisit - life.firstVisit));
}

QString requestWords(const RepairRequest &request)
{
    QString line =
        QStringLiteral("%1, opened %2: %3")
            .arg(request.number, iso(request.opened.localDate()), wordFor(request.state));
    if (request.doneOn.isValid()) {
        line += QStringLiteral("; done %1").arg(iso(request.doneOn));
    }
    if (request.closedOn.isValid()) {
        line += QStringLiteral("; closed %1").arg(iso(request.closedOn));
    }
    return QStringLiteral("%1 (%2)").arg(line, findingsWords(request.findings));
}

QStringList requestLines(const RepairBook &book, const ValveId &valve)
{
    QStringList lines;
    const std::vector<size_t> indices = book.byValve.value(valve);
    for (auto index = indices.rbegin(); index != indices.rend(); ++index) {
        lines << requestWords(book.requests[*index]);
    }
    return lines.isEmpty() ? QStringList{QStringLiteral("none")} : lines;
}

QStringList problemLines(const ValveHistory &history)
{
    std::map<QString, int> counts;
    for (const ReadVisit &read : history.visits) {
        for (const Problem problem : read.visit.problems) {
            ++counts[QString::fromUtf8(infoOf(problem).words)];
        }
    }
    QStringList lines;
    for (const auto &[words, count] : counts) {
        lines << (count == 1 ? words : QStringLiteral("%1 (%2 times)").arg(words).arg(count));
    }
    return lines.isEmpty() ? QStringList{QStringLiteral("none")} : lines;
}

QStringList conditionLines(const ValveHistory &history)
{
    QStringList lines{wordFor(history.condition)};
    if (history.firstBad.isValid()) {
        lines << QStringLiteral("since %1").arg(iso(history.firstBad));
    }
    if (history.leftOtherThanNormal) {
        lines << QStringLiteral("not in its normal position: left %1")
                     .arg(standingWords(*history.leftOtherThanNormal));
    }
    return lines;
}

std::size_t lifeOf(const ValveHistory &history, std::size_t visit)
{
    for (std::size_t life = 0; life < history.lives.size(); ++life) {
        if (visit < history.lives[life].endVisit) {
            return life + 1;
        }
    }
    return history.lives.size();
}

/// Without these columns, whose cells say the same in every row.
ReportTable without(ReportTable table, const QStringList &columns)
{
    for (qsizetype column = table.columns.size() - 1; column >= 0; --column) {
        if (columns.contains(table.columns[column])) {
            table.columns.removeAt(column);
            for (QStringList &row : table.rows) {
                row.removeAt(column);
            }
        }
    }
    return table;
}

} // namespace

std::vector<LifeFact> valveLifeFacts(const Valve &valve, const ValveHistory &history,
                                     const DueEntry *due, const RepairBook &repairs)
{
    std::vector<LifeFact> facts{{QStringLiteral("Condition now"), conditionLines(history)}};
    if (due != nullptr) {
        facts.push_back({QStringLiteral("What next"), {wordFor(due->state), due->reason}});
    }
    facts.push_back({QStringLiteral("Baseline for the next count"), {wordsFor(history.baseline)}});
    QStringList lives;
    for (auto life = history.lives.rbegin(); life != history.lives.rend(); ++life) {
        lives << lifeWords(*life);
    }
    facts.push_back({history.wasReplaced() ? QStringLiteral("Its lives, newest first")
                                           : QStringLiteral("In the ground"),
                     lives});
    facts.push_back({QStringLiteral("Problems found so far"), problemLines(history)});
    facts.push_back(
        {QStringLiteral("Repair requests, newest first"), requestLines(repairs, valve.id)});
    if (valve.isCritical()) {
        facts.push_back({QStringLiteral("Cannot go without water"), {valve.criticalCustomers}});
    }
    if (!valve.remarks.isEmpty()) {
        facts.push_back({QStringLiteral("Remarks"), {valve.remarks}});
    }
    return facts;
}

ReportTable visitsTable(const Valve &valve, const ValveHistory &history)
{
    ReportTable table{QStringLiteral("Visits of valve %1").arg(valve.number),
                      {QStringLiteral("Valve"), QStringLiteral("Life"), QStringLiteral("Date"),
                       QStringLiteral("Crew"), QStringLiteral("Passes"), QStringLiteral("Turns"),
                       QStringLiteral("Judged"), QStringLiteral("Judged against"),
                       QStringLiteral("Full cycle"), QStringLiteral("Condition then"),
                       QStringLiteral("Found"), QStringLiteral("Left"), QStringLiteral("Problems"),
                       QStringLiteral("Remarks"), QStringLiteral("Recorded by")},
                      {}};
    for (std::size_t index = history.visits.size(); index-- > 0;) {
        const ReadVisit &read = history.visits[index];
        const Visit &visit = read.visit;
        table.rows.push_back(
            {valve.number, QString::number(lifeOf(history, index)), iso(visit.arrived.localDate()),
             visit.crew, passWords(visit.passes),
             read.judgement.counted.value > 0 ? turnsText(read.judgement.counted) : QString(),
             wordFor(read.judgement.verdict), wordsFor(read.judgement.baseline),
             read.fullCycle ? QStringLiteral("yes") : QString(), wordFor(read.after),
             standingWords(visit.found), standingWords(visit.left), problemWords(visit),
             visit.remarks, visit.recordedBy});
    }
    return table;
}

Sheet valveLifeSheet(const Valve &valve, const ValveHistory &history,
                     const std::vector<LifeFact> &facts, const QDate &today, UnitSystem units)
{
    Sheet sheet;
    sheet.title = QStringLiteral("Valve %1: %2").arg(valve.number, whatWords(valve, units));
    const QString where = whereWords(valve, units);
    if (!where.isEmpty()) {
        sheet.headerLines << where;
    }
    sheet.headerLines << QStringLiteral("Its whole life, as known on %1").arg(iso(today));
    for (const LifeFact &fact : facts) {
        sheet.headerLines << QStringLiteral("%1: %2").arg(fact.heading,
                                                          fact.lines.join(QStringLiteral("; ")));
    }
    QStringList same{QStringLiteral("Valve"), QStringLiteral("Recorded by")};
    if (!history.wasReplaced()) {
        same << QStringLiteral("Life");
    }
    if (history.visits.empty()) {
        sheet.notes << QStringLiteral("No visit is on record.");
    } else {
        sheet.table = without(visitsTable(valve, history), same);
    }
    return sheet;
}

} // namespace keyround
