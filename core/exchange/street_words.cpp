// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/street_words.h"

#include "core/inventory/value_parsers.h"

#include <QHash>
#include <QRegularExpression>

#include <array>
#include <utility>

namespace keyround {

namespace {

constexpr double fastest = 90.0; // m/s, some 200 mph: above it the number is no speed limit

/// Exact words first: what OpenStreetMap's highway tag says, and functional class numbers.
const QHash<QString, StreetClass> &exactClasses()
{
    static const QHash<QString, StreetClass> classes = [] {
        QHash<QString, StreetClass> made;
        const auto add = [&made](StreetClass kind, const char *words) {
            for (const QString &word : QString(QLatin1String(words)).split(QLatin1Char(' '))) {
                made.insert(word, kind);
            }
        };
        add(StreetClass::Motorway, "motorway motorway_link 1 2");
        add(StreetClass::Arterial,
            "trunk trunk_link primary primary_link secondary secondary_link 3 4");
        add(StreetClass::Collector, "tertiary tertiary_link 5 6");
        add(StreetClass::Residential, "residential unclassified living_street road 7");
        add(StreetClass::ServiceRoad, "service track");
        add(StreetClass::Path, "footway path cycleway pedestrian steps bridleway corridor platform "
                               "proposed construction elevator raceway busway abandoned razed");
        return made;
    }();
    return classes;
}

// Asked in this order: a "major collector" is a collector, a "minor arterial" an arterial.
constexpr std::array classWords{
    std::pair{"collector", StreetClass::Collector},
    std::pair{"arterial", StreetClass::Arterial},
    std::pair{"interstate", StreetClass::Motorway},
    std::pair{"freeway", StreetClass::Motorway},
    std::pair{"expressway", StreetClass::Motorway},
    std::pair{"motorway", StreetClass::Motorway},
    std::pair{"trail", StreetClass::Path},
    std::pair{"path", StreetClass::Path},
    std::pair{"walk", StreetClass::Path},
    std::pair{"alley", StreetClass::ServiceRoad},
    std::pair{"service", StreetClass::ServiceRoad},
    std::pair{"driveway", StreetClass::ServiceRoad},
    std::pair{"private", StreetClass::ServiceRoad},
    std::pair{"thoroughfare", StreetClass::Arterial},
    std::pair{"highway", StreetClass::Arterial},
    std::pair{"major", StreetClass::Arterial},
    std::pair{"local", StreetClass::Residential},
    std::pair{"resident", StreetClass::Residential},
    std::pair{"neighborhood", StreetClass::Residential},
    std::pair{"minor", StreetClass::Residential},
    std::pair{"street", StreetClass::Residential},
};

} // namespace

StreetClass streetClassFrom(const QString &word)
{
    const QString plain = word.trimmed().toLower();
    const auto exact = exactClasses().constFind(plain);
    if (exact != exactClasses().constEnd()) {
        return *exact;
    }
    for (const auto &[part, kind] : classWords) {
        if (plain.contains(QLatin1String(part))) {
            return kind;
        }
    }
    return StreetClass::Unknown;
}

std::optional<OneWay> oneWayFrom(const QString &word)
{
    static const QHash<QString, OneWay> words = [] {
        QHash<QString, OneWay> made;
        const auto add = [&made](OneWay way, const char *list) {
            for (const QString &each : QString(QLatin1String(list)).split(QLatin1Char(' '))) {
                made.insert(each, way);
            }
        };
        add(OneWay::Forward, "yes y true 1 ft fromto forward oneway with onewayft");
        add(OneWay::Backward, "-1 reverse backward tf tofrom against onewaytf");
        add(OneWay::No, "no n false 0 b both twoway bothways bothdirections bidirectional "
                        "reversible alternating 2way");
        return made;
    }();
    QString plain = word.trimmed().toLower();
    if (plain != QLatin1String("-1")) {
        plain.remove(QRegularExpression(QStringLiteral("[^a-z0-9]")));
    }
    if (plain.isEmpty()) {
        return OneWay::No;
    }
    const auto found = words.constFind(plain);
    return found == words.constEnd() ? std::nullopt : std::optional(*found);
}

std::optional<SpeedUnit> speedUnitFromHeading(const QString &heading)
{
    const QString lower = heading.toLower();
    if (lower.contains(QLatin1String("mph")) || lower.contains(QLatin1String("mile"))) {
        return SpeedUnit::MilesPerHour;
    }
    static const QRegularExpression metric(QStringLiteral("km.?h|kph|kilomet"));
    return metric.match(lower).hasMatch() ? std::optional(SpeedUnit::KilometresPerHour)
                                          : std::nullopt;
}

Result<std::optional<double>> parseSpeed(const QString &text, SpeedUnit bare)
{
    static const QRegularExpression form(QStringLiteral("^([0-9.]+)\\s*([a-z/]*)$"));
    static const QRegularExpression noNumber(QStringLiteral("^[a-z:_ -]+$"));
    const QString plain = text.trimmed().toLower();
    if (isBlankValue(plain) || noNumber.match(plain).hasMatch()) {
        return std::optional<double>();
    }
    const QRegularExpressionMatch parts = form.match(plain);
    const QString mark = parts.captured(2);
    const auto unit = mark.isEmpty() ? std::optional(bare) : speedUnitFromHeading(mark);
    bool isNumber = false;
    const double number = parts.captured(1).toDouble(&isNumber);
    const double scale = unit == SpeedUnit::MilesPerHour ? metresPerMile / 3600.0 : 1000.0 / 3600.0;
    if (!isNumber || !unit || number * scale > fastest) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("\"%1\" is no speed: give mph or km/h.").arg(text));
    }
    return number > 0 ? std::optional(number * scale) : std::nullopt;
}

std::optional<bool> drivableFrom(const QString &access)
{
    static const QStringList forbids{QStringLiteral("no"),         QStringLiteral("n"),
                                     QStringLiteral("false"),      QStringLiteral("0"),
                                     QStringLiteral("private"),    QStringLiteral("closed"),
                                     QStringLiteral("restricted"), QStringLiteral("military"),
                                     QStringLiteral("emergency"),  QStringLiteral("agricultural"),
                                     QStringLiteral("forestry")};
    const QString plain = access.trimmed().toLower();
    if (plain.isEmpty()) {
        return std::nullopt;
    }
    return !forbids.contains(plain);
}

} // namespace keyround
