// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/network_report.h"

#include <algorithm>
#include <array>

namespace keyround {

namespace {

struct KindWords
{
    NetworkNoteKind kind;
    const char *key;
    const char *heading;
};

using Kind = NetworkNoteKind;
constexpr std::array<KindWords, 21> kindWords{{
    {Kind::NoMains, "no_mains", "No mains"},
    {Kind::NoSource, "no_source", "No source"},
    {Kind::PieceWithoutSource, "piece_without_source", "Mains that no source reaches"},
    {Kind::MainNotUsable, "main_not_usable", "Mains without a line"},
    {Kind::MainTwice, "main_twice", "Mains drawn twice"},
    {Kind::MainPlacesLeftOut, "main_places_left_out", "Mains with points that are no place"},
    {Kind::NumberTwice, "number_twice", "Numbers that are there more than once"},
    {Kind::MainInParts, "main_in_parts", "Mains of several lines"},
    {Kind::EndStopsShort, "end_stops_short", "Ends that stop short of a main"},
    {Kind::CrossingApart, "crossing_apart", "Crossings left apart"},
    {Kind::ValveNotPlaced, "valve_not_placed", "Valves too far from every main"},
    {Kind::ValveWithoutPlace, "valve_without_place", "Valves without a place"},
    {Kind::ValveRetired, "valve_retired", "Retired valves"},
    {Kind::ValveAmbiguous, "valve_ambiguous", "Valves that may be on one of several branches"},
    {Kind::ValveClosesNothing, "valve_closes_nothing", "Valves that close nothing"},
    {Kind::HydrantNotPlaced, "hydrant_not_placed", "Hydrants on no main"},
    {Kind::ServiceNotPlaced, "service_not_placed", "Services on no main"},
    {Kind::ServiceMainUnknown, "service_main_unknown", "Services that name an unknown main"},
    {Kind::ServiceFarFromItsMain, "service_far_from_main", "Services far from the main they name"},
    {Kind::SourceNotPlaced, "source_not_placed", "Sources on no main"},
    {Kind::FixNotUsed, "fix_not_used", "Decisions by hand that were not used"},
}};

const KindWords &wordsOf(Kind kind)
{
    return *std::find_if(kindWords.begin(), kindWords.end(),
                         [kind](const KindWords &words) { return words.kind == kind; });
}

} // namespace

int NetworkReport::count(NetworkNoteKind kind) const
{
    return static_cast<int>(std::count_if(
        notes.begin(), notes.end(), [kind](const NetworkNote &note) { return note.kind == kind; }));
}

int NetworkReport::count(NoteWeight weight) const
{
    return static_cast<int>(
        std::count_if(notes.begin(), notes.end(),
                      [weight](const NetworkNote &note) { return note.weight == weight; }));
}

QString headingFor(NetworkNoteKind kind)
{
    return QLatin1String(wordsOf(kind).heading);
}

QString keyFor(NetworkNoteKind kind)
{
    return QLatin1String(wordsOf(kind).key);
}

} // namespace keyround
