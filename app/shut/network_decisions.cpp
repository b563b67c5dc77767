// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/network_decisions.h"

#include "core/geo/polyline.h"

#include <QObject>

#include <algorithm>

namespace keyround {

namespace {

QString wordFor(LineEnd end)
{
    return end == LineEnd::First ? QObject::tr("first") : QObject::tr("last");
}

/// The note tells of an end by its place.
LineEnd endAt(Session &session, const NetworkNote &note)
{
    const std::vector<Main> &mains = session.mains();
    const auto main = std::ranges::find(mains, note.number, &Main::number);
    if (main == mains.end() || main->line.empty()) {
        return LineEnd::First;
    }
    return distanceBetween(main->line.front(), note.place).value <=
                   distanceBetween(main->line.back(), note.place).value
               ? LineEnd::First
               : LineEnd::Last;
}

NetworkFixes withValveOn(NetworkFixes fixes, const NetworkFixes::ValveOn &fix)
{
    std::erase_if(fixes.valves, [&fix](const auto &one) { return one.valve == fix.valve; });
    fixes.valves.push_back(fix);
    return fixes;
}

void putOn(std::vector<NetworkFixes::On> &list, const QString &number, const QString &main)
{
    std::erase_if(list, [&number](const auto &one) { return one.number == number; });
    list.push_back({number, main});
}

void addFixesForEnd(Session &session, const NetworkNote &note, std::vector<PossibleFix> &fixes)
{
    const LineEnd end = endAt(session, note);
    PossibleFix join{QObject::tr("Join it to main %1").arg(note.other), false,
                     session.networkFixes()};
    join.after.joins.push_back({note.number, end, note.other});
    PossibleFix apart{QObject::tr("Leave it apart: they do not meet"), false,
                      session.networkFixes()};
    apart.after.aparts.push_back({note.number, end, note.other});
    fixes.push_back(std::move(join));
    fixes.push_back(std::move(apart));
}

template <typename Item, typename Words>
void addDecisions(const NetworkFixes &fixes, std::vector<Item> NetworkFixes::*list, Words words,
                  std::vector<Decision> &decisions)
{
    const std::vector<Item> &items = fixes.*list;
    for (std::size_t i = 0; i < items.size(); ++i) {
        NetworkFixes without = fixes;
        (without.*list).erase((without.*list).begin() + static_cast<std::ptrdiff_t>(i));
        decisions.push_back({words(items[i]), std::move(without)});
    }
}

QString branchWords(Branch branch)
{
    return branch == Branch::TowardsFirst  ? QObject::tr(", towards its first point")
           : branch == Branch::TowardsLast ? QObject::tr(", towards its last point")
                                           : QString();
}

} // namespace

std::vector<PossibleFix> possibleFixes(Session &session, const NetworkNote &note)
{
    std::vector<PossibleFix> fixes;
    for (const BranchChoice &choice : note.choices) {
        fixes.push_back({QObject::tr("It is on %1").arg(choice.words), choice.taken,
                         withValveOn(session.networkFixes(), choice.fix)});
    }
    if (note.kind == NetworkNoteKind::EndStopsShort) {
        addFixesForEnd(session, note, fixes);
    } else if (note.kind == NetworkNoteKind::CrossingApart) {
        PossibleFix cross{QObject::tr("Join %1 and %2 by a cross").arg(note.number, note.other),
                          false, session.networkFixes()};
        cross.after.crosses.push_back({note.number, note.other});
        fixes.push_back(std::move(cross));
    }
    return fixes;
}

bool takesMain(NetworkNoteKind kind)
{
    switch (kind) {
    case NetworkNoteKind::ValveNotPlaced:
    case NetworkNoteKind::ValveAmbiguous:
    case NetworkNoteKind::HydrantNotPlaced:
    case NetworkNoteKind::ServiceNotPlaced:
    case NetworkNoteKind::ServiceMainUnknown:
    case NetworkNoteKind::ServiceFarFromItsMain:
    case NetworkNoteKind::SourceNotPlaced:
        return true;
    default:
        return false;
    }
}

Result<NetworkFixes> putOnMain(Session &session, const NetworkNote &note, const QString &main)
{
    if (session.network().network.main(main) == noIndex) {
        return fail(ErrorCode::NotFound,
                    main.isEmpty()
                        ? QObject::tr("Type the main's number, or click the main on the map.")
                        : QObject::tr("There is no main %1. Type another number, or click the "
                                      "main on the map.")
                              .arg(main));
    }
    NetworkFixes after = session.networkFixes();
    switch (note.kind) {
    case NetworkNoteKind::HydrantNotPlaced:
        putOn(after.hydrants, note.number, main);
        break;
    case NetworkNoteKind::SourceNotPlaced:
        putOn(after.sources, note.number, main);
        break;
    case NetworkNoteKind::ValveNotPlaced:
    case NetworkNoteKind::ValveAmbiguous:
        after = withValveOn(after, {note.number, main, Branch::Nearest});
        break;
    default:
        putOn(after.services, note.number, main);
        break;
    }
    return after;
}

std::vector<Decision> decisionsOf(const NetworkFixes &fixes)
{
    std::vector<Decision> all;
    addDecisions(
        fixes, &NetworkFixes::valves,
        [](const NetworkFixes::ValveOn &fix) {
            return QObject::tr("Valve %1 is on main %2%3")
                .arg(fix.valve, fix.main, branchWords(fix.branch));
        },
        all);
    addDecisions(
        fixes, &NetworkFixes::joins,
        [](const NetworkFixes::Join &fix) {
            return QObject::tr("The %1 end of main %2 meets main %3")
                .arg(wordFor(fix.end), fix.main, fix.other);
        },
        all);
    addDecisions(
        fixes, &NetworkFixes::aparts,
        [](const NetworkFixes::Apart &fix) {
            return QObject::tr("The %1 end of main %2 does not meet main %3")
                .arg(wordFor(fix.end), fix.main, fix.other);
        },
        all);
    addDecisions(
        fixes, &NetworkFixes::crosses,
        [](const NetworkFixes::Cross &fix) {
            return QObject::tr("Mains %1 and %2 are joined by a cross").arg(fix.main, fix.other);
        },
        all);
    const auto on = [](const QString &thing) {
        return [thing](const NetworkFixes::On &fix) {
            return QObject::tr("%1 %2 is on main %3").arg(thing, fix.number, fix.main);
        };
    };
    addDecisions(fixes, &NetworkFixes::services, on(QObject::tr("Service")), all);
    addDecisions(fixes, &NetworkFixes::hydrants, on(QObject::tr("Hydrant")), all);
    addDecisions(fixes, &NetworkFixes::sources, on(QObject::tr("Source")), all);
    return all;
}

QString mainNear(const PipeNetwork &network, const GeoPoint &place, Metres reach)
{
    QString number;
    double nearest = reach.value;
    for (const NetMain &main : network.mains) {
        const auto position = nearestOn(main.line, place);
        if (position && position->offsetMetres <= nearest) {
            nearest = position->offsetMetres;
            number = main.number;
        }
    }
    return number;
}

QString toleranceWords(const NetworkOptions &options)
{
    const auto length = [&options](Metres metres) { return lengthText(metres, options.units); };
    return QObject::tr("How near is near enough (common practice, no source): ends of mains join "
                       "within %1; an end within %2 of a main is told of. A valve reaches its main "
                       "within %3, and within %4 of a junction it may be on any branch. Hydrants "
                       "reach a main within %5, services that name none within %6, sources within "
                       "%7.")
        .arg(length(options.join), length(options.nearMiss), length(options.valveReach),
             length(options.atJunction), length(options.hydrantReach), length(options.serviceReach),
             length(options.sourceReach));
}

} // namespace keyround
