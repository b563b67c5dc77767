// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/row_parsing.h"

#include <QRegularExpression>

namespace keyround {

LengthUnit unitFromHeading(const QString &heading)
{
    static const QRegularExpression feet(QStringLiteral("(^|[^a-z])(ft|feet|foot)([^a-z]|$)"));
    static const QRegularExpression metres(
        QStringLiteral("(^|[^a-z])(m|metres?|meters?)([^a-z]|$)"));
    static const QRegularExpression inches(QStringLiteral("(^|[^a-z])(in|inch|inches)([^a-z]|$)"));
    const QString lower = heading.toLower();
    if (feet.match(lower).hasMatch()) {
        return LengthUnit::Feet;
    }
    if (metres.match(lower).hasMatch()) {
        return LengthUnit::Metres;
    }
    return inches.match(lower).hasMatch() ? LengthUnit::Inches : LengthUnit::Unknown;
}

Result<std::optional<Metres>> parseLength(const QString &text, LengthUnit unit)
{
    static const QRegularExpression form(QStringLiteral("^(.*?[0-9.])\\s*([a-zA-Z'\"]*)\\.?$"));
    const QRegularExpressionMatch parts = form.match(text.trimmed());
    const QString mark = parts.captured(2).toLower();
    if (mark == QLatin1String("'")) {
        unit = LengthUnit::Feet;
    } else if (mark == QLatin1String("\"")) {
        unit = LengthUnit::Inches;
    } else if (!mark.isEmpty()) {
        unit = unitFromHeading(mark);
    }
    const auto number = parseNumber(parts.hasMatch() ? parts.captured(1) : text);
    const bool known = mark.isEmpty() || unit != LengthUnit::Unknown;
    if (!number || !known || (number->has_value() && **number < 0)) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("\"%1\" is no length: give feet, inches or metres, not below 0.")
                        .arg(text));
    }
    if (!number->has_value()) {
        return std::optional<Metres>();
    }
    const double scale = unit == LengthUnit::Metres   ? 1.0
                         : unit == LengthUnit::Inches ? metresPerFoot / 12.0
                                                      : metresPerFoot;
    return std::optional<Metres>(Metres{**number * scale});
}

tl::expected<QString, RowNote> ownNumber(const LayerReader &reader, const SourceRow &row,
                                         FirstOfEach &seen)
{
    const QString key = QStringLiteral("number");
    QString number = row.text(key);
    if (number.isEmpty()) {
        return tl::unexpected(reader.note(row, key, QStringLiteral("the row has no number")));
    }
    const qint64 first = seen.take(number, row.number());
    if (first != 0) {
        return tl::unexpected(reader.note(
            row, key,
            QStringLiteral("row %1 has this number already; that row was kept").arg(first)));
    }
    return number;
}

std::optional<bool> yesOrNo(const QString &text)
{
    static const QStringList yes{QStringLiteral("yes"), QStringLiteral("y"), QStringLiteral("true"),
                                 QStringLiteral("t"),   QStringLiteral("1"), QStringLiteral("x")};
    static const QStringList no{QStringLiteral("no"), QStringLiteral("n"), QStringLiteral("false"),
                                QStringLiteral("f"), QStringLiteral("0")};
    const QString plain = text.trimmed().toLower();
    if (yes.contains(plain)) {
        return true;
    }
    return no.contains(plain) ? std::optional<bool>(false) : std::nullopt;
}

QString keyOfLine(const GeoLine &line)
{
    QByteArray content;
    for (const GeoPoint &point : line) {
        content += QByteArray::number(point.latitude, 'f', 7) + ' ' +
                   QByteArray::number(point.longitude, 'f', 7) + ';';
    }
    return QStringLiteral("line-") +
           uuidFromContent(content).toString(QUuid::WithoutBraces).left(18);
}

} // namespace keyround
