// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/position/sentence_parser.h"

namespace keyround {

std::optional<FixReading> SentenceParser::read(const NmeaSentence &sentence, const QByteArray &line)
{
    const auto words = fixWordsIn(sentence);
    if (!words) {
        return std::nullopt;
    }
    FixReading reading;
    reading.words = *words;
    QGeoPositionInfo info;
    bool hasFix = false;
    if (!parsePosInfoFromNmeaData(line.constData(), int(line.size()), &info, &hasFix)) {
        return reading;
    }
    // A GGA of quality 0 comes out as 0 north 0 east, without a fix.
    if (hasFix && info.coordinate().isValid()) {
        reading.place = GeoPoint{info.coordinate().latitude(), info.coordinate().longitude()};
    }
    if (info.hasAttribute(QGeoPositionInfo::GroundSpeed)) {
        reading.speed = info.attribute(QGeoPositionInfo::GroundSpeed);
    }
    if (info.hasAttribute(QGeoPositionInfo::Direction)) {
        reading.heading = info.attribute(QGeoPositionInfo::Direction);
    }
    reading.date = info.timestamp().date();
    return reading;
}

} // namespace keyround
