// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/ids.h"

#include <QMutex>
#include <QRandomGenerator>

#include <algorithm>

namespace keyround {

namespace {

constexpr std::uint32_t counterLimit = 0x1000; // rand_a has 12 bits

// The program's own name space for name-based ids; a random constant.
const QUuid contentNamespace(0x6d0f6c1e, 0x2b0a, 0x4d57, 0x9e, 0x21, 0x5c, 0x0b, 0x8f, 0x3a, 0x77,
                             0x14);

} // namespace

QUuid uuid7FromParts(std::int64_t unixMilliseconds, std::uint32_t randA, std::uint64_t randB)
{
    const auto ms = static_cast<std::uint64_t>(unixMilliseconds);
    const auto byte = [](std::uint64_t value, int shift) {
        return static_cast<uchar>((value >> shift) & 0xFFU);
    };
    return QUuid(static_cast<uint>(ms >> 16U), static_cast<ushort>(ms & 0xFFFFU),
                 static_cast<ushort>(0x7000U | (randA & 0x0FFFU)),
                 static_cast<uchar>(0x80U | (byte(randB, 56) & 0x3FU)), byte(randB, 48),
                 byte(randB, 40), byte(randB, 32), byte(randB, 24), byte(randB, 16), byte(randB, 8),
                 byte(randB, 0));
}

std::int64_t uuid7Milliseconds(const QUuid &uuid)
{
    return static_cast<std::int64_t>((static_cast<std::uint64_t>(uuid.data1) << 16U) |
                                     static_cast<std::uint64_t>(uuid.data2));
}

QUuid UuidSource::next(std::int64_t unixMilliseconds)
{
    if (unixMilliseconds > m_lastMilliseconds) {
        m_lastMilliseconds = unixMilliseconds;
        // The upper bit of the counter starts clear, so that a millisecond has room to count.
        m_counter = QRandomGenerator::global()->generate() & 0x7FFU;
    } else if (++m_counter >= counterLimit) {
        ++m_lastMilliseconds;
        m_counter = 0;
    }
    return uuid7FromParts(m_lastMilliseconds, m_counter, QRandomGenerator::global()->generate64());
}

QUuid newUuid7(std::int64_t unixMilliseconds)
{
    static QMutex mutex;
    static UuidSource source;
    const QMutexLocker lock(&mutex);
    return source.next(unixMilliseconds);
}

QUuid uuidFromContent(const QByteArray &content)
{
    return QUuid::createUuidV5(contentNamespace, content);
}

} // namespace keyround
