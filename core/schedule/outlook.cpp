// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/outlook.h"

#include "core/condition/figure_words.h"
#include "core/schedule/outlook_run.h"

#include <algorithm>
#include <cmath>
#include <unordered_set>

namespace keyround {

namespace {

constexpr double monthsAYear = 12.0;
constexpr double daysAMonth = 365.25 / 12.0;

double quantile(std::vector<double> values, double share)
{
    std::ranges::sort(values);
    const double place = share * static_cast<double>(values.size() - 1);
    const auto low = static_cast<std::size_t>(place);
    const std::size_t high = std::min(low + 1, values.size() - 1);
    return values[low] + (place - static_cast<double>(low)) * (values[high] - values[low]);
}

double mean(const std::vector<double> &values)
{
    double sum = 0;
    for (const double value : values) {
        sum += value;
    }
    return values.empty() ? 0 : sum / static_cast<double>(values.size());
}

/// Gathers the runs of one plan into years.
class Gathered
{
public:
    Gathered(int years, std::size_t valves)
        : m_valves(static_cast<double>(std::max<std::size_t>(valves, 1))),
          m_years(static_cast<std::size_t>(years) + 1)
    {
    }

    void add(const std::vector<OutlookMonth> &months)
    {
        double outTime = 0;
        std::size_t visits = 0;
        std::size_t repairs = 0;
        for (std::size_t month = 0; month < months.size(); ++month) {
            visits += static_cast<std::size_t>(months[month].visits);
            repairs += static_cast<std::size_t>(months[month].repairs);
            outTime += month > 0 ? months[month].out / m_valves : 0;
            if (month % 12 == 0) {
                Year &year = m_years[month / 12];
                year.out.push_back(months[month].out / m_valves);
                year.unseen.push_back(months[month].unseen / m_valves);
                year.visits.push_back(static_cast<double>(visits));
                year.repairs.push_back(static_cast<double>(repairs));
                year.waiting.push_back(months[month].waiting);
                visits = 0;
                repairs = 0;
            }
        }
        m_outTime.push_back(months.size() > 1 ? outTime / static_cast<double>(months.size() - 1)
                                              : 0);
    }

