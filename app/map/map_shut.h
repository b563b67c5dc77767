// SPDX-License-Identifier: GPL-3.0-or-later
// A shut as the map draws it: pipe without water by the pattern of its line, valves by numbered
// signs, places by flags. A plain value, made by who knows the shut (app/shut).
#pragma once

#include "core/geo/point.h"

#include <QString>

#include <vector>

namespace keyround {

struct MapShut
{
    enum class Sign {
        Close,         ///< numbered disc
        CloseDeadSide, ///< numbered square
        AlreadyClosed, ///< filled bar: leave it
        PassedOver,    ///< crossed out
        Done,          ///< closed for this shut: numbered, filled, with a tick
    };
    struct Valve
    {
        GeoPoint place;
        QString label; ///< its number in the order, and its own number
        Sign sign = Sign::Close;
        bool doubtful = false; ///< a question mark beside it
    };
    /// A place with words beside it: the break, the crew, a source, what a note is about.
    struct Flag
    {
        enum class Kind { Break, Crew, Source, Here };
        GeoPoint place;
        QString words;
        Kind kind = Kind::Here;
    };

    std::vector<GeoLine> out;    ///< between the valves to close
    std::vector<GeoLine> beyond; ///< dry because nothing feeds it any more
    std::vector<Valve> valves;
    std::vector<Flag> flags;

    [[nodiscard]] bool isEmpty() const
    {
        return out.empty() && beyond.empty() && valves.empty() && flags.empty();
    }
    /// All places of it, for showing it whole; flags of sources are left out.
    [[nodiscard]] std::vector<GeoPoint> extent() const;
};

} // namespace keyround
