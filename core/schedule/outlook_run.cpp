// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/outlook_run.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double monthsAYear = 12.0;
constexpr double daysAMonth = 365.25 / 12.0;
constexpr double never = std::numeric_limits<double>::infinity();

/// When a valve that held at an age fails, as an age: the share that then still holds is `share` of
/// those that held.
double ageOfFailure(const LifeLaw &law, double heldAt, double share)
{
    if (!law.isKnown()) {
        return never;
    }
    const double before = std::pow(heldAt / law.scale, law.shape);
    return law.scale * std::pow(before - std::log(share), 1.0 / law.shape);
}

/// One plan over the months of one run.
class PlanRun
{
public:
    explicit PlanRun(const OutlookTask &task)
        : m_fleet(task.fleet), m_laws(task.laws), m_chances(task.chances), m_run(task.run),
          m_plan(task.plan), m_settings(task.settings), m_last(task.settings.years * 12),
          m_draws(task.fleet.valves.size(), 1), m_due(static_cast<std::size_t>(m_last) + 1),
          m_fails(m_due.size(), 0), m_mends(m_due.size())
    {
    }

    std::vector<OutlookMonth> through(std::vector<double> failures)
    {
        m_failure = std::move(failures);
        begin();
        std::vector<OutlookMonth> months;
        months.push_back(m_now);
        double room = 0;
        for (int month = 1; month <= m_last; ++month) {
            m_now.visits = 0;
            m_now.repairs = 0;
            m_now.out += m_fails[index(month)];
            m_now.unseen += m_fails[index(month)];
            for (const std::size_t valve : m_mends[index(month)]) {
                mend(valve, month);
            }
            room =
                std::isinf(m_plan.visitsAMonth) ? never : std::min(room, 1.0) + m_plan.visitsAMonth;
            room = visitThose(month, room);
            m_now.waiting = waitingIn(month);
            months.push_back(m_now);
        }
        return months;
    }

private:
    static std::size_t index(int month) { return static_cast<std::size_t>(month); }
    /// The first whole month by whose end it has happened; beyond the last: none.
    [[nodiscard]] std::optional<std::size_t> monthOf(double month) const
    {
        if (month > m_last) {
            return std::nullopt;
        }
        return static_cast<std::size_t>(std::max(0.0, std::ceil(month)));
    }

    [[nodiscard]] double intervalOf(std::size_t valve) const
    {
        const ValveToday &at = m_fleet.valves[valve];
        if (at.interval == 0) {
            return never;
        }
        return std::max(1.0, m_plan.intervalFactor * m_plan.months.value_or(at.interval));
    }

    void begin()
    {
        std::vector<std::pair<double, std::size_t>> overdue;
        for (std::size_t i = 0; i < m_fleet.valves.size(); ++i) {
            const ValveToday &at = m_fleet.valves[i];
            if (at.isOut) {
                ++m_now.out;
                find(i, 0);
                continue;
            }
            if (const auto month = monthOf(m_failure[i])) {
                m_fails[*month] += 1;
            }
            if (at.interval == 0) {
                continue; // exempt: it fails too, but nobody goes there
            }
            const double due = at.everCycled ? at.lastCycle + intervalOf(i) : -intervalOf(i);
            if (due <= 0) {
                overdue.emplace_back(due, i);
            } else if (const auto month = monthOf(due)) {
                m_due[*month].push_back(i);
            }
        }
        m_now.out += m_fails[0];
        m_now.unseen += m_fails[0];
        std::ranges::sort(overdue);
        for (const auto &[due, valve] : overdue) {
            m_due[0].push_back(valve);
        }
    }

    /// The longest due first, as far as there is room; the room that is left.
    double visitThose(int month, double room)
    {
        for (; m_oldest <= month; ++m_oldest, m_nextOfOldest = 0) {
            std::vector<std::size_t> &due = m_due[index(m_oldest)];
            for (; m_nextOfOldest < due.size(); ++m_nextOfOldest) {
                if (room < 1) {
                    return room;
                }
                room -= 1;
                visit(due[m_nextOfOldest], month);
            }
            if (m_oldest == month) {
                break; // what falls due later this month is put here still
            }
            due.clear();
        }
        return room;
    }

    [[nodiscard]] int waitingIn(int month) const
    {
        std::size_t waiting = 0;
        for (int due = m_oldest; due <= month; ++due) {
            waiting += m_due[index(due)].size() - (due == m_oldest ? m_nextOfOldest : 0);
        }
        return static_cast<int>(waiting);
    }

    void visit(std::size_t valve, int month)
    {
        ++m_now.visits;
        if (m_failure[valve] <= month) {
            --m_now.unseen;
            find(valve, month);
            return;
        }
        dueAgain(valve, month);
    }

    void dueAgain(std::size_t valve, int month)
    {
        if (const auto next = monthOf(month + intervalOf(valve))) {
            m_due[*next].push_back(valve);
        }
    }

    /// It is known now to have failed: a share is repaired after a while.
    void find(std::size_t valve, int month)
    {
        if (draw(valve) >= m_settings.shareRepaired) {
            return;
        }
        const double mended = month - m_settings.monthsToRepair * std::log(draw(valve));
        if (mended <= month) {
            mend(valve, month);
        } else if (const auto at = monthOf(mended)) {
            m_mends[*at].push_back(valve);
        }
    }

