// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/life_law.h"

#include "core/condition/figure_words.h"

#include <boost/math/tools/minima.hpp>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double daysAYear = 365.25;
constexpr double leastShape = 0.2;
constexpr double mostShape = 10.0;

/// The intervals in powered time: with a fixed shape the law is exponential in years^shape.
struct Powered
{
    double held; ///< under watch and holding
    double span; ///< infinite: never found failed
    double count;
};

std::vector<Powered> poweredTimes(const std::vector<FailureInterval> &times, double shape)
{
    std::vector<Powered> powered;
    powered.reserve(times.size());
    for (const FailureInterval &time : times) {
        const double after = std::pow(time.after, shape);
        powered.push_back({after - std::pow(time.watchedFrom, shape),
                           std::isinf(time.by) ? neverSeen : std::pow(time.by, shape) - after,
                           static_cast<double>(time.count)});
    }
    return powered;
}

/// The derivative of the log-likelihood by the rate; it falls all along.
double slopeAt(const std::vector<Powered> &times, double rate)
{
    double sum = 0;
    for (const Powered &time : times) {
        sum -= time.count * time.held;
        if (!std::isinf(time.span)) {
            sum += time.count * time.span / std::expm1(rate * time.span);
        }
    }
    return sum;
}

double likelihoodAt(const std::vector<Powered> &times, double rate)
{
    double sum = 0;
    for (const Powered &time : times) {
        sum -= time.count * rate * time.held;
        if (!std::isinf(time.span)) {
            sum += time.count * std::log(-std::expm1(-rate * time.span));
        }
    }
    return sum;
}

/// The most likely rate in powered time: by bisection of its logarithm.
double bestRate(const std::vector<Powered> &times)
{
    double low = -60;
    double high = 30;
    constexpr int halvings = 52;
    for (int i = 0; i < halvings; ++i) {
        const double middle = (low + high) / 2.0;
        (slopeAt(times, std::exp(middle)) > 0 ? low : high) = middle;
    }
    return std::exp((low + high) / 2.0);
}

double profileAt(const std::vector<FailureInterval> &times, double logShape)
{
    const std::vector<Powered> powered = poweredTimes(times, std::exp(logShape));
    return likelihoodAt(powered, bestRate(powered));
}

/// Of log(shape) and log(scale), from differences of the log-likelihood about its top.
void setVariances(LifeLaw &law, const std::vector<FailureInterval> &times)
{
    const auto at = [&](double shapeStep, double scaleStep) {
        const double shape = law.shape * std::exp(shapeStep);
        const double scale = law.scale * std::exp(scaleStep);
        return likelihoodAt(poweredTimes(times, shape), std::pow(scale, -shape));
    };
    constexpr double step = 0.01;
    const double middle = at(0, 0);
    const double shapes = (2 * middle - at(step, 0) - at(-step, 0)) / (step * step);
    const double scales = (2 * middle - at(0, step) - at(0, -step)) / (step * step);
    const double both = -(at(step, step) - at(step, -step) - at(-step, step) + at(-step, -step)) /
                        (4 * step * step);
    const double determinant = shapes * scales - both * both;
    if (determinant > 0 && shapes > 0) {
        law.shapeVariance = scales / determinant;
        law.scaleVariance = shapes / determinant;
        law.covariance = -both / determinant;
    }
}

void setMeans(LifeLaw &law, const std::vector<FailureInterval> &times)
{
    double watched = 0;
    double seen = 0;
    for (const FailureInterval &time : times) {
        const bool failed = !std::isinf(time.by);
        watched +=
            time.count * ((failed ? (time.after + time.by) / 2.0 : time.after) - time.watchedFrom);
        seen += time.count * (failed ? time.by : time.after);
        law.lives += time.count;
        law.failed += failed ? time.count : 0;
    }
    law.failuresAYear = watched > 0 ? law.failed / watched : 0;
    law.meanYears = law.lives > 0 ? seen / law.lives : 0;
}

} // namespace

double LifeLaw::holdsAt(double years) const
{
    return isKnown() && years > 0 ? std::exp(-std::pow(years / scale, shape)) : 1.0;
}

