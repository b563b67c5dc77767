// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/board_files.h"

#include "app/charts/figure_pictures.h"
#include "app/models/services_more.h"
#include "app/print/chart_on_paper.h"
#include "app/print/page_furniture.h"
#include "core/reports/board_report.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

ChartPicture pictureOf(BoardPicture which, const BoardFigures &figures,
                       const std::vector<Valve> &valves)
{
    switch (which) {
    case BoardPicture::PaceYears:
        return paceYearsPicture(figures.pace);
    case BoardPicture::Conditions:
        return conditionOverTimePicture(figures.condition);
    case BoardPicture::ShareServiceable:
        return sharePicture(figures.condition);
    case BoardPicture::Changes:
        return changesPicture(figures.changes);
    case BoardPicture::Ageing:
        return ageingPicture(figures.ageing).picture;
    case BoardPicture::WhatNext:
        return whatNextPicture(figures.next, valves, figures.units).picture;
    case BoardPicture::Outlook:
        return outlookPicture(figures.outlook);
    case BoardPicture::None:
        break;
    }
    return {};
}

SheetPart partOf(const BoardPage &page, const BoardFigures &figures,
                 const std::vector<Valve> &valves)
{
    SheetPart part;
    part.sheet = page.sheet;
    if (page.picture == BoardPicture::None) {
        return part;
    }
    ChartPicture picture = pictureOf(page.picture, figures, valves);
    picture.filterWords = figures.filterWords.isEmpty()
                              ? QString()
                              : QObject::tr("Counted: %1").arg(figures.filterWords);
    // So much of what is left of the page that the table and its notes stand on it too.
    part.pictureShare = page.picture == BoardPicture::PaceYears    ? 0.48
                        : page.picture == BoardPicture::Conditions ? 0.33 // a year of months below
                        : page.picture == BoardPicture::Ageing     ? 0.62 // rows of numbers in it
                        : page.picture == BoardPicture::WhatNext   ? 0.5
                        : page.picture == BoardPicture::Outlook    ? 0.6
                                                                   : 0.45;
    part.picture = chartOnPaper(std::move(picture));
    return part;
}

} // namespace

Result<std::vector<PaperPart>> boardPaper(Session &session, const ValveFilter &filter,
                                          const Span &span, PeriodLength length)
{
    const Span until{span.from, std::min(span.to, session.today())};
    if (!until.from.isValid() || until.to < until.from) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("The report was not made: its time would end (%1) before it begins "
                                "(%2). Choose an earlier first day.")
                        .arg(until.to.toString(Qt::ISODate), until.from.toString(Qt::ISODate)));
    }
    std::vector<Valve> valves = filtered(session.valves(), filter);
    std::erase_if(valves, [](const Valve &valve) { return valve.retired; });
    if (valves.empty()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("The report was not made: no valve is like that. Choose more "
                                "zones, sizes or types, or bring in valves."));
    }
    const Histories &histories = session.histories();
    const Policy &policy = session.settings().policy;
    // With the years before, as far as a board remembers; told as on the last day of the report.
    const Pace pace =
        paceOf(valves, histories, policy, {until.from.addYears(-4), until.to}, until.to);
    const ConditionOverTime condition = conditionOverTime(valves, histories, until, length);
    const ConditionChanges changes = conditionChanges(valves, histories, until, length);
    const Ageing ageing = ageingOf(valves, histories, AgeingBy::TypeAndSize, session.units());
    const QDate today = session.today();
    const FleetTurns turns = fleetTurns(valves, histories, until);
    // The laws come from all valves: a filter asks where to go, not what is known.
    const LifeLaws laws = fitLifeLaws(session.valves(), histories);
    const std::vector<RiskEntry> next =
        whatNext(session.dueList(), valves, histories, laws, servicesMore(session), today);
    const Outlook ahead =
        outlook(valves, histories, policy, laws, usualPlans(valves, histories, today), today,
                settingsFrom(session.valves(), histories, today));
    const BoardFigures figures{until,
                               filter.words(session.units()),
                               session.settings().utility,
                               session.units(),
                               pace,
                               condition,
                               changes,
                               ageing,
                               today,
                               turns,
                               next,
                               ahead,
                               session.repairs(),
                               session.settings().repairs};
    std::vector<PaperPart> parts;
    for (const BoardPage &page :
         boardReport(figures, valves, histories, policy, session.visits())) {
        parts.push_back(paperOf(partOf(page, figures, valves)));
    }
    return parts;
}

Status writeBoardReport(Session &session, const ValveFilter &filter, const Span &span,
                        PeriodLength length, const QString &path)
{
    const auto parts = boardPaper(session, filter, span, length);
    if (!parts) {
        return tl::unexpected(parts.error());
    }
    return writePaper(parts->front().name, *parts, furnitureOf(session), {}, path);
}

} // namespace keyround
