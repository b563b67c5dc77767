// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/torque.h"

#include "core/inventory/value_parsers.h"

#include <cmath>

namespace keyround {

namespace {

constexpr double mostFootPounds = 1000;
constexpr double stopsFootPounds = 450;

double perUnit(TorqueUnit unit)
{
    return unit == TorqueUnit::FootPounds ? newtonMetresPerFootPound : 1.0;
}

/// The unit that stands behind the number, taken off it.
TorqueUnit takeUnit(QString &number, TorqueUnit fallback)
{
    qsizetype end = number.size();
    while (end > 0 && !number.at(end - 1).isDigit() && number.at(end - 1) != QLatin1Char('.')) {
        --end;
    }
    QString letters;
    for (const QChar c : number.mid(end)) {
        if (c.isLetter()) {
            letters += c.toLower();
        }
    }
    const bool foot = letters == QLatin1String("ftlb") || letters == QLatin1String("lbft") ||
                      letters == QLatin1String("ftlbs") || letters == QLatin1String("lbfft") ||
                      letters == QLatin1String("ftlbf");
    const bool newton = letters == QLatin1String("nm");
    if (foot || newton) {
        number.truncate(end);
        return foot ? TorqueUnit::FootPounds : TorqueUnit::NewtonMetres;
    }
    return fallback;
}

} // namespace

QString wordFor(TorqueUnit unit)
{
    return unit == TorqueUnit::FootPounds ? QStringLiteral("ft-lb") : QStringLiteral("N\u00B7m");
}

QString torqueText(Torque torque, TorqueUnit unit)
{
    const double tenths = std::round(torque.newtonMetres / perUnit(unit) * 10.0) / 10.0;
    return QStringLiteral("%1 %2").arg(QString::number(tenths), wordFor(unit));
}

Result<std::optional<Torque>> parseTorque(const QString &text, TorqueUnit unit)
{
    QString number = text.trimmed();
    if (isBlankValue(number)) {
        return std::optional<Torque>();
    }
    const TorqueUnit said = takeUnit(number, unit);
    const auto read = parseNumber(number.trimmed());
    if (!read || !*read) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("\"%1\" is no torque. Type a number of %2, for example 120, or "
                                   "leave it empty.")
                        .arg(text, wordFor(unit)));
    }
    const Torque torque{**read * perUnit(said)};
    if (!(torque.newtonMetres > 0)) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("A torque is more than nothing. Leave it empty where none was "
                                   "read."));
    }
    const Torque most{mostFootPounds * newtonMetresPerFootPound};
    if (torque > most) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 is more than any valve is turned with (%2). Read the tool "
                                   "again.")
                        .arg(torqueText(torque, said), torqueText(most, said)));
    }
    return std::optional(torque);
}

bool isMoreThanStopsBear(Torque torque)
{
    // The hair keeps 450 ft-lb itself on the good side whatever the fraction makes of it.
    return torque.newtonMetres > stopsFootPounds * newtonMetresPerFootPound + 1e-6;
}

} // namespace keyround
