// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/routing/stop_order.h"

#include "core/routing/exact_order.h"
#include "core/routing/order_task.h"
#include "core/routing/tour_search.h"

namespace keyround {

double secondsOf(const Matrix &seconds, const OrderRequest &request,
                 const std::vector<std::size_t> &stops)
{
    double total = 0;
    std::size_t here = request.start;
    for (const std::size_t stop : stops) {
        total += seconds.at(here, stop);
        here = stop;
    }
    return request.finish ? total + seconds.at(here, *request.finish) : total;
}

StopOrder bestOrder(const Matrix &seconds, const OrderRequest &request, const Progress &progress)
{
    const OrderTask task = orderTask(seconds, request);
    std::vector<std::uint32_t> places;
    if (task.stretches.size() > mostExactPlaces) {
        SearchEffort effort;
        effort.kicks = request.kicksPerStop * task.stretches.size();
        effort.milliseconds = request.budgetMilliseconds;
        effort.seed = request.seed;
        places = searchedOrder(task.seconds, effort, progress);
    } else if (!task.stretches.empty()) {
        places = exactOrder(task.seconds);
    }
    StopOrder result;
    result.stops = stopsInOrder(task, places);
    result.seconds = secondsOf(seconds, request, result.stops);
    return result;
}

} // namespace keyround
