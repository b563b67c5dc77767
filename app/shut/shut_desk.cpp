// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/shut_desk.h"

#include "app/dialogs/typed_values.h"
#include "app/shut/desk_words.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace keyround {

namespace {

/// A shut is kept as "break on main M-1"; the plan's words are those after "break".
QString begunPrefix()
{
    return QStringLiteral("break ");
}

QString ownWords(const QString &begun)
{
    return begun.startsWith(begunPrefix()) ? begun.mid(begunPrefix().size()) : begun;
}

std::vector<NetIndex> toCloseIn(const ShutPlan &plan)
{
    std::vector<NetIndex> valves;
    for (const auto *steps : {&plan.close, &plan.closeDeadSide}) {
        for (const ShutStep &step : *steps) {
            valves.push_back(step.valve);
        }
    }
    std::ranges::sort(valves);
    return valves;
}

} // namespace

ShutDesk::ShutDesk(Session &session, QObject *parent) : QObject(parent), m_session(session)
{
    listen();
}

void ShutDesk::listen()
{
    const Notifier &notifier = m_session.notifier();
    for (auto signal :
         {&Notifier::valvesChanged, &Notifier::layersChanged, &Notifier::networkFixesChanged,
          &Notifier::visitsChanged, &Notifier::shutsChanged, &Notifier::settingsChanged}) {
        connect(&notifier, signal, this, &ShutDesk::refresh);
    }
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_crew.reset();
        clear();
    });
}

void ShutDesk::adopt(const BreakAt &at, const QString &main)
{
    m_at = at;
    m_main = main;
    m_shut = {};
    m_change.clear();
    replan();
    Q_EMIT breakChanged();
}

Status ShutDesk::breakAt(const GeoPoint &place, Metres reach)
{
    const auto at = breakNear(m_session.network().network, place, reach, m_session.units());
    if (!at) {
        return tl::unexpected(at.error());
    }
    adopt(*at, {});
    return {};
}

Status ShutDesk::breakTyped(const QString &text)
{
    const QString typed = text.trimmed();
    if (typed.isEmpty()) {
        return fail(ErrorCode::BadInput, tr("Type the number of a main, or a place as latitude, "
                                            "longitude; or click the main on the map."));
    }
    const PipeNetwork &network = m_session.network().network;
    if (network.main(typed) == noIndex && typed.contains(QLatin1Char(','))) {
        const auto place = placeTyped(typed);
        return place ? breakAt(*place) : tl::unexpected(place.error());
    }
    const auto at = breakOnMain(network, typed, {}, m_session.units());
    if (!at) {
        return tl::unexpected(at.error());
    }
    adopt(*at, typed);
    return {};
}

Status ShutDesk::open(const ShutId &shut)
{
    const ShutLog *log = m_session.shut(shut);
    if (log == nullptr) {
        return fail(ErrorCode::NotFound, tr("This shut is not in the project."));
    }
    const auto at = breakOf(m_session, log->begun);
    m_shut = shut;
    m_main = log->begun.main;
    m_change.clear();
    if (at) {
        m_at = *at;
        m_at->words = ownWords(log->begun.words);
    } else {
        // The mains have changed since: what was closed must still be seen and opened.
        m_at = BreakAt{{}, log->begun.place, ownWords(log->begun.words), false};
    }
    replan();
    Q_EMIT breakChanged();
    if (!at) {
        return fail(ErrorCode::NotFound,
                    tr("The main of this shut is no longer found: %1 What was closed is listed.")
                        .arg(at.error().message));
    }
    return {};
}

void ShutDesk::clear()
{
    m_at.reset();
    m_plan.reset();
    m_rows.clear();
    m_shut = {};
    m_change.clear();
    Q_EMIT breakChanged();
}

void ShutDesk::setCrew(const std::optional<GeoPoint> &place)
{
    m_crew = place;
    refresh();
}

const ShutRow *ShutDesk::row(const ValveId &valve) const
{
    const auto found = std::ranges::find(m_rows, valve, &ShutRow::valve);
    return found == m_rows.end() ? nullptr : &*found;
}

const ShutLog *ShutDesk::log() const
{
    return m_shut.isNull() ? nullptr : m_session.shut(m_shut);
}

