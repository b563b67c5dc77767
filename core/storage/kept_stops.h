// SPDX-License-Identifier: GPL-3.0-or-later
// Half-typed stops that the project could not take (disk full, read-only, gone): kept as files in
// a folder of the user's own, named by project and stop, and put into the project when it can be
// written again. Each file carries a hash; one that does not match it is left where it is.
#pragma once

#include "core/common/result.h"
#include "core/storage/visit_store.h"

namespace keyround {

class KeptStops
{
public:
    /// The folder is made when it is first needed.
    KeptStops(QString folder, const QString &project);

    [[nodiscard]] Status keep(const StopDraft &draft) const;
    /// It is in the project, recorded or dropped: not wanted any more.
    void forget(const RoundId &round, const ValveId &valve) const;
    [[nodiscard]] std::vector<StopDraft> all() const;

    /// Saves into the project what is newer than what it has, and forgets it; the valves of those
    /// that came back. A stop whose valve was visited since is forgotten, not brought back.
    [[nodiscard]] Result<std::vector<ValveId>> bringBack(Project &project) const;

private:
    [[nodiscard]] QString pathOf(const RoundId &round, const ValveId &valve) const;

    QString m_folder;
    QString m_project;
};

} // namespace keyround
