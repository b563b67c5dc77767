// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/visit.h"

#include "core/fieldlog/visit_order.h"

#include <QHash>

#include <algorithm>
#include <cassert>
#include <numeric>

namespace keyround {

const QList<ProblemInfo> &problemList()
{
    using enum Problem;
    static const QList<ProblemInfo> list{
        {NotFound, ProblemGroup::Reach, "not_found", "Not found"},
        {PavedOver, ProblemGroup::Reach, "paved_over", "Paved over or buried"},
        {NoAccess, ProblemGroup::Reach, "no_access", "No access today"},
        {BoxFull, ProblemGroup::Box, "box_full", "Box full of dirt or debris"},
        {BoxShifted, ProblemGroup::Box, "box_shifted", "Box shifted off the nut"},
        {LidMissing, ProblemGroup::Box, "lid_missing", "Lid missing or broken"},
        {CouldNotOperate, ProblemGroup::Turn, "could_not_operate", "Could not be turned"},
        {HardToTurn, ProblemGroup::Turn, "hard_to_turn", "Hard to turn"},
        {NutBroken, ProblemGroup::Turn, "nut_broken", "Nut broken, rounded or missing"},
        {StemBent, ProblemGroup::Turn, "stem_bent", "Stem bent"},
        {SpunContinuously, ProblemGroup::Turn, "spun_continuously", "Spins without end"},
        {TurnsOtherWay, ProblemGroup::Turn, "turns_other_way", "Turns the other way than listed"},
        {DidNotClose, ProblemGroup::Shut, "did_not_close", "Did not close"},
        {PackingLeak, ProblemGroup::Leak, "packing_leak", "Leaks at the packing or O-ring"},
        {FoundClosed, ProblemGroup::Position, "found_closed", "Found closed, should be open"},
        {FoundOpen, ProblemGroup::Position, "found_open", "Found open, should be closed"},
        {FoundPartOpen, ProblemGroup::Position, "found_part_open", "Found part open"},
        {Other, ProblemGroup::Other, "other", "Other"},
    };
    return list;
}

const ProblemInfo &infoOf(Problem problem)
{
    const auto index = static_cast<qsizetype>(problem);
    assert(problemList().at(index).problem == problem);
    return problemList().at(index);
}

namespace {

QString lettersOf(const QString &text)
{
    QString letters;
    for (const QChar c : text) {
        if (c.isLetterOrNumber()) {
            letters += c.toLower();
        }
    }
    return letters;
}

} // namespace

std::optional<Problem> problemFromText(const QString &text)
{
    const QString wanted = lettersOf(text);
    for (const ProblemInfo &info : problemList()) {
        if (wanted == lettersOf(QLatin1String(info.key)) ||
            wanted == lettersOf(QLatin1String(info.words))) {
            return info.problem;
        }
    }
    return std::nullopt;
}

QString wordFor(ProblemGroup group)
{
    switch (group) {
    case ProblemGroup::Reach:
        return QStringLiteral("Reaching it");
    case ProblemGroup::Box:
        return QStringLiteral("Box and lid");
    case ProblemGroup::Turn:
        return QStringLiteral("Turning it");
    case ProblemGroup::Shut:
        return QStringLiteral("Shutting off");
    case ProblemGroup::Leak:
        return QStringLiteral("Leaks");
    case ProblemGroup::Position:
        return QStringLiteral("Position");
    case ProblemGroup::Other:
        break;
    }
    return QStringLiteral("Other");
}

QString wordFor(Position position)
{
    switch (position) {
    case Position::Open:
        return QStringLiteral("open");
    case Position::Closed:
        return QStringLiteral("closed");
    case Position::PartOpen:
        return QStringLiteral("part open");
    case Position::NotSeen:
        break;
    }
    return QStringLiteral("not seen");
}

bool hasProblems(const Visit &visit)
{
    return !visit.problems.isEmpty() || !visit.ownProblems.isEmpty();
}

namespace {

/// Sorts out who corrects whom among visits without repeated ids.
class Supersession
{
public:
    explicit Supersession(const std::vector<Visit> &visits)
        : m_visits(visits), m_children(visits.size()), m_parent(visits.size(), none),
          m_seen(visits.size(), false)
    {
        QHash<VisitId, size_t> indexOf;
        indexOf.reserve(static_cast<qsizetype>(visits.size()));
        for (size_t i = 0; i < visits.size(); ++i) {
            indexOf.insert(visits[i].id, i);
        }
        for (size_t i = 0; i < visits.size(); ++i) {
            const auto parent = indexOf.constFind(visits[i].supersedes);
            if (!visits[i].supersedes.isNull() && parent != indexOf.cend() && *parent != i) {
                m_children[*parent].push_back(i);
                m_parent[i] = *parent;
            }
        }
    }

