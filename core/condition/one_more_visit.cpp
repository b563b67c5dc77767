// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/one_more_visit.h"

#include <QSet>

#include <algorithm>
#include <iterator>
#include <utility>

namespace keyround {

namespace {

/// All rows that hang together with this one by corrections, in any number of steps; itself too.
std::vector<Visit> lineOf(const Visit &added, const std::vector<Visit> &all)
{
    std::vector<const Visit *> corrections;
    for (const Visit &visit : all) {
        if (!visit.supersedes.isNull()) {
            corrections.push_back(&visit);
        }
    }
    QSet<VisitId> ids{added.id, added.supersedes};
    for (bool grew = true; std::exchange(grew, false);) {
        for (const Visit *one : corrections) {
            if (ids.contains(one->id) != ids.contains(one->supersedes)) {
                ids << one->id << one->supersedes;
                grew = true;
            }
        }
    }
    std::vector<Visit> line;
    std::ranges::copy_if(all, std::back_inserter(line),
                         [&ids](const Visit &visit) { return ids.contains(visit.id); });
    return line;
}

/// Enough of its line to tell what stands: a row that supersedes the one which stands has the
/// highest stamp, so it alone stands now, whatever else the line holds.
std::vector<Visit> whatItChanges(const Visit &added, const std::vector<Visit> &all,
                                 const ValveHistory &known)
{
    if (added.supersedes.isNull()) {
        return {added};
    }
    const auto stood = std::ranges::find(known.visits, added.supersedes,
                                         [](const ReadVisit &read) { return read.visit.id; });
    return stood != known.visits.end() ? std::vector{stood->visit, added} : lineOf(added, all);
}

} // namespace

std::vector<ValveId> addToHistories(Histories &histories, const Visit &added,
                                    const std::vector<Visit> &all, const ValveOfId &valveOf,
                                    const std::vector<Replacement> &replacements,
                                    const Tolerance &tolerance)
{
    const std::vector<Visit> line = whatItChanges(added, all, histories.value(added.valve));
    QSet<ValveId> valves;
    QSet<VisitId> inLine;
    for (const Visit &visit : line) {
        valves << visit.valve;
        inLine << visit.id;
    }
    const std::vector<Visit> standing = standingVisits(line).visits;
    std::vector<ValveId> touched;
    for (const ValveId &id : std::as_const(valves)) {
        const Valve *valve = valveOf(id);
        if (valve == nullptr) {
            continue;
        }
        ValveHistory &history = histories[id];
        std::vector<Visit> visits;
        for (const ReadVisit &read : history.visits) {
            if (!inLine.contains(read.visit.id)) {
                visits.push_back(read.visit);
            }
        }
        std::ranges::copy_if(standing, std::back_inserter(visits),
                             [&id](const Visit &visit) { return visit.valve == id; });
        history = readHistory(*valve, std::move(visits), tolerance, replacements);
        touched.push_back(id);
    }
    return touched;
}

} // namespace keyround
