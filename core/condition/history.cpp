// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/history.h"

#include "core/fieldlog/visit_order.h"

#include <QSet>

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <thread>

namespace keyround {

namespace {

bool wasTurned(const Visit &visit)
{
    return std::any_of(visit.passes.begin(), visit.passes.end(),
                       [](const Pass &pass) { return pass.turns.value > 0; });
}

/// How the visit says the valve stands now: as left, or as found where nothing was turned.
Standing standingAfter(const Visit &visit)
{
    const bool asFound = visit.left.position == Position::NotSeen && !wasTurned(visit);
    return asFound ? visit.found : visit.left;
}

bool isNormal(const Standing &standing, NormalPosition normally)
{
    return standing.position ==
           (normally == NormalPosition::Open ? Position::Open : Position::Closed);
}

/// The valve as it was in the life that this replacement ended.
Valve asItWas(Valve valve, const Replacement &ending)
{
    valve.installYear = ending.oldInstallYear;
    valve.listedTurns = ending.oldListedTurns;
    valve.size = ending.oldSize;
    valve.type = ending.oldType;
    return valve;
}

bool isAfter(const Visit &visit, const Replacement &replacement)
{
    const QDateTime arrived = visit.arrived.local();
    return arrived.date() != replacement.on
               ? arrived.date() > replacement.on
               : replacement.time.isValid() && arrived.time() >= replacement.time;
}

/// What is said of the valve in the ground, before anybody has been there.
void beginLife(ValveHistory &history, const Valve &valve, const QDate &began)
{
    history.condition = Condition::NeverVisited;
    history.baseline = baselineFor(valve, std::nullopt, QDate());
    history.lastVisit = QDate();
    history.lastFullCycle = QDate();
    history.firstBad = QDate();
    history.leftOtherThanNormal.reset();
    ValveLife life;
    life.began = began;
    life.installed = began;
    if (began.isNull() && valve.installYear) {
        life.installed = QDate(*valve.installYear, 1, 1);
    }
    life.firstVisit = history.visits.size();
    life.endVisit = life.firstVisit;
    history.lives.push_back(life);
}

void readVisit(ValveHistory &history, const Valve &valve, const Visit &visit,
               const Tolerance &tolerance)
{
    const QDate date = visit.arrived.localDate();
    ReadVisit read;
    read.judgement = judge(visit.passes, visit.problems, history.baseline, tolerance);
    read.before = history.condition;
    read.after = conditionAfter(visit, read.judgement, read.before);
    read.fullCycle = madeFullCycle(visit, read.judgement, tolerance);
    if (read.fullCycle) {
        history.lastFullCycle = date;
        history.baseline =
            baselineFor(valve, Pass{PassDirection::Closing, read.judgement.counted}, date);
    }
    if (!isOutOfCondition(read.after)) {
        history.firstBad = QDate();
    } else if (!isOutOfCondition(read.before)) {
        history.firstBad = date;
    }
    const Standing standing = standingAfter(visit);
    if (standing.position != Position::NotSeen) {
        history.leftOtherThanNormal.reset();
        if (!isNormal(standing, valve.normally)) {
            history.leftOtherThanNormal = standing;
        }
    }
    history.condition = read.after;
    history.lastVisit = date;
    read.visit = visit;
    history.visits.push_back(std::move(read));
    history.lives.back().endVisit = history.visits.size();
}

using VisitsOfValve = std::vector<const Visit *>;

/// Visits that stand, oldest first, and replacements that stand, all of this valve.
ValveHistory readInOrder(const Valve &valve, const VisitsOfValve &visits,
                         const std::vector<Replacement> &replacements, const Tolerance &tolerance)
{
    ValveHistory history;
    history.lives.clear();
    history.visits.reserve(visits.size());
    auto next = visits.begin();
    QDate began;
    for (const Replacement &ending : replacements) {
        const Valve was = asItWas(valve, ending);
        beginLife(history, was, began);
        for (; next != visits.end() && !isAfter(**next, ending); ++next) {
            readVisit(history, was, **next, tolerance);
        }
        history.lives.back().ended = ending.on;
        began = ending.on;
    }
    beginLife(history, valve, began);
    for (; next != visits.end(); ++next) {
        readVisit(history, valve, **next, tolerance);
    }
    history.suggestedTurns = suggestListedTurns(valve, history, tolerance);
    return history;
}

/// The visits of each valve that stand. Only those that have to do with a correction are sorted out
/// together, since a correction may move a visit to another valve; all others stand.
class StandingByValve
{
public:
    StandingByValve(const std::vector<Valve> &valves, const std::vector<Visit> &visits)
        : m_byValve(valves.size())
    {
        QHash<ValveId, std::size_t> slots;
        slots.reserve(static_cast<qsizetype>(valves.size()));
        for (std::size_t i = 0; i < valves.size(); ++i) {
            slots.insert(valves[i].id, i);
        }
        const QSet<VisitId> corrected = inCorrections(visits);
        std::vector<Visit> related;
        for (const Visit &visit : visits) {
            if (!corrected.isEmpty() && corrected.contains(visit.id)) {
                related.push_back(visit);
            } else {
                add(slots, visit);
            }
        }
        m_settled = standingVisits(std::move(related)).visits;
        for (const Visit &visit : m_settled) {
            add(slots, visit);
        }
    }

