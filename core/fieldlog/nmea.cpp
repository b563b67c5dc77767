// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/nmea.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

// The standard allows 82 characters; receivers with several systems write longer ones.
constexpr qsizetype longestLine = 200;

QByteArray twoDigits(uint number)
{
    return QByteArray::number(number, 16).rightJustified(2, '0').toUpper();
}

std::optional<double> numberIn(const QByteArray &field)
{
    bool isNumber = false;
    const double number = field.toDouble(&isNumber); // always with a point, whatever the locale
    return isNumber && std::isfinite(number) ? std::optional(number) : std::nullopt;
}

std::optional<int> wholeIn(const QByteArray &field)
{
    bool isNumber = false;
    const int number = field.toInt(&isNumber);
    return isNumber ? std::optional(number) : std::nullopt;
}

/// "hhmmss" with or without a fraction.
QTime timeIn(const QByteArray &field)
{
    constexpr qsizetype digits = 6;
    const auto two = [&](qsizetype from) { return field.mid(from, 2).toInt(); };
    if (field.size() < digits || !std::all_of(field.begin(), field.begin() + digits,
                                              [](char c) { return c >= '0' && c <= '9'; })) {
        return {};
    }
    const double fraction =
        field.size() > digits + 1 ? numberIn("0" + field.mid(digits)).value_or(0) : 0;
    return {two(0), two(2), two(4), std::min(999, static_cast<int>(fraction * 1000.0 + 0.5))};
}

char letterIn(const QByteArray &field)
{
    return field.isEmpty() ? '\0' : field.front();
}

Result<QByteArrayView> bodyOf(QByteArrayView line)
{
    const auto refuse = [](const QString &why) { return fail(ErrorCode::BadInput, why); };
    if (line.isEmpty() || line.front() != '$') {
        return refuse(QStringLiteral("no sentence: it does not begin with $"));
    }
    if (line.size() > longestLine) {
        return refuse(QStringLiteral("too long for a sentence"));
    }
    if (std::ranges::any_of(line, [](char c) { return c < ' ' || c > '~'; })) {
        return refuse(QStringLiteral("unreadable characters: is the baud right?"));
    }
    const qsizetype star = line.lastIndexOf('*');
    if (star < 0) {
        return refuse(QStringLiteral("no checksum"));
    }
    bool isHex = false;
    const uint said = line.sliced(star + 1).toByteArray().toUInt(&isHex, 16);
    if (!isHex || line.size() - star != 3) {
        return refuse(QStringLiteral("no checksum of two digits"));
    }
    const QByteArrayView body = line.sliced(1, star - 1);
    if (const std::uint8_t sum = nmeaChecksum(body); sum != said) {
        return refuse(QStringLiteral("wrong checksum: it says %1, the characters give %2")
                          .arg(QLatin1String(twoDigits(said)), QLatin1String(twoDigits(sum))));
    }
    return body;
}

} // namespace

std::uint8_t nmeaChecksum(QByteArrayView between)
{
    std::uint8_t sum = 0;
    for (const char c : between) {
        sum = static_cast<std::uint8_t>(sum ^ static_cast<std::uint8_t>(c));
    }
    return sum;
}

QByteArray nmeaLine(QByteArrayView body)
{
    return "$" + body.toByteArray() + "*" + twoDigits(nmeaChecksum(body)) + "\r\n";
}

Result<NmeaSentence> readNmea(QByteArrayView line)
{
    const auto body = bodyOf(line.trimmed());
    if (!body) {
        return tl::unexpected(body.error());
    }
    QList<QByteArray> fields = body->toByteArray().split(',');
    const QByteArray address = fields.takeFirst();
    NmeaSentence sentence;
    constexpr qsizetype addressSize = 5;
    if (address.startsWith('P')) {
        sentence.kind = address;
    } else if (address.size() == addressSize) {
        sentence.talker = address.left(2);
        sentence.kind = address.mid(2);
    } else {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("no kind of sentence: \"%1\"").arg(QLatin1String(address)));
    }
    sentence.fields = std::move(fields);
    return sentence;
}

std::optional<NmeaFixWords> fixWordsIn(const NmeaSentence &sentence)
{
    NmeaFixWords words;
    words.time = timeIn(sentence.field(0));
    if (sentence.kind == "GGA") {
        words.quality = wholeIn(sentence.field(5));
        words.satellites = wholeIn(sentence.field(6));
        words.hdop = numberIn(sentence.field(7));
        words.hasFix = words.quality.value_or(0) > 0;
        return words;
    }
    if (sentence.kind == "RMC") {
        words.mode = letterIn(sentence.field(11));
        words.hasFix = letterIn(sentence.field(1)) == 'A' && words.mode != 'N';
        return words;
    }
    return std::nullopt;
}

} // namespace keyround
