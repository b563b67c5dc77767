// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/repair_json.h"

#include <QJsonArray>
#include <QSet>

#include <algorithm>

namespace keyround {

namespace {

Error damaged(const QString &key)
{
    return {ErrorCode::Damaged,
            QStringLiteral("The settings of repairs name \"%1\", which does not exist. The file "
                           "is damaged: open the newest back-up.")
                .arg(key)};
}

QStringList textsIn(const QJsonValue &json)
{
    QStringList texts;
    for (const auto &each : json.toArray()) {
        texts << each.toString();
    }
    return texts;
}

QJsonObject toJson(const RepairDepartment &department)
{
    QJsonArray days;
    for (const int each : department.days) {
        days.append(each);
    }
    return {{QStringLiteral("key"), department.key},
            {QStringLiteral("name"), department.name},
            {QStringLiteral("send_to"), department.sendTo},
            {QStringLiteral("findings"), QJsonArray::fromStringList(department.findings)},
            {QStringLiteral("days"), days},
            {QStringLiteral("holds_rounds"), department.holdsRounds}};
}

RepairDepartment departmentFrom(const QJsonValue &json)
{
    RepairDepartment department;
    department.key = json[QLatin1String("key")].toString();
    department.name = json[QLatin1String("name")].toString();
    department.sendTo = json[QLatin1String("send_to")].toString();
    department.findings = textsIn(json[QLatin1String("findings")]);
    const QJsonArray days = json[QLatin1String("days")].toArray();
    for (std::size_t i = 0; i < department.days.size(); ++i) {
        department.days[i] = days.at(static_cast<qsizetype>(i)).toInt();
    }
    department.holdsRounds = json[QLatin1String("holds_rounds")].toBool(true);
    return department;
}

QJsonObject toJson(const UrgencyRule &rule)
{
    QJsonArray conditions;
    for (const Condition condition : rule.conditions) {
        conditions.append(keyFor(condition));
    }
    return {{QStringLiteral("name"), rule.name},
            {QStringLiteral("conditions"), conditions},
            {QStringLiteral("findings"), QJsonArray::fromStringList(rule.findings)},
            {QStringLiteral("services_from"), rule.servicesFrom},
            {QStringLiteral("critical_only"), rule.criticalOnly},
            {QStringLiteral("urgency"), keyFor(rule.urgency)}};
}

Result<UrgencyRule> ruleFrom(const QJsonValue &json)
{
    UrgencyRule rule;
    rule.name = json[QLatin1String("name")].toString();
    for (const QString &key : textsIn(json[QLatin1String("conditions")])) {
        const std::optional<Condition> condition = conditionFromKey(key);
        if (!condition) {
            return tl::unexpected(damaged(key));
        }
        rule.conditions << *condition;
    }
    rule.findings = textsIn(json[QLatin1String("findings")]);
    rule.servicesFrom = json[QLatin1String("services_from")].toInt();
    rule.criticalOnly = json[QLatin1String("critical_only")].toBool();
    const QString key = json[QLatin1String("urgency")].toString();
    const std::optional<Urgency> urgency = urgencyFromKey(key);
    if (!urgency) {
        return tl::unexpected(damaged(key));
    }
    rule.urgency = *urgency;
    return rule;
}

} // namespace

QJsonObject toJson(const RepairHabits &habits)
{
    QJsonArray departments;
    for (const RepairDepartment &department : habits.departments) {
        departments.append(toJson(department));
    }
    QJsonArray rules;
    for (const UrgencyRule &rule : habits.urgency) {
        rules.append(toJson(rule));
    }
    return {{QStringLiteral("departments"), departments}, {QStringLiteral("urgency"), rules}};
}

Result<RepairHabits> repairHabitsFromJson(const QJsonObject &json)
{
    if (json.isEmpty()) {
        return startingRepairHabits();
    }
    RepairHabits habits;
    for (const auto &each : json.value(QLatin1String("departments")).toArray()) {
        habits.departments.push_back(departmentFrom(each));
    }
    for (const auto &each : json.value(QLatin1String("urgency")).toArray()) {
        Result<UrgencyRule> rule = ruleFrom(each);
        if (!rule) {
            return tl::unexpected(rule.error());
        }
        habits.urgency.push_back(std::move(*rule));
    }
    return habits;
}

Status checkRepairHabits(const RepairHabits &habits)
{
    QSet<QString> keys;
    QSet<QString> findings;
    for (const RepairDepartment &department : habits.departments) {
        if (department.name.trimmed().isEmpty() || department.key.isEmpty() ||
            keys.contains(department.key)) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("Every repair department needs a name and a key of its own "
                                       "(\"%1\").")
                            .arg(department.key));
        }
        keys.insert(department.key);
        for (const QString &finding : department.findings) {
            if (findings.contains(finding)) {
                return fail(ErrorCode::BadInput,
                            QStringLiteral("\"%1\" belongs to two departments. Leave it with one.")
                                .arg(findingWords(finding)));
            }
            findings.insert(finding);
        }
        if (std::ranges::any_of(department.days, [](int days) { return days < 0; })) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("%1: the days until a request is overdue cannot be below 0.")
                            .arg(department.name));
        }
    }
    return {};
}

} // namespace keyround
