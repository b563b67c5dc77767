// SPDX-License-Identifier: GPL-3.0-or-later
// One sentence into its place, time, speed and course, by Qt's own reader of NMEA 0183. What Qt
// makes of a stream of them is not used: it drops what it does not like without a word, and knows
// neither quality, nor void and repeated sentences, nor two that disagree (fix_track.h does).
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
