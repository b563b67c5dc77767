// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/list_offer.h"
#include "core/reports/board_pages.h"
#include "core/reports/valve_words.h"

#include <QSet>

#include <algorithm>
#include <map>
#include <utility>

namespace keyround {

namespace {

/// A report is read: longer lists are handed over as files.
constexpr size_t longestList = 400;

/// Says so where a list was cut.
void cutList(Sheet &sheet)
{
    const size_t all = sheet.table.rows.size();
    if (all > longestList) {
        sheet.table.rows.resize(longestList);
        sheet.notes << QStringLiteral(
                           "%1 of %2 are listed; the Office gives all of them as a file.")
                           .arg(longestList)
                           .arg(all);
    }
}

} // namespace

BoardPage boardNotOperablePage(const BoardFigures &figures, const std::vector<Valve> &valves,
                               const Histories &histories)
{
    BoardPage page = boardPage(figures, QStringLiteral("Valves out of condition at the end"),
                               BoardPicture::None);
    page.sheet.table.columns = {QStringLiteral("Valve"),   QStringLiteral("What"),
                                QStringLiteral("Where"),   QStringLiteral("Condition"),
                                QStringLiteral("Seen on"), QStringLiteral("Problems")};
    struct Row
    {
        QDate seen;
        QStringList cells;
    };
    std::vector<Row> rows;
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        if (valve.retired || history == histories.cend()) {
            continue;
        }
        const ReadVisit *read = lastVisitBy(*history, figures.span.to);
        const Condition condition = conditionOn(*history, figures.span.to);
        if (read == nullptr || !isOutOfCondition(condition)) {
            continue;
        }
        const QDate seen = read->visit.arrived.localDate();
        rows.push_back(
            {seen,
             {valve.number, whatWords(valve, figures.units), whereWords(valve, figures.units),
              wordFor(condition), boardDay(seen), problemWords(read->visit)}});
    }
    std::ranges::stable_sort(rows, {}, &Row::seen);
    for (Row &row : rows) {
        page.sheet.table.rows.push_back(std::move(row.cells));
    }
    page.sheet.headerLines
        << (rows.empty() ? QStringLiteral("None.")
                         : QStringLiteral("%1, those seen longest ago first.").arg(rows.size()));
    cutList(page.sheet);
    if (const QString doubt = doubtedByListWords(doubtedByListAlone(valves, histories));
        !doubt.isEmpty()) {
        page.sheet.notes << doubt;
    }
    return page;
}

BoardPage boardRepairedPage(const BoardFigures &figures, const std::vector<Valve> &valves)
{
    BoardPage page =
        boardPage(figures, QStringLiteral("Valves that came back"), BoardPicture::None);
    QHash<ValveId, const Valve *> byId;
    for (const Valve &valve : valves) {
        byId.insert(valve.id, &valve);
    }
    page.sheet.table.columns = {QStringLiteral("Valve"), QStringLiteral("What"),
                                QStringLiteral("Date"),  QStringLiteral("From"),
                                QStringLiteral("To"),    QStringLiteral("How")};
    for (const KeyChange &one : figures.changes.all) {
        const Valve *valve = byId.value(one.change.valve, nullptr);
        if (one.kind != ChangeKind::Restored || valve == nullptr) {
            continue;
        }
        page.sheet.table.rows.push_back(
            {valve->number, whatWords(*valve, figures.units), boardDay(one.change.date),
             wordFor(one.change.from), wordFor(one.change.to),
             one.byReplacement ? QStringLiteral("replaced") : QStringLiteral("shown by a visit")});
    }
    page.sheet.headerLines << (page.sheet.table.rows.empty()
                                   ? QStringLiteral("None.")
                                   : QStringLiteral("%1.").arg(page.sheet.table.rows.size()));
    cutList(page.sheet);
    return page;
}

