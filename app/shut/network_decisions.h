// SPDX-License-Identifier: GPL-3.0-or-later
// Decisions about the mains: what may be decided for a note of the network's report, what was
// decided, in words, and how the decisions look with one more or one less. Plain values; the page
// pushes the command.
#pragma once

#include "app/shell/session.h"

namespace keyround {

/// Something that can be decided at the press of a button.
struct PossibleFix
{
    QString words;
    bool isTaken = false; ///< taken for the time being, until somebody decides
    NetworkFixes after;
};
[[nodiscard]] std::vector<PossibleFix> possibleFixes(Session &session, const NetworkNote &note);

/// True when a main's number settles the note: a valve, service, hydrant or source is put on it.
[[nodiscard]] bool takesMain(NetworkNoteKind kind);
/// The decisions with the note's thing put on this main. Refuses a main that is not there.
[[nodiscard]] Result<NetworkFixes> putOnMain(Session &session, const NetworkNote &note,
                                             const QString &main);

struct Decision
{
    QString words;
    NetworkFixes without; ///< the decisions when this one is taken back
};
[[nodiscard]] std::vector<Decision> decisionsOf(const NetworkFixes &fixes);

/// The number of the main that is nearest to the place, within reach; empty when there is none.
[[nodiscard]] QString mainNear(const PipeNetwork &network, const GeoPoint &place, Metres reach);

/// "Ends join within 1 ft; valves reach their main within 10 ft; ..."
[[nodiscard]] QString toleranceWords(const NetworkOptions &options);

} // namespace keyround
