// SPDX-License-Identifier: GPL-3.0-or-later
// The parsers of dates and years.
#include "core/inventory/value_parsers.h"

#include "core/inventory/text_forms.h"

#include <QRegularExpression>

#include <array>

namespace keyround {

namespace {

constexpr int firstYear = 1850;
constexpr int lastYear = 2100;

const QString &timePart()
{
    // Times behind a date are set aside: "2021-03-04T07:15:00Z", "3/4/2021 12:00:00 AM".
    static const QString part = QStringLiteral("(?:(?:t| )[0-9]{1,2}:[0-9]{2}.*)?$");
    return part;
}

int monthFromName(const QString &word)
{
    static const std::array<QLatin1String, 12> names{
        QLatin1String("january"), QLatin1String("february"), QLatin1String("march"),
        QLatin1String("april"),   QLatin1String("may"),      QLatin1String("june"),
        QLatin1String("july"),    QLatin1String("august"),   QLatin1String("september"),
        QLatin1String("october"), QLatin1String("november"), QLatin1String("december")};
    if (word.size() < 3) {
        return 0;
    }
    for (size_t i = 0; i < names.size(); ++i) {
        if (QString(names[i]).startsWith(word) || (i == 8 && word == QLatin1String("sept"))) {
            return static_cast<int>(i) + 1;
        }
    }
    return 0;
}

Result<std::optional<QDate>> dateOf(const QString &text, int year, int month, int day)
{
    if (year < firstYear || year > lastYear) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Date \"%1\" is outside the years %2 to %3. Correct the year.")
                        .arg(text.trimmed())
                        .arg(firstYear)
                        .arg(lastYear));
    }
    const QDate date(year, month, day);
    if (!date.isValid()) {
        const QString hint = month > 12 && day <= 12
                                 ? QStringLiteral(" There is no month %1: is the order of day and "
                                                  "month the other one?")
                                       .arg(month)
                                 : QStringLiteral(" Correct it, best as YYYY-MM-DD.");
        return fail(
            ErrorCode::BadInput,
            QStringLiteral("Date \"%1\" is not in the calendar.%2").arg(text.trimmed(), hint));
    }
    return date;
}

/// 1-Mar-2021, 1 March 2021, Mar 1, 2021: the month's name leaves no doubt.
std::optional<Result<std::optional<QDate>>> namedMonth(const QString &text, const QString &plain)
{
    static const QRegularExpression dayFirst(
        QStringLiteral("^([0-9]{1,2})[ .-]+([a-z]{3,9})[ ,.-]+([0-9]{4})") + timePart());
    static const QRegularExpression monthFirst(
        QStringLiteral("^([a-z]{3,9})[ .-]+([0-9]{1,2})[ ,.-]+([0-9]{4})") + timePart());
    static const QRegularExpression damaged(QStringLiteral(
        "^(?:[0-9]{1,4}[ -]+([a-z]{3,9})(?:[ -]+[0-9]{2})?|([a-z]{3,9})[ -]+[0-9]{2,4})$"));
    if (const auto match = dayFirst.match(plain);
        match.hasMatch() && monthFromName(match.captured(2)) > 0) {
        return dateOf(text, match.captured(3).toInt(), monthFromName(match.captured(2)),
                      match.captured(1).toInt());
    }
    if (const auto match = monthFirst.match(plain);
        match.hasMatch() && monthFromName(match.captured(1)) > 0) {
        return dateOf(text, match.captured(3).toInt(), monthFromName(match.captured(1)),
                      match.captured(2).toInt());
    }
    if (const auto match = damaged.match(plain);
        match.hasMatch() && monthFromName(match.captured(1) + match.captured(2)) > 0) {
        return Result<std::optional<QDate>>(fail(
            ErrorCode::BadInput,
            QStringLiteral("\"%1\" looks like a value that a spreadsheet turned into a short date; "
                           "its day or its year is lost. Look it up in the source and write it as "
                           "YYYY-MM-DD.")
                .arg(text.trimmed())));
    }
    return std::nullopt;
}

