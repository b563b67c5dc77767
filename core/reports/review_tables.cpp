// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/review_tables.h"

#include "core/condition/figure_words.h"
#include "core/reports/valve_words.h"

#include <cmath>

namespace keyround {

namespace {

QString number(double value, int decimals = 0)
{
    return std::isinf(value) ? QString() : QString::number(value, 'f', decimals);
}

/// A share as a percentage with one decimal; empty where there is none.
QString percent(std::optional<double> share)
{
    return share ? number(100.0 * *share, 1) : QString();
}

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

ReportTable tableOf(const QString &title, const QStringList &columns)
{
    return {title, columns, {}};
}

QHash<ValveId, const Valve *> byId(const std::vector<Valve> &valves)
{
    QHash<ValveId, const Valve *> index;
    index.reserve(static_cast<qsizetype>(valves.size()));
    for (const Valve &valve : valves) {
        index.insert(valve.id, &valve);
    }
    return index;
}

QString kindOf(ShareKind kind)
{
    switch (kind) {
    case ShareKind::Sample:
        return QStringLiteral("a sample");
    case ShareKind::All:
        return QStringLiteral("all visited");
    case ShareKind::Nothing:
        break;
    }
    return QStringLiteral("none visited");
}

QString foundBy(const VisitId &visit, const ValveHistory &history)
{
    for (const ReadVisit &read : history.visits) {
        if (read.visit.id == visit) {
            return whatVisitFound(read);
        }
    }
    return {};
}

void addPaceRow(ReportTable &table, const PaceYear &year, const QString &by,
                const PaceCounts &counts)
{
    const QString name = year.isWhole
                             ? QString::number(year.year)
                             : QStringLiteral("%1 to %2").arg(year.year).arg(iso(year.until));
    table.rows.push_back({name, by, counts.name, QString::number(counts.valves),
                          number(counts.target, 1), QString::number(counts.inspected),
                          QString::number(counts.cycles), percent(counts.share())});
}

const BandPoint *bandAt(const AgeingGroup &group, double years)
{
    for (const BandPoint &point : group.band) {
        if (point.years == years) {
            return &point;
        }
    }
    return nullptr;
}

void addCurve(ReportTable &table, const AgeingGroup &group)
{
    const std::vector<FailureInterval> times = timesOf(group);
    for (const CurveStep &step : group.curve->steps) {
        const BandPoint *band = bandAt(group, step.to);
        table.rows.push_back({group.name, number(step.from, 2), number(step.to, 2),
                              percent(step.holdsAfter),
                              band == nullptr ? QString() : percent(band->holds.from),
                              band == nullptr ? QString() : percent(band->holds.to),
                              QString::number(watchedAt(times, step.from)), QString()});
    }
}

} // namespace

ReportTable counted(ReportTable table, const QString &filterWords)
{
    if (filterWords.isEmpty()) {
        return table;
    }
    table.title += QStringLiteral("; counted: %1").arg(filterWords);
    table.columns << QStringLiteral("Counted");
    for (QStringList &row : table.rows) {
        row << filterWords;
    }
    return table;
}

ReportTable paceTable(const Pace &pace)
{
    ReportTable table =
        tableOf(QStringLiteral("Pace: inspected and full cycles against the policy's target"),
                {QStringLiteral("Year"), QStringLiteral("By"), QStringLiteral("Which"),
                 QStringLiteral("Valves"), QStringLiteral("Target, full cycles a year"),
                 QStringLiteral("Inspected"), QStringLiteral("Full cycles"),
                 QStringLiteral("Of the target, %")});
    for (const PaceYear &year : pace.years) {
        addPaceRow(table, year, QStringLiteral("all"), year.all);
        for (const PaceCounts &size : year.bySize) {
            addPaceRow(table, year, QStringLiteral("size"), size);
        }
        for (const PaceCounts &zone : year.byZone) {
            addPaceRow(table, year, QStringLiteral("zone"), zone);
        }
    }
    return table;
}

ReportTable crewDayTable(const Pace &pace)
{
    ReportTable table =
        tableOf(QStringLiteral("Crew-days"),
                {QStringLiteral("Year"), QStringLiteral("Until"), QStringLiteral("Crew-days"),
                 QStringLiteral("Visits"), QStringLiteral("Valves a crew-day")});
    for (const PaceYear &year : pace.years) {
        table.rows.push_back({QString::number(year.year), iso(year.until),
                              QString::number(year.crewDays), QString::number(year.visits),
                              number(year.valvesADay, 1)});
    }
    return table;
}

ReportTable minutesTable(const Pace &pace)
{
    ReportTable table = tableOf(
        QStringLiteral("Minutes a stop, by kind"),
        {QStringLiteral("Kind"), QStringLiteral("Visits with times"), QStringLiteral("Median, min"),
         QStringLiteral("Lower quartile, min"), QStringLiteral("Upper quartile, min")});
    for (const PaceMinutes &kind : pace.minutes) {
        table.rows.push_back({kind.name, QString::number(kind.visits), number(kind.median, 1),
                              number(kind.lowerQuartile, 1), number(kind.upperQuartile, 1)});
    }
    return table;
}

ReportTable conditionOverTimeTable(const ConditionOverTime &figure)
{
    ReportTable table =
        tableOf(QStringLiteral("Condition over time"),
                {QStringLiteral("Period"), QStringLiteral("Ends"), QStringLiteral("Serviceable"),
                 QStringLiteral("With a defect"), QStringLiteral("Does not shut"),
                 QStringLiteral("Does not turn"), QStringLiteral("Cannot be reached"),
                 QStringLiteral("Never visited"), QStringLiteral("Visited in the period"),
                 QStringLiteral("Of them serviceable"), QStringLiteral("Share, %"),
                 QStringLiteral("From, % (95 %)"), QStringLiteral("To, % (95 %)"),
                 QStringLiteral("What it is"), QStringLiteral("Lower limit, %"),
                 QStringLiteral("Upper limit, %"), QStringLiteral("Stands out")});
    for (const BandPeriod &period : figure.periods) {
        const auto at = [&period](Condition condition) {
            return QString::number(period.counts.of(condition));
        };
        const auto end = [](const std::optional<Interval> &interval, double Interval::*which) {
            return interval ? percent((*interval).*which) : QString();
        };
        table.rows.push_back(
            {period.counts.period, iso(period.counts.end), at(Condition::Serviceable),
             at(Condition::Defect), at(Condition::DoesNotShut), at(Condition::DoesNotTurn),
             at(Condition::CannotReach), at(Condition::NeverVisited),
             QString::number(period.visited), QString::number(period.serviceable),
             percent(period.share), end(period.interval, &Interval::from),
             end(period.interval, &Interval::to), kindOf(period.kind),
             end(period.limits, &Interval::from), end(period.limits, &Interval::to),
             period.standsOut ? QStringLiteral("yes") : QString()});
    }
    return table;
}

ReportTable changePeriodTable(const ConditionChanges &figure)
{
    ReportTable table =
        tableOf(QStringLiteral("Went out of condition and came back, by period"),
                {QStringLiteral("Period"), QStringLiteral("Ends"), QStringLiteral("Went out"),
                 QStringLiteral("Restored"), QStringLiteral("Out of condition at the end")});
    for (const ChangePeriod &period : figure.periods) {
        table.rows.push_back(
            {period.period, iso(period.end), QString::number(period.wentOut.size()),
             QString::number(period.restored.size()), QString::number(period.outAtEnd)});
    }
    return table;
}

ReportTable changeTable(const ConditionChanges &figure, const std::vector<Valve> &valves,
                        const Histories &histories, UnitSystem units)
{
    const auto index = byId(valves);
    ReportTable table =
        tableOf(QStringLiteral("Went out of condition and came back"),
                {QStringLiteral("Valve"), QStringLiteral("What"), QStringLiteral("Where"),
                 QStringLiteral("Date"), QStringLiteral("Change"), QStringLiteral("From"),
                 QStringLiteral("To"), QStringLiteral("The visit found")});
    for (const KeyChange &one : figure.all) {
        const Valve *valve = index.value(one.change.valve, nullptr);
        const auto history = histories.constFind(one.change.valve);
        if (valve == nullptr || history == histories.cend()) {
            continue;
        }
        table.rows.push_back({valve->number, whatWords(*valve, units), whereWords(*valve, units),
                              iso(one.change.date), wordFor(one.kind), wordFor(one.change.from),
                              wordFor(one.change.to),
                              one.byReplacement ? QStringLiteral("replaced by a new valve")
                                                : foundBy(one.change.visit, *history)});
    }
    return table;
}

ReportTable ageingTable(const Ageing &figure)
{
    ReportTable table =
        tableOf(QStringLiteral("How long valves hold, by %1").arg(wordFor(figure.by)),
                {QStringLiteral("Which"), QStringLiteral("From, years"),
                 QStringLiteral("To, years"), QStringLiteral("Hold after, %"),
                 QStringLiteral("Lower, % (95 %)"), QStringLiteral("Upper, % (95 %)"),
                 QStringLiteral("Under watch before"), QStringLiteral("Remark")});
    for (const AgeingGroup &group : figure.groups) {
        if (!group.curve) {
            table.rows.push_back({group.name,
                                  {},
                                  {},
                                  {},
                                  {},
                                  {},
                                  QString::number(group.lives.size()),
                                  group.reading});
            continue;
        }
        addCurve(table, group);
    }
    return table;
}

ReportTable ageingReadings(const Ageing &figure)
{
    ReportTable table =
        tableOf(QStringLiteral("How long valves hold, by %1, in words").arg(wordFor(figure.by)),
                {QStringLiteral("Which"), QStringLiteral("Valves"), QStringLiteral("Failed"),
                 QStringLiteral("Half are out by, years"), QStringLiteral("Could be from, years"),
                 QStringLiteral("Could be to, years"), QStringLiteral("In words")});
    for (const AgeingGroup &group : figure.groups) {
        const std::optional<OutBy> &half = group.half;
        table.rows.push_back({group.name, QString::number(group.counted),
                              QString::number(group.countedFailed),
                              half ? number(half->years, 1) : QString(),
                              half ? number(half->couldBe.from, 1) : QString(),
                              half ? number(half->couldBe.to, 1) : QString(), group.reading});
    }
    return table;
}

ReportTable valveTurnsTable(const ValveTurns &figure)
{
    ReportTable table =
        tableOf(QStringLiteral("Counts of turns"),
                {QStringLiteral("Date"), QStringLiteral("Turns"), QStringLiteral("Judged against"),
                 QStringLiteral("Off by up to, turns"), QStringLiteral("Judged"),
                 QStringLiteral("Full cycle")});
    for (const TurnCount &count : figure.counts) {
        table.rows.push_back({iso(count.date), number(count.turns, 2), wordsFor(count.baseline),
                              number(count.allowed, 2), wordFor(count.verdict),
                              count.fullCycle ? QStringLiteral("yes") : QString()});
    }
    return table;
}

ReportTable turnsGroupTable(const FleetTurns &figure)
{
    ReportTable table = tableOf(
        QStringLiteral("Counts against each valve's first baseline, by kind"),
        {QStringLiteral("Kind"), QStringLiteral("Valves"), QStringLiteral("Counts"),
         QStringLiteral("Centre, turns"), QStringLiteral("Lower limit, turns"),
         QStringLiteral("Upper limit, turns"), QStringLiteral("Median moving range, turns")});
    for (const TurnsGroup &group : figure.groups) {
        const auto cell = [&group](double RobustChart::*which) {
            return group.chart ? number((*group.chart).*which, 2) : QString();
        };
        table.rows.push_back({group.name, QString::number(group.valves),
                              QString::number(group.points.size()), cell(&RobustChart::centre),
                              cell(&RobustChart::lower), cell(&RobustChart::upper),
                              cell(&RobustChart::medianRange)});
    }
    return table;
}

ReportTable driftTable(const FleetTurns &figure, const std::vector<Valve> &valves, UnitSystem units)
{
    const auto index = byId(valves);
    ReportTable table = tableOf(
        QStringLiteral("Valves whose counts drift"),
        {QStringLiteral("Valve"), QStringLiteral("What"), QStringLiteral("Where"),
         QStringLiteral("Last count"), QStringLiteral("From the first baseline, turns"),
         QStringLiteral("Rule"), QStringLiteral("Condition now"), QStringLiteral("In words")});
    for (const DriftingValve &drift : figure.drifting) {
        if (const Valve *valve = index.value(drift.valve, nullptr)) {
            table.rows.push_back({valve->number, whatWords(*valve, units),
                                  whereWords(*valve, units), iso(drift.date),
                                  number(drift.fromFirst, 2), QString::number(drift.rule),
                                  wordFor(drift.condition), drift.words});
        }
    }
    return table;
}

ReportTable whatNextTable(const std::vector<RiskEntry> &entries, const std::vector<Valve> &valves,
                          UnitSystem units)
{
    const auto index = byId(valves);
    ReportTable table =
        tableOf(QStringLiteral("What next: the due list by risk"),
                {QStringLiteral("Valve"), QStringLiteral("What"), QStringLiteral("Where"),
                 QStringLiteral("State"), QStringLiteral("Chance out of condition, %"),
                 QStringLiteral("Services more without water"), QStringLiteral("Risk, services"),
                 QStringLiteral("Why"), QStringLiteral("Due")});
    for (const RiskEntry &entry : entries) {
        if (const Valve *valve = index.value(entry.due.valve, nullptr)) {
            table.rows.push_back({valve->number, whatWords(*valve, units),
                                  whereWords(*valve, units), wordFor(entry.due.state),
                                  percent(entry.chanceOut),
                                  entry.services ? QString::number(*entry.services) : QString(),
                                  entry.services ? number(entry.risk, 1) : QString(), entry.words,
                                  entry.due.reason});
        }
    }
    return table;
}

ReportTable outlookTable(const Outlook &figure)
{
    ReportTable table = tableOf(
        QStringLiteral("Outlook: share out of condition, known or not"),
        {QStringLiteral("Plan"), QStringLiteral("On"), QStringLiteral("Out, %"),
         QStringLiteral("From, % (90 %)"), QStringLiteral("To, % (90 %)"),
         QStringLiteral("Of it not found yet, %"), QStringLiteral("Visits in the year"),
         QStringLiteral("Due, not visited at its end"), QStringLiteral("Repairs in the year")});
    for (const OutlookResult &plan : figure.plans) {
        for (const OutlookYear &year : plan.years) {
            table.rows.push_back({plan.plan.name, iso(year.end), percent(year.out),
                                  percent(year.spread.from), percent(year.spread.to),
                                  percent(year.unseen), number(year.visits), number(year.waiting),
                                  number(year.repairs)});
        }
    }
    return table;
}

} // namespace keyround
