// SPDX-License-Identifier: GPL-3.0-or-later
// The parsers of quantities. Those of words are in word_parsers.cpp, dates in date_parsers.cpp.
#include "core/inventory/value_parsers.h"

#include "core/inventory/text_forms.h"

#include <QRegularExpression>

#include <array>
#include <cmath>

namespace keyround {

namespace {

// A bare number above this in a column of inches is a column of millimetres that nobody named.
constexpr int largestBareInches = 96;
constexpr int largestInches = 144;
constexpr int mostTurns = 2000;
constexpr double millimetresPerInch = 25.4;

Result<std::optional<NominalSize>> sizeFromInches(const QString &text, double inches, int largest)
{
    if (inches == 0.0) {
        return std::nullopt;
    }
    if (inches > largest) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Size \"%1\" would be more than %2 in. If it is in millimetres, "
                                   "write mm behind it or say so for the whole column.")
                        .arg(text.trimmed())
                        .arg(largest));
    }
    const std::optional<int> quarters = wholeQuarters(inches);
    if (!quarters) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Size \"%1\" is no whole number of quarter inches. Write the "
                                   "nominal size, such as 6 in or 2 1/4 in.")
                        .arg(text.trimmed()));
    }
    return NominalSize{*quarters};
}

/// A DN or a length in millimetres: the DN's pair, else the size whose name is made the same way
/// (DN 175 is 7 in), else whole inches measured exactly (152 mm is 6 in).
Result<std::optional<NominalSize>> sizeFromMillimetres(const QString &text, double mm)
{
    if (mm == 0.0) {
        return std::nullopt;
    }
    const double inches = std::round(mm / millimetresPerInch);
    if (mm <= largestInches * millimetresPerInch) {
        const int dn = static_cast<int>(std::lround(mm));
        if (std::abs(mm - dn) < 1e-6) {
            if (const NominalSize known = sizeOfDn(dn); known.isKnown()) {
                return known;
            }
            const NominalSize made{static_cast<int>(std::lround(dn / 6.25))};
            if (made.isKnown() && dnOf(made) == dn) {
                return made;
            }
        }
        if (inches >= 1.0 && std::abs(mm - inches * millimetresPerInch) <= 1.5) {
            return NominalSize::ofInches(static_cast<int>(inches));
        }
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("Size \"%1\" is no DN that goes with a size in inches. Write the "
                               "nominal size, such as DN 150 or 6 in.")
                    .arg(text.trimmed()));
}

} // namespace

bool isBlankValue(const QString &text)
{
    static const std::array<QLatin1String, 13> blanks{
        QLatin1String("null"), QLatin1String("<null>"), QLatin1String("(null)"),
        QLatin1String("n/a"),  QLatin1String("na"),     QLatin1String("n.a."),
        QLatin1String("#n/a"), QLatin1String("none"),   QLatin1String("-"),
        QLatin1String("--"),   QLatin1String("---"),    QLatin1String("?"),
        QLatin1String("??")};
    const QString plain = plainText(text);
    if (plain.isEmpty()) {
        return true;
    }
    for (const QLatin1String blank : blanks) {
        if (plain == blank) {
            return true;
        }
    }
    return false;
}

Result<std::optional<NominalSize>> parseSize(const QString &text, BareSize bare)
{
    static const QRegularExpression dn(QStringLiteral("^(?:dn|nd)[ .:-]*([0-9]{1,5})(?: ?mm)?$"));
    static const QRegularExpression withUnit(
        QStringLiteral("^([0-9./ -]+?) ?(\"|''|inches|inch|ins|in|mm|cm)?\\.?$"));
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QString plain = plainText(text);
    if (const auto match = dn.match(plain); match.hasMatch()) {
        return sizeFromMillimetres(text, match.captured(1).toDouble());
    }
    const auto match = withUnit.match(plain);
    const std::optional<double> number =
        match.hasMatch() ? mixedNumber(match.captured(1)) : std::nullopt;
    if (!number) {
        return fail(
            ErrorCode::BadInput,
            QStringLiteral("Size \"%1\" is not understood. Write it like 6, 6 in, 2 1/4 in, "
                           "DN 150 or 150 mm.")
                .arg(text.trimmed()));
    }
    const QString unit = match.captured(2);
    if (unit == QLatin1String("mm") || (unit.isEmpty() && bare == BareSize::Millimetres)) {
        return sizeFromMillimetres(text, *number);
    }
    if (unit == QLatin1String("cm")) {
        return sizeFromMillimetres(text, *number * 10.0);
    }
    return sizeFromInches(text, *number, unit.isEmpty() ? largestBareInches : largestInches);
}

Result<std::optional<QuarterTurns>> parseTurns(const QString &text)
{
    static const QRegularExpression unit(QStringLiteral(" ?(?:turns|turn|t)\\.?$"));
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    QString plain = plainText(text);
    plain.remove(unit);
    const std::optional<double> number = mixedNumber(plain);
    if (!number) {
        return fail(ErrorCode::BadInput,
                    plain.startsWith(QLatin1Char('-'))
                        ? QStringLiteral("Turns cannot be negative: \"%1\". Write the count of the "
                                         "pass; its direction is told apart from it.")
                              .arg(text.trimmed())
                        : QStringLiteral("Turns \"%1\" are not understood. Write them like 27, "
                                         "26.5 or 26 1/2.")
                              .arg(text.trimmed()));
    }
    if (*number > mostTurns) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Turns \"%1\" are more than %2. Look for a slip of the keys; no "
                                   "valve takes so many.")
                        .arg(text.trimmed())
                        .arg(mostTurns));
    }
    const std::optional<int> quarters = wholeQuarters(*number);
    if (!quarters) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Turns \"%1\" are finer than a quarter turn. Round to the "
                                   "nearest quarter.")
                        .arg(text.trimmed()));
    }
    return QuarterTurns{*quarters};
}

Result<std::optional<double>> parseNumber(const QString &text)
{
    static const QRegularExpression number(
        QStringLiteral("^[+-]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:e[+-]?[0-9]{1,3})?$"));
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QString plain = plainText(text);
    bool read = false;
    const double value = number.match(plain).hasMatch() ? plain.toDouble(&read) : 0.0;
    if (read && std::isfinite(value)) {
        return value;
    }
    if (plain.contains(QLatin1Char(','))) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Number \"%1\" has a comma, which some read as a decimal point "
                                   "and some as a thousands mark. Write it with a point and "
                                   "without thousands marks.")
                        .arg(text.trimmed()));
    }
    return fail(ErrorCode::BadInput, QStringLiteral("\"%1\" is not a number. Write it with digits "
                                                    "and a decimal point, such as 1234.5.")
                                         .arg(text.trimmed()));
}

} // namespace keyround
