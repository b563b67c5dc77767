// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/mains/join_mains.h"

#include "core/geo/polyline.h"
#include "core/mains/joined_sets.h"
#include "core/mains/segments.h"

#include <QPair>
#include <QSet>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// A touch is never judged finer than this, whatever the tolerance: coordinates are rounded.
constexpr double finest = 1e-3;

/// Anchors are places that may become junctions: anchor 2 i and 2 i + 1 are the first and last
/// point of main i, crosses joined by hand come after.
class Joiner
{
public:
    Joiner(const KnownMains &known, const MainLines &lines, const NetworkOptions &options,
           const NetworkFixes &fixes, PipeNetwork &network, NetworkNotes &notes)
        : m_known(known), m_lines(lines), m_tolerance(std::max(options.join.value, finest)),
          m_nearMiss(options.nearMiss.value), m_fixes(fixes), m_network(network), m_notes(notes),
          m_sets(2 * network.mains.size() + fixes.crosses.size()), m_cuts(network.mains.size())
    {
    }

    void run()
    {
        readAparts();
        joinEnds();
        joinByHand();
        findTees();
        crossByHand();
        joinNearCuts();
        makePipes();
        indexPipes(m_network);
        tellKeptApart();
        tellNearMisses();
        tellCrossings();
        tellDoubles();
    }

private:
    struct Cut
    {
        double along = 0;
        NetIndex anchor = 0;
    };

    void readAparts();
    void joinEnds();
    void joinByHand();
    void findTees();
    void crossByHand();
    bool crossAt(NetIndex a, NetIndex b, NetIndex anchor);
    void joinNearCuts();
    void makePipes();
    void makePipesOf(NetIndex main);
    void tellKeptApart();
    void tellNearMisses();
    void tellCrossings();
    void tellDoubles();

    [[nodiscard]] bool isUsed(NetIndex main) const { return !m_network.mains[main].line.empty(); }
    [[nodiscard]] GeoPoint placeOf(NetIndex anchor) const
    {
        const GeoLine &line = m_network.mains[anchor / 2].line;
        return anchor % 2 == 0 ? line.front() : line.back();
    }
    [[nodiscard]] bool isApart(NetIndex anchor, NetIndex main) const
    {
        return m_aparts.contains({anchor, main});
    }
    [[nodiscard]] QString numberOf(NetIndex main) const { return m_network.mains[main].number; }
    [[nodiscard]] bool meetsThere(NetIndex main, NetIndex anchor, double along);
    [[nodiscard]] bool isCutAt(NetIndex main, double along) const;
    [[nodiscard]] bool isShortBranchOf(NetIndex pipe, const MainLines::Hit &hit) const;
    NetIndex nodeOf(NetIndex anchor);

    const KnownMains &m_known;
    const MainLines &m_lines;
    double m_tolerance;
    double m_nearMiss;
    const NetworkFixes &m_fixes;
    PipeNetwork &m_network;
    NetworkNotes &m_notes;
    NetSets m_sets;
    std::vector<std::vector<Cut>> m_cuts;     ///< by main, without its own ends
    QSet<QPair<NetIndex, NetIndex>> m_aparts; ///< anchor and main
    std::vector<GeoPoint> m_crossPlaces;
    std::vector<NetIndex> m_node; ///< by root anchor
};

QString endWords(LineEnd end)
{
    return end == LineEnd::First ? QStringLiteral("first") : QStringLiteral("last");
}

QString wordsFor(const NetworkFixes::Apart &fix)
{
    return QStringLiteral("the %1 end of main %2 kept apart from main %3")
        .arg(endWords(fix.end), fix.main, fix.other);
}

QString goneWords()
{
    return QStringLiteral("One of the mains is not in the network any more.");
}

NetIndex anchorOf(NetIndex main, LineEnd end)
{
    return 2 * main + (end == LineEnd::First ? 0U : 1U);
}

void Joiner::readAparts()
{
    for (const NetworkFixes::Apart &fix : m_fixes.aparts) {
        const NetIndex main = m_known.find(m_network, fix.main);
        const NetIndex other = m_known.find(m_network, fix.other);
        if (main == noIndex || other == noIndex) {
            m_notes.fixNotUsed(wordsFor(fix), fix.main, goneWords());
            continue;
        }
        m_aparts.insert({anchorOf(main, fix.end), other});
    }
}

