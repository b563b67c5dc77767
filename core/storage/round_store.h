// SPDX-License-Identifier: GPL-3.0-or-later
// Rounds in the project file.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/round.h"

#include <vector>

namespace keyround {

class Project;

class RoundStore
{
public:
    explicit RoundStore(Project &project, QString connection);

    [[nodiscard]] Result<std::vector<Round>> all() const; ///< newest date first
    [[nodiscard]] Result<Round> byId(const RoundId &id) const;
    /// Adds the round, or rewrites it with its stops when it is there. A finished round is refused.
    /// Must-go and held are kept for stops of the round only.
    [[nodiscard]] Status put(const Round &round);
    [[nodiscard]] Status setState(const RoundId &id, RoundState state);
    /// Only a planned round without visits can go (undo of making it).
    [[nodiscard]] Status remove(const RoundId &id);

private:
    Project &m_project;
    QString m_connection;
};

} // namespace keyround
