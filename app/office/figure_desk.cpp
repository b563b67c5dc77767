// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/figure_desk.h"

#include "app/models/services_more.h"
#include "app/shell/session.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace keyround {

namespace {

/// A figure with what it was worked out for.
template <typename Key, typename Figure> class Kept
{
public:
    template <typename Make> std::shared_ptr<const Figure> of(const Key &key, const Make &make)
    {
        if (!m_figure || !(m_key == key)) {
            m_figure = std::make_shared<const Figure>(make());
            m_key = key;
        }
        return m_figure;
    }

private:
    Key m_key = {};
    std::shared_ptr<const Figure> m_figure;
};

struct ScopeKey
{
    ValveFilter filter;
    QDate from;
    QDate to;
    PeriodLength length = PeriodLength::Month;
    int more = 0; ///< what else tells two figures of one scope apart
    friend bool operator==(const ScopeKey &, const ScopeKey &) = default;
};

ScopeKey keyOf(const FigureScope &scope, int more = 0)
{
    return {scope.filter, scope.span.from, scope.span.to, scope.length, more};
}

} // namespace

struct FigureDesk::Parts
{
    Kept<ValveFilter, std::vector<Valve>> valves = {};
    Kept<ScopeKey, Pace> pace = {};
    Kept<ScopeKey, std::vector<PaceRow>> paceRows = {};
    Kept<ScopeKey, ConditionOverTime> condition = {};
    Kept<ScopeKey, ConditionChanges> changes = {};
    Kept<ScopeKey, Ageing> ageing = {};
    Kept<ScopeKey, FleetTurns> turns = {};
    Kept<ScopeKey, std::vector<RiskEntry>> next = {};
    Kept<std::pair<ScopeKey, WhatIfWish>, Outlook> outlook = {};
    Kept<int, LifeLaws> laws = {};
};

FigureDesk::FigureDesk(Session &session) : m_session(session), m_parts(std::make_unique<Parts>()) {}

FigureDesk::~FigureDesk() = default;

void FigureDesk::forget()
{
    m_parts = std::make_unique<Parts>();
}

std::shared_ptr<const std::vector<Valve>> FigureDesk::valves(const ValveFilter &filter)
{
    return m_parts->valves.of(filter, [&] {
        std::vector<Valve> taken = filtered(m_session.valves(), filter);
        std::erase_if(taken, [](const Valve &valve) { return valve.retired; });
        return taken;
    });
}

std::shared_ptr<const Pace> FigureDesk::pace(const FigureScope &scope)
{
    return m_parts->pace.of(keyOf(scope), [&] {
        return paceOf(*valves(scope.filter), m_session.histories(), m_session.settings().policy,
                      scope.span, m_session.today());
    });
}

std::shared_ptr<const std::vector<PaceRow>> FigureDesk::paceRows(const FigureScope &scope, int year)
{
    return m_parts->paceRows.of(keyOf(scope, year), [&] {
        return keyround::paceRows(*valves(scope.filter), m_session.histories(),
                                  m_session.settings().policy, year, m_session.today());
    });
}

std::shared_ptr<const ConditionOverTime> FigureDesk::condition(const FigureScope &scope)
{
    return m_parts->condition.of(keyOf(scope), [&] {
        return conditionOverTime(*valves(scope.filter), m_session.histories(), scope.span,
                                 scope.length);
    });
}

std::shared_ptr<const ConditionChanges> FigureDesk::changes(const FigureScope &scope)
{
    return m_parts->changes.of(keyOf(scope), [&] {
        return conditionChanges(*valves(scope.filter), m_session.histories(), scope.span,
                                scope.length);
    });
}

std::shared_ptr<const Ageing> FigureDesk::ageing(const FigureScope &scope, AgeingBy by)
{
    return m_parts->ageing.of(keyOf(scope, static_cast<int>(by)), [&] {
        return ageingOf(*valves(scope.filter), m_session.histories(), by, m_session.units());
    });
}

std::shared_ptr<const FleetTurns> FigureDesk::turns(const FigureScope &scope)
{
    return m_parts->turns.of(keyOf(scope), [&] {
        return fleetTurns(*valves(scope.filter), m_session.histories(), scope.span);
    });
}

/// Of all valves, whatever the filter: like valves elsewhere tell of these.
std::shared_ptr<const LifeLaws> FigureDesk::laws()
{
    return m_parts->laws.of(0, [&] { return fitLifeLaws(*valves({}), m_session.histories()); });
}

std::shared_ptr<const std::vector<RiskEntry>> FigureDesk::next(const FigureScope &scope)
{
    return m_parts->next.of(keyOf(scope), [&] {
        const std::shared_ptr<const LifeLaws> known = laws();
        const auto taken = valves(scope.filter);
        QSet<ValveId> ids;
        ids.reserve(static_cast<qsizetype>(taken->size()));
        for (const Valve &valve : *taken) {
            ids.insert(valve.id);
        }
        std::vector<DueEntry> due = m_session.dueList();
        std::erase_if(due, [&](const DueEntry &entry) { return !ids.contains(entry.valve); });
        return whatNext(due, *taken, m_session.histories(), *known, servicesMore(m_session),
                        m_session.today());
    });
}

std::shared_ptr<const Outlook> FigureDesk::outlook(const FigureScope &scope, const WhatIfWish &wish)
{
    return m_parts->outlook.of({keyOf(scope), wish}, [&] {
        const std::shared_ptr<const LifeLaws> known = laws();
        const auto taken = valves(scope.filter);
        const Histories &histories = m_session.histories();
        const QDate today = m_session.today();
        std::vector<OutlookPlan> plans = usualPlans(*taken, histories, today, wish.crewDaysMore);
        if (wish.months && !plans.empty()) {
            OutlookPlan one = plans.front();
            one.name = QObject::tr("every valve each %1 months").arg(*wish.months);
            one.months = wish.months;
            plans.push_back(one);
        }
        return keyround::outlook(*taken, histories, m_session.settings().policy, *known, plans,
                                 today, settingsFrom(m_session.valves(), histories, today));
    });
}

} // namespace keyround
