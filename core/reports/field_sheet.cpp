// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/field_sheet.h"

#include "core/dayplan/day_clock.h"
#include "core/reports/valve_words.h"

namespace keyround {

namespace {

QStringList knownOf(const PlannedStop &stop, const Valve &valve, const ValveHistory &history,
                    const StopExtras &extras, UnitSystem units)
{
    const QString last =
        history.lastVisit.isValid()
            ? QStringLiteral("last visit %1").arg(history.lastVisit.toString(Qt::ISODate))
            : QStringLiteral("never visited");
    QStringList lines{whereWords(valve, units), whatWords(valve, units),
                      QStringLiteral("Baseline: %1; %2").arg(wordsFor(history.baseline), last)};
    const QStringList beware = stopWarnings(stop, valve, history);
    if (!beware.isEmpty()) {
        lines << QStringLiteral("Beware: %1").arg(beware.join(QStringLiteral("; ")));
    }
    if (!extras.setUp.isEmpty()) {
        lines << QStringLiteral("Set up: %1").arg(extras.setUp);
    }
    lines << extras.told;
    lines.removeAll(QString());
    return lines;
}

} // namespace

FieldSheet fieldSheet(const Round &day, const DayPlan &plan, const std::vector<Valve> &valves,
                      const Histories &histories, UnitSystem units, const StopExtrasById &extras)
{
    QHash<ValveId, const Valve *> byId;
    for (const Valve &valve : valves) {
        byId.insert(valve.id, &valve);
    }
    FieldSheet sheet;
    sheet.title = QStringLiteral("Field sheet");
    sheet.day = day.crew.isEmpty()
                    ? day.date.toString(Qt::ISODate)
                    : QStringLiteral("%1, %2").arg(day.date.toString(Qt::ISODate), day.crew);
    static const ValveHistory nothing;
    for (const PlannedStop &stop : plan.stops) {
        FieldStop field;
        field.number = static_cast<int>(sheet.stops.size()) + 1;
        field.when = clockText(stop.arrive);
        const Valve *valve = byId.value(stop.valve, nullptr);
        if (valve == nullptr) {
            field.valve = QStringLiteral("not in the list");
        } else {
            const auto history = histories.constFind(stop.valve);
            field.valve = valve->number;
            field.known = knownOf(stop, *valve, history == histories.cend() ? nothing : *history,
                                  extras.value(stop.valve), units);
        }
        sheet.stops.push_back(std::move(field));
    }
    sheet.cautions = fieldCautions();
    return sheet;
}

} // namespace keyround
