// SPDX-License-Identifier: GPL-3.0-or-later
// What building the pipe network found: everything that did not fit, with how far it is off and
// what to do next. Nothing that was handed in is dropped without a note here.
#pragma once

#include "core/common/units.h"
#include "core/geo/point.h"
#include "core/mains/network_fixes.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace keyround {

enum class NetworkNoteKind {
    NoMains,            ///< nothing to build from
    NoSource,           ///< no source at all: nobody can be said to lose water
    PieceWithoutSource, ///< mains that no source reaches, with all valves open
    MainNotUsable,      ///< fewer than two places, or no length
    MainTwice,          ///< the very line of another main
    MainPlacesLeftOut,  ///< points of its line that are no place on earth
    NumberTwice,        ///< two rows of one layer have one number: fixes mean the first
    MainInParts,        ///< a row of several lines, cut apart when it was read
    EndStopsShort,      ///< an end near another main, but beyond the tolerance
    CrossingApart,      ///< two mains share a point in the middle of both; left apart
    ValveNotPlaced,     ///< too far from every main
    ValveWithoutPlace,  ///< known by address or ties only
    ValveRetired,       ///< no longer in the ground; left out
    ValveAmbiguous,     ///< at a junction; a branch was taken for the time being
    ValveClosesNothing, ///< one segment on both sides, or nobody behind it
    HydrantNotPlaced,
    ServiceNotPlaced,
    ServiceMainUnknown, ///< names a main that is not there; put on the nearest
    ServiceFarFromItsMain,
    SourceNotPlaced,
    FixNotUsed, ///< a decision by hand whose numbers are gone or that cannot be done
};

enum class NoteWeight {
    Fault, ///< somebody or something is missing from every answer
    Doubt, ///< the answers may be wrong here
    Said,  ///< nothing to do, but said
};

/// A branch on which an ambiguous valve may sit: hand it to NetworkFixes::valves to choose it.
struct BranchChoice
{
    NetworkFixes::ValveOn fix;
    QString words; ///< "WM-00012 (8 in), towards its last point"
    bool taken = false;
};

struct NetworkNote
{
    NetworkNoteKind kind = NetworkNoteKind::NoMains;
    NoteWeight weight = NoteWeight::Fault;
    QString number;    ///< of the valve, main, service and so on
    QString other;     ///< the other main it is about; may be empty
    double metres = 0; ///< how far off; 0 where that says nothing
    GeoPoint place;    ///< to show on the map; not valid when none is known
    std::vector<BranchChoice> choices;
    QString message; ///< one plain sentence or two
};

struct NetworkReport
{
    std::vector<NetworkNote> notes; ///< faults first, then by kind and number

    [[nodiscard]] int count(NetworkNoteKind kind) const;
    [[nodiscard]] int count(NoteWeight weight) const;
};

/// A heading for the notes of one kind: "Valves too far from every main".
[[nodiscard]] QString headingFor(NetworkNoteKind kind);
/// "valve_not_placed": JSON and CSV.
[[nodiscard]] QString keyFor(NetworkNoteKind kind);

} // namespace keyround
