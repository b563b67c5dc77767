// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/site_answers.h"

#include <QRegularExpression>

#include <array>
#include <cmath>

namespace keyround {

namespace {

constexpr double metresPerSecondPerMph = metresPerMile / 3600.0;
constexpr double kmhPerMph = metresPerMile / 1000.0;

constexpr std::array<const char *, siteQuestionCount> keys{
    "lid",   "speed",      "setting", "shoulder",   "one_way",
    "lanes", "lane_width", "divided", "low_volume", "sight"};

constexpr int lidPlaceCount = 10;
constexpr int settingCount = 4;

bool isLength(SiteQuestion question)
{
    return question == SiteQuestion::ShoulderWidth || question == SiteQuestion::LaneWidth;
}

bool isYesNo(SiteQuestion question)
{
    switch (question) {
    case SiteQuestion::OneWay:
    case SiteQuestion::Divided:
    case SiteQuestion::LowVolume:
    case SiteQuestion::Sight:
        return true;
    default:
        return false;
    }
}

struct Range
{
    double least = 0;
    double most = 0;
};

Range rangeOf(SiteQuestion question)
{
    switch (question) {
    case SiteQuestion::Lid:
        return {0, lidPlaceCount - 1};
    case SiteQuestion::Speed:
        return {1, 120}; // over 75 mph the set-up is refused with its reason
    case SiteQuestion::Setting:
        return {0, settingCount - 1};
    case SiteQuestion::ShoulderWidth:
        return {0, 30};
    case SiteQuestion::Lanes:
        return {1, 12};
    case SiteQuestion::LaneWidth:
        return {6, 24};
    default:
        return {0, 1};
    }
}

bool isWhole(SiteQuestion question)
{
    return question != SiteQuestion::Speed && !isLength(question);
}

std::optional<double> number(const std::optional<bool> &value)
{
    return value ? std::optional(*value ? 1.0 : 0.0) : std::nullopt;
}
std::optional<double> number(const std::optional<Feet> &value)
{
    return value ? std::optional(value->value) : std::nullopt;
}
std::optional<double> number(const std::optional<int> &value)
{
    return value ? std::optional<double>(*value) : std::nullopt;
}
template <typename Kind> std::optional<double> position(const std::optional<Kind> &value)
{
    return value ? std::optional<double>(static_cast<int>(*value)) : std::nullopt;
}

std::optional<bool> truth(const std::optional<double> &value)
{
    return value ? std::optional(*value > 0.5) : std::nullopt;
}
std::optional<Feet> feet(const std::optional<double> &value)
{
    return value ? std::optional(Feet{*value}) : std::nullopt;
}

QString shortNumber(double value)
{
    return QString::number(std::round(value * 10.0) / 10.0);
}

tl::unexpected<Error> notUnderstood(SiteQuestion question, const QString &text, UnitSystem units)
{
    const QString unit =
        question == SiteQuestion::Speed
            ? (units == UnitSystem::Us ? QStringLiteral(" in mph") : QStringLiteral(" in km/h"))
        : isLength(question)
            ? (units == UnitSystem::Us ? QStringLiteral(" in ft") : QStringLiteral(" in m"))
            : QString();
    return fail(ErrorCode::BadInput,
                QStringLiteral("\"%1\" is no answer to: %2 Give %3.")
                    .arg(text.trimmed(), wordsFor(question),
                         takesNumber(question) ? QStringLiteral("a number%1").arg(unit)
                                               : QStringLiteral("one of the answers offered")));
}

} // namespace

QString keyFor(SiteQuestion question)
{
    return QLatin1String(keys[static_cast<std::size_t>(question)]);
}

bool isOfValve(SiteQuestion question)
{
    return question == SiteQuestion::Lid || question == SiteQuestion::Sight;
}

std::optional<double> answerIn(const SiteFacts &facts, SiteQuestion question)
{
    const StreetFacts &street = facts.street;
    switch (question) {
    case SiteQuestion::Lid:
        return position(facts.valve.lid);
    case SiteQuestion::Speed:
        return street.mph;
    case SiteQuestion::Setting:
        return position(street.setting);
    case SiteQuestion::ShoulderWidth:
        return number(street.shoulderWidth);
    case SiteQuestion::OneWay:
        return number(street.isOneWay);
    case SiteQuestion::Lanes:
        return number(street.lanes);
    case SiteQuestion::LaneWidth:
        return number(street.laneWidth);
    case SiteQuestion::Divided:
        return number(street.isDivided);
    case SiteQuestion::LowVolume:
        return number(street.isLowVolume);
    case SiteQuestion::Sight:
        break;
    }
    return number(facts.valve.sightIsGood);
}

Status setAnswer(SiteFacts &facts, SiteQuestion question, std::optional<double> answer)
{
    const Range range = rangeOf(question);
    const bool isSound = !answer || (*answer >= range.least && *answer <= range.most &&
                                     (!isWhole(question) || std::floor(*answer) == *answer));
    if (!isSound) {
        return notUnderstood(question, shortNumber(*answer), UnitSystem::Us);
    }
    StreetFacts &street = facts.street;
    switch (question) {
    case SiteQuestion::Lid:
        facts.valve.lid.reset();
        if (answer) {
            facts.valve.lid = static_cast<LidPlace>(static_cast<int>(*answer));
        }
        break;
    case SiteQuestion::Speed:
        street.mph = answer;
        break;
    case SiteQuestion::Setting:
        street.setting.reset();
        if (answer) {
            street.setting = static_cast<RoadSetting>(static_cast<int>(*answer));
        }
        break;
    case SiteQuestion::ShoulderWidth:
        street.shoulderWidth = feet(answer);
        break;
    case SiteQuestion::OneWay:
        street.isOneWay = truth(answer);
        break;
    case SiteQuestion::Lanes:
        street.lanes.reset();
        if (answer) {
            street.lanes = static_cast<int>(*answer);
        }
        break;
    case SiteQuestion::LaneWidth:
        street.laneWidth = feet(answer);
        break;
    case SiteQuestion::Divided:
        street.isDivided = truth(answer);
        break;
    case SiteQuestion::LowVolume:
        street.isLowVolume = truth(answer);
        break;
    case SiteQuestion::Sight:
        facts.valve.sightIsGood = truth(answer);
        break;
    }
    return {};
}

bool takesNumber(SiteQuestion question)
{
    return question == SiteQuestion::Speed || question == SiteQuestion::Lanes || isLength(question);
}

QString answerText(SiteQuestion question, double value, UnitSystem units)
{
    const bool isUs = units == UnitSystem::Us;
    if (question == SiteQuestion::Lid) {
        return wordFor(static_cast<LidPlace>(static_cast<int>(value)));
    }
    if (question == SiteQuestion::Setting) {
        return wordFor(static_cast<RoadSetting>(static_cast<int>(value)));
    }
    if (isYesNo(question)) {
        return value > 0.5 ? QStringLiteral("yes") : QStringLiteral("no");
    }
    if (question == SiteQuestion::Speed) {
        return isUs ? QStringLiteral("%1 mph").arg(shortNumber(value))
                    : QStringLiteral("%1 km/h").arg(shortNumber(value * kmhPerMph));
    }
    if (isLength(question)) {
        if (question == SiteQuestion::ShoulderWidth && value <= 0) {
            return QStringLiteral("no shoulder");
        }
        return isUs ? QStringLiteral("%1 ft").arg(shortNumber(value))
                    : QStringLiteral("%1 m").arg(shortNumber(value * metresPerFoot));
    }
    return shortNumber(value);
}

std::vector<SiteAnswer> answersTo(SiteQuestion question, UnitSystem units)
{
    const bool isUs = units == UnitSystem::Us;
    std::vector<double> values;
    switch (question) {
    case SiteQuestion::Lid:
        values = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
        break;
    case SiteQuestion::Speed:
        values = isUs ? std::vector<double>{20, 25, 30, 35, 40, 45, 50, 55, 60, 65}
                      : std::vector<double>{30, 40, 50, 60, 70, 80, 90, 100};
        break;
    case SiteQuestion::Setting:
        values = {0, 1, 2, 3};
        break;
    case SiteQuestion::ShoulderWidth:
        values = isUs ? std::vector<double>{0, 2, 4, 6, 8, 10}
                      : std::vector<double>{0, 0.5, 1, 1.5, 2, 2.5, 3};
        break;
    case SiteQuestion::Lanes:
        values = {1, 2, 3, 4, 5, 6};
        break;
    case SiteQuestion::LaneWidth:
        values = isUs ? std::vector<double>{9, 10, 11, 12, 14}
                      : std::vector<double>{2.75, 3, 3.25, 3.5, 3.75, 4};
        break;
    default:
        values = {1, 0};
        break;
    }
    std::vector<SiteAnswer> answers;
    for (double value : values) {
        if (!isUs && question == SiteQuestion::Speed) {
            value /= kmhPerMph;
        } else if (!isUs && isLength(question)) {
            value /= metresPerFoot;
        }
        answers.push_back({answerText(question, value, units), value});
    }
    return answers;
}

Result<double> readAnswer(SiteQuestion question, const QString &text, UnitSystem units)
{
    for (const SiteAnswer &answer : answersTo(question, units)) {
        if (answer.words.compare(text.trimmed(), Qt::CaseInsensitive) == 0) {
            return answer.value;
        }
    }
    static const QRegularExpression form(QStringLiteral("^([0-9]+(?:[.,][0-9]+)?) *([a-z/]*)$"));
    const QRegularExpressionMatch parts = form.match(text.trimmed().toLower());
    if (!takesNumber(question) || !parts.hasMatch()) {
        return notUnderstood(question, text, units);
    }
    const bool isUs = units == UnitSystem::Us;
    double value = parts.captured(1).replace(QLatin1Char(','), QLatin1Char('.')).toDouble();
    QString unit = parts.captured(2);
    if (question == SiteQuestion::Speed) {
        unit = unit.isEmpty() ? (isUs ? QStringLiteral("mph") : QStringLiteral("km/h")) : unit;
        const bool isKmh = unit == QLatin1String("km/h") || unit == QLatin1String("kmh");
        if (!isKmh && unit != QLatin1String("mph")) {
            return notUnderstood(question, text, units);
        }
        value = isKmh ? value / kmhPerMph : value;
    } else if (isLength(question)) {
        unit = unit.isEmpty() ? (isUs ? QStringLiteral("ft") : QStringLiteral("m")) : unit;
        if (unit != QLatin1String("ft") && unit != QLatin1String("m")) {
            return notUnderstood(question, text, units);
        }
        value = unit == QLatin1String("m") ? value / metresPerFoot : value;
    } else if (!unit.isEmpty()) {
        return notUnderstood(question, text, units);
    }
    SiteFacts probe;
    if (!setAnswer(probe, question, value)) {
        return notUnderstood(question, text, units);
    }
    return value;
}

StreetFacts factsOf(const Street &street)
{
    constexpr double noise = 1e-3; // of turning a whole number of mph into metres a second
    StreetFacts facts;
    if (street.metresPerSecond) {
        const double mph = *street.metresPerSecond / metresPerSecondPerMph;
        const double whole = std::round(mph);
        facts.mph = std::abs(mph - whole) < noise ? whole : mph;
    }
    facts.lanes = street.lanes;
    facts.laneWidth = street.laneWidth ? std::optional(Feet::of(*street.laneWidth)) : std::nullopt;
    facts.isDivided = street.isDivided;
    facts.isOneWay = street.oneWay != OneWay::No;
    if (street.kind == StreetClass::Motorway) {
        facts.setting = RoadSetting::Freeway;
    }
    return facts;
}

StreetFacts usualFacts(StreetClass kind, const StreetFacts &known, double urbanLowSpeedTo)
{
    StreetFacts usual;
    switch (kind) {
    case StreetClass::Motorway:
    case StreetClass::Path:
    case StreetClass::Unknown:
        return usual;
    case StreetClass::Arterial:
        usual = {45, 4, Feet{12}, Feet{8}, {}, {}, {}, false};
        break;
    case StreetClass::Collector:
        usual = {35, 2, Feet{11}, Feet{0}, {}, {}, {}, false};
        break;
    case StreetClass::Residential:
        usual = {25, 2, Feet{10}, Feet{0}, {}, {}, {}, true};
        break;
    case StreetClass::ServiceRoad:
        usual = {15, 2, Feet{9}, Feet{0}, {}, {}, {}, true};
        break;
    }
    const double mph = known.mph.value_or(*usual.mph);
    usual.setting =
        mph <= urbanLowSpeedTo ? RoadSetting::UrbanLowSpeed : RoadSetting::UrbanHighSpeed;
    return usual;
}

} // namespace keyround