void Joiner::joinEnds()
{
    std::vector<SegmentIndex::Entry> ends;
    for (NetIndex anchor = 0; anchor < 2 * m_network.mains.size(); ++anchor) {
        if (isUsed(anchor / 2)) {
            ends.push_back({{anchor, 0}, placeOf(anchor), placeOf(anchor)});
        }
    }
    const SegmentIndex index(ends);
    for (const SegmentIndex::Entry &end : ends) {
        for (const SegmentRef &other : index.within(end.a, m_tolerance)) {
            if (other.line < end.ref.line && !isApart(end.ref.line, other.line / 2) &&
                !isApart(other.line, end.ref.line / 2) &&
                distanceBetween(end.a, placeOf(other.line)).value <= m_tolerance) {
                m_sets.join(end.ref.line, other.line);
            }
        }
    }
}

void Joiner::joinByHand()
{
    for (const NetworkFixes::Join &fix : m_fixes.joins) {
        const NetIndex main = m_known.find(m_network, fix.main);
        const NetIndex other = m_known.find(m_network, fix.other);
        if (main == noIndex || other == noIndex || main == other) {
            m_notes.fixNotUsed(QStringLiteral("the %1 end of main %2 joined to main %3")
                                   .arg(endWords(fix.end), fix.main, fix.other),
                               fix.main, goneWords());
            continue;
        }
        const NetIndex anchor = anchorOf(main, fix.end);
        const MainLines::Hit hit = m_lines.on(other, placeOf(anchor));
        if (hit.along <= m_tolerance) {
            m_sets.join(anchor, anchorOf(other, LineEnd::First));
        } else if (m_lines.length(other) - hit.along <= m_tolerance) {
            m_sets.join(anchor, anchorOf(other, LineEnd::Last));
        } else {
            m_cuts[other].push_back({hit.along, anchor});
        }
    }
}

/// True when the anchor is joined to the main's end there already, or is that end.
bool Joiner::meetsThere(NetIndex main, NetIndex anchor, double along)
{
    const double reach = 4.0 * m_tolerance;
    const NetIndex root = m_sets.root(anchor);
    return (along <= reach && m_sets.root(anchorOf(main, LineEnd::First)) == root) ||
           (m_lines.length(main) - along <= reach &&
            m_sets.root(anchorOf(main, LineEnd::Last)) == root);
}

void Joiner::findTees()
{
    for (NetIndex anchor = 0; anchor < 2 * m_network.mains.size(); ++anchor) {
        if (!isUsed(anchor / 2)) {
            continue;
        }
        for (const MainLines::Hit &hit : m_lines.within(placeOf(anchor), m_tolerance)) {
            const NetIndex end = hit.along <= m_tolerance ? anchorOf(hit.main, LineEnd::First)
                                                          : anchorOf(hit.main, LineEnd::Last);
            const bool atEnd =
                hit.along <= m_tolerance || m_lines.length(hit.main) - hit.along <= m_tolerance;
            const bool isKeptApart =
                isApart(anchor, hit.main) || (atEnd && isApart(end, anchor / 2));
            if (!isKeptApart && !meetsThere(hit.main, anchor, hit.along)) {
                m_cuts[hit.main].push_back({hit.along, anchor});
            }
        }
    }
}

void Joiner::crossByHand()
{
    m_crossPlaces.resize(m_fixes.crosses.size());
    const auto first = static_cast<NetIndex>(2 * m_network.mains.size());
    for (NetIndex i = 0; i < m_fixes.crosses.size(); ++i) {
        const NetworkFixes::Cross &fix = m_fixes.crosses[i];
        const QString words =
            QStringLiteral("mains %1 and %2 joined where they cross").arg(fix.main, fix.other);
        const NetIndex a = m_known.find(m_network, fix.main);
        const NetIndex b = m_known.find(m_network, fix.other);
        if (a == noIndex || b == noIndex || a == b) {
            m_notes.fixNotUsed(words, fix.main, goneWords());
        } else if (!crossAt(a, b, first + i)) {
            m_notes.fixNotUsed(words, fix.main,
                               QStringLiteral("They no longer have a point in common."));
        }
    }
}

