// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/position/position_habits.h"

#include <QSettings>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

constexpr std::array sourceKeys{"none", "receiver", "log", "system"};
constexpr int fastestLog = 100;

} // namespace

PositionHabits rememberedPositionHabits()
{
    const QSettings settings;
    PositionHabits habits;
    const QString key = settings.value(QStringLiteral("position/source")).toString();
    const auto *const source = std::ranges::find_if(
        sourceKeys, [&](const char *one) { return key == QLatin1String(one); });
    if (source != sourceKeys.end()) {
        habits.source = PositionSource(source - sourceKeys.begin());
    }
    habits.port = settings.value(QStringLiteral("position/port")).toString();
    if (const int baud = settings.value(QStringLiteral("position/baud")).toInt(); baud > 0) {
        habits.baud = baud;
    }
    habits.log = settings.value(QStringLiteral("position/log")).toString();
    habits.logSpeed =
        std::clamp(settings.value(QStringLiteral("position/logSpeed"), 1).toInt(), 1, fastestLog);
    return habits;
}

void rememberPositionHabits(const PositionHabits &habits)
{
    QSettings settings;
    settings.setValue(QStringLiteral("position/source"),
                      QLatin1String(sourceKeys.at(std::size_t(habits.source))));
    settings.setValue(QStringLiteral("position/port"), habits.port);
    settings.setValue(QStringLiteral("position/baud"), habits.baud);
    settings.setValue(QStringLiteral("position/log"), habits.log);
    settings.setValue(QStringLiteral("position/logSpeed"), habits.logSpeed);
}

QList<int> receiverBauds()
{
    return {4800, 9600, 19200, 38400, 57600, 115200};
}

} // namespace keyround
