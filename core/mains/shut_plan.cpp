// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/natural_key.h"
#include "core/mains/shut_tracer.h"

#include <algorithm>
#include <iterator>
#include <tuple>

namespace keyround {

namespace {

QString withOwnWords(const QString &sentence, const ValveState &state)
{
    return state.why.isEmpty() ? sentence : QStringLiteral("%1 (%2)").arg(sentence, state.why);
}

QString doubtOf(const ValveState &state)
{
    return state.holds == Holds::Doubtful  ? QStringLiteral("; doubtful, it may not hold")
           : state.holds == Holds::Unknown ? QStringLiteral("; nobody knows yet whether it holds")
                                           : QString();
}

QString whyPassed(const ValveState &state)
{
    if (state.closed) {
        return withOwnWords(QStringLiteral("stands closed, but does not shut: water passes it"),
                            state);
    }
    switch (state.holds) {
    case Holds::DoesNotTurn:
        return withOwnWords(QStringLiteral("does not turn"), state);
    case Holds::CannotReach:
        return withOwnWords(QStringLiteral("cannot be reached"), state);
    default:
        return withOwnWords(QStringLiteral("turns, but does not shut"), state);
    }
}

QString whyAlreadyClosed(const NetValve &valve, const ValveState &state)
{
    const QString sentence = valve.normallyClosed
                                 ? QStringLiteral("closed by design: see that it is, leave it so")
                                 : QStringLiteral("stands closed now: see that it is, leave it so");
    return withOwnWords(sentence + doubtOf(state), state);
}

class Planner
{
public:
    Planner(const PipeNetwork &network, const ValveStates &states, const BreakAt &at)
        : m_network(network), m_states(states), m_tracer(network, states)
    {
        m_plan.at = at;
        m_trace = m_tracer.trace(at.segments);
    }

    ShutPlan run()
    {
        sortValves();
        countWhoIsOut();
        sayAloud();
        planReopening();
        askWhatIfItFails();
        return std::move(m_plan);
    }

private:
    void sortValves();
    void countWhoIsOut();
    void takeFrom(const std::vector<NetIndex> &segments, std::vector<NetIndex> &services,
                  std::vector<NetIndex> &pieces);
    void sayAloud();
    void planReopening();
    void askWhatIfItFails();
    void putNearestFirst(std::vector<ShutStep> &steps) const;
    [[nodiscard]] std::vector<NetIndex> toClose(const ShutTracer::Trace &trace) const;
    [[nodiscard]] QString wordsFor(const IfItFails &fails) const;
    [[nodiscard]] QString numbersOf(const std::vector<NetIndex> &valves) const;

