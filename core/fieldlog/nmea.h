// SPDX-License-Identifier: GPL-3.0-or-later
// NMEA 0183 sentences as text: is a line one, does its checksum hold, what do its fields say of the
// fix. Qt's reader drops a line that it does not like without a word and keeps neither quality nor
// dilution; a person who sets up a receiver must see why nothing comes.
//
// The checksum is the exclusive or of all characters between $ and *, as two hexadecimal digits.
// A sentence without one is refused: a line that lost its end looks the same.
#pragma once

#include "core/common/result.h"

#include <QByteArray>
#include <QByteArrayView>
#include <QList>
#include <QTime>

#include <cstdint>
#include <optional>

namespace keyround {

struct NmeaSentence
{
    QByteArray talker; ///< "GP", "GN"; empty for a maker's own sentence
    QByteArray kind;   ///< "GGA"
    QList<QByteArray> fields;

    /// Empty when there are fewer.
    [[nodiscard]] QByteArray field(qsizetype index) const { return fields.value(index); }
};

[[nodiscard]] std::uint8_t nmeaChecksum(QByteArrayView between);
/// "$BODY*hh" with the line's end, for those who speak to a receiver or play one.
[[nodiscard]] QByteArray nmeaLine(QByteArrayView body);

/// Reads a line, its end taken or not. The error says what is wrong with it in words for a person.
[[nodiscard]] Result<NmeaSentence> readNmea(QByteArrayView line);

/// What GGA or RMC says of the fix beside its place.
struct NmeaFixWords
{
    bool hasFix = false; ///< quality above 0; status A and mode not N
    QTime time;          ///< of the day, UTC; null when the field is empty
    char mode = 0;       ///< RMC's letter, where it has one
    std::optional<int> quality;
    std::optional<int> satellites;
    std::optional<double> hdop;
};
/// Empty for other kinds of sentence.
[[nodiscard]] std::optional<NmeaFixWords> fixWordsIn(const NmeaSentence &sentence);

} // namespace keyround
