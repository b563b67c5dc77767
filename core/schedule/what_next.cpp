// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/what_next.h"

#include "core/condition/figure_words.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// The chance that it failed since it was last seen holding, and how that was told.
void setChance(RiskEntry &entry, const Valve &valve, const ValveHistory &history,
               const LifeLaw &law, const QDate &today)
{
    if (needsRepair(history)) {
        entry.isKnownOut = true;
        entry.chanceOut = 1;
        return;
    }
    constexpr double daysAYear = 365.25;
    const ReadVisit *held = lastSeenHolding(history);
    const std::optional<double> age = ageOn(valve, history, today);
    entry.isGuess = !age || law.isOfAll;
    if (age) {
        const double then =
            held == nullptr ? 0.0
                            : ageOn(valve, history, held->visit.arrived.localDate()).value_or(0.0);
        entry.chanceOut = law.failsBetween(then, *age);
        return;
    }
    // Without an age: failures as they come in the mean of all ages.
    const double years =
        held == nullptr
            ? law.meanYears
            : static_cast<double>(held->visit.arrived.localDate().daysTo(today)) / daysAYear;
    entry.chanceOut = -std::expm1(-law.failuresAYear * std::max(0.0, years));
}

/// "other gates up to 8 in": whose failures the chance is told from.
QString likeWords(const Valve &valve)
{
    const SizeClass size = sizeClassOf(valve.size);
    const bool isGate = valve.type == ValveType::Gate || valve.type == ValveType::GearedGate;
    const QString kind =
        valve.type == ValveType::Unknown ? QStringLiteral("other valves of a type not known")
        : valve.type == ValveType::Other ? QStringLiteral("other valves of its type")
        : isGate                         ? QStringLiteral("other %1s").arg(wordFor(valve.type))
                 : QStringLiteral("other %1 valves").arg(wordFor(valve.type));
    return size == SizeClass::Unknown ? QStringLiteral("%1, of a size not known").arg(kind)
                                      : QStringLiteral("%1 %2").arg(kind, wordFor(size));
}

QString judgedWords(const RiskEntry &entry, const Valve &valve, const LifeLaw &law)
{
    if (law.lives == 0) {
        return QStringLiteral("nothing to judge it by: no failure is on record");
    }
    const QString by = law.isOfAll ? QStringLiteral("all valves") : likeWords(valve);
    return QStringLiteral("judged by %1%2")
        .arg(by, entry.isGuess ? QStringLiteral(", a guess") : QString());
}

QString wordsOf(const RiskEntry &entry, const Valve &valve, const ValveHistory &history,
                const LifeLaw &law)
{
    const QString services =
        !entry.services ? QStringLiteral("how many services more is not known")
        : *entry.services == 0
            ? QStringLiteral("no service more without water")
            : QStringLiteral("up to %1 services more without water").arg(*entry.services);
    if (entry.isKnownOut) {
        return QStringLiteral("Out of condition (%1); %2")
            .arg(wordFor(history.condition).toLower(), services);
    }
    const ReadVisit *held = lastSeenHolding(history);
    const QString since = held != nullptr
                              ? QStringLiteral("held on %1")
                                    .arg(held->visit.arrived.localDate().toString(Qt::ISODate))
                          : history.ofThisLife().empty() ? QStringLiteral("never visited")
                                                         : QStringLiteral("never seen to hold");
    return QStringLiteral("%1 likely out of condition by now: %2; %3; %4")
        .arg(percentWords(entry.chanceOut), since, judgedWords(entry, valve, law), services);
}

bool isWanted(const DueEntry &entry)
{
    return wantsVisit(entry.state) || entry.state == DueState::WaitingForRepair;
}

} // namespace

std::vector<RiskEntry> whatNext(const std::vector<DueEntry> &due, const std::vector<Valve> &valves,
                                const Histories &histories, const LifeLaws &laws,
                                const QHash<ValveId, int> &servicesMore, const QDate &today)
{
    static const ValveHistory nothing;
    QHash<ValveId, const Valve *> byId;
    byId.reserve(static_cast<qsizetype>(valves.size()));
    for (const Valve &valve : valves) {
        byId.insert(valve.id, &valve);
    }
    std::vector<RiskEntry> entries;
    for (const DueEntry &one : due) {
        const Valve *valve = byId.value(one.valve, nullptr);
        if (valve == nullptr || !isWanted(one)) {
            continue;
        }
        const auto found = histories.constFind(valve->id);
        const ValveHistory &history = found == histories.cend() ? nothing : *found;
        const LifeLaw &law = laws.of(*valve);
        RiskEntry entry;
        entry.due = one;
        if (const auto more = servicesMore.constFind(valve->id); more != servicesMore.cend()) {
            entry.services = *more;
        }
        setChance(entry, *valve, history, law, today);
        entry.risk = entry.chanceOut * entry.services.value_or(0);
        entry.words = wordsOf(entry, *valve, history, law);
        entries.push_back(std::move(entry));
    }
    std::ranges::stable_sort(entries, [](const RiskEntry &a, const RiskEntry &b) {
        return a.risk != b.risk ? a.risk > b.risk : a.chanceOut > b.chanceOut;
    });
    return entries;
}

QString whatNextSentence(const std::vector<RiskEntry> &entries)
{
    if (entries.empty()) {
        return QStringLiteral("No valve of these is due or waits for repair.");
    }
    double all = 0;
    std::size_t known = 0;
    bool isNetworkKnown = false;
    for (const RiskEntry &entry : entries) {
        all += entry.risk;
        known += entry.isKnownOut ? 1 : 0;
        isNetworkKnown = isNetworkKnown || entry.services;
    }
    const QString counts = QStringLiteral("%1 due or waiting for repair, %2 of them known to "
                                          "need a repair.")
                               .arg(valvesWords(entries.size()))
                               .arg(known);
    if (!isNetworkKnown) {
        return counts + QStringLiteral(" How many services each would cost is not known: bring in "
                                       "mains and services. The order is by chance alone.");
    }
    double first = 0;
    constexpr std::size_t few = 20;
    for (std::size_t i = 0; i < std::min(few, entries.size()); ++i) {
        first += entries[i].risk;
    }
    return all <= 0 || entries.size() <= few
               ? counts
               : counts + QStringLiteral(" The first %1 make up %2 of the risk.")
                              .arg(few)
                              .arg(percentWords(first / all));
}

} // namespace keyround
