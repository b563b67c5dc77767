// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/repair_sheet.h"

#include "core/inventory/valve_fields.h"
#include "core/reports/repair_table.h"
#include "core/reports/valve_words.h"

#include <algorithm>

namespace keyround {

namespace {

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

QString countWords(const ReadVisit &read)
{
    const QString passes = passWords(read.visit.passes);
    if (passes.isEmpty()) {
        return QStringLiteral("not turned");
    }
    return read.judgement.baseline.source == BaselineSource::None
               ? passes
               : QStringLiteral("%1 (of %2)").arg(passes, wordsFor(read.judgement.baseline));
}

ReportTable evidenceOf(const RepairRequest &request, const ValveHistory &history,
                       const std::vector<ShutLog> &shuts)
{
    ReportTable table{QStringLiteral("What was seen"),
                      {QStringLiteral("Day"), QStringLiteral("By"), QStringLiteral("Turns"),
                       QStringLiteral("Found"), QStringLiteral("Remarks")},
                      {}};
    for (const ReadVisit &read : history.visits) {
        if (std::ranges::find(request.visits, read.visit.id) != request.visits.end()) {
            table.rows.push_back(
                {iso(read.visit.arrived.localDate()), read.visit.crew, countWords(read),
                 findingsWords(findingsOf(read)),
                 QStringList{read.visit.otherProblem, read.visit.remarks}.join(
                     read.visit.otherProblem.isEmpty() || read.visit.remarks.isEmpty()
                         ? QString()
                         : QStringLiteral("; "))});
        }
    }
    for (const ShutLog &shut : shuts) {
        for (const ShutTick &tick : shut.ticks) {
            if (std::ranges::find(request.ticks, tick.id) != request.ticks.end()) {
                table.rows.push_back({iso(tick.at.localDate()), tick.person, QString(),
                                      QStringLiteral("Did not hold: %1").arg(shut.begun.words),
                                      tick.words});
            }
        }
    }
    std::ranges::stable_sort(table.rows, {}, [](const QStringList &row) { return row.front(); });
    return table;
}

QString affectedWords(const BacklogRow &row)
{
    QString words;
    if (row.services > 0) {
        words = QStringLiteral("%1 services without water if it fails when something breaks "
                               "beside it")
                    .arg(row.services);
    }
    if (row.valve != nullptr && row.valve->isCritical()) {
        words += QStringLiteral("%1critical: %2")
                     .arg(words.isEmpty() ? QString() : QStringLiteral("; "),
                          row.valve->criticalCustomers);
    }
    return words;
}

QString daysWords(const BacklogRow &row)
{
    QString words =
        QStringLiteral("%1, %2 days").arg(iso(row.request->opened.localDate())).arg(row.ageDays);
    if (row.dueOn.isValid()) {
        words += row.daysOverdue > 0 ? QStringLiteral("; overdue since %1").arg(iso(row.dueOn))
                                     : QStringLiteral("; due by %1").arg(iso(row.dueOn));
    }
    return words;
}

} // namespace

RepairSheet repairSheet(const BacklogRow &row, const ValveHistory &history,
                        const std::vector<ShutLog> &shuts, const QString &utility, UnitSystem units)
{
    const RepairRequest &request = *row.request;
    RepairSheet sheet;
    sheet.title = QStringLiteral("Repair request %1").arg(request.number);
    sheet.urgent = QStringLiteral("%1, for %2").arg(wordFor(row.urgency).toUpper(), row.department);
    const auto fact = [&sheet](const char *label, const QString &text) {
        if (!text.isEmpty()) {
            sheet.facts.emplace_back(QLatin1String(label), text);
        }
    };
    fact("Utility", utility);
    fact("Found", findingsWords(request.findings));
    fact("Since", iso(request.since));
    if (const Valve *valve = row.valve) {
        fact("Valve", valve->number);
        fact("What it is", whatWords(*valve, units));
        fact("Turns", valve->listedTurns ? turnsText(*valve->listedTurns) : QString());
        fact("Installed", valve->installYear ? QString::number(*valve->installYear) : QString());
        fact("Address", valve->address);
        fact("Ties", valve->ties);
        fact("Depth to the nut", valveFieldText(*valve, ValveField::DepthToNut, units));
        fact("Surface", valve->surface);
        fact("Position", valveFieldText(*valve, ValveField::Place, units));
        fact("Remarks", valve->remarks);
    }
    fact("Affects", affectedWords(row));
    fact("Condition now", wordFor(history.condition));
    fact("State", wordFor(request.state));
    fact("Opened", daysWords(row));
    sheet.evidence = evidenceOf(request, history, shuts);
    for (const RepairEvent &event : request.life) {
        sheet.life << QStringLiteral("%1  %2 (%3)")
                          .arg(iso(event.at.localDate()), lifeWords(event), event.person);
    }
    sheet.boxes = {QStringLiteral("Done on"),          QStringLiteral("By"),
                   QStringLiteral("Work done"),        QStringLiteral("Valve replaced: year"),
                   QStringLiteral("New valve: turns"), QStringLiteral("New valve: size, type")};
    sheet.answerHow = QStringLiteral("Answer by the number %1: on this sheet, or in the columns "
                                     "\"answer\" to \"new_type\" of the table that came with it.")
                          .arg(request.number);
    return sheet;
}

QString textOf(const RepairSheet &sheet)
{
    QStringList lines{sheet.title, sheet.urgent};
    for (const auto &[label, text] : sheet.facts) {
        lines << QStringLiteral("%1: %2").arg(label, text);
    }
    lines << sheet.evidence.title << sheet.evidence.columns.join(QLatin1Char('\t'));
    for (const QStringList &row : sheet.evidence.rows) {
        lines << row.join(QLatin1Char('\t'));
    }
    lines << sheet.life << sheet.answerHow;
    return lines.join(QLatin1Char('\n'));
}

} // namespace keyround
