// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/visit_words.h"

#include <QRegularExpression>

namespace keyround {

namespace {

const QRegularExpression &slashedDate()
{
    static const QRegularExpression form(
        QStringLiteral("^\\s*(\\d{1,2})[/.-](\\d{1,2})[/.-](\\d{4}|\\d{2})(?!\\d)"));
    return form;
}

} // namespace

Result<std::optional<QTime>> parseTime(const QString &text)
{
    static const QRegularExpression form(QStringLiteral(
        "^(\\d{1,2})[:.]?(\\d{2})(?:[:.](\\d{2})(?:\\.\\d+)?)?\\s*([ap])?\\.?m?\\.?$"));
    const QString plain = text.trimmed().toLower();
    if (isBlankValue(plain)) {
        return std::nullopt;
    }
    const QRegularExpressionMatch parts = form.match(plain);
    int hour = parts.captured(1).toInt();
    const QString half = parts.captured(4);
    const bool badHalf = !half.isEmpty() && (hour < 1 || hour > 12);
    if (!half.isEmpty()) {
        hour = hour % 12 + (half == QLatin1String("p") ? 12 : 0);
    }
    const QTime time(hour, parts.captured(2).toInt(), parts.captured(3).toInt());
    if (!parts.hasMatch() || badHalf || !time.isValid()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("\"%1\" is no time of day: write 07:45 or 7:45 AM.").arg(text));
    }
    return std::optional(time);
}

Result<std::optional<WhenText>> parseWhen(const QString &text, std::optional<DateOrder> order)
{
    static const QRegularExpression form(
        QStringLiteral("^(.*?[0-9a-z])(?:\\s*T|\\s+)(\\d{1,2}:\\d{2}(?::\\d{2}(?:\\.\\d+)?)?"
                       "\\s*(?:[ap]\\.?m\\.?)?)\\s*(Z|[+-]\\d{2}:?\\d{2})?$"),
        QRegularExpression::CaseInsensitiveOption);
    const QRegularExpressionMatch parts = form.match(text.trimmed());
    const QString dateText = parts.hasMatch() ? parts.captured(1) : text.trimmed();
    const auto date = parseDate(dateText, order);
    if (!date) {
        return tl::unexpected(date.error());
    }
    if (!date->has_value()) {
        return std::nullopt;
    }
    WhenText when{**date, std::nullopt, std::nullopt};
    if (parts.hasMatch()) {
        const auto time = parseTime(parts.captured(2));
        if (!time) {
            return tl::unexpected(time.error());
        }
        when.time = *time;
        QString offset = parts.captured(3).toLower();
        if (offset == QLatin1String("z")) {
            when.offsetSeconds = 0;
        } else if (!offset.isEmpty()) {
            const int sign = offset.startsWith(QLatin1Char('-')) ? -1 : 1;
            const int minutes =
                QStringView(offset).mid(1, 2).toInt() * 60 + QStringView(offset).right(2).toInt();
            when.offsetSeconds = sign * minutes * 60;
        }
    }
    return std::optional(when);
}

void DateOrderFinder::see(const QString &text)
{
    const QRegularExpressionMatch parts = slashedDate().match(text);
    if (!parts.hasMatch()) {
        return;
    }
    const int first = parts.captured(1).toInt();
    const int second = parts.captured(2).toInt();
    QString &kind = first > 12 && second <= 12   ? m_dayFirst
                    : second > 12 && first <= 12 ? m_monthFirst
                                                 : m_ambiguous;
    if (kind.isEmpty()) {
        kind = text.trimmed();
    }
}

Result<std::optional<DateOrder>> DateOrderFinder::order(const QString &fileName) const
{
    if (!m_monthFirst.isEmpty() && !m_dayFirst.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 has dates in both orders (\"%2\" and \"%3\"). Write them as "
                                   "2021-03-04.")
                        .arg(fileName, m_monthFirst, m_dayFirst));
    }
    if (!m_monthFirst.isEmpty()) {
        return std::optional(DateOrder::MonthFirst);
    }
    if (!m_dayFirst.isEmpty()) {
        return std::optional(DateOrder::DayFirst);
    }
    if (!m_ambiguous.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 has dates like \"%2\", and no date in it shows whether the "
                                   "month or the day comes first. Say which it is, or write the "
                                   "dates as 2021-03-04.")
                        .arg(fileName, m_ambiguous));
    }
    return std::nullopt;
}

Result<std::optional<Standing>> parseStanding(const QString &text)
{
    static const QRegularExpression count(QStringLiteral("(\\d+(?:\\.\\d+)?)"));
    static const QRegularExpression partly(
        QStringLiteral("part|half|throttled|cracked|between|1/2|1/4|3/4"));
    static const QRegularExpression fraction(QStringLiteral("\\d/\\d|%"));
    const QString plain = text.trimmed().toLower();
    if (plain == QLatin1String("not seen") || plain == QLatin1String("unknown") ||
        plain == QLatin1String("not_seen") || isBlankValue(plain)) {
        return std::nullopt;
    }
    if (partly.match(plain).hasMatch()) {
        Standing standing{Position::PartOpen, std::nullopt};
        const QRegularExpressionMatch number = count.match(plain);
        if (number.hasMatch() && !fraction.match(plain).hasMatch()) {
            standing.turnsFromClosed = parseTurns(number.captured(1)).value_or(std::nullopt);
        }
        return std::optional(standing);
    }
    const auto position = parseNormalPosition(plain);
    if (!position || !position->has_value()) {
        return fail(
            ErrorCode::BadInput,
            QStringLiteral("\"%1\" is no position: write open, closed or part open.").arg(text));
    }
    return std::optional(
        Standing{**position == NormalPosition::Open ? Position::Open : Position::Closed, {}});
}

ProblemWords parseProblems(const QString &text)
{
    static const QRegularExpression between(QStringLiteral("[;,|]"));
    static const QStringList fine{QStringLiteral("ok"),          QStringLiteral("okay"),
                                  QStringLiteral("good"),        QStringLiteral("no problem"),
                                  QStringLiteral("no problems"), QStringLiteral("no")};
    ProblemWords words;
    QStringList other;
    for (const QString &part : text.split(between, Qt::SkipEmptyParts)) {
        const QString word = part.trimmed();
        if (isBlankValue(word) || fine.contains(word.toLower())) {
            continue;
        }
        const auto known = problemFromText(word);
        const Problem problem = known.value_or(Problem::Other);
        if (!words.problems.contains(problem)) {
            words.problems << problem;
        }
        if (!known) {
            other << word;
        }
    }
    words.other = other.join(QStringLiteral("; "));
    return words;
}

} // namespace keyround