BoardPage boardRequestsPage(const BoardFigures &figures, const std::vector<Valve> &valves)
{
    BoardPage page = boardPage(figures, QStringLiteral("Repair requests"), BoardPicture::None);
    page.sheet.table.columns = {
        QStringLiteral("Department"),        QStringLiteral("Opened in this time"),
        QStringLiteral("Proved by a visit"), QStringLiteral("Withdrawn"),
        QStringLiteral("Open at the end"),   QStringLiteral("Days from opening to proof, mean")};
    QSet<ValveId> ids;
    for (const Valve &valve : valves) {
        ids.insert(valve.id);
    }
    struct Counted
    {
        int opened = 0;
        int proved = 0;
        int withdrawn = 0;
        int open = 0;
        qint64 days = 0;
    };
    std::map<QString, Counted> byDepartment;
    for (const RepairRequest &request : figures.repairs.requests) {
        const QDate opened = request.opened.localDate();
        if (!ids.contains(request.valve) || opened > figures.span.to) {
            continue;
        }
        Counted &counted = byDepartment[request.department];
        counted.opened += isIn(figures.span, opened) ? 1 : 0;
        const bool closed = request.closedOn.isValid() && request.closedOn <= figures.span.to;
        counted.open += closed ? 0 : 1;
        if (closed && isIn(figures.span, request.closedOn)) {
            const bool proved = request.state == RepairState::Proved;
            ++(proved ? counted.proved : counted.withdrawn);
            counted.days += proved ? opened.daysTo(request.closedOn) : 0;
        }
    }
    for (const auto &[key, counted] : byDepartment) {
        const RepairDepartment *department = figures.habits.department(key);
        page.sheet.table.rows.push_back(
            {department == nullptr ? key : department->name, QString::number(counted.opened),
             QString::number(counted.proved), QString::number(counted.withdrawn),
             QString::number(counted.open),
             counted.proved > 0 ? QString::number(counted.days / counted.proved) : QString()});
    }
    if (byDepartment.empty()) {
        page.sheet.headerLines << QStringLiteral("No repair request was made by the end of this "
                                                 "time.");
    }
    return page;
}

BoardPage boardRecordsPage(const BoardFigures &figures, const std::vector<Valve> &valves,
                           const std::vector<Visit> &visits)
{
    BoardPage page = boardPage(figures, QStringLiteral("Records kept"), BoardPicture::None);
    QSet<ValveId> ids;
    for (const Valve &valve : valves) {
        ids.insert(valve.id);
    }
    struct Kept
    {
        int visits = 0;
        int corrections = 0;
        int full = 0;
        QSet<QString> people;
    };
    std::map<QString, Kept> byCrew;
    Kept all;
    for (const Visit &visit : visits) {
        if (!ids.contains(visit.valve) || !isIn(figures.span, visit.arrived.localDate())) {
            continue;
        }
        for (Kept *kept : {&byCrew[visit.crew], &all}) {
            ++(visit.supersedes.isNull() ? kept->visits : kept->corrections);
            kept->full += visit.passes.empty() ? 0 : 1;
            kept->people.insert(visit.recordedBy);
        }
    }
    page.sheet.table.columns = {QStringLiteral("Crew"), QStringLiteral("Visits"),
                                QStringLiteral("With turns counted"), QStringLiteral("Corrections"),
                                QStringLiteral("Recorded by")};
    const auto add = [&](const QString &name, const Kept &kept) {
        QStringList people(kept.people.begin(), kept.people.end());
        people.removeAll(QString());
        people.sort();
        page.sheet.table.rows.push_back(
            {name, QString::number(kept.visits), QString::number(kept.full),
             QString::number(kept.corrections), people.join(QStringLiteral(", "))});
    };
    for (const auto &[crew, kept] : byCrew) {
        add(crew.isEmpty() ? QStringLiteral("not written down") : crew, kept);
    }
    add(QStringLiteral("all"), all);
    page.sheet.notes
        << QStringLiteral("A visit, once recorded, is never changed or deleted. A correction is a "
                          "record of its own that names the one it corrects, with who, when and "
                          "why; both are kept.")
        << QStringLiteral("Every record keeps the valve, the time, the crew, how the valve was "
                          "found and left, each pass with its turns, the problems, and who wrote "
                          "it on which machine.");
    return page;
}

} // namespace keyround
