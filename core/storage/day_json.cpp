// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/day_json.h"

#include "core/storage/codes.h"

#include <array>
#include <utility>

namespace keyround {

namespace {

const QString timeFormat = QStringLiteral("HH:mm:ss.zzz");

constexpr std::array sizeKeys{
    std::pair{SizeClass::UpTo8, "up_to_8"}, std::pair{SizeClass::From10To14, "10_to_14"},
    std::pair{SizeClass::From16, "from_16"}, std::pair{SizeClass::Unknown, "unknown"}};

QString sizeKey(SizeClass size)
{
    for (const auto &[value, key] : sizeKeys) {
        if (value == size) {
            return QString::fromLatin1(key);
        }
    }
    return {};
}

tl::unexpected<Error> damaged(const QString &what)
{
    return fail(ErrorCode::Damaged,
                QStringLiteral("%1 of the stored days cannot be read: it was damaged on the disk. "
                               "Keep this file, and open the newest back-up.")
                    .arg(what));
}

Status sizeFromKey(const QString &text, SizeClass &size)
{
    for (const auto &[value, key] : sizeKeys) {
        if (text == QLatin1String(key)) {
            size = value;
            return {};
        }
    }
    return damaged(QStringLiteral("A size class"));
}

QString textOf(const QJsonObject &json, const char *key)
{
    return json.value(QLatin1String(key)).toString();
}

// Each element through read(), stopping at the first that cannot be read.
template <typename List, typename Read>
Result<List> listFrom(const QJsonArray &json, const QString &what, Read read)
{
    List list;
    for (const auto &each : json) {
        if (!each.isObject()) {
            return damaged(what);
        }
        typename List::value_type value;
        if (Status status = read(each.toObject(), value); !status) {
            return tl::unexpected(status.error());
        }
        list.push_back(std::move(value));
    }
    return list;
}

template <typename Kind> QJsonArray keysOf(const QList<Kind> &kinds)
{
    QJsonArray json;
    for (const Kind kind : kinds) {
        json.append(storedKey(kind));
    }
    return json;
}

template <typename Kind> Status takeKinds(const QJsonValue &json, QList<Kind> &kinds)
{
    kinds.clear();
    for (const auto &each : json.toArray()) {
        Kind kind{};
        if (Status status = fromKey(each.toString(), kind); !status) {
            return status;
        }
        kinds << kind;
    }
    return {};
}

QJsonArray weekdaysJson(const QList<int> &weekdays)
{
    QJsonArray json;
    for (const int day : weekdays) {
        json.append(day);
    }
    return json;
}

Status takeWeekdays(const QJsonValue &json, QList<int> &weekdays)
{
    weekdays.clear();
    for (const auto &each : json.toArray()) {
        const int day = each.toInt();
        if (day < Qt::Monday || day > Qt::Sunday) {
            return damaged(QStringLiteral("A weekday"));
        }
        weekdays << day;
    }
    return {};
}

Status takeTime(const QJsonObject &json, const char *key, QTime &time)
{
    time = storedTimeFrom(textOf(json, key));
    return time.isValid() ? Status{} : damaged(QStringLiteral("A time"));
}

Status takeShift(const QJsonValue &json, std::optional<Shift> &shift)
{
    if (!json.isObject()) {
        return {};
    }
    Shift read;
    return takeTime(json.toObject(), "from", read.from)
        .and_then([&] { return takeTime(json.toObject(), "to", read.to); })
        .map([&] { shift = read; });
}

QJsonObject crewJson(const Crew &crew)
{
    QJsonObject json{{QStringLiteral("name"), crew.name},
                     {QStringLiteral("skills"), QJsonArray::fromStringList(crew.skills)},
                     {QStringLiteral("weekdays"), weekdaysJson(crew.weekdays)},
                     {QStringLiteral("days_off"), toJson(crew.daysOff)}};
    if (crew.yard) {
        json.insert(QStringLiteral("yard"),
                    QJsonObject{{QStringLiteral("latitude"), crew.yard->latitude},
                                {QStringLiteral("longitude"), crew.yard->longitude}});
    }
    if (crew.shift) {
        json.insert(QStringLiteral("shift"),
                    QJsonObject{{QStringLiteral("from"), storedTime(crew.shift->from)},
                                {QStringLiteral("to"), storedTime(crew.shift->to)}});
    }
    return json;
}

Status takeCrew(const QJsonObject &json, Crew &crew)
{
    crew.name = textOf(json, "name");
    const QJsonValue yard = json.value(QLatin1String("yard"));
    if (yard.isObject()) {
        crew.yard = GeoPoint{yard[QLatin1String("latitude")].toDouble(),
                             yard[QLatin1String("longitude")].toDouble()};
    }
    for (const auto &skill : json.value(QLatin1String("skills")).toArray()) {
        crew.skills << skill.toString();
    }
    return takeShift(json.value(QLatin1String("shift")), crew.shift)
        .and_then(
            [&] { return takeWeekdays(json.value(QLatin1String("weekdays")), crew.weekdays); })
        .and_then([&] { return daysFromJson(json.value(QLatin1String("days_off")).toArray()); })
        .map([&](QList<QDate> &&days) { crew.daysOff = std::move(days); });
}

Status takeBusyHours(const QJsonObject &json, BusyHours &rule)
{
    rule.street = textOf(json, "street");
    rule.why = textOf(json, "why");
    return takeKinds(json.value(QLatin1String("classes")), rule.classes)
        .and_then(
            [&] { return takeWeekdays(json.value(QLatin1String("weekdays")), rule.weekdays); })
        .and_then([&] { return takeTime(json, "from", rule.from); })
        .and_then([&] { return takeTime(json, "to", rule.to); });
}

QJsonObject figureJson(const LearnedFigure &figure)
{
    QJsonObject json{{QStringLiteral("from"), figure.from},
                     {QStringLiteral("lower"), figure.lowerQuartile},
                     {QStringLiteral("upper"), figure.upperQuartile}};
    if (figure.learned) {
        json.insert(QStringLiteral("learned"), *figure.learned);
    }
    if (figure.set) {
        json.insert(QStringLiteral("set"), *figure.set);
    }
    return json;
}

LearnedFigure figureFrom(const QJsonValue &json)
{
    LearnedFigure figure;
    figure.from = json[QLatin1String("from")].toInt();
    figure.lowerQuartile = json[QLatin1String("lower")].toDouble();
    figure.upperQuartile = json[QLatin1String("upper")].toDouble();
    if (const QJsonValue learned = json[QLatin1String("learned")]; learned.isDouble()) {
        figure.learned = learned.toDouble();
    }
    if (const QJsonValue set = json[QLatin1String("set")]; set.isDouble()) {
        figure.set = set.toDouble();
    }
    return figure;
}

Status takeMinutes(const QJsonObject &json, LearnedTimes::Minutes &minutes)
{
    minutes.minutes = figureFrom(json.value(QLatin1String("minutes")));
    return fromKey(textOf(json, "type"), minutes.kind.type)
        .and_then([&] { return sizeFromKey(textOf(json, "size"), minutes.kind.size); })
        .and_then([&] { return fromKey(textOf(json, "street"), minutes.kind.street); });
}

Status takeDriving(const QJsonObject &json, LearnedTimes::Driving &driving)
{
    driving.hour = json.value(QLatin1String("hour")).toInt(-1);
    driving.factor = figureFrom(json.value(QLatin1String("factor")));
    return fromKey(textOf(json, "street"), driving.street);
}

} // namespace

QString storedTime(const QTime &time)
{
    return time.toString(timeFormat);
}

QTime storedTimeFrom(const QString &text)
{
    return QTime::fromString(text, timeFormat);
}

QJsonArray toJson(const std::vector<ShiftBreak> &breaks)
{
    QJsonArray json;
    for (const ShiftBreak &each : breaks) {
        json.append(QJsonObject{{QStringLiteral("earliest"), storedTime(each.earliest)},
                                {QStringLiteral("latest"), storedTime(each.latest)},
                                {QStringLiteral("minutes"), each.minutes}});
    }
    return json;
}

Result<std::vector<ShiftBreak>> breaksFromJson(const QJsonArray &json)
{
    return listFrom<std::vector<ShiftBreak>>(
        json, QStringLiteral("A break"), [](const QJsonObject &each, ShiftBreak &value) -> Status {
            value.minutes = each.value(QLatin1String("minutes")).toDouble();
            return takeTime(each, "earliest", value.earliest).and_then([&] {
                return takeTime(each, "latest", value.latest);
            });
        });
}

QJsonArray toJson(const std::vector<Crew> &crews)
{
    QJsonArray json;
    for (const Crew &crew : crews) {
        json.append(crewJson(crew));
    }
    return json;
}

Result<std::vector<Crew>> crewsFromJson(const QJsonArray &json)
{
    return listFrom<std::vector<Crew>>(json, QStringLiteral("A crew"), takeCrew);
}

QJsonArray toJson(const std::vector<BusyHours> &rules)
{
    QJsonArray json;
    for (const BusyHours &rule : rules) {
        json.append(QJsonObject{{QStringLiteral("street"), rule.street},
                                {QStringLiteral("classes"), keysOf(rule.classes)},
                                {QStringLiteral("weekdays"), weekdaysJson(rule.weekdays)},
                                {QStringLiteral("from"), storedTime(rule.from)},
                                {QStringLiteral("to"), storedTime(rule.to)},
                                {QStringLiteral("why"), rule.why}});
    }
    return json;
}

Result<std::vector<BusyHours>> busyHoursFromJson(const QJsonArray &json)
{
    return listFrom<std::vector<BusyHours>>(json, QStringLiteral("A rule of busy hours"),
                                            takeBusyHours);
}

QJsonArray toJson(const std::vector<SkillNeed> &needs)
{
    QJsonArray json;
    for (const SkillNeed &need : needs) {
        QJsonObject each{{QStringLiteral("skill"), need.skill},
                         {QStringLiteral("types"), keysOf(need.types)}};
        if (need.sizeFrom) {
            each.insert(QStringLiteral("size_from_quarter_inches"), need.sizeFrom->quarterInches);
        }
        json.append(each);
    }
    return json;
}

Result<std::vector<SkillNeed>> skillNeedsFromJson(const QJsonArray &json)
{
    return listFrom<std::vector<SkillNeed>>(
        json, QStringLiteral("A skill"), [](const QJsonObject &each, SkillNeed &need) -> Status {
            need.skill = textOf(each, "skill");
            const QJsonValue size = each.value(QLatin1String("size_from_quarter_inches"));
            if (size.isDouble()) {
                need.sizeFrom = NominalSize{size.toInt()};
            }
            return takeKinds(each.value(QLatin1String("types")), need.types);
        });
}

QJsonArray toJson(const QList<QDate> &days)
{
    QJsonArray json;
    for (const QDate &day : days) {
        json.append(day.toString(Qt::ISODate));
    }
    return json;
}

Result<QList<QDate>> daysFromJson(const QJsonArray &json)
{
    QList<QDate> days;
    for (const auto &each : json) {
        days << QDate::fromString(each.toString(), Qt::ISODate);
        if (!days.last().isValid()) {
            return damaged(QStringLiteral("A day"));
        }
    }
    return days;
}

QJsonObject toJson(const LearnedTimes &times)
{
    QJsonArray stops;
    for (const LearnedTimes::Minutes &each : times.stops) {
        stops.append(QJsonObject{{QStringLiteral("type"), storedKey(each.kind.type)},
                                 {QStringLiteral("size"), sizeKey(each.kind.size)},
                                 {QStringLiteral("street"), storedKey(each.kind.street)},
                                 {QStringLiteral("minutes"), figureJson(each.minutes)}});
    }
    QJsonArray driving;
    for (const LearnedTimes::Driving &each : times.driving) {
        driving.append(QJsonObject{{QStringLiteral("street"), storedKey(each.street)},
                                   {QStringLiteral("hour"), each.hour},
                                   {QStringLiteral("factor"), figureJson(each.factor)}});
    }
    return {{QStringLiteral("stops"), stops},
            {QStringLiteral("seconds_per_turn"), figureJson(times.secondsPerTurn)},
            {QStringLiteral("driving"), driving}};
}

Result<LearnedTimes> learnedTimesFromJson(const QJsonObject &json)
{
    LearnedTimes times;
    times.secondsPerTurn = figureFrom(json.value(QLatin1String("seconds_per_turn")));
    return listFrom<std::vector<LearnedTimes::Minutes>>(
               json.value(QLatin1String("stops")).toArray(), QStringLiteral("A learned time"),
               takeMinutes)
        .and_then([&](std::vector<LearnedTimes::Minutes> &&stops) {
            times.stops = std::move(stops);
            return listFrom<std::vector<LearnedTimes::Driving>>(
                json.value(QLatin1String("driving")).toArray(), QStringLiteral("A learned factor"),
                takeDriving);
        })
        .map([&](std::vector<LearnedTimes::Driving> &&driving) {
            times.driving = std::move(driving);
            return std::move(times);
        });
}

} // namespace keyround
