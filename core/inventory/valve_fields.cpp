// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/valve_fields.h"

#include "core/inventory/text_forms.h"
#include "core/inventory/value_parsers.h"

#include <QLocale>
#include <QRegularExpression>

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

constexpr std::array fieldList{
    ValveFieldInfo{ValveField::Number, "number", "Number"},
    ValveFieldInfo{ValveField::Place, "place", "Place"},
    ValveFieldInfo{ValveField::Address, "address", "Address"},
    ValveFieldInfo{ValveField::Ties, "ties", "Ties"},
    ValveFieldInfo{ValveField::DepthToNut, "depth_to_nut", "Depth to nut"},
    ValveFieldInfo{ValveField::Nut, "nut", "Nut"},
    ValveFieldInfo{ValveField::Lid, "lid", "Lid"},
    ValveFieldInfo{ValveField::Size, "size", "Size"},
    ValveFieldInfo{ValveField::Type, "type", "Type"},
    ValveFieldInfo{ValveField::ListedTurns, "listed_turns", "Listed turns"},
    ValveFieldInfo{ValveField::Closes, "closes", "Closes"},
    ValveFieldInfo{ValveField::Normally, "normally", "Normally"},
    ValveFieldInfo{ValveField::Role, "role", "Role"},
    ValveFieldInfo{ValveField::InstallYear, "install_year", "Install year"},
    ValveFieldInfo{ValveField::Surface, "surface", "Surface"},
    ValveFieldInfo{ValveField::Zone, "zone", "Pressure zone"},
    ValveFieldInfo{ValveField::CriticalCustomers, "critical_customers", "Critical customers"},
    ValveFieldInfo{ValveField::Remarks, "remarks", "Remarks"},
    ValveFieldInfo{ValveField::Retired, "retired", "Retired"},
};

constexpr double deepestNutMetres = 30.0;
constexpr double metresPerInch = 0.0254;

/// The shortest text that reads back as the same number.
QString exactText(double value)
{
    return QString::number(value, 'g', QLocale::FloatingPointShortest);
}

QString depthText(Metres depth, UnitSystem units)
{
    if (units == UnitSystem::Metric) {
        return QStringLiteral("%1 m").arg(depth.value, 0, 'f', 2);
    }
    const auto inches = std::lround(depth.value / metresPerInch);
    return inches % 12 == 0 ? QStringLiteral("%1 ft").arg(inches / 12)
                            : QStringLiteral("%1 ft %2 in").arg(inches / 12).arg(inches % 12);
}

QString *textOf(Valve &valve, ValveField field)
{
    switch (field) {
    case ValveField::Number:
        return &valve.number;
    case ValveField::Address:
        return &valve.address;
    case ValveField::Ties:
        return &valve.ties;
    case ValveField::Nut:
        return &valve.nut;
    case ValveField::Lid:
        return &valve.lid;
    case ValveField::Surface:
        return &valve.surface;
    case ValveField::Zone:
        return &valve.zone;
    case ValveField::CriticalCustomers:
        return &valve.criticalCustomers;
    case ValveField::Remarks:
        return &valve.remarks;
    default:
        return nullptr;
    }
}

tl::unexpected<Error> badDepth(const QString &text)
{
    return fail(ErrorCode::BadInput,
                QStringLiteral("Depth \"%1\" is not understood. Write it like 3 ft 6 in, 42 in, "
                               "3.5 ft or 1.1 m, from 0 to %2 m.")
                    .arg(text.trimmed())
                    .arg(deepestNutMetres));
}

Result<std::optional<Metres>> parseDepth(const QString &text, UnitSystem units)
{
    static const QRegularExpression feetAndInches(QStringLiteral(
        "^([0-9.]+) ?(?:ft|feet|foot|')\\.?,? ?([0-9./ -]+?) ?(?:inches|inch|ins|in|\"|'')\\.?$"));
    static const QRegularExpression one(
        QStringLiteral("^([0-9./ -]+?|[0-9.]+e[+-]?[0-9]+) "
                       "?(ft|feet|foot|'|inches|inch|ins|in|\"|''|mm|cm|metres|meters|m)?\\.?$"));
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QString plain = plainText(text);
    std::optional<double> metres;
    if (const auto match = feetAndInches.match(plain); match.hasMatch()) {
        const auto feet = mixedNumber(match.captured(1));
        const auto inches = mixedNumber(match.captured(2));
        if (feet && inches && *inches < 12.0) {
            metres = *feet * metresPerFoot + *inches * metresPerInch;
        }
    } else if (const auto single = one.match(plain); single.hasMatch()) {
        std::optional<double> number = mixedNumber(single.captured(1));
        if (!number) {
            if (const auto plainNumber = parseNumber(single.captured(1)); plainNumber) {
                number = *plainNumber;
            }
        }
        const QString unit = single.captured(2);
        double factor = units == UnitSystem::Us ? metresPerFoot : 1.0;
        if (unit.startsWith(QLatin1Char('f')) || unit == QLatin1String("'")) {
            factor = metresPerFoot;
        } else if (unit.startsWith(QLatin1Char('i')) || unit == QLatin1String("\"") ||
                   unit == QLatin1String("''")) {
            factor = metresPerInch;
        } else if (unit == QLatin1String("mm")) {
            factor = 0.001;
        } else if (unit == QLatin1String("cm")) {
            factor = 0.01;
        } else if (unit.startsWith(QLatin1Char('m'))) {
            factor = 1.0;
        }
        if (number) {
            metres = *number * factor;
        }
    }
    if (!metres || !(*metres >= 0.0 && *metres <= deepestNutMetres)) {
        return badDepth(text);
    }
    return Metres{*metres};
}

