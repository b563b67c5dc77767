// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/order_task.h"

#include <cmath>
#include <optional>
#include <unordered_map>
#include <utility>

namespace keyround {

namespace {

/// Who follows whom, as far as it is laid down. Positions are those in the request's stops; two
/// more stand for the start and the finish.
class Links
{
public:
    explicit Links(const OrderRequest &request)
        : start(request.stops.size()), finish(start + 1), m_next(start + 2, none),
          m_previous(start + 2, none)
    {
        for (std::size_t i = start; i-- > 0;) {
            m_position[request.stops[i]] = i;
        }
        std::vector<std::size_t> first = positions(request.pinnedFirst);
        first.insert(first.begin(), start);
        join(first);
        std::vector<std::size_t> last = positions(request.pinnedLast);
        last.push_back(finish);
        join(last);
        for (const std::vector<std::size_t> &stretch : request.locked) {
            join(positions(stretch));
        }
    }

    static constexpr std::size_t none = static_cast<std::size_t>(-1);
    std::size_t start;
    std::size_t finish;

    [[nodiscard]] bool begins(std::size_t position) const { return m_previous[position] == none; }
    [[nodiscard]] std::vector<std::size_t> chainFrom(std::size_t position) const
    {
        std::vector<std::size_t> chain;
        for (std::size_t at = position; at != none; at = m_next[at]) {
            chain.push_back(at);
        }
        return chain;
    }
    [[nodiscard]] std::size_t headOf(std::size_t position) const
    {
        while (m_previous[position] != none) {
            position = m_previous[position];
        }
        return position;
    }

private:
    [[nodiscard]] std::vector<std::size_t> positions(const std::vector<std::size_t> &stops) const
    {
        std::vector<std::size_t> found;
        for (const std::size_t stop : stops) {
            if (const auto at = m_position.find(stop); at != m_position.end()) {
                found.push_back(at->second);
            }
        }
        return found;
    }
    void join(const std::vector<std::size_t> &chain)
    {
        for (std::size_t i = 1; i < chain.size(); ++i) {
            link(chain[i - 1], chain[i]);
        }
    }
    void link(std::size_t from, std::size_t to)
    {
        if (m_next[from] != none || m_previous[to] != none || headOf(from) == to) {
            return;
        }
        const std::vector<std::size_t> after = chainFrom(to);
        const std::size_t head = headOf(from);
        if (head == start && after.back() == finish &&
            chainFrom(head).size() + after.size() < m_next.size()) {
            return; // start and finish would be joined with stops left over
        }
        m_next[from] = to;
        m_previous[to] = from;
    }

    std::vector<std::size_t> m_next;
    std::vector<std::size_t> m_previous;
    std::unordered_map<std::size_t, std::size_t> m_position;
};

double within(const Matrix &seconds, const std::vector<std::size_t> &stretch)
{
    double total = 0;
    for (std::size_t i = 1; i < stretch.size(); ++i) {
        total += seconds.at(stretch[i - 1], stretch[i]);
    }
    return total;
}

Matrix secondsBetween(const Matrix &seconds, const std::vector<std::vector<std::size_t>> &stretches,
                      std::size_t begin, std::optional<std::size_t> end)
{
    const std::size_t size = stretches.size() + 1;
    Matrix between(size);
    for (std::size_t to = 1; to < size; ++to) {
        between.set(0, to, seconds.at(begin, stretches[to - 1].front()));
        between.set(to, 0, end ? seconds.at(stretches[to - 1].back(), *end) : 0.0);
        for (std::size_t from = 1; from < size; ++from) {
            if (from != to) {
                between.set(from, to,
                            seconds.at(stretches[from - 1].back(), stretches[to - 1].front()));
            }
        }
    }
    return between;
}

/// Places to which there is a way from place 0 and from which there is one to it, by whatever
/// other places.
std::vector<char> reachablePlaces(const Matrix &between)
{
    const auto spread = [&](bool forward) {
        std::vector<char> seen(between.size(), 0);
        std::vector<std::size_t> open{0};
        while (!open.empty()) {
            const std::size_t here = open.back();
            open.pop_back();
            for (std::size_t i = 1; i < between.size(); ++i) {
                const double hop = forward ? between.at(here, i) : between.at(i, here);
                if (seen[i] == 0 && std::isfinite(hop)) {
                    seen[i] = 1;
                    open.push_back(i);
                }
            }
        }
        return seen;
    };
    std::vector<char> reached = spread(true);
    const std::vector<char> returns = spread(false);
    for (std::size_t i = 0; i < reached.size(); ++i) {
        reached[i] = reached[i] != 0 && returns[i] != 0 ? 1 : 0;
    }
    return reached;
}

} // namespace

OrderTask orderTask(const Matrix &seconds, const OrderRequest &request)
{
    const Links links(request);
    const auto stopsAt = [&](const std::vector<std::size_t> &chain) {
        std::vector<std::size_t> stops;
        for (const std::size_t position : chain) {
            if (position < request.stops.size()) {
                stops.push_back(request.stops[position]);
            }
        }
        return stops;
    };
    OrderTask task;
    task.opening = stopsAt(links.chainFrom(links.start));
    if (const std::size_t head = links.headOf(links.finish); head != links.start) {
        task.closing = stopsAt(links.chainFrom(head));
    }
    std::vector<std::vector<std::size_t>> all;
    for (std::size_t i = 0; i < request.stops.size(); ++i) {
        if (links.begins(i) && links.chainFrom(i).back() != links.finish) {
            all.push_back(stopsAt(links.chainFrom(i)));
        }
    }
    const std::size_t begin = task.opening.empty() ? request.start : task.opening.back();
    const std::optional<std::size_t> end =
        task.closing.empty() ? request.finish : std::optional(task.closing.front());
    const std::vector<char> reachable = reachablePlaces(secondsBetween(seconds, all, begin, end));
    for (std::size_t i = 0; i < all.size(); ++i) {
        task.fixedSeconds += within(seconds, all[i]);
        (reachable[i + 1] != 0 ? task.stretches : task.apart).push_back(std::move(all[i]));
    }
    task.seconds = secondsBetween(seconds, task.stretches, begin, end);
    if (!task.opening.empty()) {
        task.fixedSeconds += seconds.at(request.start, task.opening.front());
        task.fixedSeconds += within(seconds, task.opening);
    }
    if (!task.closing.empty()) {
        task.fixedSeconds += within(seconds, task.closing);
        task.fixedSeconds += request.finish ? seconds.at(task.closing.back(), *request.finish) : 0;
    }
    if (task.stretches.empty() && task.apart.empty() && end) {
        task.fixedSeconds += seconds.at(begin, *end);
    }
    return task;
}

std::vector<std::size_t> stopsInOrder(const OrderTask &task,
                                      const std::vector<std::uint32_t> &places)
{
    std::vector<std::size_t> stops = task.opening;
    const auto append = [&stops](const std::vector<std::size_t> &stretch) {
        stops.insert(stops.end(), stretch.begin(), stretch.end());
    };
    for (const std::uint32_t place : places) {
        append(task.stretches[place - 1]);
    }
    for (const std::vector<std::size_t> &stretch : task.apart) {
        append(stretch);
    }
    append(task.closing);
    return stops;
}

} // namespace keyround
