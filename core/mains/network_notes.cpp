// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/network_notes.h"

#include "core/common/natural_key.h"

#include <algorithm>

namespace keyround {

namespace {

using Kind = NetworkNoteKind;
using Thing = NetworkNotes::Thing;

QString wordFor(Thing thing)
{
    switch (thing) {
    case Thing::Main:
        return QStringLiteral("Main");
    case Thing::Valve:
        return QStringLiteral("Valve");
    case Thing::Hydrant:
        return QStringLiteral("Hydrant");
    case Thing::Service:
        return QStringLiteral("Service");
    case Thing::Source:
        break;
    }
    return QStringLiteral("Source");
}

Kind notPlacedKind(Thing thing)
{
    return thing == Thing::Valve     ? Kind::ValveNotPlaced
           : thing == Thing::Hydrant ? Kind::HydrantNotPlaced
           : thing == Thing::Service ? Kind::ServiceNotPlaced
                                     : Kind::SourceNotPlaced;
}

} // namespace

NetworkNote &NetworkNotes::add(Kind kind, NoteWeight weight, const QString &number,
                               const GeoPoint &place, const QString &message)
{
    NetworkNote note;
    note.kind = kind;
    note.weight = weight;
    note.number = number;
    note.place = place;
    note.message = message;
    m_report.notes.push_back(std::move(note));
    return m_report.notes.back();
}

NetworkReport NetworkNotes::take()
{
    std::vector<std::pair<QString, NetworkNote>> keyed;
    keyed.reserve(m_report.notes.size());
    for (NetworkNote &note : m_report.notes) {
        QString key = naturalKey(note.number);
        keyed.emplace_back(std::move(key), std::move(note));
    }
    std::stable_sort(keyed.begin(), keyed.end(), [](const auto &a, const auto &b) {
        return std::tie(a.second.weight, a.second.kind, a.first) <
               std::tie(b.second.weight, b.second.kind, b.first);
    });
    m_report.notes.clear();
    for (auto &[key, note] : keyed) {
        m_report.notes.push_back(std::move(note));
    }
    return std::move(m_report);
}

void NetworkNotes::noMains()
{
    add(Kind::NoMains, NoteWeight::Fault, {}, {},
        QStringLiteral("There are no mains to build a network from. Import the mains layer."));
}

void NetworkNotes::noSource(std::size_t pieces)
{
    QString message = QStringLiteral(
        "No source is joined to the mains, so nobody can be said to lose water. Mark the treatment "
        "plants, tanks, wells and interconnections, or import them.");
    if (pieces > 1) {
        message += QStringLiteral(" The mains fall into %1 pieces that are not joined to each "
                                  "other; each needs a source.")
                       .arg(pieces);
    }
    add(Kind::NoSource, NoteWeight::Fault, {}, {}, message);
}

void NetworkNotes::pieceWithoutSource(const QString &main, const GeoPoint &place, int mains,
                                      Metres total, const Load &load)
{
    const QString what = mains == 1
                             ? QStringLiteral("Main %1").arg(main)
                             : QStringLiteral("Main %1 and %2 more").arg(main).arg(mains - 1);
    add(Kind::PieceWithoutSource, NoteWeight::Fault, main, place,
        QStringLiteral("%1 (%2 with %3 services and %4 hydrants): no source reaches it, even with "
                       "every valve open. Join it to the main that feeds it, or mark its source.")
            .arg(what, length(total.value))
            .arg(load.services)
            .arg(load.hydrants));
}

void NetworkNotes::mainNotUsable(const QString &main, bool hasPlaces, const GeoPoint &place)
{
    const QString why = hasPlaces ? QStringLiteral("has no length")
                                  : QStringLiteral("has fewer than two places on its line");
    add(Kind::MainNotUsable, NoteWeight::Fault, main, place,
        QStringLiteral("Main %1 %2 and was left out. Draw it anew in the mains layer, or take it "
                       "out there.")
            .arg(main, why));
}

void NetworkNotes::mainPlacesLeftOut(const QString &main, std::size_t count, const GeoPoint &place)
{
    add(Kind::MainPlacesLeftOut, NoteWeight::Doubt, main, place,
        QStringLiteral("Main %1: %2 points of its line are no latitude and longitude and were left "
                       "out; the rest was used. See that its line is right.")
            .arg(main)
            .arg(count));
}

void NetworkNotes::mainTwice(const QString &main, const QString &other, bool leftOut,
                             const GeoPoint &place)
{
    const QString message =
        leftOut
            ? QStringLiteral("Main %1 is the very line of main %2. It was left out, and whoever "
                             "names it is put on %2. Take one of the two out of the layer.")
            : QStringLiteral("Main %1 and main %2 run between the same two junctions side by "
                             "side: both were kept, but if one is drawn twice, valves on it "
                             "close nothing. Look at them on the map.");
    NetworkNote &note = add(Kind::MainTwice, leftOut ? NoteWeight::Said : NoteWeight::Doubt, main,
                            place, message.arg(main, other));
    note.other = other;
}

void NetworkNotes::mainInParts(const QString &main, const QStringList &parts, const GeoPoint &place)
{
    add(Kind::MainInParts, NoteWeight::Said, main, place,
        QStringLiteral(
            "Main %1 came in as %2 lines (%1, %3). They are joined only where their ends "
            "meet; a service that names %1 is put on the nearest of them.")
            .arg(main)
            .arg(parts.size() + 1)
            .arg(parts.join(QStringLiteral(", "))));
}

void NetworkNotes::numberTwice(Thing thing, const QString &number, const GeoPoint &place)
{
    add(Kind::NumberTwice, NoteWeight::Doubt, number, place,
        QStringLiteral(
            "%1 %2 is there more than once. All of them were used, but a decision by hand "
            "or a search for the number means the first. Give each its own number.")
            .arg(wordFor(thing), number));
}

void NetworkNotes::endStopsShort(const QString &main, LineEnd end, const QString &other,
                                 double metres, const GeoPoint &place)
{
    NetworkNote &note = add(
        Kind::EndStopsShort, NoteWeight::Doubt, main, place,
        QStringLiteral("The %1 end of main %2 stops %3 from main %4. They were left apart, because "
                       "ends are joined within %5. Join them by hand if they meet in the ground.")
            .arg(end == LineEnd::First ? QStringLiteral("first") : QStringLiteral("last"), main,
                 length(metres), other, length(m_options.join.value)));
    note.other = other;
    note.metres = metres;
}

void NetworkNotes::crossingApart(const QString &main, const QString &other, const GeoPoint &place)
{
    NetworkNote &note =
        add(Kind::CrossingApart, NoteWeight::Doubt, main, place,
            QStringLiteral("Mains %1 and %2 have a point in common where neither ends. They were "
                           "left apart, as if one lay under the other. Join them by hand if there "
                           "is a cross in the ground.")
                .arg(main, other));
    note.other = other;
}

void NetworkNotes::notPlaced(Thing thing, const QString &number, const GeoPoint &place,
                             const QString &nearest, double metres, bool critical)
{
    const Metres reach = thing == Thing::Valve     ? m_options.valveReach
                         : thing == Thing::Hydrant ? m_options.hydrantReach
                         : thing == Thing::Service ? m_options.serviceReach
                                                   : m_options.sourceReach;
    QString message =
        critical ? QStringLiteral("%1 %2 (a critical customer)") : QStringLiteral("%1 %2");
    message = message.arg(wordFor(thing), number);
    if (nearest.isEmpty()) {
        message += QStringLiteral(" is on no main, because there is none.");
    } else {
        message += QStringLiteral(" is %1 from the nearest main, %2; %3 is the most that is "
                                  "allowed. It is on no main. Move it, or choose its main by hand.")
                       .arg(length(metres), nearest, length(reach.value));
    }
    NetworkNote &note = add(notPlacedKind(thing), NoteWeight::Fault, number, place, message);
    note.other = nearest;
    note.metres = metres;
}

void NetworkNotes::withoutPlace(Thing thing, const QString &number, const QString &main)
{
    const Kind kind = thing == Thing::Valve ? Kind::ValveWithoutPlace : notPlacedKind(thing);
    if (main.isEmpty()) {
        add(kind, NoteWeight::Fault, number, {},
            QStringLiteral(
                "%1 %2 has no place, so it is on no main. Measure it, or choose its main "
                "by hand.")
                .arg(wordFor(thing), number));
        return;
    }
    NetworkNote &note = add(kind, NoteWeight::Doubt, number, {},
                            QStringLiteral("%1 %2 has no place; it was put in the middle of main "
                                           "%3. Measure it.")
                                .arg(wordFor(thing), number, main));
    note.other = main;
}

void NetworkNotes::valveRetired(const QString &valve, const GeoPoint &place)
{
    add(Kind::ValveRetired, NoteWeight::Said, valve, place,
        QStringLiteral("Valve %1 is retired and was left out: the main runs through there.")
            .arg(valve));
}

void NetworkNotes::valveAmbiguous(const QString &valve, const GeoPoint &place,
                                  std::vector<BranchChoice> choices)
{
    QStringList words;
    QString taken;
    for (const BranchChoice &choice : choices) {
        words << choice.words;
        taken = choice.taken ? choice.words : taken;
    }
    NetworkNote &note =
        add(Kind::ValveAmbiguous, NoteWeight::Doubt, valve, place,
            QStringLiteral("Valve %1 is drawn where pipes meet and may be on any of them: %2. For "
                           "now it was taken to be on %3. Choose its branch by hand.")
                .arg(valve, words.join(QStringLiteral("; ")), taken));
    note.choices = std::move(choices);
}

void NetworkNotes::valveInLoop(const QString &valve, const GeoPoint &place)
{
    add(Kind::ValveClosesNothing, NoteWeight::Doubt, valve, place,
        QStringLiteral("Valve %1 closes nothing by itself: pipes without a valve lead round it. "
                       "Either a valve is missing in the layer, or a main is joined that is not.")
            .arg(valve));
}

void NetworkNotes::valveWithNothingBehind(const QString &valve, const GeoPoint &place,
                                          Metres behindIt, bool hydrantLead)
{
    const QString behind =
        hydrantLead ? QStringLiteral("no hydrant")
                    : QStringLiteral("nobody, and only %1 of main").arg(length(behindIt.value));
    add(Kind::ValveClosesNothing, NoteWeight::Said, valve, place,
        QStringLiteral("Valve %1 closes nothing: behind it there is %2. See whether something is "
                       "missing in the layers.")
            .arg(valve, behind));
}

void NetworkNotes::serviceMainUnknown(const QString &service, const QString &main,
                                      const QString &instead, const GeoPoint &place)
{
    NetworkNote &note = add(
        Kind::ServiceMainUnknown, NoteWeight::Doubt, service, place,
        QStringLiteral("Service %1 names main %2, which is not in the network. It was put on the "
                       "nearest, %3. Correct the number, or choose its main by hand.")
            .arg(service, main, instead));
    note.other = instead;
}

void NetworkNotes::serviceFarFromItsMain(const QString &service, const QString &main, double metres,
                                         const GeoPoint &place)
{
    NetworkNote &note =
        add(Kind::ServiceFarFromItsMain, NoteWeight::Doubt, service, place,
            QStringLiteral("Service %1 is %2 from main %3, which it names. It was put there. See "
                           "whether the number or the place is wrong.")
                .arg(service, length(metres), main));
    note.other = main;
    note.metres = metres;
}

void NetworkNotes::fixNotUsed(const QString &what, const QString &number, const QString &why)
{
    add(Kind::FixNotUsed, NoteWeight::Doubt, number, {},
        QStringLiteral(
            "Decided by hand, but not used: %1. %2 The decision is kept; take it back if "
            "it no longer holds.")
            .arg(what, why));
}

} // namespace keyround