Result<GeoPoint> parsePlace(const QString &text)
{
    static const QRegularExpression between(QStringLiteral("[,; ]+"));
    if (isBlankValue(text)) {
        return GeoPoint{};
    }
    const QStringList parts = plainText(text).split(between, Qt::SkipEmptyParts);
    const auto latitude = parts.size() == 2 ? parseNumber(parts[0]) : std::nullopt;
    const auto longitude = parts.size() == 2 ? parseNumber(parts[1]) : std::nullopt;
    if (!latitude || !*latitude || !longitude || !*longitude) {
        return fail(
            ErrorCode::BadInput,
            QStringLiteral("Place \"%1\" is not understood. Write latitude, then longitude, "
                           "in degrees with a decimal point: 41.2345, -88.1234.")
                .arg(text.trimmed()));
    }
    const GeoPoint place{**latitude, **longitude};
    if (!place.isValid()) {
        const bool swapped = GeoPoint{place.longitude, place.latitude}.isValid();
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Place \"%1\" is not on the map. %2")
                        .arg(text.trimmed(),
                             swapped
                                 ? QStringLiteral("Latitude and longitude look swapped: write "
                                                  "latitude first.")
                                 : QStringLiteral("Latitude goes from -90 to 90, longitude from "
                                                  "-180 to 180, and 0, 0 stands for no place.")));
    }
    return place;
}

Result<bool> parseRetired(const QString &text)
{
    const QString word = plainWords(text).join(QLatin1Char(' '));
    static const QStringList yes{QStringLiteral("yes"),       QStringLiteral("y"),
                                 QStringLiteral("true"),      QStringLiteral("t"),
                                 QStringLiteral("1"),         QStringLiteral("retired"),
                                 QStringLiteral("abandoned"), QStringLiteral("removed")};
    static const QStringList no{QStringLiteral("no"),     QStringLiteral("n"),
                                QStringLiteral("false"),  QStringLiteral("f"),
                                QStringLiteral("0"),      QStringLiteral("active"),
                                QStringLiteral("in use"), QStringLiteral("in service")};
    if (yes.contains(word)) {
        return true;
    }
    if (no.contains(word) || isBlankValue(text)) {
        return false;
    }
    return fail(
        ErrorCode::BadInput,
        QStringLiteral("Retired \"%1\" is not understood. Write yes or no.").arg(text.trimmed()));
}

/// Puts what a parser read where it belongs; what was not given becomes `otherwise`.
template <typename T, typename U>
Status put(const Result<std::optional<T>> &read, U &target, U otherwise)
{
    if (!read) {
        return tl::unexpected<Error>(read.error());
    }
    target = *read ? U(**read) : std::move(otherwise);
    return {};
}

Status setText(QString &target, ValveField field, const QString &text)
{
    const QString given = isBlankValue(text) ? QString() : text.trimmed();
    if (field == ValveField::Number && given.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A valve needs a number of its own; none was given. Write the "
                                   "number by which the utility knows it."));
    }
    target = given;
    return {};
}

Status setPlace(Valve &valve, const QString &text)
{
    const Result<GeoPoint> place = parsePlace(text);
    if (!place) {
        return tl::unexpected<Error>(place.error());
    }
    valve.place = *place;
    return {};
}

Status setRetired(Valve &valve, const QString &text)
{
    const Result<bool> retired = parseRetired(text);
    if (!retired) {
        return tl::unexpected<Error>(retired.error());
    }
    valve.retired = *retired;
    return {};
}

Status setListedTurns(Valve &valve, const QString &text)
{
    Status status = put(parseTurns(text), valve.listedTurns, std::optional<QuarterTurns>());
    if (status && valve.listedTurns && valve.listedTurns->value == 0) {
        valve.listedTurns.reset(); // inventories write 0 where no count is known
    }
    return status;
}

} // namespace

std::span<const ValveFieldInfo> valveFields()
{
    return fieldList;
}

