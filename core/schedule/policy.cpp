// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/policy.h"

#include "core/inventory/value_parsers.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QSet>

namespace keyround {

namespace {

constexpr int longestIntervalMonths = 1200;
constexpr int mostDueSoonDays = 3660;

tl::unexpected<Error> bad(const QString &where, const QString &what)
{
    return fail(ErrorCode::BadInput,
                QStringLiteral("The policy cannot be read: %1 %2").arg(where, what));
}

/// Refuses keys that nobody reads, so that a slip of the pen does not widen a rule in silence.
Status onlyKeys(const QJsonObject &json, const QSet<QString> &known, const QString &where)
{
    for (auto it = json.begin(); it != json.end(); ++it) {
        if (!known.contains(it.key())) {
            return bad(where, QStringLiteral("has an entry \"%1\" that means nothing here. Correct "
                                             "its name or take it out.")
                                  .arg(it.key()));
        }
    }
    return {};
}

Result<QString> textAt(const QJsonObject &json, const QString &key, const QString &where)
{
    QString text = json.value(key).toString().trimmed();
    if (text.isEmpty()) {
        return bad(where, QStringLiteral("needs \"%1\" as text.").arg(key));
    }
    return text;
}

Result<QStringList> textsAt(const QJsonObject &json, const QString &key, const QString &where)
{
    QStringList texts;
    const QJsonValue value = json.value(key);
    if (value.isUndefined()) {
        return texts;
    }
    for (const QJsonValue item : value.toArray()) {
        if (!item.isString()) {
            return bad(where, QStringLiteral("has something other than text in \"%1\".").arg(key));
        }
        texts << item.toString();
    }
    if (texts.isEmpty()) {
        return bad(
            where,
            QStringLiteral("has an empty \"%1\". Take it out to mean all of them.").arg(key));
    }
    return texts;
}

Result<int> wholeAt(const QJsonObject &json, const QString &key, int most, const QString &where)
{
    const double number = json.value(key).toDouble(-1);
    if (number < 0 || number > most || number != static_cast<int>(number)) {
        return bad(
            where,
            QStringLiteral("needs \"%1\" as a whole number from 0 to %2.").arg(key).arg(most));
    }
    return static_cast<int>(number);
}

Result<std::optional<NominalSize>> sizeAt(const QJsonObject &json, const QString &key,
                                          const QString &where)
{
    const QJsonValue value = json.value(key);
    if (value.isUndefined()) {
        return std::nullopt;
    }
    auto size = parseSize(value.toString());
    if (!size || !*size) {
        return bad(where,
                   QStringLiteral("needs \"%1\" as a size in text, such as \"16 in\".").arg(key));
    }
    return size;
}

template <typename T, typename Parse>
Result<QList<T>> wordsAt(const QJsonObject &json, const QString &key, Parse parse,
                         const QString &where)
{
    const Result<QStringList> texts = textsAt(json, key, where);
    if (!texts) {
        return tl::unexpected<Error>(texts.error());
    }
    QList<T> values;
    for (const QString &text : *texts) {
        const auto value = parse(text);
        if (!value || !*value) {
            return bad(where,
                       QStringLiteral("has \"%1\" in \"%2\", which is not known.").arg(text, key));
        }
        values << **value;
    }
    return values;
}

Status readLimits(PolicyRule &rule, const QJsonObject &json, const QString &where)
{
    const auto from = sizeAt(json, QStringLiteral("size_from"), where);
    const auto to = sizeAt(json, QStringLiteral("size_to"), where);
    const auto types = wordsAt<ValveType>(json, QStringLiteral("types"), parseValveType, where);
    const auto roles = wordsAt<ValveRole>(json, QStringLiteral("roles"), parseValveRole, where);
    const auto zones = textsAt(json, QStringLiteral("zones"), where);
    for (const Error *error : {from ? nullptr : &from.error(), to ? nullptr : &to.error(),
                               types ? nullptr : &types.error(), roles ? nullptr : &roles.error(),
                               zones ? nullptr : &zones.error()}) {
        if (error != nullptr) {
            return tl::unexpected<Error>(*error);
        }
    }
    if (*from && *to && **to < **from) {
        return bad(where, QStringLiteral("ends at a smaller size than it starts with."));
    }
    const QJsonValue critical = json.value(QStringLiteral("critical_only"));
    if (!critical.isUndefined() && !critical.isBool()) {
        return bad(where, QStringLiteral("needs \"critical_only\" as true or false."));
    }
    rule.sizeFrom = *from;
    rule.sizeTo = *to;
    rule.types = *types;
    rule.roles = *roles;
    rule.zones = *zones;
    rule.criticalOnly = critical.toBool();
    return {};
}

Result<PolicyRule> ruleFromJson(const QJsonObject &json, const QString &where)
{
    static const QSet<QString> known{
        QStringLiteral("name"),           QStringLiteral("source"),
        QStringLiteral("size_from"),      QStringLiteral("size_to"),
        QStringLiteral("types"),          QStringLiteral("roles"),
        QStringLiteral("zones"),          QStringLiteral("critical_only"),
        QStringLiteral("interval_months")};
    if (const Status status = onlyKeys(json, known, where); !status) {
        return tl::unexpected<Error>(status.error());
    }
    const Result<QString> name = textAt(json, QStringLiteral("name"), where);
    if (!name) {
        return tl::unexpected<Error>(name.error());
    }
    const Result<QString> source = textAt(json, QStringLiteral("source"), where);
    if (!source) {
        return tl::unexpected<Error>(source.error());
    }
    const Result<int> months =
        wholeAt(json, QStringLiteral("interval_months"), longestIntervalMonths, where);
    if (!months) {
        return tl::unexpected<Error>(months.error());
    }
    PolicyRule rule;
    rule.name = *name;
    rule.source = *source;
    rule.intervalMonths = *months;
    if (const Status status = readLimits(rule, json, where); !status) {
        return tl::unexpected<Error>(status.error());
    }
    return rule;
}

template <typename T>
void insertWords(QJsonObject &json, const QString &key, const QList<T> &values)
{
    if (values.isEmpty()) {
        return;
    }
    QJsonArray array;
    for (const T &value : values) {
        if constexpr (std::is_same_v<T, QString>) {
            array.append(value);
        } else {
            array.append(wordFor(value));
        }
    }
    json.insert(key, array);
}

QJsonObject ruleToJson(const PolicyRule &rule)
{
    QJsonObject json{{QStringLiteral("name"), rule.name},
                     {QStringLiteral("source"), rule.source},
                     {QStringLiteral("interval_months"), rule.intervalMonths}};
    if (rule.sizeFrom) {
        json.insert(QStringLiteral("size_from"), sizeText(*rule.sizeFrom, UnitSystem::Us));
    }
    if (rule.sizeTo) {
        json.insert(QStringLiteral("size_to"), sizeText(*rule.sizeTo, UnitSystem::Us));
    }
    insertWords(json, QStringLiteral("types"), rule.types);
    insertWords(json, QStringLiteral("roles"), rule.roles);
    insertWords(json, QStringLiteral("zones"), rule.zones);
    if (rule.criticalOnly) {
        json.insert(QStringLiteral("critical_only"), true);
    }
    return json;
}

} // namespace

bool PolicyRule::matches(const Valve &valve) const
{
    if ((sizeFrom || sizeTo) && !valve.size.isKnown()) {
        return false;
    }
    return (!sizeFrom || valve.size >= *sizeFrom) && (!sizeTo || valve.size <= *sizeTo) &&
           (types.isEmpty() || types.contains(valve.type)) &&
           (roles.isEmpty() || roles.contains(valve.role)) &&
           (zones.isEmpty() || zones.contains(valve.zone)) && (!criticalOnly || valve.isCritical());
}

const PolicyRule *Policy::ruleFor(const Valve &valve) const
{
    for (const PolicyRule &rule : rules) {
        if (rule.matches(valve)) {
            return &rule;
        }
    }
    return nullptr;
}

QJsonObject toJson(const Policy &policy)
{
    QJsonArray rules;
    for (const PolicyRule &rule : policy.rules) {
        rules.append(ruleToJson(rule));
    }
    QJsonObject json{{QStringLiteral("name"), policy.name},
                     {QStringLiteral("due_soon_days"), policy.dueSoonDays},
                     {QStringLiteral("rules"), rules}};
    if (!policy.note.isEmpty()) {
        json.insert(QStringLiteral("note"), policy.note);
    }
    return json;
}

Result<Policy> policyFromJson(const QJsonObject &json)
{
    static const QSet<QString> known{QStringLiteral("name"), QStringLiteral("note"),
                                     QStringLiteral("due_soon_days"), QStringLiteral("rules")};
    const QString given = json.value(QStringLiteral("name")).toString();
    const QString where =
        given.isEmpty() ? QStringLiteral("it") : QStringLiteral("\"%1\"").arg(given);
    if (const Status status = onlyKeys(json, known, where); !status) {
        return tl::unexpected<Error>(status.error());
    }
    const Result<QString> name = textAt(json, QStringLiteral("name"), where);
    if (!name) {
        return tl::unexpected<Error>(name.error());
    }
    Policy policy;
    policy.name = *name;
    policy.note = json.value(QStringLiteral("note")).toString();
    if (json.contains(QStringLiteral("due_soon_days"))) {
        const Result<int> days =
            wholeAt(json, QStringLiteral("due_soon_days"), mostDueSoonDays, where);
        if (!days) {
            return tl::unexpected<Error>(days.error());
        }
        policy.dueSoonDays = *days;
    }
    const QJsonValue rules = json.value(QStringLiteral("rules"));
    if (!rules.isArray()) {
        return bad(where, QStringLiteral("needs \"rules\", a list with one entry a rule."));
    }
    int number = 0;
    for (const QJsonValue item : rules.toArray()) {
        const Result<PolicyRule> rule =
            ruleFromJson(item.toObject(), QStringLiteral("rule %1 of %2").arg(++number).arg(where));
        if (!rule) {
            return tl::unexpected<Error>(rule.error());
        }
        policy.rules.push_back(*rule);
    }
    return policy;
}

Policy startingPolicy()
{
    const QString own = QStringLiteral("utility's own");
    PolicyRule large;
    large.name = QStringLiteral("16 in and larger");
    large.source = own;
    large.sizeFrom = NominalSize::ofInches(16);
    large.intervalMonths = 12;
    PolicyRule critical;
    critical.name = QStringLiteral("Critical customers");
    critical.source = own;
    critical.criticalOnly = true;
    critical.intervalMonths = 12;
    PolicyRule others;
    others.name = QStringLiteral("All others");
    others.source = own;
    others.intervalMonths = 36;
    Policy policy;
    policy.name = QStringLiteral("Example: large and critical yearly, the rest every 3 years");
    policy.note = QStringLiteral("An example to start from, not anybody's rule. Change it to what "
                                 "your utility has decided.");
    policy.rules = {large, critical, others};
    return policy;
}

Result<std::vector<Policy>> policyPacks(const QByteArray &json)
{
    QJsonParseError parse;
    const QJsonDocument document = QJsonDocument::fromJson(json, &parse);
    if (parse.error != QJsonParseError::NoError) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The policy packs are not JSON: %1 at byte %2. Install the "
                                   "program again, or correct the file.")
                        .arg(parse.errorString())
                        .arg(parse.offset));
    }
    const QJsonValue list = document.object().value(QStringLiteral("packs"));
    if (!list.isArray() || list.toArray().isEmpty()) {
        return fail(ErrorCode::BadInput, QStringLiteral("The policy packs hold no list \"packs\". "
                                                        "Install the program again, or correct "
                                                        "the file."));
    }
    std::vector<Policy> packs;
    for (const QJsonValue item : list.toArray()) {
        Result<Policy> policy = policyFromJson(item.toObject());
        if (!policy) {
            return tl::unexpected<Error>(policy.error());
        }
        packs.push_back(std::move(*policy));
    }
    return packs;
}

} // namespace keyround
