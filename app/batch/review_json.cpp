// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/review_json.h"

#include <QJsonArray>

#include <cmath>

namespace keyround::batch {

namespace {

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

QJsonValue dateOrNull(const QDate &date)
{
    return date.isValid() ? QJsonValue(iso(date)) : QJsonValue();
}

template <typename Tag> QJsonValue idOrNull(const Id<Tag> &id)
{
    return id.isNull() ? QJsonValue() : QJsonValue(id.text());
}

QJsonValue numberOrNull(std::optional<double> number)
{
    return number && std::isfinite(*number) ? QJsonValue(*number) : QJsonValue();
}

QJsonValue spanOrNull(const std::optional<Interval> &interval)
{
    return interval ? QJsonValue(QJsonObject{{QStringLiteral("from"), numberOrNull(interval->from)},
                                             {QStringLiteral("to"), numberOrNull(interval->to)}})
                    : QJsonValue();
}

template <typename Range, typename Make> QJsonArray arrayOf(const Range &range, Make make)
{
    QJsonArray array;
    for (const auto &each : range) {
        array.append(make(each));
    }
    return array;
}

QJsonObject countsJson(const PaceCounts &counts)
{
    return {{QStringLiteral("name"), counts.name},
            {QStringLiteral("valves"), counts.valves},
            {QStringLiteral("target"), counts.target},
            {QStringLiteral("inspected"), counts.inspected},
            {QStringLiteral("full_cycles"), counts.cycles}};
}

QJsonObject yearJson(const PaceYear &year)
{
    QJsonObject json = countsJson(year.all);
    json.remove(QStringLiteral("name"));
    json.insert(QStringLiteral("year"), year.year);
    json.insert(QStringLiteral("until"), iso(year.until));
    json.insert(QStringLiteral("by_size"), arrayOf(year.bySize, countsJson));
    json.insert(QStringLiteral("by_zone"), arrayOf(year.byZone, countsJson));
    json.insert(QStringLiteral("months"), arrayOf(year.months, [](const PaceMonth &month) {
                    return QJsonObject{{QStringLiteral("end"), iso(month.end)},
                                       {QStringLiteral("inspected"), month.inspected},
                                       {QStringLiteral("full_cycles"), month.cycles}};
                }));
    json.insert(QStringLiteral("visits"), year.visits);
    json.insert(QStringLiteral("crew_days"), year.crewDays);
    json.insert(QStringLiteral("valves_a_crew_day"), year.valvesADay);
    return json;
}

QString keyOf(ShareKind kind)
{
    switch (kind) {
    case ShareKind::Sample:
        return QStringLiteral("sample");
    case ShareKind::All:
        return QStringLiteral("all");
    case ShareKind::Nothing:
        break;
    }
    return QStringLiteral("nothing");
}

QJsonObject groupJson(const AgeingGroup &group, const NumberOf &numberOf)
{
    QJsonObject json{{QStringLiteral("name"), group.name},
                     {QStringLiteral("valves"), static_cast<qint64>(group.lives.size())},
                     {QStringLiteral("failed"), group.failed},
                     {QStringLiteral("left_out"), group.leftOut},
                     {QStringLiteral("too_few"), group.isTooFew},
                     {QStringLiteral("oldest_years"), group.lastYears},
                     {QStringLiteral("reading"), group.reading}};
    QJsonArray steps;
    if (group.curve) {
        steps = arrayOf(group.curve->steps, [](const CurveStep &step) {
            return QJsonObject{{QStringLiteral("from_years"), step.from},
                               {QStringLiteral("to_years"), numberOrNull(step.to)},
                               {QStringLiteral("fail_within"), step.mass},
                               {QStringLiteral("hold_after"), step.holdsAfter}};
        });
        const Interval half = group.curve->timeOf(0.5);
        json.insert(QStringLiteral("half_fail_years"), spanOrNull(half));
    }
    json.insert(QStringLiteral("curve"), steps);
    json.insert(QStringLiteral("band"), arrayOf(group.band, [](const BandPoint &point) {
                    return QJsonObject{{QStringLiteral("years"), point.years},
                                       {QStringLiteral("hold"), spanOrNull(point.holds)}};
                }));
    json.insert(QStringLiteral("at_risk"), arrayOf(group.atRisk, [](const RiskNumber &risk) {
                    return QJsonObject{{QStringLiteral("years"), risk.years},
                                       {QStringLiteral("valves"), risk.atRisk}};
                }));
    json.insert(QStringLiteral("lives"), arrayOf(group.lives, [&numberOf](const LifeSeen &life) {
                    return QJsonObject{
                        {QStringLiteral("valve"), numberOf(life.valve)},
                        {QStringLiteral("held_years"), life.years.after},
                        {QStringLiteral("failed_years"), numberOrNull(life.years.by)},
                        {QStringLiteral("held"), idOrNull(life.held)},
                        {QStringLiteral("failed"), idOrNull(life.failed)}};
                }));
    return json;
}

QJsonObject outlookJson(const Outlook &ahead)
{
    return {{QStringLiteral("sentence"), ahead.sentence},
            {QStringLiteral("caution"), ahead.caution},
            {QStringLiteral("plans"), arrayOf(ahead.plans, [](const OutlookResult &result) {
                 return QJsonObject{
                     {QStringLiteral("plan"), result.plan.name},
                     {QStringLiteral("visits_a_month"), numberOrNull(result.plan.visitsAMonth)},
                     {QStringLiteral("years"), arrayOf(result.years, [](const OutlookYear &year) {
                          return QJsonObject{{QStringLiteral("on"), iso(year.end)},
                                             {QStringLiteral("out"), year.out},
                                             {QStringLiteral("spread"), spanOrNull(year.spread)},
                                             {QStringLiteral("not_found_yet"), year.unseen},
                                             {QStringLiteral("visits"), year.visits},
                                             {QStringLiteral("waiting"), year.waiting},
                                             {QStringLiteral("repairs"), year.repairs}};
                      })}};
             })}};
}

} // namespace

QJsonObject reviewJson(const Pace &figure)
{
    return {{QStringLiteral("sentence"), figure.sentence},
            {QStringLiteral("full_cycles_a_day"), figure.cyclesADay},
            {QStringLiteral("target_met"), figure.isMet},
            {QStringLiteral("target_met_on"), dateOrNull(figure.metOn)},
            {QStringLiteral("years"), arrayOf(figure.years, yearJson)},
            {QStringLiteral("minutes"), arrayOf(figure.minutes, [](const PaceMinutes &kind) {
                 return QJsonObject{{QStringLiteral("kind"), kind.name},
                                    {QStringLiteral("visits"), kind.visits},
                                    {QStringLiteral("median"), kind.median},
                                    {QStringLiteral("lower_quartile"), kind.lowerQuartile},
                                    {QStringLiteral("upper_quartile"), kind.upperQuartile}};
             })}};
}

QJsonObject reviewJson(const ConditionOverTime &figure)
{
    const auto periodJson = [](const BandPeriod &period) {
        QJsonObject json{{QStringLiteral("period"), period.counts.period},
                         {QStringLiteral("end"), iso(period.counts.end)},
                         {QStringLiteral("visited"), period.visited},
                         {QStringLiteral("visited_serviceable"), period.serviceable},
                         {QStringLiteral("kind"), keyOf(period.kind)},
                         {QStringLiteral("share"), numberOrNull(period.share)},
                         {QStringLiteral("interval"), spanOrNull(period.interval)},
                         {QStringLiteral("limits"), spanOrNull(period.limits)},
                         {QStringLiteral("stands_out"), period.standsOut}};
        for (std::size_t i = 0; i < conditionCount; ++i) {
            json.insert(keyFor(static_cast<Condition>(i)), period.counts.counts[i]);
        }
        return json;
    };
    return {{QStringLiteral("sentence"), figure.sentence},
            {QStringLiteral("valves"), figure.valves},
            {QStringLiteral("centre"), figure.centre},
            {QStringLiteral("periods"), arrayOf(figure.periods, periodJson)}};
}

QJsonObject reviewJson(const ConditionChanges &figure, const NumberOf &numberOf)
{
    const auto changeJson = [&numberOf](const KeyChange &one) {
        return QJsonObject{{QStringLiteral("valve"), numberOf(one.change.valve)},
                           {QStringLiteral("date"), iso(one.change.date)},
                           {QStringLiteral("change"), one.kind == ChangeKind::WentOut
                                                          ? QStringLiteral("went_out")
                                                          : QStringLiteral("restored")},
                           {QStringLiteral("from"), keyFor(one.change.from)},
                           {QStringLiteral("to"), keyFor(one.change.to)},
                           {QStringLiteral("visit"), idOrNull(one.change.visit)},
                           {QStringLiteral("by_replacement"), one.byReplacement}};
    };
    return {{QStringLiteral("sentence"), figure.sentence},
            {QStringLiteral("valves"), figure.valves},
            {QStringLiteral("changes"), arrayOf(figure.all, changeJson)},
            {QStringLiteral("periods"), arrayOf(figure.periods, [](const ChangePeriod &period) {
                 return QJsonObject{
                     {QStringLiteral("period"), period.period},
                     {QStringLiteral("end"), iso(period.end)},
                     {QStringLiteral("went_out"), static_cast<qint64>(period.wentOut.size())},
                     {QStringLiteral("restored"), static_cast<qint64>(period.restored.size())},
                     {QStringLiteral("out_at_end"), period.outAtEnd}};
             })}};
}

QJsonObject reviewJson(const Ageing &figure, const NumberOf &numberOf)
{
    return {
        {QStringLiteral("by"), wordFor(figure.by)},
        {QStringLiteral("sentence"), figure.sentence},
        {QStringLiteral("caution"), figure.caution},
        {QStringLiteral("valves"), figure.valves},
        {QStringLiteral("left_out"), figure.leftOut},
        {QStringLiteral("groups"), arrayOf(figure.groups, [&numberOf](const AgeingGroup &group) {
             return groupJson(group, numberOf);
         })}};
}

QJsonObject reviewJson(const ValveTurns &figure)
{
    return {{QStringLiteral("sentence"), figure.sentence},
            {QStringLiteral("counts"), arrayOf(figure.counts, [](const TurnCount &count) {
                 return QJsonObject{{QStringLiteral("visit"), count.visit.text()},
                                    {QStringLiteral("date"), iso(count.date)},
                                    {QStringLiteral("turns"), count.turns},
                                    {QStringLiteral("baseline"), wordsFor(count.baseline)},
                                    {QStringLiteral("allowed"), count.allowed},
                                    {QStringLiteral("verdict"), wordFor(count.verdict)},
                                    {QStringLiteral("full_cycle"), count.fullCycle}};
             })}};
}

QJsonObject reviewJson(const FleetTurns &figure, const NumberOf &numberOf)
{
    const auto kindJson = [](const TurnsGroup &group) {
        QJsonObject json{{QStringLiteral("kind"), group.name},
                         {QStringLiteral("valves"), group.valves},
                         {QStringLiteral("counts"), static_cast<qint64>(group.points.size())}};
        if (group.chart) {
            json.insert(QStringLiteral("centre"), group.chart->centre);
            json.insert(QStringLiteral("lower"), group.chart->lower);
            json.insert(QStringLiteral("upper"), group.chart->upper);
            json.insert(QStringLiteral("median_moving_range"), group.chart->medianRange);
        }
        return json;
    };
    return {{QStringLiteral("sentence"), figure.sentence},
            {QStringLiteral("valves"), figure.valves},
            {QStringLiteral("counts"), figure.counts},
            {QStringLiteral("kinds"), arrayOf(figure.groups, kindJson)},
            {QStringLiteral("drifting"),
             arrayOf(figure.drifting, [&numberOf](const DriftingValve &drift) {
                 return QJsonObject{{QStringLiteral("valve"), numberOf(drift.valve)},
                                    {QStringLiteral("visit"), drift.visit.text()},
                                    {QStringLiteral("date"), iso(drift.date)},
                                    {QStringLiteral("rule"), drift.rule},
                                    {QStringLiteral("from_first_turns"), drift.fromFirst},
                                    {QStringLiteral("condition"), keyFor(drift.condition)},
                                    {QStringLiteral("words"), drift.words}};
             })}};
}

QJsonObject reviewJson(const std::vector<RiskEntry> &entries, const Outlook &ahead,
                       const NumberOf &numberOf)
{
    return {{QStringLiteral("sentence"), whatNextSentence(entries)},
            {QStringLiteral("entries"),
             arrayOf(entries,
                     [&numberOf](const RiskEntry &entry) {
                         return QJsonObject{
                             {QStringLiteral("valve"), numberOf(entry.due.valve)},
                             {QStringLiteral("state"), keyFor(entry.due.state)},
                             {QStringLiteral("due_on"), dateOrNull(entry.due.dueOn)},
                             {QStringLiteral("chance_out"), entry.chanceOut},
                             {QStringLiteral("known_out"), entry.isKnownOut},
                             {QStringLiteral("guess"), entry.isGuess},
                             {QStringLiteral("services_more"),
                              entry.services ? QJsonValue(*entry.services) : QJsonValue::Null},
                             {QStringLiteral("risk"),
                              entry.services ? QJsonValue(entry.risk) : QJsonValue::Null},
                             {QStringLiteral("words"), entry.words}};
                     })},
            {QStringLiteral("outlook"), outlookJson(ahead)}};
}

} // namespace keyround::batch