const ValveFieldInfo &infoOf(ValveField field)
{
    return fieldList[static_cast<size_t>(field)];
}

std::optional<ValveField> valveFieldFromKey(const QString &key)
{
    for (const ValveFieldInfo &info : fieldList) {
        if (key == QLatin1String(info.key)) {
            return info.field;
        }
    }
    return std::nullopt;
}

QString valveFieldText(const Valve &valve, ValveField field, UnitSystem units)
{
    if (field == ValveField::Place && valve.place.isValid()) {
        return QStringLiteral("%1, %2")
            .arg(valve.place.latitude, 0, 'f', 6)
            .arg(valve.place.longitude, 0, 'f', 6);
    }
    if (field == ValveField::DepthToNut && valve.depthToNut) {
        return depthText(*valve.depthToNut, units);
    }
    if (field == ValveField::Size) {
        return sizeText(valve.size, units);
    }
    return valveFieldStored(valve, field);
}

QString valveFieldStored(const Valve &valve, ValveField field)
{
    switch (field) {
    case ValveField::Number:
        return valve.number;
    case ValveField::Place:
        return valve.place.isValid()
                   ? QStringLiteral("%1, %2").arg(exactText(valve.place.latitude),
                                                  exactText(valve.place.longitude))
                   : QString();
    case ValveField::Address:
        return valve.address;
    case ValveField::Ties:
        return valve.ties;
    case ValveField::DepthToNut:
        return valve.depthToNut ? exactText(valve.depthToNut->value) + QStringLiteral(" m")
                                : QString();
    case ValveField::Nut:
        return valve.nut;
    case ValveField::Lid:
        return valve.lid;
    case ValveField::Size:
        return sizeText(valve.size, UnitSystem::Us);
    case ValveField::Type:
        return wordFor(valve.type);
    case ValveField::ListedTurns:
        return valve.listedTurns && valve.listedTurns->value > 0 ? turnsText(*valve.listedTurns)
                                                                 : QString();
    case ValveField::Closes:
        return wordFor(valve.closes);
    case ValveField::Normally:
        return wordFor(valve.normally);
    case ValveField::Role:
        return wordFor(valve.role);
    case ValveField::InstallYear:
        return valve.installYear ? QString::number(*valve.installYear) : QString();
    case ValveField::Surface:
        return valve.surface;
    case ValveField::Zone:
        return valve.zone;
    case ValveField::CriticalCustomers:
        return valve.criticalCustomers;
    case ValveField::Remarks:
        return valve.remarks;
    case ValveField::Retired:
        return valve.retired ? QStringLiteral("yes") : QStringLiteral("no");
    }
    return {};
}

Status setValveField(Valve &valve, ValveField field, const QString &text, UnitSystem units)
{
    if (QString *target = textOf(valve, field)) {
        return setText(*target, field, text);
    }
    switch (field) {
    case ValveField::Place:
        // What is shown is rounded; typing nothing new must not move the valve.
        return text == valveFieldText(valve, field, units) ? Status() : setPlace(valve, text);
    case ValveField::DepthToNut:
        return text == valveFieldText(valve, field, units)
                   ? Status()
                   : put(parseDepth(text, units), valve.depthToNut, std::optional<Metres>());
    case ValveField::Size:
        return put(
            parseSize(text, units == UnitSystem::Us ? BareSize::Inches : BareSize::Millimetres),
            valve.size, NominalSize());
    case ValveField::Type:
        return put(parseValveType(text), valve.type, ValveType::Unknown);
    case ValveField::ListedTurns:
        return setListedTurns(valve, text);
    case ValveField::Closes:
        return put(parseClosingDirection(text), valve.closes, ClosingDirection::Clockwise);
    case ValveField::Normally:
        return put(parseNormalPosition(text), valve.normally, NormalPosition::Open);
    case ValveField::Role:
        return put(parseValveRole(text), valve.role, ValveRole::MainLine);
    case ValveField::InstallYear:
        return put(parseYear(text), valve.installYear, std::optional<int>());
    case ValveField::Retired:
        return setRetired(valve, text);
    default:
        return {};
    }
}

void copyValveField(Valve &to, const Valve &from, ValveField field)
{
    // Stored text always reads back (test_valve_fields.cpp), so this cannot fail.
    [[maybe_unused]] const Status set =
        setValveField(to, field, valveFieldStored(from, field), UnitSystem::Metric);
    Q_ASSERT(set);
}

QList<ValveField> differingFields(const Valve &a, const Valve &b)
{
    QList<ValveField> fields;
    for (const ValveFieldInfo &info : fieldList) {
        if (valveFieldStored(a, info.field) != valveFieldStored(b, info.field)) {
            fields << info.field;
        }
    }
    return fields;
}

} // namespace keyround
