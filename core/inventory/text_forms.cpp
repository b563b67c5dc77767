// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/text_forms.h"

#include <QRegularExpression>

#include <cmath>

namespace keyround {

QString plainText(const QString &text)
{
    QString plain;
    plain.reserve(text.size());
    for (const QChar c : text) {
        switch (c.unicode()) {
        case 0x201C: // double quotation marks and the double prime
        case 0x201D:
        case 0x2033:
            plain += QLatin1Char('"');
            break;
        case 0x2018: // single ones and the prime
        case 0x2019:
        case 0x2032:
            plain += QLatin1Char('\'');
            break;
        case 0x2010: // hyphens, dashes, the minus sign
        case 0x2011:
        case 0x2012:
        case 0x2013:
        case 0x2014:
        case 0x2212:
            plain += QLatin1Char('-');
            break;
        case 0x2044: // fraction slash
            plain += QLatin1Char('/');
            break;
        case 0x00BC:
            plain += QStringLiteral(" 1/4");
            break;
        case 0x00BD:
            plain += QStringLiteral(" 1/2");
            break;
        case 0x00BE:
            plain += QStringLiteral(" 3/4");
            break;
        default:
            plain += c;
        }
    }
    return plain.simplified().toLower();
}

QStringList plainWords(const QString &text)
{
    QString spaced = plainText(text);
    for (QChar &c : spaced) {
        if (!c.isLetterOrNumber() && c != QLatin1Char('&')) {
            c = QLatin1Char(' ');
        }
    }
    return spaced.split(QLatin1Char(' '), Qt::SkipEmptyParts);
}

std::optional<double> mixedNumber(const QString &plain)
{
    static const QRegularExpression decimal(QStringLiteral("^(?:[0-9]{1,9}\\.?[0-9]*|\\.[0-9]+)$"));
    static const QRegularExpression mixed(
        QStringLiteral("^(?:([0-9]{1,9})[ -])?([0-9]{1,4})/([0-9]{1,4})$"));
    const QString text = plain.trimmed();
    if (decimal.match(text).hasMatch()) {
        return text.toDouble();
    }
    const QRegularExpressionMatch match = mixed.match(text);
    if (!match.hasMatch()) {
        return std::nullopt;
    }
    const double top = match.captured(2).toDouble();
    const double bottom = match.captured(3).toDouble();
    if (bottom == 0.0 || (!match.captured(1).isEmpty() && top >= bottom)) {
        return std::nullopt;
    }
    return match.captured(1).toDouble() + top / bottom;
}

std::optional<int> wholeQuarters(double value)
{
    const double quarters = value * 4.0;
    if (!(std::abs(quarters) < 1e9) || std::abs(quarters - std::round(quarters)) > 1e-6) {
        return std::nullopt;
    }
    return static_cast<int>(std::lround(quarters));
}

} // namespace keyround