/// At every point of one that lies on the other.
bool Joiner::crossAt(NetIndex a, NetIndex b, NetIndex anchor)
{
    const GeoLine &line = m_network.mains[a].line;
    for (std::size_t k = 1; k + 1 < line.size(); ++k) {
        const MainLines::Hit hit = m_lines.on(b, line[k]);
        if (hit.offset <= m_tolerance) {
            m_crossPlaces[anchor - 2 * m_network.mains.size()] = line[k];
            m_cuts[a].push_back({m_lines.alongs(a)[k], anchor});
            m_cuts[b].push_back({hit.along, anchor});
            return true;
        }
    }
    return false;
}

/// Cuts of one main within the tolerance of each other along it are one junction: the main joins
/// them anyhow, and no valve fits between.
void Joiner::joinNearCuts()
{
    for (NetIndex main = 0; main < m_network.mains.size(); ++main) {
        std::vector<Cut> &cuts = m_cuts[main];
        std::stable_sort(cuts.begin(), cuts.end(),
                         [](const Cut &a, const Cut &b) { return a.along < b.along; });
        for (std::size_t k = 0; k < cuts.size(); ++k) {
            const Cut before = k == 0 ? Cut{0.0, anchorOf(main, LineEnd::First)} : cuts[k - 1];
            if (cuts[k].along - before.along <= m_tolerance) {
                m_sets.join(cuts[k].anchor, before.anchor);
            }
        }
        if (!cuts.empty() && m_lines.length(main) - cuts.back().along <= m_tolerance) {
            m_sets.join(cuts.back().anchor, anchorOf(main, LineEnd::Last));
        }
    }
}

NetIndex Joiner::nodeOf(NetIndex anchor)
{
    const NetIndex root = m_sets.root(anchor);
    if (m_node[root] == noIndex) {
        m_node[root] = static_cast<NetIndex>(m_network.nodes.size());
        const std::size_t ends = 2 * m_network.mains.size();
        m_network.nodes.push_back(
            {{}, root < ends ? placeOf(root) : m_crossPlaces[root - ends], noIndex});
    }
    return m_node[root];
}

void Joiner::makePipes()
{
    m_node.assign(2 * m_network.mains.size() + m_fixes.crosses.size(), noIndex);
    for (NetIndex main = 0; main < m_network.mains.size(); ++main) {
        if (isUsed(main)) {
            makePipesOf(main);
        }
    }
}

void Joiner::makePipesOf(NetIndex main)
{
    Cut before{0.0, anchorOf(main, LineEnd::First)};
    const std::size_t first = m_network.pipes.size();
    const auto add = [&](const Cut &to, bool always) {
        const NetIndex a = nodeOf(before.anchor);
        const NetIndex b = nodeOf(to.anchor);
        // What the tolerance has shrunk to nothing is no pipe; a loop back to its junction is one.
        if (always || a != b || to.along - before.along > 2.0 * m_tolerance) {
            m_network.pipes.push_back({main, a, b, before.along, to.along, noIndex, 0});
        }
        before = to;
    };
    for (const Cut &cut : m_cuts[main]) {
        add(cut, false);
    }
    add({m_lines.length(main), anchorOf(main, LineEnd::Last)}, m_network.pipes.size() == first);
}

void Joiner::tellKeptApart()
{
    for (const NetworkFixes::Apart &fix : m_fixes.aparts) {
        const NetIndex main = m_known.find(m_network, fix.main);
        const NetIndex other = m_known.find(m_network, fix.other);
        if (main == noIndex || other == noIndex) {
            continue;
        }
        const NetIndex node = nodeOf(anchorOf(main, fix.end));
        const auto pipes = m_network.pipesOfNode.of(node);
        if (std::any_of(pipes.begin(), pipes.end(),
                        [&](NetIndex pipe) { return m_network.pipes[pipe].main == other; })) {
            m_notes.fixNotUsed(wordsFor(fix), fix.main,
                               QStringLiteral("Both meet a third main there, which joins them; "
                                              "keep the end apart from that one as well."));
        }
    }
}

