// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/day_log.h"

#include "core/reports/valve_words.h"

#include <algorithm>

namespace keyround {

namespace {

struct Entry
{
    const Valve *valve;
    const ReadVisit *read;
};

QString timeText(const Moment &moment)
{
    return moment.isNull() ? QString()
                           : moment.local().toString(QStringLiteral("yyyy-MM-dd HH:mm"));
}

QString longestText(const std::vector<Pass> &passes, PassDirection direction)
{
    const Pass *longest = nullptr;
    for (const Pass &pass : passes) {
        if (pass.direction == direction && (longest == nullptr || longest->turns < pass.turns)) {
            longest = &pass;
        }
    }
    return longest == nullptr ? QString() : turnsText(longest->turns);
}

bool workedBackAndForth(const std::vector<Pass> &passes)
{
    const auto closing = std::count_if(passes.begin(), passes.end(), [](const Pass &pass) {
        return pass.direction == PassDirection::Closing;
    });
    return closing > 1 || static_cast<std::ptrdiff_t>(passes.size()) - closing > 1;
}

QString judgedText(const Judgement &judgement)
{
    return judgement.baseline.source == BaselineSource::None
               ? wordFor(judgement.verdict)
               : QStringLiteral("%1 (against %2)")
                     .arg(wordFor(judgement.verdict), wordsFor(judgement.baseline));
}

QStringList rowFor(const Entry &entry, UnitSystem units)
{
    const Visit &visit = entry.read->visit;
    return {entry.valve->number,
            whatWords(*entry.valve, units),
            timeText(visit.arrived),
            timeText(visit.finished),
            standingWords(visit.found),
            longestText(visit.passes, PassDirection::Closing),
            longestText(visit.passes, PassDirection::Opening),
            workedBackAndForth(visit.passes) ? passWords(visit.passes) : QString(),
            judgedText(entry.read->judgement),
            wordFor(entry.read->after),
            standingWords(visit.left),
            problemWords(visit),
            visit.remarks,
            visit.recordedBy};
}

std::vector<Entry> entriesOf(const Round &round, const std::vector<Valve> &valves,
                             const Histories &histories)
{
    std::vector<Entry> entries;
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        if (history == histories.cend()) {
            continue;
        }
        for (const ReadVisit &read : history->visits) {
            if (read.visit.round == round.id) {
                entries.push_back({&valve, &read});
            }
        }
    }
    std::stable_sort(entries.begin(), entries.end(), [](const Entry &a, const Entry &b) {
        return a.read->visit.arrived != b.read->visit.arrived
                   ? a.read->visit.arrived < b.read->visit.arrived
                   : a.valve->number < b.valve->number;
    });
    return entries;
}

void note(Sheet &sheet, const QString &words, const std::vector<ValveId> &ids,
          const QHash<ValveId, QString> &numbers)
{
    QStringList names;
    for (const ValveId &id : ids) {
        names << numbers.value(id, QStringLiteral("not in the list"));
    }
    if (!names.isEmpty()) {
        sheet.notes << QStringLiteral("%1: %2.").arg(words, names.join(QStringLiteral(", ")));
    }
}

} // namespace

Sheet dayLog(const Round &round, const std::vector<Valve> &valves, const Histories &histories,
             const QString &utility, UnitSystem units)
{
    Sheet sheet;
    sheet.title = QStringLiteral("Day log");
    sheet.table.title = sheet.title;
    sheet.table.columns = {QStringLiteral("Valve"),         QStringLiteral("What"),
                           QStringLiteral("Arrived"),       QStringLiteral("Finished"),
                           QStringLiteral("Found"),         QStringLiteral("Turns closing"),
                           QStringLiteral("Turns opening"), QStringLiteral("All passes"),
                           QStringLiteral("Judged"),        QStringLiteral("Condition"),
                           QStringLiteral("Left"),          QStringLiteral("Problems"),
                           QStringLiteral("Remarks"),       QStringLiteral("Recorded by")};
    for (const Entry &entry : entriesOf(round, valves, histories)) {
        sheet.table.rows.push_back(rowFor(entry, units));
    }
    QHash<ValveId, QString> numbers;
    for (const Valve &valve : valves) {
        numbers.insert(valve.id, valve.number);
    }
    const RoundOutcome outcome = outcomeOf(round, histories);
    if (!utility.isEmpty()) {
        sheet.headerLines << utility;
    }
    sheet.headerLines << (round.crew.isEmpty() ? round.date.toString(Qt::ISODate)
                                               : QStringLiteral("%1, %2").arg(
                                                     round.date.toString(Qt::ISODate), round.crew));
    sheet.headerLines << QStringLiteral("%1 of %2 done")
                             .arg(outcome.done.size())
                             .arg(outcome.done.size() + outcome.notDone.size());
    note(sheet, QStringLiteral("Not in their normal position"), outcome.leftAbnormal, numbers);
    note(sheet, QStringLiteral("Went out of condition"), outcome.newlyBad, numbers);
    note(sheet, QStringLiteral("New defects"), outcome.newDefects, numbers);
    note(sheet, QStringLiteral("Not done, back to the due list"), outcome.notDone, numbers);
    return sheet;
}

} // namespace keyround
