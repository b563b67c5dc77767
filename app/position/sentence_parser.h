// SPDX-License-Identifier: GPL-3.0-or-later
// One sentence into its place, time, speed and course, by Qt's own reader of NMEA 0183. What Qt
// makes of a stream is not used: its real-time mode never tells of a receiver that sends GGA alone
// (no date), and its simulation mode passes on the places of void RMC sentences.
#pragma once

#include "core/fieldlog/fix_track.h"

#include <QNmeaPositionInfoSource>

namespace keyround {

class SentenceParser final : public QNmeaPositionInfoSource
{
    Q_OBJECT
public:
    explicit SentenceParser(QObject *parent = nullptr)
        : QNmeaPositionInfoSource(RealTimeMode, parent)
    {
    }

    /// `line` must have been read by readNmea(). Empty for sentences that bring no fix.
    [[nodiscard]] std::optional<FixReading> read(const NmeaSentence &sentence,
                                                 const QByteArray &line);
};

} // namespace keyround