    /// In the order of reading; one row an id.
    [[nodiscard]] VisitsOfValve of(std::size_t valve) const
    {
        VisitsOfValve visits = m_byValve[valve];
        const auto before = [](const Visit *a, const Visit *b) { return isReadBefore(*a, *b); };
        if (!std::ranges::is_sorted(visits, before)) {
            std::ranges::sort(visits, before);
        }
        // Two laptops' files may both bring a row: the later stamp counts.
        QSet<VisitId> seen;
        seen.reserve(static_cast<qsizetype>(visits.size()));
        for (const Visit *visit : visits) {
            seen.insert(visit->id);
        }
        if (static_cast<std::size_t>(seen.size()) != visits.size()) {
            std::erase_if(visits, [&visits](const Visit *visit) {
                return std::ranges::any_of(visits, [visit](const Visit *other) {
                    return other->id == visit->id && visit->stamp < other->stamp;
                });
            });
            const auto repeats = std::ranges::unique(visits, {}, &Visit::id);
            visits.erase(repeats.begin(), repeats.end());
        }
        return visits;
    }

private:
    static QSet<VisitId> inCorrections(const std::vector<Visit> &visits)
    {
        QSet<VisitId> ids;
        for (const Visit &visit : visits) {
            if (!visit.supersedes.isNull()) {
                ids << visit.id << visit.supersedes;
            }
        }
        return ids;
    }
    void add(const QHash<ValveId, std::size_t> &slots, const Visit &visit)
    {
        const auto slot = slots.constFind(visit.valve);
        if (slot != slots.cend()) {
            m_byValve[*slot].push_back(&visit);
        }
    }

