// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/shut_words.h"

#include "app/print/shut_files.h"
#include "core/reports/shut_sheet.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr qsizetype namesShown = 12;

QString listed(const QStringList &names)
{
    const qsizetype more = names.size() - namesShown;
    return names.mid(0, namesShown).join(QStringLiteral(", ")) +
           (more > 0 ? QObject::tr(" and %1 more").arg(more) : QString());
}

QString criticalWords(Session &session, const ShutPlan &plan)
{
    QStringList names;
    const std::vector<Service> &services = session.services();
    for (const NetIndex index : plan.criticalOut) {
        const Service &service = services[index];
        QStringList more;
        if (!service.customer.isEmpty()) {
            more << service.customer;
        }
        if (!service.address.isEmpty()) {
            more << service.address;
        }
        names << (more.isEmpty() ? service.number
                                 : QStringLiteral("%1 (%2)").arg(service.number,
                                                                 more.join(QStringLiteral(", "))));
    }
    return listed(names);
}

} // namespace

QStringList whoWords(Session &session, const ShutPlan &plan)
{
    QStringList lines;
    const Load all = plan.outAltogether();
    if (all.services == 0 && all.hydrants == 0) {
        lines << QObject::tr("Nobody is without water.");
    } else {
        lines << QObject::tr("Without water: %1 in the shut.").arg(loadWords(plan.out));
        if (plan.outBeyond != Load{}) {
            lines << QObject::tr("Dry beyond it: %1.").arg(loadWords(plan.outBeyond));
        }
    }
    if (!plan.criticalOut.empty()) {
        lines << QObject::tr("Tell first: %1.").arg(criticalWords(session, plan));
    }
    if (!plan.hydrantsOut.empty()) {
        QStringList numbers;
        for (const NetIndex index : plan.hydrantsOut) {
            numbers << session.network().network.hydrants[index].number;
        }
        lines << QObject::tr("Hydrants without water: %1. Tell the fire department.")
                     .arg(listed(numbers));
    }
    return lines;
}

MapShut pictureOf(Session &session, const ShutDesk &desk)
{
    MapShut shut;
    if (desk.hasPlan()) {
        const PipeNetwork &network = session.network().network;
        shut = mapShutOf(network, desk.plan());
        for (const ShutRow &row : desk.rows()) {
            const Valve *valve = session.valve(row.valve);
            const auto drawn = std::ranges::find_if(shut.valves, [&row](const auto &one) {
                return one.label.section(QLatin1Char(' '), 1) == row.number;
            });
            if (row.state == ShutRow::State::Closed && drawn != shut.valves.end()) {
                drawn->sign = MapShut::Sign::Done;
                drawn->doubtful = false;
            } else if (drawn == shut.valves.end() && valve != nullptr && valve->place.isValid()) {
                shut.valves.push_back({valve->place, QStringLiteral(" %1").arg(row.number),
                                       MapShut::Sign::Done, false});
            }
        }
    } else {
        for (const Source &source : session.sources()) {
            shut.flags.push_back({source.place, source.name.isEmpty() ? source.number : source.name,
                                  MapShut::Flag::Kind::Source});
        }
    }
    if (desk.crew()) {
        shut.flags.push_back({*desk.crew(), QObject::tr("Crew"), MapShut::Flag::Kind::Crew});
    } else if (const auto yard = session.settings().yard; yard && yard->isValid()) {
        shut.flags.push_back({*yard, QObject::tr("Yard"), MapShut::Flag::Kind::Crew});
    }
    return shut;
}

bool needsSomebody(const ShutLog &log)
{
    const ShutStanding standing = standingOf(log);
    return !standing.isEnded || !standing.closed.empty();
}

OpenShutsLine openShutsLine(Session &session)
{
    OpenShutsLine line;
    QStringList parts;
    for (const ShutLog &log : session.shuts()) {
        if (!needsSomebody(log)) {
            continue;
        }
        if (parts.isEmpty()) {
            line.first = log.begun.id;
        }
        line.isDanger = line.isDanger || !standingOf(log).closed.empty();
        parts << QObject::tr("%1, since %2: %3")
                     .arg(log.begun.words.left(1).toUpper() + log.begun.words.mid(1),
                          log.begun.at.local().toString(QStringLiteral("yyyy-MM-dd HH:mm")),
                          standingWords(session, log));
    }
    constexpr qsizetype shown = 3;
    const qsizetype more = parts.size() - shown;
    line.words = parts.mid(0, shown).join(QStringLiteral(".  ")) +
                 (more > 0 ? QObject::tr(".  And %1 more").arg(more) : QString());
    if (!line.words.isEmpty()) {
        line.words =
            (parts.size() == 1 ? QObject::tr("Open shut. %1.") : QObject::tr("Open shuts. %1."))
                .arg(line.words);
    }
    return line;
}

} // namespace keyround
