// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: what the bodies of the log's rows have in common.
#pragma once

#include "core/storage/log_store.h"

namespace keyround {

inline void putMoment(QJsonObject &json, const Moment &moment)
{
    json[QStringLiteral("utc_ms")] = static_cast<qint64>(moment.utcMilliseconds);
    json[QStringLiteral("offset_s")] = moment.offsetSeconds;
}

[[nodiscard]] inline Moment momentIn(const QJsonObject &json)
{
    return {json.value(QLatin1String("utc_ms")).toInteger(),
            json.value(QLatin1String("offset_s")).toInt()};
}

[[nodiscard]] inline QString textIn(const QJsonObject &json, const char *key)
{
    return json.value(QLatin1String(key)).toString();
}

[[nodiscard]] inline QDate dateIn(const QJsonObject &json, const char *key)
{
    return QDate::fromString(textIn(json, key), Qt::ISODate);
}

template <typename Row> void putWho(QJsonObject &json, const Row &row)
{
    json[QStringLiteral("person")] = row.person;
    json[QStringLiteral("device")] = row.device;
}

template <typename Row> void takeWho(const LogRow &from, Row &row)
{
    row.stamp = from.stamp;
    row.person = textIn(from.body, "person");
    row.device = textIn(from.body, "device");
}

} // namespace keyround
