// SPDX-License-Identifier: GPL-3.0-or-later
// Where this laptop takes its position from. A receiver is plugged into a laptop and has a port and
// a baud on it alone, while a project file travels between laptops: so this is kept in the
// machine's own settings, not in the project.
#pragma once

#include <QList>
#include <QString>

namespace keyround {

enum class PositionSource { None, Receiver, Log, System };

struct PositionHabits
{
    PositionSource source = PositionSource::None;
    QString port;     ///< "ttyUSB0", "COM3", or a path
    int baud = 4800;  ///< NMEA 0183's own; newer receivers speak faster
    QString log;      ///< path of a recorded NMEA log
    int logSpeed = 1; ///< how many times faster than it was recorded

    friend bool operator==(const PositionHabits &, const PositionHabits &) = default;
};

[[nodiscard]] PositionHabits rememberedPositionHabits();
void rememberPositionHabits(const PositionHabits &habits);

/// The bauds that receivers are sold with (common practice, no source).
[[nodiscard]] QList<int> receiverBauds();

} // namespace keyround
