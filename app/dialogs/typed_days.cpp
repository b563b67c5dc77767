// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/typed_days.h"

#include "core/inventory/value_parsers.h"

#include <QObject>
#include <QRegularExpression>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

constexpr std::array weekdayNames{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                  "Friday", "Saturday", "Sunday"};
constexpr int daysInWeek = 7;

QString shortName(int day)
{
    return QString::fromLatin1(weekdayNames[static_cast<std::size_t>(day - 1)]).left(3);
}

/// 0 where it is none.
int weekdayFrom(const QString &word)
{
    for (std::size_t i = 0; i < weekdayNames.size() && word.size() >= 2; ++i) {
        if (QString::fromLatin1(weekdayNames[i]).startsWith(word, Qt::CaseInsensitive)) {
            return static_cast<int>(i) + 1;
        }
    }
    return 0;
}

tl::unexpected<Error> noWeekday(const QString &text)
{
    return fail(ErrorCode::BadInput,
                QObject::tr("\"%1\" is no weekday. Write Mon-Fri, or Mon, Wed, Sat.").arg(text));
}

template <typename Kind> QString kindsText(const QList<Kind> &kinds)
{
    QStringList words;
    for (const Kind kind : kinds) {
        words << wordFor(kind);
    }
    return words.join(QStringLiteral(", "));
}

} // namespace

QStringList partsTyped(const QString &text)
{
    static const QRegularExpression between(QStringLiteral("[,;]"));
    QStringList parts;
    for (const QString &part : text.split(between, Qt::SkipEmptyParts)) {
        if (!part.trimmed().isEmpty()) {
            parts << part.trimmed();
        }
    }
    return parts;
}

Result<QList<int>> weekdaysTyped(const QString &text)
{
    QList<int> days;
    for (const QString &part : partsTyped(text)) {
        const QStringList ends = part.split(QLatin1Char('-'));
        const int first = weekdayFrom(ends.front().trimmed());
        const int last = weekdayFrom(ends.back().trimmed());
        if (first == 0 || last == 0 || ends.size() > 2) {
            return noWeekday(part);
        }
        for (int day = first;; day = day % daysInWeek + 1) {
            days << day;
            if (day == last) {
                break;
            }
        }
    }
    std::ranges::sort(days);
    days.erase(std::unique(days.begin(), days.end()), days.end());
    return days;
}

QString weekdaysText(const QList<int> &weekdays)
{
    QStringList parts;
    for (qsizetype i = 0; i < weekdays.size();) {
        qsizetype end = i;
        while (end + 1 < weekdays.size() && weekdays[end + 1] == weekdays[end] + 1) {
            ++end;
        }
        if (end - i >= 2) {
            parts << shortName(weekdays[i]) + QLatin1Char('-') + shortName(weekdays[end]);
        } else {
            end = i;
            parts << shortName(weekdays[i]);
        }
        i = end + 1;
    }
    return parts.join(QStringLiteral(", "));
}

Result<QList<QDate>> daysTyped(const QString &text)
{
    QList<QDate> days;
    for (const QString &part : partsTyped(text)) {
        const QDate day = QDate::fromString(part, Qt::ISODate);
        if (!day.isValid()) {
            return fail(
                ErrorCode::BadInput,
                QObject::tr("\"%1\" is no day. Write year, month, day: 2026-07-03.").arg(part));
        }
        days << day;
    }
    std::ranges::sort(days);
    days.erase(std::unique(days.begin(), days.end()), days.end());
    return days;
}

QString daysText(const QList<QDate> &days)
{
    QStringList parts;
    for (const QDate &day : days) {
        parts << day.toString(Qt::ISODate);
    }
    return parts.join(QStringLiteral(", "));
}

Result<QList<StreetClass>> streetClassesTyped(const QString &text)
{
    QList<StreetClass> classes;
    for (const QString &part : partsTyped(text)) {
        QStringList words;
        bool found = false;
        for (std::size_t i = 0; i < streetClassCount; ++i) {
            const auto kind = static_cast<StreetClass>(i);
            words << wordFor(kind);
            if (part.compare(wordFor(kind), Qt::CaseInsensitive) == 0) {
                classes << kind;
                found = true;
            }
        }
        if (!found) {
            return fail(ErrorCode::BadInput,
                        QObject::tr("\"%1\" is no class of street. There are: %2.")
                            .arg(part, words.join(QStringLiteral(", "))));
        }
    }
    return classes;
}

QString streetClassesText(const QList<StreetClass> &classes)
{
    return kindsText(classes);
}

Result<QList<ValveType>> valveTypesTyped(const QString &text)
{
    QList<ValveType> types;
    for (const QString &part : partsTyped(text)) {
        const auto type = parseValveType(part);
        if (!type || !*type) {
            return fail(ErrorCode::BadInput,
                        QObject::tr("\"%1\" is no type of valve. Write gate, geared gate, "
                                    "butterfly, ball or plug.")
                            .arg(part));
        }
        types << **type;
    }
    return types;
}

QString valveTypesText(const QList<ValveType> &types)
{
    return kindsText(types);
}

} // namespace keyround
