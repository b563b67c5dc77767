// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/board_report.h"

#include "core/reports/valve_words.h"

#include <QSet>

#include <algorithm>
#include <cmath>
#include <map>

namespace keyround {

namespace {

/// A report is read: longer lists are handed over as files.
constexpr size_t longestList = 400;

QString dayText(const QDate &day)
{
    return day.toString(Qt::ISODate);
}

QString spanWords(const Span &span)
{
    return QStringLiteral("%1 to %2").arg(dayText(span.from), dayText(span.to));
}

QString shareWords(double share)
{
    return QStringLiteral("%1 %").arg(100.0 * share, 0, 'f', 0);
}

bool isIn(const Span &span, const QDate &day)
{
    return day >= span.from && day <= span.to;
}

void count(BoardClass &into, const Valve &valve, const ValveHistory &history, const Policy &policy,
           const Span &span)
{
    ++into.valves;
    into.asked +=
        cyclesAYear(policy, valve) * static_cast<double>(span.from.daysTo(span.to) + 1) / 365.25;
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

QStringList headLines(const BoardFigures &figures)
{
    QStringList lines{spanWords(figures.span)};
    if (!figures.filterWords.isEmpty()) {
        lines << QStringLiteral("Counted: %1").arg(figures.filterWords);
    }
    return lines;
}

BoardPage pageOf(const BoardFigures &figures, const QString &title, BoardPicture picture)
{
    BoardPage page;
    page.sheet.title = title;
    page.sheet.headerLines = headLines(figures);
    page.picture = picture;
    return page;
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
        pageOf(figures, QStringLiteral("Valve exercising programme"), BoardPicture::PaceYears);
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
             each.valves > 0 ? shareWords(double(each.inspected) / each.valves) : QString(),
             QString::number(each.fullCycles), QString::number(std::lround(each.asked)),
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
        pageOf(figures, QStringLiteral("Condition of the valves"), BoardPicture::Conditions);
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
    BoardPage page = pageOf(figures, QStringLiteral("Went out of condition, and came back"),
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
        pageOf(figures, QStringLiteral("Which kind fails, at what age"), BoardPicture::Ageing);
    page.sheet.headerLines << figures.ageing.sentence;
    page.sheet.table.columns = {QStringLiteral("Kind"), QStringLiteral("Lives known"),
                                QStringLiteral("Failed"), QStringLiteral("What it says")};
    for (const AgeingGroup &group : figures.ageing.groups) {
        page.sheet.table.rows.push_back({group.name, QString::number(group.lives.size()),
                                         QString::number(group.failed), group.reading});
    }
    if (!figures.ageing.caution.isEmpty()) {
        page.sheet.cautions << figures.ageing.caution;
    }
    return page;
}

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

BoardPage notOperablePage(const BoardFigures &figures, const std::vector<Valve> &valves,
                          const Histories &histories)
{
    BoardPage page =
        pageOf(figures, QStringLiteral("Valves out of condition at the end"), BoardPicture::None);
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
              wordFor(condition), dayText(seen), problemWords(read->visit)}});
    }
    std::ranges::stable_sort(rows, {}, &Row::seen);
    for (Row &row : rows) {
        page.sheet.table.rows.push_back(std::move(row.cells));
    }
    page.sheet.headerLines
        << (rows.empty() ? QStringLiteral("None.")
                         : QStringLiteral("%1, those seen longest ago first.").arg(rows.size()));
    cutList(page.sheet);
    return page;
}

BoardPage repairedPage(const BoardFigures &figures, const std::vector<Valve> &valves)
{
    BoardPage page = pageOf(figures, QStringLiteral("Valves that came back"), BoardPicture::None);
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
            {valve->number, whatWords(*valve, figures.units), dayText(one.change.date),
             wordFor(one.change.from), wordFor(one.change.to),
             one.byReplacement ? QStringLiteral("replaced") : QStringLiteral("shown by a visit")});
    }
    page.sheet.headerLines << (page.sheet.table.rows.empty()
                                   ? QStringLiteral("None.")
                                   : QStringLiteral("%1.").arg(page.sheet.table.rows.size()));
    cutList(page.sheet);
    return page;
}

BoardPage recordsPage(const BoardFigures &figures, const std::vector<Valve> &valves,
                      const std::vector<Visit> &visits)
{
    BoardPage page = pageOf(figures, QStringLiteral("Records kept"), BoardPicture::None);
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

} // namespace

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
    pages.push_back(notOperablePage(figures, valves, histories));
    pages.push_back(repairedPage(figures, valves));
    pages.push_back(recordsPage(figures, valves, visits));
    return pages;
}

} // namespace keyround
