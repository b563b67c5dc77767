// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/street_line.h"

#include <QSet>

#include <algorithm>

namespace keyround {

namespace {

constexpr double joinMetres = 1.0;

bool meets(const GeoPoint &a, const GeoPoint &b)
{
    // A cheap look first: a metre is less than 0.0001 degrees anywhere below 84 degrees.
    constexpr double far = 0.0001;
    return std::abs(a.latitude - b.latitude) < far && std::abs(a.longitude - b.longitude) < far &&
           distanceBetween(a, b).value <= joinMetres;
}

class Follower
{
public:
    Follower(const std::vector<Street> &streets, std::size_t index)
        : m_streets(streets), m_used{index}, m_name(streets[index].name)
    {
    }

    /// Lengthens the line past its last point; true when the road ends there.
    bool follow(GeoLine &line, double reach)
    {
        double gone = 0;
        while (true) {
            bool isTouched = false;
            const auto next = nextAt(line.back(), isTouched);
            if (!next) {
                return !isTouched;
            }
            if (gone > reach) {
                return false;
            }
            GeoLine more = m_streets[*next].line;
            if (!meets(more.front(), line.back())) {
                std::ranges::reverse(more);
            }
            gone += lengthOf(more).value;
            line.insert(line.end(), more.begin() + 1, more.end());
            m_used.insert(*next);
        }
    }

private:
    /// The next stretch of the name; `isTouched`: some other street meets the place.
    std::optional<std::size_t> nextAt(const GeoPoint &end, bool &isTouched)
    {
        std::optional<std::size_t> next;
        for (std::size_t i = 0; i < m_streets.size(); ++i) {
            const GeoLine &line = m_streets[i].line;
            if (m_used.contains(i) || line.size() < 2 || !touches(line, end)) {
                continue;
            }
            isTouched = true;
            const bool isEnd = meets(line.front(), end) || meets(line.back(), end);
            if (!next && isEnd && !m_name.isEmpty() && m_streets[i].name == m_name) {
                next = i;
            }
        }
        return next;
    }

    static bool touches(const GeoLine &line, const GeoPoint &end)
    {
        return std::ranges::any_of(line,
                                   [&end](const GeoPoint &point) { return meets(point, end); });
    }

    const std::vector<Street> &m_streets;
    QSet<std::size_t> m_used;
    QString m_name;
};

} // namespace

StreetLine followedStreet(const std::vector<Street> &streets, std::size_t index, Metres reach)
{
    StreetLine followed;
    followed.line = streets[index].line;
    if (followed.line.size() < 2) {
        return followed;
    }
    Follower follower(streets, index);
    followed.lastIsDeadEnd = follower.follow(followed.line, reach.value);
    std::ranges::reverse(followed.line);
    followed.firstIsDeadEnd = follower.follow(followed.line, reach.value);
    std::ranges::reverse(followed.line);
    return followed;
}

} // namespace keyround