    /// Calls stands(i) or disputed(i) for the last row of every line of corrections.
    template <typename Stands, typename Disputed> void settle(Stands stands, Disputed disputed)
    {
        std::vector<size_t> order(m_visits.size());
        std::iota(order.begin(), order.end(), size_t{0});
        // Latest first, so that rows which correct one another in a ring (damage, never written
        // by us) keep the latest of them.
        std::sort(order.begin(), order.end(),
                  [this](size_t a, size_t b) { return isStampedBefore(m_visits[b], m_visits[a]); });
        for (const size_t i : order) {
            if (m_parent[i] == none) {
                settleFrom(i, stands, disputed);
            }
        }
        for (const size_t i : order) {
            if (!m_seen[i]) {
                markFrom(i);
                stands(i);
            }
        }
    }

private:
    static constexpr size_t none = static_cast<size_t>(-1);

    std::vector<size_t> lastRowsFrom(size_t root)
    {
        std::vector<size_t> last;
        std::vector<size_t> open{root};
        while (!open.empty()) {
            const size_t i = open.back();
            open.pop_back();
            m_seen[i] = true;
            if (m_children[i].empty()) {
                last.push_back(i);
            }
            open.insert(open.end(), m_children[i].begin(), m_children[i].end());
        }
        return last;
    }

    template <typename Stands, typename Disputed>
    void settleFrom(size_t root, Stands &stands, Disputed &disputed)
    {
        const std::vector<size_t> last = lastRowsFrom(root);
        const size_t winner =
            *std::max_element(last.begin(), last.end(), [this](size_t a, size_t b) {
                return isStampedBefore(m_visits[a], m_visits[b]);
            });
        for (const size_t i : last) {
            i == winner ? stands(i) : disputed(i);
        }
    }

    void markFrom(size_t start)
    {
        std::vector<size_t> open{start};
        while (!open.empty()) {
            const size_t i = open.back();
            open.pop_back();
            if (!m_seen[i]) {
                m_seen[i] = true;
                open.insert(open.end(), m_children[i].begin(), m_children[i].end());
                if (m_parent[i] != none) {
                    open.push_back(m_parent[i]);
                }
            }
        }
    }

    const std::vector<Visit> &m_visits;
    std::vector<std::vector<size_t>> m_children;
    std::vector<size_t> m_parent;
    std::vector<bool> m_seen;
};

/// One row an id: two laptops' files may both bring it.
void dropRepeats(std::vector<Visit> &visits)
{
    QHash<VisitId, size_t> kept;
    kept.reserve(static_cast<qsizetype>(visits.size()));
    std::vector<Visit> single;
    single.reserve(visits.size());
    for (Visit &visit : visits) {
        const auto known = kept.constFind(visit.id);
        if (known == kept.cend()) {
            kept.insert(visit.id, single.size());
            single.push_back(std::move(visit));
        } else if (single[*known].stamp < visit.stamp) {
            single[*known] = std::move(visit);
        }
    }
    visits = std::move(single);
}

} // namespace

StandingVisits standingVisits(std::vector<Visit> all)
{
    dropRepeats(all);
    StandingVisits result;
    std::vector<size_t> standing;
    std::vector<size_t> disputed;
    Supersession(all).settle([&standing](size_t i) { standing.push_back(i); },
                             [&disputed](size_t i) { disputed.push_back(i); });
    const auto byTime = [&all](size_t a, size_t b) { return isReadBefore(all[a], all[b]); };
    std::sort(standing.begin(), standing.end(), byTime);
    std::sort(disputed.begin(), disputed.end(), byTime);
    result.visits.reserve(standing.size());
    for (const size_t i : standing) {
        result.visits.push_back(std::move(all[i]));
    }
    for (const size_t i : disputed) {
        result.disputed.push_back(std::move(all[i]));
    }
    return result;
}

} // namespace keyround