    const PipeNetwork &m_network;
    const ValveStates &m_states;
    ShutTracer m_tracer;
    ShutTracer::Trace m_trace;
    ShutPlan m_plan;
};

void Planner::sortValves()
{
    for (const NetIndex index : m_trace.around) {
        const NetValve &valve = m_network.valves[index];
        const ValveState &state = m_states[index];
        if (state.closed) {
            m_plan.alreadyClosed.push_back({index, state.holds, whyAlreadyClosed(valve, state)});
            continue;
        }
        const bool fromIsIn =
            std::binary_search(m_trace.segments.begin(), m_trace.segments.end(), valve.sideFrom);
        const bool stopsFlow = m_tracer.isFedAfter(fromIsIn ? valve.sideTo : valve.sideFrom);
        const QString sentence =
            stopsFlow ? QStringLiteral("stops the flow")
                      : QStringLiteral("keeps what lies behind it, which no source feeds then, "
                                       "from draining back");
        (stopsFlow ? m_plan.close : m_plan.closeDeadSide)
            .push_back({index, state.holds, withOwnWords(sentence + doubtOf(state), state)});
    }
    for (const NetIndex index : m_trace.passed) {
        m_plan.passedOver.push_back({index, m_states[index].holds, whyPassed(m_states[index])});
    }
    putNearestFirst(m_plan.close);
    putNearestFirst(m_plan.closeDeadSide);
    putNearestFirst(m_plan.alreadyClosed);
    putNearestFirst(m_plan.passedOver);
}

void Planner::putNearestFirst(std::vector<ShutStep> &steps) const
{
    const auto away = [this](const ShutStep &step) {
        const GeoPoint &place = m_network.valves[step.valve].place;
        return m_plan.at.place.isValid() && place.isValid()
                   ? distanceBetween(m_plan.at.place, place).value
                   : std::numeric_limits<double>::infinity();
    };
    std::stable_sort(steps.begin(), steps.end(), [&](const ShutStep &a, const ShutStep &b) {
        const double toA = away(a);
        const double toB = away(b);
        return toA != toB ? toA < toB
                          : naturalKey(m_network.valves[a.valve].number) <
                                naturalKey(m_network.valves[b.valve].number);
    });
}

void Planner::takeFrom(const std::vector<NetIndex> &segments, std::vector<NetIndex> &services,
                       std::vector<NetIndex> &pieces)
{
    for (const NetIndex segment : segments) {
        for (const NetIndex service : m_network.servicesOf.of(segment)) {
            services.push_back(service);
            if (m_network.services[service].critical) {
                m_plan.criticalOut.push_back(service);
            }
        }
        std::ranges::copy(m_network.hydrantsOf.of(segment), std::back_inserter(m_plan.hydrantsOut));
        std::ranges::copy(m_network.piecesOf.of(segment), std::back_inserter(pieces));
    }
}

void Planner::countWhoIsOut()
{
    m_plan.out = m_trace.out;
    m_plan.outBeyond = m_trace.outBeyond;
    m_plan.segments = m_trace.segments;
    m_plan.segmentsBeyond = m_trace.beyond;
    takeFrom(m_trace.segments, m_plan.servicesOut, m_plan.piecesOut);
    takeFrom(m_trace.beyond, m_plan.servicesBeyond, m_plan.piecesBeyond);
    for (const NetIndex segment : m_trace.segments) {
        std::ranges::copy(m_network.sourcesOf.of(segment), std::back_inserter(m_plan.sourcesLost));
        if (!m_tracer.isFedBefore(segment)) {
            m_plan.servicesDryBefore += m_network.loads[segment].services;
        }
    }
    for (auto *list : {&m_plan.servicesOut, &m_plan.servicesBeyond, &m_plan.criticalOut,
                       &m_plan.hydrantsOut, &m_plan.sourcesLost}) {
        std::sort(list->begin(), list->end());
    }
}

void Planner::sayAloud()
{
    const std::size_t placed = static_cast<std::size_t>(
        std::count_if(m_network.sources.begin(), m_network.sources.end(),
                      [](const NetSource &source) { return source.segment != noIndex; }));
    for (const NetIndex index : m_plan.sourcesLost) {
        const NetSource &source = m_network.sources[index];
        const QString name = source.name.isEmpty()
                                 ? source.number
                                 : QStringLiteral("%1 (%2)").arg(source.name, source.number);
        m_plan.notes << QStringLiteral("The %1 %2 lies inside the shut: it is cut off as a source.")
                            .arg(wordFor(source.kind), name);
    }
    if (placed == 0) {
        m_plan.notes << QStringLiteral(
            "The network has no source, so nobody can say which side of a valve is fed or who goes "
            "dry beyond the shut. Mark the plants, tanks, wells and interconnections.");
    } else if (m_plan.sourcesLost.size() == placed) {
        m_plan.notes << QStringLiteral("Every source of the network lies inside the shut.");
    }
    if (m_plan.at.hasOtherStretches) {
        m_plan.notes << QStringLiteral("No place along the main was given, so its longest stretch "
                                       "between valves is shut. Give the place if the break lies "
                                       "beyond one of them.");
    }
    if (m_trace.around.empty()) {
        m_plan.notes << QStringLiteral("No valve that holds stands between the break and the rest: "
                                       "everything joined to it goes dry. Shut it at the source.");
    }
    if (placed != 0 && m_plan.servicesDryBefore > 0) {
        m_plan.notes << QStringLiteral("%1 of the services in the shut have no path to a source "
                                       "even before it, as the valves stand now.")
                            .arg(m_plan.servicesDryBefore);
    }
}

/// Filling slowly from one place and letting the air out before the rest is opened is common
/// practice (no source); the smallest valve that meets the flow fills most gently.
void Planner::planReopening()
{
    std::vector<ShutStep> steps = m_plan.close;
    std::stable_sort(steps.begin(), steps.end(), [this](const ShutStep &a, const ShutStep &b) {
        const auto inches = [this](const ShutStep &step) {
            const NominalSize size = m_network.valves[step.valve].size;
            return size.isKnown() ? size.quarterInches : std::numeric_limits<int>::max();
        };
        return inches(a) < inches(b);
    });
    for (std::size_t i = 0; i < steps.size(); ++i) {
        steps[i].why = i == 0 ? QStringLiteral("open first and slowly, to fill; let the air out")
                              : QStringLiteral("open once it is full and the air is out");
        m_plan.reopen.push_back(steps[i]);
    }
    for (ShutStep step : m_plan.closeDeadSide) {
        step.why = QStringLiteral("open last: it feeds what lies behind");
        m_plan.reopen.push_back(step);
    }
}

std::vector<NetIndex> Planner::toClose(const ShutTracer::Trace &trace) const
{
    std::vector<NetIndex> valves;
    std::ranges::copy_if(trace.around, std::back_inserter(valves),
                         [this](NetIndex valve) { return !m_states[valve].closed; });
    return valves;
}

void Planner::askWhatIfItFails()
{
    const std::vector<NetIndex> planned = toClose(m_trace);
    for (const auto *steps : {&m_plan.close, &m_plan.closeDeadSide}) {
        for (const ShutStep &step : *steps) {
            if (!m_states[step.valve].isUncertain()) {
                continue;
            }
            const ShutTracer::Trace then = m_tracer.trace(m_plan.at.segments, step.valve);
            const std::vector<NetIndex> needed = toClose(then);
            IfItFails fails;
            fails.valve = step.valve;
            std::ranges::set_difference(needed, planned, std::back_inserter(fails.instead));
            std::ranges::set_difference(planned, needed, std::back_inserter(fails.spared));
            std::erase(fails.spared, step.valve);
            fails.more = then.out + then.outBeyond - m_plan.outAltogether();
            for (const NetIndex segment : then.segments) {
                for (const NetIndex source : m_network.sourcesOf.of(segment)) {
                    if (!std::ranges::binary_search(m_plan.sourcesLost, source)) {
                        fails.sourcesLost.push_back(m_network.sources[source].number);
                    }
                }
            }
            fails.words = wordsFor(fails);
            m_plan.ifFails.push_back(std::move(fails));
        }
    }
}

QString Planner::numbersOf(const std::vector<NetIndex> &valves) const
{
    QStringList numbers;
    for (const NetIndex valve : valves) {
        numbers << m_network.valves[valve].number;
    }
    if (numbers.size() < 2) {
        return numbers.join(QString());
    }
    const QString last = numbers.takeLast();
    return QStringLiteral("%1 and %2").arg(numbers.join(QStringLiteral(", ")), last);
}

QString Planner::wordsFor(const IfItFails &fails) const
{
    QString words =
        QStringLiteral("If %1 does not hold: ").arg(m_network.valves[fails.valve].number);
    words += fails.instead.empty() ? QStringLiteral("no other valve to close")
                                   : QStringLiteral("close ") + numbersOf(fails.instead);
    if (fails.more.services == 0) {
        words += QStringLiteral(", no more services without water");
    } else {
        words += QStringLiteral(", %1 more service%2 without water")
                     .arg(fails.more.services)
                     .arg(fails.more.services == 1 ? QString() : QStringLiteral("s"));
    }
    if (fails.more.critical > 0) {
        words += QStringLiteral(" (%1 critical)").arg(fails.more.critical);
    }
    if (!fails.sourcesLost.empty()) {
        words += QStringLiteral("; source %1 is lost")
                     .arg(QStringList(fails.sourcesLost.begin(), fails.sourcesLost.end())
                              .join(QStringLiteral(", ")));
    }
    return words + QLatin1Char('.');
}

} // namespace

ShutPlan planShut(const PipeNetwork &network, const ValveStates &states, const BreakAt &at)
{
    return Planner(network, states, at).run();
}

void orderByTravel(ShutPlan &plan,
                   const std::function<std::optional<double>(NetIndex valve)> &secondsTo)
{
    for (auto *steps : {&plan.close, &plan.closeDeadSide}) {
        std::vector<std::pair<double, ShutStep>> timed;
        for (ShutStep &step : *steps) {
            const std::optional<double> seconds = secondsTo(step.valve);
            timed.emplace_back(seconds.value_or(std::numeric_limits<double>::infinity()),
                               std::move(step));
        }
        std::stable_sort(timed.begin(), timed.end(),
                         [](const auto &a, const auto &b) { return a.first < b.first; });
        steps->clear();
        for (auto &[seconds, step] : timed) {
            steps->push_back(std::move(step));
        }
    }
}

} // namespace keyround
