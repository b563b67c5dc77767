// SPDX-License-Identifier: GPL-3.0-or-later
// Shuts and the pipe network. What is recorded of a shut is written once and cannot be undone;
// decisions about the network can.
#pragma once

#include "app/commands/command.h"

namespace keyround {

/// The shut of a break with these states, nearest first for a crew that starts at the place (the
/// yard where none is given), by the streets where there are any.
[[nodiscard]] ShutPlan shutFor(Session &session, const BreakAt &at, const ValveStates &states,
                               const std::optional<GeoPoint> &crew = {});
/// The break that a shut was begun for, on today's network.
[[nodiscard]] Result<BreakAt> breakOf(Session &session, const ShutBegun &begun);

/// How far from a main a click or a given place may lie.
inline constexpr Metres breakReach{100};

[[nodiscard]] Result<ShutId> beginShut(Session &session, const BreakAt &at, const QString &main);
/// Writes down a step; `valve` is null for Noted and Ended. A shut that has ended takes no more.
[[nodiscard]] Status tickShut(Session &session, const ShutId &shut, ShutAction action,
                              const ValveId &valve, const QString &words = {});

/// Marks where water comes in, by hand. A number that a source has already is refused.
class PlaceSource final : public Command
{
public:
    PlaceSource(Session &session, Source source);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    Source m_source;
};

/// Stores the decisions as they should be.
class ChangeNetworkFixes final : public Command
{
public:
    ChangeNetworkFixes(Session &session, NetworkFixes after, const QString &text);

protected:
    Status apply() override;
    Status revert() override;
    void announce() override;

private:
    NetworkFixes m_before;
    NetworkFixes m_after;
};

} // namespace keyround