    [[nodiscard]] OutlookResult result(const OutlookPlan &plan, const QDate &today) const
    {
        OutlookResult result;
        result.plan = plan;
        for (std::size_t i = 0; i < m_years.size(); ++i) {
            const Year &year = m_years[i];
            result.years.push_back({today.addYears(static_cast<int>(i)),
                                    mean(year.out),
                                    {quantile(year.out, 0.05), quantile(year.out, 0.95)},
                                    mean(year.unseen),
                                    mean(year.visits),
                                    mean(year.repairs),
                                    mean(year.waiting)});
        }
        result.outTime = mean(m_outTime);
        return result;
    }

private:
    struct Year
    {
        std::vector<double> out, unseen, visits, repairs, waiting;
    };
    double m_valves;
    std::vector<Year> m_years;
    std::vector<double> m_outTime;
};

QString asNow()
{
    return QStringLiteral("as now");
}

bool isOneInterval(const OutlookPlan &a, const OutlookPlan &b)
{
    return a.intervalFactor == b.intervalFactor && a.months == b.months;
}

/// Why a plan with more crew-days ends where the first one does; empty where it does not.
QString moreChangesNothing(const Outlook &figure)
{
    const OutlookResult &now = figure.plans.front();
    const OutlookYear &last = now.years.back();
    const auto more = std::ranges::find_if(figure.plans, [&](const OutlookResult &result) {
        return result.plan.visitsAMonth > now.plan.visitsAMonth &&
               isOneInterval(result.plan, now.plan) &&
               percentWords(result.years.back().out) == percentWords(last.out);
    });
    if (more == figure.plans.end()) {
        return {};
    }
    constexpr double none = 0.5;
    if (last.waiting < none) {
        return QStringLiteral(
                   " Every due valve is visited anyway (%1 visits in the last year, none "
                   "left waiting): more crew-days change nothing; repairs decide.")
            .arg(last.visits, 0, 'f', 0);
    }
    return QStringLiteral(" More crew-days make %1 visits in the last year in place of %2 (%3 due "
                          "valves would still wait), and yet hardly change the share: repairs "
                          "decide.")
        .arg(more->years.back().visits, 0, 'f', 0)
        .arg(last.visits, 0, 'f', 0)
        .arg(more->years.back().waiting, 0, 'f', 0);
}

QString monthsWords(double months)
{
    const long long whole = std::llround(months);
    return whole < 1    ? QStringLiteral("within a month of being found")
           : whole == 1 ? QStringLiteral("on average 1 month after they are found")
                        : QStringLiteral("on average %1 months after they are found").arg(whole);
}

/// What the simulation reckons with.
QString cautionOf(const Outlook &figure)
{
    const OutlookSettings &settings = figure.settings;
    const OutlookResult &now = figure.plans.front();
    double repairs = 0;
    for (std::size_t i = 1; i < now.years.size(); ++i) {
        repairs += now.years[i].repairs;
    }
    QString caution =
        QStringLiteral("Reckoned with: %1 of the failures found are repaired, %2 "
                       "(%3); %4, that makes %5 repairs a year.")
            .arg(percentWords(settings.shareRepaired), monthsWords(settings.monthsToRepair),
                 settings.repairsFromRecord
                     ? QStringLiteral("as the visits on record show")
                     : QStringLiteral("taken for want of ten failures on record"),
                 now.plan.name)
            .arg(settings.years > 0 ? repairs / settings.years : 0.0, 0, 'f', 0);
    if (figure.cannotReach > 0) {
        caution +=
            QStringLiteral(" %1 that cannot be reached today %2 as out until repaired, at "
                           "the same rate.")
                .arg(valvesWords(static_cast<std::size_t>(figure.cannotReach)),
                     figure.cannotReach == 1 ? QStringLiteral("counts") : QStringLiteral("count"));
    }
    return caution +
           QStringLiteral(" A simulation from how long valves hold, as far as the visits show it "
                          "(%1 runs; the middle 90 % in brackets). Boxes that become unreachable "
                          "later are not in it.")
               .arg(settings.runs);
}

QString sentenceOf(const Outlook &figure)
{
    QStringList parts;
    for (const OutlookResult &result : figure.plans) {
        const OutlookYear &last = result.years.back();
        parts << QStringLiteral("%1: %2 (%3)")
                     .arg(result.plan.name, percentWords(last.out), percentWords(last.spread));
    }
    QString sentence = QStringLiteral("Out of condition in %1 years, known or not (today %2): %3.")
                           .arg(figure.settings.years)
                           .arg(percentWords(figure.plans.front().years.front().out),
                                parts.join(QStringLiteral("; ")));
    const OutlookPlan &now = figure.plans.front().plan;
    if (now.visitsAMonth <= 0 && now.name == asNow()) {
        sentence +=
            QStringLiteral(" \u201cAs now\u201d means no visits at all: none was made in the "
                           "last twelve months.");
    }
    return sentence + moreChangesNothing(figure);
}

} // namespace

Outlook outlook(const std::vector<Valve> &valves, const Histories &histories, const Policy &policy,
                const LifeLaws &laws, const std::vector<OutlookPlan> &plans, const QDate &today,
                const OutlookSettings &settings)
{
    constexpr std::size_t valvesInAll = 400'000;
    constexpr int fewestRuns = 8;
    Outlook figure;
    figure.settings = settings;
    const OutlookFleet fleet = outlookFleet(valves, histories, policy, laws, today);
    if (fleet.valves.empty() || plans.empty()) {
        figure.sentence = QStringLiteral("There are no valves to look ahead for.");
        return figure;
    }
    const int runs = std::clamp(static_cast<int>(valvesInAll / fleet.valves.size()),
                                std::min(fewestRuns, settings.runs), settings.runs);
    figure.settings.runs = runs;
    const OutlookChances chances(settings.seed);
    std::vector<Gathered> gathered(plans.size(), Gathered(settings.years, fleet.valves.size()));
    for (int run = 0; run < runs; ++run) {
        const auto number = static_cast<std::uint64_t>(run);
        const std::vector<LifeLaw> drawn = lawsOfRun(fleet.laws, chances, number);
        const std::vector<double> failures = firstFailures(fleet, drawn, chances, number);
        for (std::size_t i = 0; i < plans.size(); ++i) {
            gathered[i].add(runPlan({fleet, drawn, chances, number, plans[i], settings}, failures));
        }
    }
    for (std::size_t i = 0; i < plans.size(); ++i) {
        figure.plans.push_back(gathered[i].result(plans[i], today));
    }
    figure.cannotReach = fleet.cannotReach;
    figure.sentence = sentenceOf(figure);
    figure.caution = cautionOf(figure);
    return figure;
}

std::vector<OutlookPlan> usualPlans(const std::vector<Valve> &valves, const Histories &histories,
                                    const QDate &today, double crewDaysMore)
{
    const QDate from = today.addYears(-1);
    std::unordered_set<std::string> crewDays;
    int visits = 0;
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        if (valve.retired || history == histories.cend()) {
            continue;
        }
        for (auto read = history->visits.rbegin(); read != history->visits.rend(); ++read) {
            const QDate day = read->visit.arrived.localDate();
            if (day <= from) {
                break;
            }
            if (day <= today) {
                ++visits;
                crewDays.insert(QStringLiteral("%1 %2")
                                    .arg(day.toJulianDay())
                                    .arg(read->visit.crew)
                                    .toStdString());
            }
        }
    }
    // Without a day on record: fifteen valves a day, as common practice has it (no source).
    constexpr double usualADay = 15;
    const double aDay =
        crewDays.empty() ? usualADay : visits / static_cast<double>(crewDays.size());
    const double aMonth = visits / monthsAYear;
    constexpr double longer = 1.5;
    constexpr double shorter = 2.0 / 3.0;
    return {{asNow(), 1, {}, aMonth},
            {QStringLiteral("intervals half as long again"), longer, {}, aMonth},
            {QStringLiteral("intervals a third shorter"), shorter, {}, aMonth},
            {QStringLiteral("%1 crew-days more a month").arg(crewDaysMore),
             1,
             {},
             aMonth + crewDaysMore * aDay}};
}

