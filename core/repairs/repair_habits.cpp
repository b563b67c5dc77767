// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/repair_habits.h"

#include <algorithm>

namespace keyround {

namespace {

constexpr std::array urgencies{Urgency::Routine, Urgency::Soon, Urgency::Urgent};

QString keyOf(Problem problem)
{
    return QLatin1String(infoOf(problem).key);
}

QStringList keysOf(const QList<Problem> &problems)
{
    QStringList keys;
    for (const Problem problem : problems) {
        keys << keyOf(problem);
    }
    return keys;
}

std::vector<RepairDepartment> startingDepartments()
{
    RepairDepartment valves{
        .key = QStringLiteral("valves"),
        .name = QStringLiteral("Valves"),
        .sendTo = QString(),
        .findings = keysOf({Problem::CouldNotOperate, Problem::HardToTurn, Problem::NutBroken,
                            Problem::StemBent, Problem::SpunContinuously, Problem::DidNotClose,
                            Problem::Other}),
        .days = {180, 60, 14}};
    valves.findings << QLatin1String(shortCountKey) << QLatin1String(didNotHoldKey);
    RepairDepartment boxes{.key = QStringLiteral("boxes"),
                           .name = QStringLiteral("Boxes and paving"),
                           .sendTo = QString(),
                           .findings = keysOf({Problem::PavedOver, Problem::BoxFull,
                                               Problem::BoxShifted, Problem::LidMissing}),
                           .days = {120, 30, 7}};
    RepairDepartment leaks{.key = QStringLiteral("leaks"),
                           .name = QStringLiteral("Leaks"),
                           .sendTo = QString(),
                           .findings = keysOf({Problem::PackingLeak}),
                           .days = {90, 30, 7}};
    RepairDepartment records{
        .key = QStringLiteral("records"),
        .name = QStringLiteral("Records"),
        .sendTo = QString(),
        .findings = keysOf({Problem::NotFound, Problem::TurnsOtherWay}),
        .days = {180, 90, 30},
    };
    records.findings << QLatin1String(longCountKey);
    return {valves, boxes, leaks, records};
}

std::vector<UrgencyRule> startingRules()
{
    const QList<Condition> doesNotHold{Condition::DoesNotShut, Condition::DoesNotTurn,
                                       Condition::CannotReach};
    return {
        {QStringLiteral("Lid missing: somebody can be hurt"),
         {},
         keysOf({Problem::LidMissing}),
         0,
         false,
         Urgency::Urgent},
        {QStringLiteral("Does not hold water back, critical customers"),
         doesNotHold,
         {},
         0,
         true,
         Urgency::Urgent},
        {QStringLiteral("Does not hold water back, 50 services and more"),
         doesNotHold,
         {},
         50,
         false,
         Urgency::Urgent},
        {QStringLiteral("Does not hold water back"), doesNotHold, {}, 0, false, Urgency::Soon},
        {QStringLiteral("Leak at the packing"),
         {},
         keysOf({Problem::PackingLeak}),
         0,
         false,
         Urgency::Soon},
        {QStringLiteral("Serves critical customers"), {}, {}, 0, true, Urgency::Soon},
    };
}

bool takes(const UrgencyRule &rule, Condition condition, const QStringList &findings, int services,
           bool isCritical)
{
    return (rule.conditions.isEmpty() || rule.conditions.contains(condition)) &&
           (rule.findings.isEmpty() ||
            std::ranges::any_of(
                findings, [&rule](const QString &one) { return rule.findings.contains(one); })) &&
           services >= rule.servicesFrom && (isCritical || !rule.criticalOnly);
}

} // namespace

QString wordFor(Urgency urgency)
{
    switch (urgency) {
    case Urgency::Routine:
        return QStringLiteral("routine");
    case Urgency::Soon:
        return QStringLiteral("soon");
    case Urgency::Urgent:
        break;
    }
    return QStringLiteral("urgent");
}

QString keyFor(Urgency urgency)
{
    return wordFor(urgency);
}

std::optional<Urgency> urgencyFromKey(const QString &key)
{
    const auto *const found =
        std::ranges::find(urgencies, key, [](Urgency one) { return keyFor(one); });
    return found == urgencies.end() ? std::nullopt : std::optional(*found);
}

const RepairDepartment *RepairHabits::department(const QString &key) const
{
    const auto found = std::ranges::find(departments, key, &RepairDepartment::key);
    return found == departments.end() ? nullptr : &*found;
}

const RepairDepartment *RepairHabits::departmentFor(const QString &finding) const
{
    const auto naming = [this](const QString &key) {
        return std::ranges::find_if(departments, [&key](const RepairDepartment &department) {
            return department.findings.contains(key);
        });
    };
    auto found = naming(finding);
    if (found == departments.end() && findingWords(finding) == finding) {
        found = naming(keyOf(Problem::Other));
    }
    return found == departments.end() ? nullptr : &*found;
}

Urgency RepairHabits::urgencyOf(Condition condition, const QStringList &findings, int services,
                                bool isCritical) const
{
    const auto rule = std::ranges::find_if(urgency, [&](const UrgencyRule &each) {
        return takes(each, condition, findings, services, isCritical);
    });
    return rule == urgency.end() ? Urgency::Routine : rule->urgency;
}

RepairHabits startingRepairHabits()
{
    return {startingDepartments(), startingRules()};
}

QString findingWords(const QString &key)
{
    if (key == QLatin1String(shortCountKey)) {
        return QStringLiteral("Turns stop short");
    }
    if (key == QLatin1String(longCountKey)) {
        return QStringLiteral("Turns beyond the count on record");
    }
    if (key == QLatin1String(didNotHoldKey)) {
        return QStringLiteral("Did not hold in a shut");
    }
    const auto found = std::ranges::find_if(
        problemList(), [&key](const ProblemInfo &info) { return key == QLatin1String(info.key); });
    return found == problemList().end() ? key : QString::fromUtf8(found->words);
}

QString findingsWords(const QStringList &keys)
{
    QStringList words;
    for (const QString &key : keys) {
        words << findingWords(key);
    }
    return words.join(QStringLiteral(", "));
}

} // namespace keyround
