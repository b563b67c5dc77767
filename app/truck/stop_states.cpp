// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/stop_states.h"

#include "app/commands/visit_commands.h"
#include "app/dialogs/truck_look.h"
#include "app/shell/style.h"

#include <QPainter>

#include <algorithm>

namespace keyround {

namespace {

void drawState(QPainter &painter, const QRectF &where, const QColor &ink, StopState state)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const bool isLight = ink.lightness() > 128; // the night look draws in light ink
    const QRectF box = where.adjusted(4, 4, -4, -4);
    painter.setPen(QPen(ink, 3));
    switch (state) {
    case StopState::Waiting:
        painter.drawEllipse(box);
        break;
    case StopState::Skipped:
        for (const double shift : {0.15, 0.55}) {
            const double left = box.left() + box.width() * shift;
            const QPointF points[] = {{left, box.top()},
                                      {left + box.width() * 0.35, box.center().y()},
                                      {left, box.bottom()}};
            painter.drawPolyline(points, 3);
        }
        break;
    case StopState::HalfTyped:
        painter.drawEllipse(box);
        painter.setBrush(ink);
        painter.drawPie(box, 90 * 16, 180 * 16);
        break;
    case StopState::Done:
        painter.setBrush(ink);
        painter.drawEllipse(box);
        drawTick(painter, box.adjusted(4, 4, -4, -4),
                 isLight ? TruckColours::night().card : look::card);
        break;
    }
    painter.restore();
}

} // namespace

QString wordFor(StopState state)
{
    switch (state) {
    case StopState::Waiting:
        return QObject::tr("waiting");
    case StopState::Skipped:
        return QObject::tr("skipped");
    case StopState::HalfTyped:
        return QObject::tr("half typed");
    case StopState::Done:
        break;
    }
    return QObject::tr("done");
}

BigButton::Mark markFor(StopState state)
{
    return [state](QPainter &painter, const QRectF &where, const QColor &ink) {
        drawState(painter, where, ink, state);
    };
}

const ReadVisit *visitOnRound(Session &session, const RoundId &round, const ValveId &valve)
{
    const std::vector<ReadVisit> &visits = session.history(valve).visits;
    const auto found =
        std::find_if(visits.rbegin(), visits.rend(),
                     [&round](const ReadVisit &read) { return read.visit.round == round; });
    return round.isNull() || found == visits.rend() ? nullptr : &*found;
}

std::vector<StopEntry> stopEntries(Session &session, const Round &round)
{
    QHash<ValveId, StopState> begun;
    for (const StopDraft &draft : session.drafts()) {
        if (draft.round == round.id) {
            begun.insert(draft.valve,
                         isSkipMark(draft.content) ? StopState::Skipped : StopState::HalfTyped);
        }
    }
    const auto stateOf = [&](const ValveId &valve) {
        const StopState fromDraft = begun.take(valve);
        if (fromDraft == StopState::HalfTyped) {
            return fromDraft; // a correction under way is half typed as well
        }
        return visitOnRound(session, round.id, valve) != nullptr ? StopState::Done : fromDraft;
    };
    std::vector<StopEntry> entries;
    QSet<ValveId> stops;
    for (const ValveId &valve : round.stops) {
        stops.insert(valve);
        entries.push_back({valve, static_cast<int>(entries.size()) + 1, stateOf(valve)});
    }
    for (const Valve &valve : session.valves()) {
        if (stops.contains(valve.id)) {
            continue;
        }
        const StopState state = stateOf(valve.id);
        if (state != StopState::Waiting) {
            entries.push_back({valve.id, 0, state});
        }
    }
    return entries;
}

ValveId nextStop(Session &session, const Round &round, const ValveId &after)
{
    std::vector<StopEntry> entries = stopEntries(session, round);
    std::erase_if(entries, [](const StopEntry &entry) { return entry.place == 0; });
    const auto at = std::ranges::find(entries, after, &StopEntry::valve);
    if (at != entries.end()) {
        std::rotate(entries.begin(), at + 1, entries.end());
    }
    for (const StopState wanted : {StopState::Waiting, StopState::HalfTyped, StopState::Skipped}) {
        const auto found = std::ranges::find_if(entries, [&](const StopEntry &entry) {
            return entry.state == wanted && entry.valve != after;
        });
        if (found != entries.end()) {
            return found->valve;
        }
    }
    return {};
}

} // namespace keyround