/// A branch shorter than the reach ends near the main it leaves, and rightly so.
bool Joiner::isShortBranchOf(NetIndex pipe, const MainLines::Hit &hit) const
{
    const NetPipe &branch = m_network.pipes[pipe];
    for (const NetIndex node : {branch.from, branch.to}) {
        for (const NetIndex other : m_network.pipesOfNode.of(node)) {
            if (m_network.pipes[other].main == hit.main) {
                return branch.toAlong - branch.fromAlong <= 2.0 * m_nearMiss;
            }
        }
    }
    return false;
}

void Joiner::tellNearMisses()
{
    if (m_nearMiss <= m_tolerance) {
        return;
    }
    for (NetIndex anchor = 0; anchor < 2 * m_network.mains.size(); ++anchor) {
        if (!isUsed(anchor / 2)) {
            continue;
        }
        const auto pipes = m_network.pipesOfNode.of(nodeOf(anchor));
        if (pipes.size() != 1) {
            continue;
        }
        for (const MainLines::Hit &hit : m_lines.within(placeOf(anchor), m_nearMiss)) {
            if (hit.main != anchor / 2 && !isApart(anchor, hit.main) &&
                !isShortBranchOf(pipes.front(), hit)) {
                m_notes.endStopsShort(numberOf(anchor / 2),
                                      anchor % 2 == 0 ? LineEnd::First : LineEnd::Last,
                                      numberOf(hit.main), hit.offset, placeOf(anchor));
                break;
            }
        }
    }
}

bool Joiner::isCutAt(NetIndex main, double along) const
{
    const auto &cuts = m_cuts[main];
    return std::any_of(cuts.begin(), cuts.end(),
                       [&](const Cut &cut) { return std::abs(cut.along - along) <= m_tolerance; });
}

void Joiner::tellCrossings()
{
    QHash<QPair<double, double>, NetIndex> firstAt;
    for (NetIndex main = 0; main < m_network.mains.size(); ++main) {
        const GeoLine &line = m_network.mains[main].line;
        for (std::size_t k = 1; k + 1 < line.size(); ++k) {
            const QPair<double, double> key{line[k].latitude, line[k].longitude};
            const auto before = firstAt.constFind(key);
            if (before == firstAt.constEnd()) {
                firstAt.insert(key, main);
            } else if (*before != main && !(isCutAt(main, m_lines.alongs(main)[k]) &&
                                            isCutAt(*before, m_lines.on(*before, line[k]).along))) {
                m_notes.crossingApart(numberOf(*before), numberOf(main), line[k]);
            }
        }
    }
}

/// Two whole mains side by side from junction to junction, nearly as long.
void Joiner::tellDoubles()
{
    QHash<QPair<NetIndex, NetIndex>, NetIndex> firstBetween;
    for (NetIndex i = 0; i < m_network.pipes.size(); ++i) {
        const NetPipe &pipe = m_network.pipes[i];
        if (pipe.from == pipe.to) {
            continue;
        }
        const QPair<NetIndex, NetIndex> key{std::min(pipe.from, pipe.to),
                                            std::max(pipe.from, pipe.to)};
        const auto before = firstBetween.constFind(key);
        if (before == firstBetween.constEnd()) {
            firstBetween.insert(key, i);
            continue;
        }
        const NetPipe &other = m_network.pipes[*before];
        const double length = pipe.toAlong - pipe.fromAlong;
        const GeoPoint middle =
            pointAt(m_network.mains[pipe.main].line, (pipe.fromAlong + pipe.toAlong) / 2);
        if (pipe.main != other.main &&
            std::abs(length - (other.toAlong - other.fromAlong)) <= 1.0 + 0.01 * length &&
            m_lines.on(other.main, middle).offset <= m_tolerance + 1.0) {
            m_notes.mainTwice(numberOf(pipe.main), numberOf(other.main), false, middle);
        }
    }
}

} // namespace

void joinMains(const KnownMains &known, const MainLines &lines, const NetworkOptions &options,
               const NetworkFixes &fixes, PipeNetwork &network, NetworkNotes &notes)
{
    Joiner(known, lines, options, fixes, network, notes).run();
}

} // namespace keyround