bool ShutDesk::isEnded() const
{
    const ShutLog *known = log();
    return known != nullptr && standingOf(*known).isEnded;
}

QString ShutDesk::title() const
{
    if (!m_at) {
        return {};
    }
    return tr("Break %1").arg(m_at->words);
}

Status ShutDesk::begin()
{
    if (!m_at) {
        return fail(ErrorCode::Refused, tr("No break is given yet. Click the main first."));
    }
    if (isBegun()) {
        return {};
    }
    BreakAt at = *m_at;
    at.words = begunPrefix() + at.words;
    const auto made = beginShut(m_session, at, m_main);
    if (!made) {
        return tl::unexpected(made.error());
    }
    m_shut = *made;
    m_change.clear();
    refresh();
    return {};
}

QString ShutDesk::changeSince(const ShutPlan &before, const ValveId &valve) const
{
    const std::vector<NetIndex> old = toCloseIn(before);
    const std::vector<NetIndex> now = toCloseIn(*m_plan);
    const NetIndex self = m_session.networkIndex(valve);
    const auto numbers = [&](const std::vector<NetIndex> &from,
                             const std::vector<NetIndex> &without) {
        QStringList list;
        for (const NetIndex index : from) {
            if (index != self && !std::ranges::binary_search(without, index)) {
                list << m_session.network().network.valves[index].number;
            }
        }
        return list;
    };
    const QStringList more = numbers(now, old);
    const QStringList spared = numbers(old, now);
    const int services = m_plan->outAltogether().services - before.outAltogether().services;
    if (more.isEmpty() && spared.isEmpty() && services == 0) {
        return {};
    }
    QStringList parts;
    if (!more.isEmpty()) {
        parts << tr("close %1 as well").arg(listed(more));
    }
    if (!spared.isEmpty()) {
        parts << tr("%1 need not be closed any more").arg(listed(spared));
    }
    if (services > 0) {
        parts << tr("%n more services without water", nullptr, services);
    } else if (services < 0) {
        parts << tr("%n fewer services without water", nullptr, -services);
    }
    return (services < 0 ? tr("The shut is smaller now: %1.") : tr("The shut has grown: %1."))
        .arg(parts.join(QStringLiteral("; ")));
}

Status ShutDesk::tick(const ValveId &valve, ShutAction action, const QString &remark)
{
    if (Status begun = begin(); !begun) {
        return begun;
    }
    const ShutPlan before = *m_plan;
    const QString number = numberOf(m_session, valve);
    Status ticked = tickShut(m_session, m_shut, action, valve, remark.trimmed());
    if (!ticked) {
        return ticked;
    }
    // The notifier has made the plan anew by now.
    const QString change = changeSince(before, valve);
    m_change = change.isEmpty()                   ? QString()
               : action == ShutAction::DidNotHold ? tr("%1 does not hold. ").arg(number) + change
                                                  : change;
    Q_EMIT changed();
    return {};
}

Status ShutDesk::check(const ValveId &valve, const QString &remark)
{
    const QString words = checkedWords(numberOf(m_session, valve));
    return note(remark.trimmed().isEmpty() ? words : words + QLatin1Char(' ') + remark.trimmed());
}

Status ShutDesk::note(const QString &words)
{
    m_change.clear();
    return begin().and_then(
        [&] { return tickShut(m_session, m_shut, ShutAction::Noted, {}, words); });
}

QString ShutDesk::stillClosedWords() const
{
    const ShutLog *known = log();
    const auto closed = known == nullptr ? std::vector<ValveId>{} : standingOf(*known).closed;
    return closed.empty() ? QString()
                          : tr("Still closed: %1.").arg(listed(numbersOf(m_session, closed)));
}

Status ShutDesk::end()
{
    if (!isBegun()) {
        return fail(ErrorCode::Refused, tr("This shut was not begun: there is nothing to end."));
    }
    m_change.clear();
    const QString closed = stillClosedWords();
    return tickShut(m_session, m_shut, ShutAction::Ended, {},
                    closed.isEmpty() ? tr("Everything closed for it is open again.") : closed);
}

} // namespace keyround
