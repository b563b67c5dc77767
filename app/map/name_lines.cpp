// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/map/name_lines.h"

#include <QHash>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace keyround {

namespace {

/// A street's name and one of its ends, rounded so that ends which touch are equal.
struct End
{
    QString name;
    qint64 column = 0;
    qint64 row = 0;
    friend bool operator==(const End &, const End &) = default;
    friend size_t qHash(const End &end, size_t seed = 0)
    {
        return qHashMulti(seed, end.name, end.column, end.row);
    }
};

class Joiner
{
public:
    Joiner(const std::vector<MapContent::NamedLine> &pieces, double joinMetres)
        : m_pieces(pieces), m_cell(joinMetres), m_used(pieces.size(), false)
    {
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            if (pieces[i].line.size() < 2 || pieces[i].name.isEmpty()) {
                m_used[i] = true;
                continue;
            }
            m_at[endOf(i, pieces[i].line.front())].push_back(i);
            m_at[endOf(i, pieces[i].line.back())].push_back(i);
        }
    }

    std::vector<MapContent::NamedLine> run()
    {
        std::vector<MapContent::NamedLine> joined;
        for (std::size_t i = 0; i < m_pieces.size(); ++i) {
            if (m_used[i]) {
                continue;
            }
            m_used[i] = true;
            MapContent::NamedLine line = m_pieces[i];
            extend(line, i);
            std::ranges::reverse(line.line);
            extend(line, i);
            joined.push_back(std::move(line));
        }
        return joined;
    }

private:
    End endOf(std::size_t piece, const PlanePoint &point) const
    {
        return {m_pieces[piece].name, std::llround(point.x / m_cell),
                std::llround(point.y / m_cell)};
    }

    /// Goes on from the line's last point for as long as one other piece goes on there.
    void extend(MapContent::NamedLine &line, std::size_t from)
    {
        for (;;) {
            const std::vector<std::size_t> meeting = m_at.value(endOf(from, line.line.back()));
            if (meeting.size() != 2) {
                return;
            }
            const std::size_t next = meeting[0] == from ? meeting[1] : meeting[0];
            if (m_used[next]) {
                return;
            }
            m_used[next] = true;
            PlaneLine more = m_pieces[next].line;
            if (endOf(next, more.front()) != endOf(from, line.line.back())) {
                std::ranges::reverse(more);
            }
            line.line.insert(line.line.end(), std::next(more.begin()), more.end());
            from = next;
        }
    }

    const std::vector<MapContent::NamedLine> &m_pieces;
    double m_cell;
    std::vector<bool> m_used;
    QHash<End, std::vector<std::size_t>> m_at;
};

} // namespace

std::vector<MapContent::NamedLine> joinedNameLines(const std::vector<MapContent::NamedLine> &pieces,
                                                   double joinMetres)
{
    return Joiner(pieces, joinMetres).run();
}

} // namespace keyround