OutlookSettings settingsFrom(const std::vector<Valve> &valves, const Histories &histories,
                             const QDate &today)
{
    constexpr int fewest = 10;
    constexpr double longEnough = 24; // months in which a repair would have shown
    OutlookSettings settings;
    int found = 0;
    int mended = 0;
    double months = 0;
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        if (valve.retired || history == histories.cend()) {
            continue;
        }
        QDate failed;
        for (const ReadVisit &read : history->visits) {
            if (read.after == Condition::CannotReach) {
                continue; // a box or a parked car: no failure of the valve, and no repair of one
            }
            const QDate day = read.visit.arrived.localDate();
            if (isOutOfCondition(read.after)) {
                failed = failed.isValid() ? failed : day;
            } else if (failed.isValid()) {
                ++found;
                ++mended;
                months += static_cast<double>(failed.daysTo(day)) / daysAMonth;
                failed = QDate();
            }
        }
        const bool stays =
            failed.isValid() && static_cast<double>(failed.daysTo(today)) / daysAMonth > longEnough;
        found += stays ? 1 : 0;
    }
    if (found >= fewest && mended > 0) {
        settings.shareRepaired = static_cast<double>(mended) / found;
        settings.monthsToRepair = months / mended;
        settings.repairsFromRecord = true;
    }
    return settings;
}

} // namespace keyround
