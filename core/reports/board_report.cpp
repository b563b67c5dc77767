// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/board_report.h"

#include "core/condition/figure_words.h"
#include "core/reports/board_pages.h"

#include <algorithm>
#include <map>

namespace keyround {

namespace {

QString spanWords(const Span &span)
{
    return QStringLiteral("%1 to %2").arg(boardDay(span.from), boardDay(span.to));
}

/// A whole year is one, with or without a 29 February.
double yearsIn(const Span &span)
{
    const QDate end = span.to.addDays(1);
    int whole = 0;
    while (span.from.addYears(whole + 1) <= end) {
        ++whole;
    }
    return whole + static_cast<double>(span.from.addYears(whole).daysTo(end)) / 365.25;
}

void count(BoardClass &into, const Valve &valve, const ValveHistory &history, const Policy &policy,
           const Span &span)
{
    ++into.valves;
    into.asked += cyclesAYear(policy, valve) * yearsIn(span);
    bool wasInspected = false;
    bool madeCycle = false;
    for (const ReadVisit &read : history.visits) {
        if (isIn(span, read.visit.arrived.localDate())) {
            wasInspected = true;
            madeCycle = madeCycle || read.fullCycle;
        }
    }
    into.inspected += wasInspected ? 1 : 0;
    into.fullCycles += madeCycle ? 1 : 0;
    switch (conditionOn(history, span.to)) {
    case Condition::DoesNotShut:
    case Condition::DoesNotTurn:
        ++into.notOperable;
        break;
    case Condition::CannotReach:
        ++into.cannotReach;
        break;
    case Condition::NeverVisited:
        ++into.neverVisited;
        break;
    case Condition::Serviceable:
    case Condition::Defect:
        break;
    }
}

QString policyLine(const PolicyRule &rule)
{
    const QString every = rule.intervalMonths > 0
                              ? QStringLiteral("every %1 months").arg(rule.intervalMonths)
                              : QStringLiteral("not exercised");
    return rule.source.isEmpty() ? QStringLiteral("%1: %2").arg(rule.name, every)
                                 : QStringLiteral("%1: %2 (%3)").arg(rule.name, every, rule.source);
}

BoardPage programmePage(const BoardFigures &figures, const std::vector<BoardClass> &classes,
                        const Policy &policy)
{
    BoardPage page =
        boardPage(figures, QStringLiteral("Valve exercising programme"), BoardPicture::PaceYears);
    page.sheet.headerLines << figures.pace.sentence;
    page.sheet.table.columns = {QStringLiteral("Size"),
                                QStringLiteral("Valves"),
                                QStringLiteral("Inspected"),
                                QStringLiteral("Of all"),
                                QStringLiteral("Made a full cycle"),
                                QStringLiteral("Full cycles asked for in this time"),
                                QStringLiteral("Not operable at the end"),
                                QStringLiteral("Cannot be reached at the end"),
                                QStringLiteral("Never visited")};
    for (const BoardClass &each : classes) {
        page.sheet.table.rows.push_back(
            {each.name, QString::number(each.valves), QString::number(each.inspected),
             each.valves > 0 ? percentWords(double(each.inspected) / each.valves) : QString(),
             QString::number(each.fullCycles), QString::number(wholeCycles(each.asked)),
             QString::number(each.notOperable), QString::number(each.cannotReach),
             QString::number(each.neverVisited)});
    }
    page.sheet.notes << QStringLiteral("Policy: %1").arg(policy.name);
    for (const PolicyRule &rule : policy.rules) {
        page.sheet.notes << policyLine(rule);
    }
    page.sheet.notes << QStringLiteral(
        "Inspected: visited at least once in this time. Full cycle: run from end "
        "to end and back, judged against the valve's own baseline. Not operable: "
        "does not turn, or turns and does not shut.");
    return page;
}

BoardPage conditionPage(const BoardFigures &figures)
{
    BoardPage page =
        boardPage(figures, QStringLiteral("Condition of the valves"), BoardPicture::Conditions);
    page.sheet.headerLines << figures.condition.sentence;
    page.sheet.table.columns = {QStringLiteral("At the end of"),
                                wordFor(Condition::Serviceable),
                                wordFor(Condition::Defect),
                                wordFor(Condition::DoesNotShut),
                                wordFor(Condition::DoesNotTurn),
                                wordFor(Condition::CannotReach),
                                wordFor(Condition::NeverVisited),
                                QStringLiteral("Share of those "
                                               "visited")};
    for (const BandPeriod &period : figures.condition.periods) {
        QStringList row{period.counts.period};
        for (const Condition condition :
             {Condition::Serviceable, Condition::Defect, Condition::DoesNotShut,
              Condition::DoesNotTurn, Condition::CannotReach, Condition::NeverVisited}) {
            row << QString::number(period.counts.of(condition));
        }
        row << period.words;
        page.sheet.table.rows.push_back(row);
    }
    return page;
}

BoardPage changesPage(const BoardFigures &figures)
{
    BoardPage page = boardPage(figures, QStringLiteral("Went out of condition, and came back"),
                               BoardPicture::Changes);
    page.sheet.headerLines << figures.changes.sentence;
    page.sheet.table.columns = {QStringLiteral("Period"), QStringLiteral("Went out"),
                                QStringLiteral("Came back"),
                                QStringLiteral("Out of condition at the end")};
    for (const ChangePeriod &period : figures.changes.periods) {
        page.sheet.table.rows.push_back({period.period, QString::number(period.wentOut.size()),
                                         QString::number(period.restored.size()),
                                         QString::number(period.outAtEnd)});
    }
    return page;
}

BoardPage ageingPage(const BoardFigures &figures)
{
    BoardPage page =
        boardPage(figures, QStringLiteral("Which kind fails, at what age"), BoardPicture::Ageing);
    page.sheet.headerLines << figures.ageing.sentence;
    page.sheet.table.columns = {QStringLiteral("Kind"), QStringLiteral("Lives known"),
                                QStringLiteral("Failed"), QStringLiteral("What it says")};
    for (const AgeingGroup &group : figures.ageing.groups) {
        page.sheet.table.rows.push_back({group.name, QString::number(group.counted),
                                         QString::number(group.countedFailed), group.reading});
    }
    if (!figures.ageing.caution.isEmpty()) {
        page.sheet.cautions << figures.ageing.caution;
    }
    return page;
}

QStringList headLines(const BoardFigures &figures)
{
    QStringList lines{spanWords(figures.span)};
    if (!figures.filterWords.isEmpty()) {
        lines << QStringLiteral("Counted: %1").arg(figures.filterWords);
    }
    return lines;
}

} // namespace

QString boardDay(const QDate &day)
{
    return day.toString(Qt::ISODate);
}

BoardPage boardPage(const BoardFigures &figures, const QString &title, BoardPicture picture)
{
    BoardPage page;
    page.sheet.title = title;
    page.sheet.headerLines = headLines(figures);
    page.picture = picture;
    return page;
}

std::vector<BoardClass> boardClasses(const std::vector<Valve> &valves, const Histories &histories,
                                     const Policy &policy, const Span &span)
{
    static const ValveHistory nothing;
    std::map<SizeClass, BoardClass> classes;
    BoardClass all;
    all.name = QStringLiteral("all");
    for (const Valve &valve : valves) {
        if (valve.retired) {
            continue;
        }
        const auto found = histories.constFind(valve.id);
        const ValveHistory &history = found == histories.cend() ? nothing : *found;
        const SizeClass size = sizeClassOf(valve.size);
        BoardClass &into = classes[size];
        into.name = size == SizeClass::Unknown ? QStringLiteral("size not known") : wordFor(size);
        count(into, valve, history, policy, span);
        count(all, valve, history, policy, span);
    }
    std::vector<BoardClass> made;
    for (auto &[size, each] : classes) {
        made.push_back(std::move(each));
    }
    made.push_back(std::move(all));
    return made;
}

std::vector<BoardPage> boardReport(const BoardFigures &figures, const std::vector<Valve> &valves,
                                   const Histories &histories, const Policy &policy,
                                   const std::vector<Visit> &visits)
{
    std::vector<BoardPage> pages;
    pages.push_back(
        programmePage(figures, boardClasses(valves, histories, policy, figures.span), policy));
    pages.push_back(conditionPage(figures));
    pages.push_back(changesPage(figures));
    pages.push_back(ageingPage(figures));
    pages.push_back(boardNotOperablePage(figures, valves, histories));
    pages.push_back(boardRepairedPage(figures, valves));
    pages.push_back(boardDriftPage(figures, valves));
    pages.push_back(boardRiskPage(figures, valves));
    pages.push_back(boardOutlookPage(figures));
    pages.push_back(boardRequestsPage(figures, valves));
    pages.push_back(boardRecordsPage(figures, valves, visits));
    for (BoardPage &page : pages) {
        if (page.sheet.table.rows.empty()) { // headings over nothing look like a list that was lost
            page.sheet.table.columns.clear();
        }
    }
    return pages;
}

} // namespace keyround