    void mend(std::size_t valve, int month)
    {
        --m_now.out;
        ++m_now.repairs;
        const LifeLaw &law = m_laws[m_fleet.valves[valve].law];
        m_failure[valve] = month + monthsAYear * ageOfFailure(law, 0, draw(valve));
        if (const auto fails = monthOf(m_failure[valve])) {
            // A new life that ends within this very month is counted with the next.
            m_fails[std::min(std::max(*fails, index(month) + 1), m_fails.size() - 1)] += 1;
        }
        dueAgain(valve, month);
    }

    double draw(std::size_t valve) { return m_chances.share(m_run, valve, m_draws[valve]++); }

    const OutlookFleet &m_fleet;
    const std::vector<LifeLaw> &m_laws;
    const OutlookChances &m_chances;
    std::uint64_t m_run;
    const OutlookPlan &m_plan;
    const OutlookSettings &m_settings;
    int m_last;
    std::vector<std::uint64_t> m_draws;
    std::vector<double> m_failure;
    std::vector<std::vector<std::size_t>> m_due; ///< by month; 0: overdue today
    std::vector<int> m_fails;                    ///< how many fail by the end of a month
    std::vector<std::vector<std::size_t>> m_mends;
    int m_oldest = 0;
    std::size_t m_nextOfOldest = 0;
    OutlookMonth m_now;
};

} // namespace

OutlookFleet outlookFleet(const std::vector<Valve> &valves, const Histories &histories,
                          const Policy &policy, const LifeLaws &laws, const QDate &today)
{
    static const ValveHistory nothing;
    constexpr double daysAYear = 365.25;
    OutlookFleet fleet;
    fleet.laws.push_back(laws.all);
    std::map<const LifeLaw *, std::size_t> numbers{{&laws.all, 0}};
    for (const Valve &valve : valves) {
        if (valve.retired) {
            continue;
        }
        const auto found = histories.constFind(valve.id);
        const ValveHistory &history = found == histories.cend() ? nothing : *found;
        const LifeLaw &law = laws.of(valve);
        const auto [number, isNew] = numbers.try_emplace(&law, fleet.laws.size());
        if (isNew) {
            fleet.laws.push_back(law);
        }
        ValveToday at;
        at.law = number->second;
        const std::optional<double> age = ageOn(valve, history, today);
        const ReadVisit *held = lastSeenHolding(history);
        at.ageKnown = age.has_value();
        at.ageNow = age.value_or(law.meanYears);
        at.yearsSince = at.ageNow;
        if (held != nullptr) {
            const QDate day = held->visit.arrived.localDate();
            at.yearsSince = static_cast<double>(day.daysTo(today)) / daysAYear;
            at.ageHeld = std::max(0.0, at.ageNow - at.yearsSince);
        }
        at.isOut = needsRepair(history);
        fleet.cannotReach += at.isOut && history.condition == Condition::CannotReach ? 1 : 0;
        const PolicyRule *rule = policy.ruleFor(valve);
        at.interval = rule == nullptr ? 0 : rule->intervalMonths;
        at.everCycled = history.lastFullCycle.isValid();
        if (at.everCycled) {
            at.lastCycle = -static_cast<double>(history.lastFullCycle.daysTo(today)) / daysAMonth;
        }
        fleet.valves.push_back(at);
    }
    return fleet;
}

std::vector<LifeLaw> lawsOfRun(const std::vector<LifeLaw> &laws, const OutlookChances &chances,
                               std::uint64_t run)
{
    // Beyond a factor of three the normal is no guide any more to how well a law is known.
    constexpr double farthest = 1.1;
    std::vector<LifeLaw> drawn = laws;
    for (std::size_t i = 0; i < drawn.size(); ++i) {
        LifeLaw &law = drawn[i];
        if (!law.isKnown() || law.shapeVariance <= 0 || law.scaleVariance <= 0) {
            continue;
        }
        const auto [first, second] = chances.normals(run, i);
        const double deviation = std::sqrt(law.shapeVariance);
        const double shared = law.covariance / deviation;
        const double own = std::sqrt(std::max(0.0, law.scaleVariance - shared * shared));
        law.shape *= std::exp(std::clamp(deviation * first, -farthest, farthest));
        law.scale *= std::exp(std::clamp(shared * first + own * second, -farthest, farthest));
    }
    return drawn;
}

std::vector<double> firstFailures(const OutlookFleet &fleet, const std::vector<LifeLaw> &laws,
                                  const OutlookChances &chances, std::uint64_t run)
{
    std::vector<double> months(fleet.valves.size(), never);
    for (std::size_t i = 0; i < fleet.valves.size(); ++i) {
        const ValveToday &at = fleet.valves[i];
        const LifeLaw &law = laws[at.law];
        const double share = chances.share(run, i, 0);
        if (at.isOut || !law.isKnown()) {
            continue;
        }
        if (at.ageKnown) {
            months[i] = monthsAYear * (ageOfFailure(law, at.ageHeld, share) - at.ageNow);
        } else if (law.failuresAYear > 0) {
            months[i] = monthsAYear * (-std::log(share) / law.failuresAYear - at.yearsSince);
        }
    }
    return months;
}

std::vector<OutlookMonth> runPlan(const OutlookTask &task, std::vector<double> failures)
{
    return PlanRun(task).through(std::move(failures));
}

} // namespace keyround
