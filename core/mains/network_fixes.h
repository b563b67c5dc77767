// SPDX-License-Identifier: GPL-3.0-or-later
// What people decided about the pipe network by hand. Everything is named by the utility's own
// numbers, so that a decision outlives a new import of the layers; one whose numbers are gone is
// told of by the network's report and kept. A plain value: the caller stores it and undoes it.
#pragma once

#include <QString>

#include <optional>
#include <vector>

namespace keyround {

/// An end of a main's line as it is drawn.
enum class LineEnd { First, Last };

/// On which branch a valve sits that is drawn at a junction: anywhere on the main, or on the part
/// that runs from the junction to the main's first or last point.
enum class Branch { Nearest, TowardsFirst, TowardsLast };

struct NetworkFixes
{
    struct ValveOn
    {
        QString valve;
        QString main;
        Branch branch = Branch::Nearest;
        friend bool operator==(const ValveOn &, const ValveOn &) = default;
    };
    /// The end of one main meets another main at that one's nearest place, however far.
    struct Join
    {
        QString main;
        LineEnd end = LineEnd::First;
        QString other;
        friend bool operator==(const Join &, const Join &) = default;
    };
    /// The end of one main does not meet the other, however near.
    struct Apart
    {
        QString main;
        LineEnd end = LineEnd::First;
        QString other;
        friend bool operator==(const Apart &, const Apart &) = default;
    };
    /// Two mains that share a point in the middle of both, and are joined there by a cross.
    struct Cross
    {
        QString main;
        QString other;
        friend bool operator==(const Cross &, const Cross &) = default;
    };
    /// A service, hydrant or source is fed by (feeds) this main.
    struct On
    {
        QString number;
        QString main;
        friend bool operator==(const On &, const On &) = default;
    };

    std::vector<ValveOn> valves;
    std::vector<Join> joins;
    std::vector<Apart> aparts;
    std::vector<Cross> crosses;
    std::vector<On> services;
    std::vector<On> hydrants;
    std::vector<On> sources;

    [[nodiscard]] bool isEmpty() const
    {
        return valves.empty() && joins.empty() && aparts.empty() && crosses.empty() &&
               services.empty() && hydrants.empty() && sources.empty();
    }
    friend bool operator==(const NetworkFixes &, const NetworkFixes &) = default;
};

} // namespace keyround