    std::vector<VisitsOfValve> m_byValve;
    std::vector<Visit> m_settled;
};

/// Does the work for 0 to count - 1, on all processors where there is much of it.
template <typename Work> void forEachIndex(std::size_t count, Work work)
{
    constexpr std::size_t few = 4000;
    constexpr std::size_t atOnce = 256;
    std::atomic<std::size_t> next{0};
    const auto run = [&] {
        for (std::size_t first = next.fetch_add(atOnce); first < count;
             first = next.fetch_add(atOnce)) {
            for (std::size_t i = first; i < std::min(first + atOnce, count); ++i) {
                work(i);
            }
        }
    };
    std::vector<std::thread> helpers;
    const unsigned processors = std::clamp(std::thread::hardware_concurrency(), 1U, 8U);
    for (unsigned i = 1; i < processors && count >= few; ++i) {
        helpers.emplace_back(run);
    }
    run();
    for (std::thread &helper : helpers) {
        helper.join();
    }
}

} // namespace

ValveHistory readHistory(const Valve &valve, std::vector<Visit> visits, const Tolerance &tolerance,
                         const std::vector<Replacement> &replacements)
{
    const std::vector<Visit> standing = standingVisits(std::move(visits)).visits;
    VisitsOfValve own;
    for (const Visit &visit : standing) {
        if (visit.valve == valve.id) {
            own.push_back(&visit);
        }
    }
    std::vector<Replacement> ends = standingReplacements(replacements);
    std::erase_if(ends, [&valve](const Replacement &one) { return one.valve != valve.id; });
    return readInOrder(valve, own, ends, tolerance);
}

Histories readHistories(const std::vector<Valve> &valves, const std::vector<Visit> &visits,
                        const std::vector<Replacement> &replacements, const Tolerance &tolerance)
{
    const StandingByValve standing(valves, visits);
    QHash<ValveId, std::vector<Replacement>> ends;
    for (Replacement &one : standingReplacements(replacements)) {
        ends[one.valve].push_back(std::move(one));
    }
    std::vector<ValveHistory> read(valves.size());
    forEachIndex(valves.size(), [&](std::size_t i) {
        read[i] = readInOrder(valves[i], standing.of(i), ends.value(valves[i].id), tolerance);
    });
    Histories histories;
    histories.reserve(static_cast<qsizetype>(valves.size()));
    for (std::size_t i = 0; i < valves.size(); ++i) {
        histories.insert(valves[i].id, std::move(read[i]));
    }
    return histories;
}

std::optional<QuarterTurns> suggestListedTurns(const Valve &valve, const ValveHistory &history,
                                               const Tolerance &tolerance)
{
    if (!valve.listedTurns || valve.listedTurns->value <= 0) {
        return std::nullopt;
    }
    const auto differ = [&tolerance](QuarterTurns a, QuarterTurns b) {
        return std::abs(a.value - b.value) > allowance(tolerance, b).value;
    };
    const QuarterTurns listed = *valve.listedTurns;
    const std::span<const ReadVisit> visits = history.ofThisLife();
    // Then the list was right once, or the crew knew that it does not shut: the valve has changed.
    if (std::ranges::any_of(visits, [&](const ReadVisit &read) {
            const std::optional<QuarterTurns> travel = travelBothWays(read.visit, tolerance);
            return read.visit.problems.contains(Problem::DidNotClose) ||
                   (travel && !differ(*travel, listed));
        })) {
        return std::nullopt;
    }
    std::vector<QuarterTurns> counts; // newest first
    for (auto it = visits.rbegin(); it != visits.rend() && counts.size() < 2; ++it) {
        if (!wasTurned(it->visit)) {
            continue;
        }
        const std::optional<QuarterTurns> travel = travelBothWays(it->visit, tolerance);
        if (!travel) {
            return std::nullopt;
        }
        counts.push_back(*travel);
    }
    if (counts.size() < 2) {
        return std::nullopt;
    }
    if (differ(counts[0], counts[1]) || !differ(counts[0], listed) || !differ(counts[1], listed)) {
        return std::nullopt;
    }
    return counts[0];
}

bool needsRepair(const ValveHistory &history)
{
    const std::span<const ReadVisit> visits = history.ofThisLife();
    for (auto it = visits.rbegin(); it != visits.rend(); ++it) {
        if (it->after != Condition::CannotReach) {
            return isOutOfCondition(it->after);
        }
        // A visit that says nothing carries the condition on; look at the one that made it.
        const bool carried = it->before == it->after && !hasProblems(it->visit);
        if (!carried && !blockedOnlyForNow(it->visit)) {
            return true;
        }
    }
    return false;
}

} // namespace keyround
