// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/stop_order.h"

#include "core/routing/path.h"
#include "core/routing/path_search.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// Seconds between the places of a request's path: 0 is the start, then the stops, then the
/// finish, which costs nothing to reach when it is open.
double hopSeconds(const Matrix &seconds, const OrderRequest &request,
                  const std::vector<std::size_t> &stops, std::size_t from, std::size_t to)
{
    const std::size_t last = stops.size() + 1;
    const std::size_t origin = from == 0 ? request.start : stops[from - 1];
    if (to == last) {
        return request.finish ? seconds.at(origin, *request.finish) : 0.0;
    }
    return seconds.at(origin, stops[to - 1]);
}

/// Stops to which there is a way from the start, and from which there is one to the finish, by
/// whatever other stops. The others cannot be in any order of finite length.
std::vector<char> reachableStops(const Matrix &seconds, const OrderRequest &request)
{
    const std::size_t count = request.stops.size();
    const auto spread = [&](bool forward, std::size_t origin) {
        std::vector<char> seen(count, 0);
        std::vector<std::size_t> open{origin};
        while (!open.empty()) {
            const std::size_t here = open.back();
            open.pop_back();
            for (std::size_t i = 0; i < count; ++i) {
                const std::size_t stop = request.stops[i];
                const double hop = forward ? seconds.at(here, stop) : seconds.at(stop, here);
                if (seen[i] == 0 && std::isfinite(hop)) {
                    seen[i] = 1;
                    open.push_back(stop);
                }
            }
        }
        return seen;
    };
    std::vector<char> reached = spread(true, request.start);
    if (request.finish) {
        const std::vector<char> returns = spread(false, *request.finish);
        for (std::size_t i = 0; i < count; ++i) {
            reached[i] = reached[i] != 0 && returns[i] != 0 ? 1 : 0;
        }
    }
    return reached;
}

/// Infinities become a cost that no order of finite hops comes near, so that sums stay exact.
PathCosts pathCosts(const Matrix &seconds, const OrderRequest &request,
                    const std::vector<std::size_t> &stops)
{
    const std::size_t size = stops.size() + 2;
    double longest = 1.0;
    for (std::size_t from = 0; from + 1 < size; ++from) {
        for (std::size_t to = 1; to < size; ++to) {
            const double hop = hopSeconds(seconds, request, stops, from, to);
            longest = std::isfinite(hop) ? std::max(longest, hop) : longest;
        }
    }
    const double noWay = 2.0 * static_cast<double>(size) * longest;
    PathCosts costs(size);
    for (std::size_t from = 0; from + 1 < size; ++from) {
        for (std::size_t to = 1; to < size; ++to) {
            const double hop = hopSeconds(seconds, request, stops, from, to);
            costs.set(from, to, std::isfinite(hop) ? hop : noWay);
        }
    }
    return costs;
}

} // namespace

double secondsOf(const Matrix &seconds, const OrderRequest &request,
                 const std::vector<std::size_t> &stops)
{
    double total = 0;
    for (std::size_t i = 0; i <= stops.size(); ++i) {
        total += hopSeconds(seconds, request, stops, i, i + 1);
    }
    return total;
}

StopOrder bestOrder(const Matrix &seconds, const OrderRequest &request)
{
    const std::vector<char> reachable = reachableStops(seconds, request);
    std::vector<std::size_t> stops;
    std::vector<std::size_t> apart;
    for (std::size_t i = 0; i < request.stops.size(); ++i) {
        (reachable[i] != 0 ? stops : apart).push_back(request.stops[i]);
    }
    StopOrder result;
    if (!stops.empty()) {
        const PathCosts costs = pathCosts(seconds, request, stops);
        Path path(costs, nearestNeighbourOrder(costs));
        PathSearch search(costs);
        search.descend(path);
        search.perturb(path, request.kicksPerStop * stops.size());
        for (std::size_t i = 1; i < path.lastIndex(); ++i) {
            result.stops.push_back(stops[path.at(i) - 1]);
        }
    }
    result.stops.insert(result.stops.end(), apart.begin(), apart.end());
    result.seconds = secondsOf(seconds, request, result.stops);
    return result;
}

} // namespace keyround
