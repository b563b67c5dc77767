// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's figures, worked out when they are first asked for and kept until the project or what
// is asked changes: a click on a bar must not work out a year of figures anew.
#pragma once

#include "core/condition/ageing.h"
#include "core/condition/changes.h"
#include "core/condition/condition_bands.h"
#include "core/condition/fleet_turns.h"
#include "core/schedule/outlook.h"
#include "core/schedule/pace.h"
#include "core/schedule/what_next.h"

#include <memory>

namespace keyround {

class Session;

/// Of which valves, over which time.
struct FigureScope
{
    ValveFilter filter;
    Span span;
    PeriodLength length = PeriodLength::Month;
};

/// What somebody asks of the years to come, beside the usual plans.
struct WhatIfWish
{
    double crewDaysMore = 2;   ///< a month
    std::optional<int> months; ///< one interval for all valves
    friend bool operator==(const WhatIfWish &, const WhatIfWish &) = default;
};

class FigureDesk
{
public:
    explicit FigureDesk(Session &session);
    ~FigureDesk();

    /// Everything is worked out anew when it is next asked for.
    void forget();

    /// The valves of the filter, without retired ones.
    [[nodiscard]] std::shared_ptr<const std::vector<Valve>> valves(const ValveFilter &filter);
    [[nodiscard]] std::shared_ptr<const Pace> pace(const FigureScope &scope);
    [[nodiscard]] std::shared_ptr<const std::vector<PaceRow>> paceRows(const FigureScope &scope,
                                                                       int year);
    [[nodiscard]] std::shared_ptr<const ConditionOverTime> condition(const FigureScope &scope);
    [[nodiscard]] std::shared_ptr<const ConditionChanges> changes(const FigureScope &scope);
    [[nodiscard]] std::shared_ptr<const Ageing> ageing(const FigureScope &scope, AgeingBy by);
    [[nodiscard]] std::shared_ptr<const FleetTurns> turns(const FigureScope &scope);
    [[nodiscard]] std::shared_ptr<const std::vector<RiskEntry>> next(const FigureScope &scope);
    [[nodiscard]] std::shared_ptr<const Outlook> outlook(const FigureScope &scope,
                                                         const WhatIfWish &wish);

private:
    [[nodiscard]] std::shared_ptr<const LifeLaws> laws();

    struct Parts;
    Session &m_session;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
