// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/typed_values.h"

#include "core/inventory/value_parsers.h"
#include "core/inventory/valve_fields.h"

#include <QObject>
#include <QRegularExpression>

namespace keyround {

Result<QTime> timeTyped(const QString &text)
{
    static const QRegularExpression form(
        QStringLiteral("^\\s*(\\d{1,2})(?:[:.hH ]?(\\d{2}))?\\s*$"));
    const QRegularExpressionMatch match = form.match(text);
    const QTime time =
        match.hasMatch() ? QTime(match.captured(1).toInt(), match.captured(2).toInt()) : QTime();
    if (!time.isValid()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("\"%1\" is no time of day. Write hours and minutes: 07:00.")
                        .arg(text.trimmed()));
    }
    return time;
}

QString timeText(const QTime &time)
{
    return time.toString(QStringLiteral("HH:mm"));
}

Result<GeoPoint> placeTyped(const QString &text)
{
    Valve holder;
    const Status read = setValveField(holder, ValveField::Place, text, UnitSystem::Us);
    if (!read) {
        return tl::unexpected<Error>(read.error());
    }
    if (!holder.place.isValid()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("No place was given. Write latitude, then longitude: "
                                "41.2345, -88.1234."));
    }
    return holder.place;
}

QString placeText(const GeoPoint &place)
{
    Valve holder;
    holder.place = place;
    return valveFieldText(holder, ValveField::Place, UnitSystem::Us);
}

Result<double> numberTyped(const QString &text, double least, double most)
{
    const auto read = parseNumber(text);
    if (!read || !*read || **read < least || **read > most) {
        return fail(ErrorCode::BadInput, QObject::tr("\"%1\" is no number from %2 to %3.")
                                             .arg(text.trimmed())
                                             .arg(least)
                                             .arg(most));
    }
    return **read;
}

} // namespace keyround