Result<std::optional<QDate>> slashDate(const QString &text, int first, int second,
                                       const QString &year, std::optional<DateOrder> order)
{
    if (year.size() != 4) {
        return fail(
            ErrorCode::BadInput,
            QStringLiteral("Date \"%1\" has a year of two digits. Write the year with four.")
                .arg(text.trimmed()));
    }
    if (!order) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Date \"%1\" can be read month first or day first. Say which "
                                   "order the column uses, or write YYYY-MM-DD.")
                        .arg(text.trimmed()));
    }
    switch (*order) {
    case DateOrder::MonthFirst:
        return dateOf(text, year.toInt(), first, second);
    case DateOrder::DayFirst:
        return dateOf(text, year.toInt(), second, first);
    case DateOrder::Iso:
        break;
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("Date \"%1\" is not written as YYYY-MM-DD, which was said to be the "
                               "column's form. Correct it, or choose another order.")
                    .arg(text.trimmed()));
}

} // namespace

Result<std::optional<QDate>> parseDate(const QString &text, std::optional<DateOrder> order)
{
    static const QRegularExpression iso(
        QStringLiteral("^([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})") + timePart());
    static const QRegularExpression basic(QStringLiteral("^([0-9]{4})([0-9]{2})([0-9]{2})$"));
    static const QRegularExpression slashes(
        QStringLiteral("^([0-9]{1,2})[-/.]([0-9]{1,2})[-/.]([0-9]{2}|[0-9]{4})") + timePart());
    static const QRegularExpression serial(QStringLiteral("^[0-9]{4,6}(?:\\.[0-9]+)?$"));
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QString plain = plainText(text);
    for (const QRegularExpression &form : {iso, basic}) {
        if (const auto match = form.match(plain); match.hasMatch()) {
            return dateOf(text, match.captured(1).toInt(), match.captured(2).toInt(),
                          match.captured(3).toInt());
        }
    }
    if (const auto match = slashes.match(plain); match.hasMatch()) {
        return slashDate(text, match.captured(1).toInt(), match.captured(2).toInt(),
                         match.captured(3), order);
    }
    if (auto named = namedMonth(text, plain)) {
        return *named;
    }
    if (serial.match(plain).hasMatch()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("\"%1\" is not a date; it may be a spreadsheet's day number. "
                                   "Format the column as a date (YYYY-MM-DD) and save again.")
                        .arg(text.trimmed()));
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("Date \"%1\" is not understood. Write it as YYYY-MM-DD.")
                    .arg(text.trimmed()));
}

Result<std::optional<int>> parseYear(const QString &text)
{
    static const QRegularExpression bare(QStringLiteral("^([0-9]{1,4})(?:\\.0*)?$"));
    static const QRegularExpression yearLast(
        QStringLiteral("^[0-9]{1,2}[-/.][0-9]{1,2}[-/.][0-9]{4}") + timePart());
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QString plain = plainText(text);
    if (const auto match = bare.match(plain); match.hasMatch()) {
        const int year = match.captured(1).toInt();
        if (year == 0) {
            return std::nullopt;
        }
        if (year >= firstYear && year <= lastYear) {
            return year;
        }
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Year \"%1\" is outside %2 to %3. Write all four digits.")
                        .arg(text.trimmed())
                        .arg(firstYear)
                        .arg(lastYear));
    }
    // The year of 3/4/1987 is the same in either order, so none is asked for; but the day must
    // exist in one of them.
    Result<std::optional<QDate>> date =
        parseDate(text, yearLast.match(plain).hasMatch() ? std::optional(DateOrder::MonthFirst)
                                                         : std::nullopt);
    if (!date) {
        date = parseDate(text, DateOrder::DayFirst);
    }
    if (!date || !*date) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Year \"%1\" is not understood. Write it with four digits, such "
                                   "as 1987.")
                        .arg(text.trimmed()));
    }
    return (*date)->year();
}

} // namespace keyround
