// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/series.h"

#include "core/condition/condition_walk.h"

#include <QRegularExpression>

#include <algorithm>

namespace keyround {

namespace {

int monthsIn(PeriodLength length)
{
    switch (length) {
    case PeriodLength::Month:
        return 1;
    case PeriodLength::Quarter:
        return 3;
    case PeriodLength::Year:
        break;
    }
    return 12;
}

QString periodName(const QDate &first, PeriodLength length)
{
    QString year = QStringLiteral("%1").arg(first.year(), 4, 10, QLatin1Char('0'));
    switch (length) {
    case PeriodLength::Month:
        return QStringLiteral("%1-%2").arg(year).arg(first.month(), 2, 10, QLatin1Char('0'));
    case PeriodLength::Quarter:
        return QStringLiteral("%1-Q%2").arg(year).arg((first.month() + 2) / 3);
    case PeriodLength::Year:
        break;
    }
    return year;
}

void addValve(std::vector<PeriodCounts> &periods, const ValveHistory &history)
{
    ConditionWalk walk(history);
    for (PeriodCounts &period : periods) {
        while (walk.next(period.end)) {
        }
        ++period.counts[static_cast<size_t>(walk.now())];
    }
}

QString joined(const QStringList &names)
{
    return names.size() < 2
               ? names.value(0)
               : QStringLiteral("%1 or %2")
                     .arg(names.mid(0, names.size() - 1).join(QStringLiteral(", ")), names.last());
}

QString installedWords(std::optional<int> from, std::optional<int> to)
{
    if (!to) {
        return QStringLiteral("installed %1 or later").arg(*from);
    }
    if (!from) {
        return QStringLiteral("installed %1 or before").arg(*to);
    }
    return *from == *to ? QStringLiteral("installed %1").arg(*from)
                        : QStringLiteral("installed %1 to %2").arg(*from).arg(*to);
}

} // namespace

bool ValveFilter::takes(const Valve &valve) const
{
    return (zones.isEmpty() || zones.contains(valve.zone)) &&
           (sizes.isEmpty() || sizes.contains(valve.size)) &&
           (types.isEmpty() || types.contains(valve.type)) &&
           (surfaces.isEmpty() || surfaces.contains(valve.surface, Qt::CaseInsensitive)) &&
           (roles.isEmpty() || roles.contains(valve.role)) &&
           (!installedFrom || (valve.installYear && *valve.installYear >= *installedFrom)) &&
           (!installedTo || (valve.installYear && *valve.installYear <= *installedTo));
}

QString ValveFilter::words(UnitSystem units) const
{
    QStringList parts;
    if (!zones.isEmpty()) {
        parts << QStringLiteral("zone %1").arg(joined(zones));
    }
    if (!sizes.isEmpty()) {
        QStringList names;
        for (const NominalSize &size : sizes) {
            names << (size.isKnown() ? sizeText(size, units) : QStringLiteral("size not known"));
        }
        parts << joined(names);
    }
    if (!types.isEmpty()) {
        QStringList names;
        for (const ValveType type : types) {
            names << wordFor(type);
        }
        parts << joined(names);
    }
    if (!surfaces.isEmpty()) {
        QStringList names = surfaces;
        names.replaceInStrings(QRegularExpression(QStringLiteral("^$")),
                               QStringLiteral("surface not known"));
        parts << joined(names);
    }
    if (!roles.isEmpty()) {
        QStringList names;
        for (const ValveRole role : roles) {
            names << wordFor(role);
        }
        parts << joined(names);
    }
    if (installedFrom || installedTo) {
        parts << installedWords(installedFrom, installedTo);
    }
    return parts.join(QStringLiteral("; "));
}

std::vector<PeriodCounts> periodsIn(const Span &span, PeriodLength length)
{
    std::vector<PeriodCounts> periods;
    if (!span.from.isValid() || !span.to.isValid() || span.to < span.from) {
        return periods;
    }
    const int months = monthsIn(length);
    const int firstMonth = (span.from.month() - 1) / months * months + 1;
    for (QDate first(span.from.year(), firstMonth, 1); first <= span.to;
         first = first.addMonths(months)) {
        periods.push_back({periodName(first, length),
                           std::min(first.addMonths(months).addDays(-1), span.to),
                           {}});
    }
    return periods;
}

std::vector<PeriodCounts> conditionSeries(const std::vector<Valve> &valves,
                                          const Histories &histories, const Span &span,
                                          PeriodLength length)
{
    std::vector<PeriodCounts> periods = periodsIn(span, length);
    static const ValveHistory nothing;
    for (const Valve &valve : valves) {
        if (!valve.retired) {
            const auto history = histories.constFind(valve.id);
            addValve(periods, history == histories.cend() ? nothing : *history);
        }
    }
    return periods;
}

std::vector<ConditionChange> wentOut(const std::vector<Valve> &valves, const Histories &histories,
                                     const Span &span)
{
    struct Found
    {
        ConditionChange change;
        const QString *number;
    };
    std::vector<Found> found;
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        if (valve.retired || history == histories.cend()) {
            continue;
        }
        for (const ReadVisit &read : history->visits) {
            if (isOutOfCondition(read.before) || !isOutOfCondition(read.after)) {
                continue;
            }
            const QDate date = read.visit.arrived.localDate();
            if (date >= span.from && date <= span.to) {
                found.push_back(
                    {{valve.id, read.visit.id, date, read.before, read.after}, &valve.number});
            }
        }
    }
    std::stable_sort(found.begin(), found.end(), [](const Found &a, const Found &b) {
        return a.change.date != b.change.date ? a.change.date < b.change.date
                                              : *a.number < *b.number;
    });
    std::vector<ConditionChange> changes;
    changes.reserve(found.size());
    for (const Found &one : found) {
        changes.push_back(one.change);
    }
    return changes;
}

const ReadVisit *lastVisitBy(const ValveHistory &history, const QDate &day)
{
    const auto after = std::ranges::partition_point(history.visits, [&day](const ReadVisit &read) {
        return read.visit.arrived.localDate() <= day;
    });
    return after == history.visits.begin() ? nullptr : &*std::prev(after);
}

Condition conditionOn(const ValveHistory &history, const QDate &day)
{
    ConditionWalk walk(history);
    while (walk.next(day)) {
    }
    return walk.now();
}

std::vector<Valve> filtered(const std::vector<Valve> &valves, const ValveFilter &filter)
{
    std::vector<Valve> taken;
    std::copy_if(valves.begin(), valves.end(), std::back_inserter(taken),
                 [&filter](const Valve &valve) { return filter.takes(valve); });
    return taken;
}

} // namespace keyround
