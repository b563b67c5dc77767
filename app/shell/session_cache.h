// SPDX-License-Identifier: GPL-3.0-or-later
// What the session keeps of the open project until something that it follows from changes. For the
// files that implement Session: the project in session.cpp, visits in session_visits.cpp, the pipe
// network in session_network.cpp, repairs in session_repairs.cpp.
#pragma once

#include "app/shell/session.h"
#include "core/fieldlog/field_reports.h"

#include <memory>
#include <optional>

namespace keyround {

struct Session::Cache
{
    std::optional<ProjectSettings> settings;
    std::optional<std::vector<Valve>> valves;
    QHash<ValveId, size_t> valveIndex;
    QHash<QString, size_t> numberIndex;
    std::optional<std::vector<Street>> streets;
    std::optional<std::vector<Main>> mains;
    std::optional<std::vector<Hydrant>> hydrants;
    std::optional<std::vector<Service>> services;
    std::optional<std::vector<Source>> sources;
    std::shared_ptr<const DriveGraph> driveGraph; ///< workers may hold it longer
    std::optional<NetworkFixes> networkFixes;
    std::optional<BuiltNetwork> network;
    QHash<ValveId, NetIndex> networkIndex;
    std::optional<ValveStates> valveStates;
    QDate valveStatesFor;
    std::optional<SingleShuts> singleShuts;
    std::optional<std::vector<ValveImportance>> importances;
    std::optional<std::vector<ShutLog>> shuts;
    std::optional<std::vector<Notice>> notices;
    std::optional<KnownSites> sites;
    std::optional<FieldReports> fieldReports;
    std::optional<std::vector<Visit>> visits;
    std::optional<std::vector<Replacement>> replacements;
    std::shared_ptr<const RepairBook> repairs;
    std::optional<Histories> histories;
    /// By the policy alone, before anything is weighed or held.
    std::optional<std::vector<DueEntry>> dueByPolicy;
    std::optional<std::vector<DueEntry>> due;
    QDate dueFor; ///< both
    QHash<ValveId, size_t> dueIndex;
    std::optional<std::vector<Round>> rounds;
    DriveGraphOptions graphOptions; ///< that driveGraph was built with
    QHash<ValveId, StreetAt> streetAt;

    void forgetDue()
    {
        dueByPolicy.reset();
        due.reset();
    }
    /// What follows from how the valves are, and from the pipes below them.
    void forgetStates()
    {
        valveStates.reset();
        singleShuts.reset();
        importances.reset();
    }
    void forgetNetwork()
    {
        network.reset();
        forgetStates();
    }
};

} // namespace keyround
