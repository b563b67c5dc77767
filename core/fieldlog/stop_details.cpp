// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/stop_details.h"

#include <QStringList>

#include <array>
#include <cmath>

namespace keyround {

namespace {

struct KeyAndWord
{
    const char *key;
    const char *word;
};

// Each in the order of its kind.
constexpr std::array outcomes{KeyAndWord{"under_way", "still looked for"},
                              KeyAndWord{"found", "found"},
                              KeyAndWord{"paved_over", "under the pavement or the ground"},
                              KeyAndWord{"not_found", "not found"}};
constexpr std::array<KeyAndWord, lidConditionCount> lids{
    KeyAndWord{"good", "lid good"}, KeyAndWord{"stuck", "lid stuck"},
    KeyAndWord{"broken", "lid broken"}, KeyAndWord{"missing", "lid missing"}};
constexpr std::array<KeyAndWord, boxConditionCount> boxes{
    KeyAndWord{"clean", "box clean"}, KeyAndWord{"dirty", "box dirty"},
    KeyAndWord{"full", "box full"}, KeyAndWord{"shifted", "box shifted"},
    KeyAndWord{"wrong_height", "box too high or too low"}};

template <typename Kind, std::size_t count>
const KeyAndWord &entryOf(const std::array<KeyAndWord, count> &list, Kind kind)
{
    return list.at(static_cast<std::size_t>(kind));
}

template <typename Kind, std::size_t count>
std::optional<Kind> kindOf(const std::array<KeyAndWord, count> &list, const QString &key)
{
    for (std::size_t i = 0; i < count; ++i) {
        if (key == QLatin1String(list[i].key)) {
            return static_cast<Kind>(i);
        }
    }
    return std::nullopt;
}

} // namespace

QString wordFor(SearchOutcome outcome)
{
    return QLatin1String(entryOf(outcomes, outcome).word);
}

QString wordsFor(const SearchRecord &search)
{
    QStringList tried;
    if (search.measured) {
        tried << QStringLiteral("measured");
    }
    if (search.probed) {
        tried << QStringLiteral("probed");
    }
    if (search.detector) {
        tried << QStringLiteral("detector");
    }
    if (search.askedOffice) {
        tried << QStringLiteral("asked the office");
    }
    if (tried.isEmpty()) {
        tried << QStringLiteral("looked for");
    }
    return QStringLiteral("%1: %2").arg(tried.join(QStringLiteral(", ")), wordFor(search.outcome));
}

QString wordFor(LidCondition lid)
{
    return QLatin1String(entryOf(lids, lid).word);
}

QString wordFor(BoxCondition box)
{
    return QLatin1String(entryOf(boxes, box).word);
}

QString keyFor(LidCondition lid)
{
    return QLatin1String(entryOf(lids, lid).key);
}

QString keyFor(BoxCondition box)
{
    return QLatin1String(entryOf(boxes, box).key);
}

std::optional<LidCondition> lidConditionFromKey(const QString &key)
{
    return kindOf<LidCondition>(lids, key);
}

std::optional<BoxCondition> boxConditionFromKey(const QString &key)
{
    return kindOf<BoxCondition>(boxes, key);
}

QJsonObject toJson(const SearchRecord &search)
{
    return {{QStringLiteral("measured"), search.measured},
            {QStringLiteral("probed"), search.probed},
            {QStringLiteral("detector"), search.detector},
            {QStringLiteral("asked_office"), search.askedOffice},
            {QStringLiteral("outcome"), QLatin1String(entryOf(outcomes, search.outcome).key)}};
}

std::optional<SearchRecord> searchRecordFromJson(const QJsonObject &json)
{
    SearchRecord search;
    const auto outcome =
        kindOf<SearchOutcome>(outcomes, json.value(QLatin1String("outcome")).toString());
    bool good = outcome.has_value();
    const auto take = [&](const char *key, bool &target) {
        const QJsonValue value = json.value(QLatin1String(key));
        good = good && value.isBool();
        target = value.toBool();
    };
    take("measured", search.measured);
    take("probed", search.probed);
    take("detector", search.detector);
    take("asked_office", search.askedOffice);
    search.outcome = outcome.value_or(SearchOutcome::UnderWay);
    return good ? std::optional(search) : std::nullopt;
}

QJsonObject toJson(const LidFix &fix)
{
    QJsonObject json{
        {QStringLiteral("latitude"), fix.place.latitude},
        {QStringLiteral("longitude"), fix.place.longitude},
        {QStringLiteral("quality"), fix.quality},
        {QStringLiteral("taken_utc_ms"), static_cast<qint64>(fix.takenAt.utcMilliseconds)},
        {QStringLiteral("taken_offset_s"), fix.takenAt.offsetSeconds}};
    if (fix.accuracy) {
        json.insert(QStringLiteral("accuracy_m"), fix.accuracy->value);
    }
    return json;
}

std::optional<LidFix> lidFixFromJson(const QJsonObject &json)
{
    LidFix fix;
    bool good = true;
    const auto number = [&](const char *key) {
        const QJsonValue value = json.value(QLatin1String(key));
        good = good && value.isDouble();
        return value;
    };
    fix.place = {number("latitude").toDouble(), number("longitude").toDouble()};
    fix.takenAt = {number("taken_utc_ms").toInteger(), number("taken_offset_s").toInt()};
    const QJsonValue quality = json.value(QLatin1String("quality"));
    fix.quality = quality.toString();
    if (json.contains(QLatin1String("accuracy_m"))) {
        fix.accuracy = Metres{number("accuracy_m").toDouble()};
    }
    return good && quality.isString() && fix.place.isValid() ? std::optional(fix) : std::nullopt;
}

QJsonObject toJson(const SetUpStood &stood)
{
    return {{QStringLiteral("what"), stood.what}};
}

std::optional<SetUpStood> setUpStoodFromJson(const QJsonObject &json)
{
    const QJsonValue what = json.value(QLatin1String("what"));
    return what.isString() ? std::optional(SetUpStood{what.toString()}) : std::nullopt;
}

} // namespace keyround