double LifeLaw::failsBetween(double from, double to) const
{
    if (!isKnown() || to <= from) {
        return 0;
    }
    const double before = std::pow(std::max(0.0, from) / scale, shape);
    return -std::expm1(before - std::pow(to / scale, shape));
}

std::optional<LifeLaw> fitLifeLaw(const std::vector<FailureInterval> &times)
{
    std::vector<FailureInterval> sound;
    std::ranges::copy_if(times, std::back_inserter(sound), [](const FailureInterval &time) {
        return time.after >= 0 && time.after < time.by && time.count > 0;
    });
    LifeLaw law;
    setMeans(law, sound);
    const bool held = std::ranges::any_of(
        sound, [](const FailureInterval &time) { return time.after > time.watchedFrom; });
    if (law.failed == 0 || !held) {
        return std::nullopt;
    }
    // The profile has one hump. Finer than half the digits of a double its top cannot be told.
    constexpr int bits = 24;
    law.shape = std::exp(
        boost::math::tools::brent_find_minima([&sound](double at) { return -profileAt(sound, at); },
                                              std::log(leastShape), std::log(mostShape), bits)
            .first);
    const std::vector<Powered> powered = poweredTimes(sound, law.shape);
    const double rate = bestRate(powered);
    law.scale = std::pow(rate, -1.0 / law.shape);
    law.logLikelihood = likelihoodAt(powered, rate);
    setVariances(law, sound);
    return law;
}

const LifeLaw &LifeLaws::of(const Valve &valve) const
{
    const auto found = kinds.find({valve.type, sizeClassOf(valve.size)});
    return found == kinds.end() ? all : found->second;
}

LifeLaws fitLifeLaws(const std::vector<Valve> &valves, const Histories &histories)
{
    std::map<std::pair<ValveType, SizeClass>, std::vector<FailureInterval>> kinds;
    std::vector<FailureInterval> everything;
    const QDate began = recordBegan(histories);
    for (const Valve &valve : valves) {
        const auto history = histories.constFind(valve.id);
        if (valve.retired || history == histories.cend()) {
            continue;
        }
        for (const LifeSeen &life : livesSeen(valve, *history, began)) {
            kinds[{valve.type, sizeClassOf(valve.size)}].push_back(life.years);
            everything.push_back(life.years);
        }
    }
    // Quarters of a year: finer than the install year is known, and few enough to be quick.
    constexpr int aYear = 4;
    LifeLaws laws;
    laws.all = fitLifeLaw(onGrid(everything, aYear)).value_or(LifeLaw{});
    laws.all.isOfAll = true;
    laws.all.name = QStringLiteral("all valves");
    for (const auto &[kind, times] : kinds) {
        const auto failed = std::ranges::count_if(
            times, [](const FailureInterval &time) { return !std::isinf(time.by); });
        if (static_cast<int>(times.size()) < fewestLives || failed < fewestFailures) {
            continue;
        }
        if (std::optional<LifeLaw> law = fitLifeLaw(onGrid(times, aYear))) {
            law->name = kindWords(kind.first, kind.second);
            laws.kinds.emplace(kind, std::move(*law));
        }
    }
    return laws;
}

std::optional<double> ageOn(const Valve &valve, const ValveHistory &history, const QDate &day)
{
    ValveLife life = history.lives.back();
    if (!life.installed.isValid() && valve.installYear) {
        life.installed = QDate(*valve.installYear, 1, 1); // nobody has read its history
    }
    const QDate begin = ageBegins(life);
    if (!begin.isValid()) {
        return std::nullopt;
    }
    return std::max(0.0, static_cast<double>(begin.daysTo(day)) / daysAYear);
}

const ReadVisit *lastSeenHolding(const ValveHistory &history)
{
    const std::span<const ReadVisit> visits = history.ofThisLife();
    for (auto read = visits.rbegin(); read != visits.rend(); ++read) {
        if (provedToHold(*read)) {
            return &*read;
        }
    }
    return nullptr;
}

} // namespace keyround
