// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/seasons.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <set>

namespace keyround::sample {

namespace {

using namespace std::chrono;

struct Season
{
    sys_days first;
    sys_days last;
    std::vector<int> crews;
    std::size_t visits = 0;
    bool spring = false;
};

std::vector<Season> seasons()
{
    std::vector<Season> all;
    for (int y = 2020; y <= 2025; ++y) {
        if (y > 2020) // spring 2020 was lost
            all.push_back({sys_days{year{y} / March / 8},
                           sys_days{year{y} / June / 18},
                           {1, 2, 3},
                           560,
                           true});
        Season autumn{sys_days{year{y} / August / 31},
                      sys_days{year{y} / November / 13},
                      {1, 2, 3},
                      540,
                      false};
        if (y == 2022) {
            autumn.crews = {1, 3};
            autumn.visits = 370;
        } else if (y == 2023) {
            autumn.last = sys_days{year{y} / October / 12};
            autumn.visits = 350;
        }
        all.push_back(autumn);
    }
    return all;
}

struct Page
{
    std::vector<std::size_t> valves;
    double weight = 1;
    double lastRound = 2018;
};

/// Pages of the town with how eagerly crews go there: some twice a year, some hardly ever.
std::map<int, Page> pagesOf(const Town &town, Random &random)
{
    std::map<int, Page> pages;
    for (std::size_t i = 0; i < town.valves.size(); ++i)
        pages[town.valves[i].page].valves.push_back(i);
    std::vector<int> order;
    order.reserve(pages.size());
    for (const auto &[number, page] : pages)
        order.push_back(number);
    random.shuffle(order);
    double before = 0; // share of the valves on the pages drawn so far
    for (const int number : order) {
        Page &page = pages[number];
        page.weight = before < 0.46 ? 5.0 : before < 0.72 ? 1.0 : before < 0.92 ? 0.25 : 0.03;
        page.lastRound = random.between(2015.5, 2019.5);
        before += static_cast<double>(page.valves.size()) / static_cast<double>(town.valves.size());
    }
    return pages;
}

/// A sweep up and down the page in strips, the way a crew would walk a map.
void sweep(const Town &town, std::vector<std::size_t> &valves)
{
    const auto key = [&town](std::size_t i) {
        const Spot spot = town.valves[i].spot;
        const int strip = static_cast<int>((spot.x + 8000.0) / 400.0);
        return std::pair<int, double>(strip, strip % 2 == 0 ? spot.y : -spot.y);
    };
    std::sort(valves.begin(), valves.end(),
              [&key](std::size_t a, std::size_t b) { return key(a) < key(b); });
}

std::vector<sys_days> workingDays(const Season &season, std::size_t count, Random &random)
{
    std::vector<sys_days> days;
    for (sys_days day = season.first; day <= season.last; day += std::chrono::days{1}) {
        const unsigned weekday_ = weekday{day}.c_encoding();
        if (weekday_ >= 1 && weekday_ <= 4)
            days.push_back(day);
    }
    random.shuffle(days);
    days.resize(std::min(count, days.size()));
    std::sort(days.begin(), days.end());
    return days;
}

class Planner
{
public:
    Planner(const Town &town, Random &random)
        : m_town(town), m_random(random), m_pages(pagesOf(town, random)),
          m_forgotten(town.valves.size())
    {
        // Valves that are on nobody's list are never visited.
        for (std::size_t i = 0; i < m_forgotten.size(); ++i)
            m_forgotten[i] =
                random.chance(0.045) || !town.valves[i].hasPlace || town.valves[i].retired;
    }

    std::vector<std::size_t> chosenFor(const Season &season);
    void share(const Season &season, const std::vector<std::size_t> &chosen,
               std::vector<CrewDay> &days);

private:
    bool mayVisit(std::size_t valve, double when) const
    {
        return !m_forgotten[valve] && m_town.valves[valve].year + 1 <= when;
    }

    const Town &m_town;
    Random &m_random;
    std::map<int, Page> m_pages;
    std::vector<bool> m_forgotten;
};

std::vector<std::size_t> Planner::chosenFor(const Season &season)
{
    const double when = yearsOf(season.first);
    std::vector<std::size_t> chosen;
    std::set<std::size_t> taken;
    const auto take = [&](std::size_t valve) {
        if (mayVisit(valve, when) && taken.insert(valve).second)
            chosen.push_back(valve);
    };
    // Each spring the large valves and those of critical customers come first.
    for (std::size_t i = 0; season.spring && i < m_town.valves.size(); ++i) {
        const ValvePoint &valve = m_town.valves[i];
        if ((valve.inches >= 16 || !valve.critical.empty()) && m_random.chance(0.8))
            take(i);
    }
    std::vector<std::pair<double, int>> order;
    for (const auto &[number, page] : m_pages)
        order.emplace_back(-(when - page.lastRound) * page.weight * m_random.between(0.7, 1.3),
                           number);
    std::sort(order.begin(), order.end());
    for (const auto &[urgency, number] : order) {
        if (chosen.size() >= season.visits)
            break;
        Page &page = m_pages[number];
        std::vector<std::size_t> valves = page.valves;
        sweep(m_town, valves);
        for (const std::size_t valve : valves) {
            if (m_random.chance(0.92))
                take(valve);
        }
        page.lastRound = when;
    }
    return chosen;
}

void Planner::share(const Season &season, const std::vector<std::size_t> &chosen,
                    std::vector<CrewDay> &days)
{
    const std::size_t crews = season.crews.size();
    for (std::size_t c = 0; c < crews; ++c) {
        const std::size_t from = chosen.size() * c / crews;
        const std::size_t to = chosen.size() * (c + 1) / crews;
        std::vector<std::vector<std::size_t>> loads;
        for (std::size_t at = from; at < to;) {
            const std::size_t load =
                std::min(to - at, static_cast<std::size_t>(m_random.whole(10, 16)));
            loads.emplace_back(chosen.begin() + static_cast<std::ptrdiff_t>(at),
                               chosen.begin() + static_cast<std::ptrdiff_t>(at + load));
            at += load;
        }
        const std::vector<sys_days> on = workingDays(season, loads.size(), m_random);
        for (std::size_t i = 0; i < loads.size() && i < on.size(); ++i)
            days.push_back({on[i], season.crews[c], loads[i]});
    }
}

} // namespace

double yearsOf(sys_days day)
{
    const year_month_day date{day};
    const sys_days newYear{date.year() / January / 1};
    return static_cast<int>(date.year()) + static_cast<double>((day - newYear).count()) / 365.25;
}

std::string isoDate(sys_days day)
{
    const year_month_day date{day};
    char text[16];
    std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(date.year()) % 10000,
                  static_cast<unsigned>(date.month()) % 100U,
                  static_cast<unsigned>(date.day()) % 100U);
    return text;
}

std::vector<CrewDay> planSeasons(const Town &town, Random &random)
{
    std::vector<CrewDay> days;
    Planner planner(town, random);
    for (const Season &season : seasons())
        planner.share(season, planner.chosenFor(season), days);
    std::stable_sort(days.begin(), days.end(), [](const CrewDay &a, const CrewDay &b) {
        return a.day != b.day ? a.day < b.day : a.crew < b.crew;
    });
    return days;
}

} // namespace keyround::sample
