// SPDX-License-Identifier: GPL-3.0-or-later
// The first half of building a network from layers: which mains are one, where they meet, and the
// pipes between those junctions. The rule is in build_network.h. Used within core/mains only.
#pragma once

#include "core/mains/main_lines.h"
#include "core/mains/network_notes.h"

namespace keyround {

/// What a number in the mains layer stands for.
class KnownMains
{
public:
    /// Takes the mains into the network, cleaned: a main without a usable line, and one that is the
    /// very line of another, has an empty line there.
    KnownMains(const std::vector<Main> &mains, PipeNetwork &network, NetworkNotes &notes);

    /// The main that a row stands for: itself, the one whose very line it is, or noIndex.
    [[nodiscard]] NetIndex standingFor(NetIndex row) const { return m_standsFor[row]; }
    /// The main of a number; noIndex when there is none that can be used.
    [[nodiscard]] NetIndex find(const PipeNetwork &network, const QString &number) const;
    /// The main and the other lines of its row, where the row had several.
    [[nodiscard]] std::vector<NetIndex> partsOf(const PipeNetwork &network, NetIndex main) const;

private:
    void takeLine(const Main &main, PipeNetwork &network, NetworkNotes &notes);
    void findTwins(PipeNetwork &network, NetworkNotes &notes);
    void findParts(const std::vector<Main> &mains, const PipeNetwork &network, NetworkNotes &notes);

    std::vector<NetIndex> m_standsFor;
    QHash<NetIndex, std::vector<NetIndex>> m_parts;
};

/// Fills nodes and pipes (with their rows by main and node) of a network that has its mains.
void joinMains(const KnownMains &known, const MainLines &lines, const NetworkOptions &options,
               const NetworkFixes &fixes, PipeNetwork &network, NetworkNotes &notes);

/// The pipe of a main at metres along it.
[[nodiscard]] NetIndex pipeAt(const PipeNetwork &network, NetIndex main, double along);

} // namespace keyround
