// SPDX-License-Identifier: GPL-3.0-or-later
// Identities. Every row of the project has a UUIDv7 (RFC 9562 section 5.7) made on the laptop
// that made the row, so that two laptops never give one name to two things. Each kind has a type
// of its own, so that a valve's id cannot be passed for a visit's.
#pragma once

#include <QHashFunctions>
#include <QString>
#include <QUuid>

#include <compare>
#include <cstdint>

namespace keyround {

template <typename Tag> struct Id
{
    QUuid uuid;

    [[nodiscard]] bool isNull() const { return uuid.isNull(); }
    [[nodiscard]] QString text() const { return uuid.toString(QUuid::WithoutBraces); }
    /// Null when the text is no UUID.
    [[nodiscard]] static Id fromText(const QString &text) { return Id{QUuid::fromString(text)}; }

    friend bool operator==(const Id &, const Id &) = default;
    friend bool operator<(const Id &a, const Id &b) { return a.text() < b.text(); }
    friend size_t qHash(const Id &id, size_t seed = 0) { return ::qHash(id.uuid, seed); }
};

using ValveId = Id<struct ValveTag>;
using FeatureId = Id<struct FeatureTag>; ///< a street, main, hydrant or service
using VisitId = Id<struct VisitTag>;
using RoundId = Id<struct RoundTag>;
using EditId = Id<struct EditTag>;
using ShutId = Id<struct ShutTag>;     ///< a shut that was begun
using TickId = Id<struct TickTag>;     ///< a step of a shut
using NoticeId = Id<struct NoticeTag>; ///< a notice that was given

/// Makes UUIDv7s that rise strictly within one process, also when the clock stands still or
/// steps back: the 12 bits of rand_a count within a millisecond, and an overflow borrows the next
/// millisecond (RFC 9562 section 6.2, method 1). The other 62 bits are random.
class UuidSource
{
public:
    [[nodiscard]] QUuid next(std::int64_t unixMilliseconds);

private:
    std::int64_t m_lastMilliseconds = 0;
    std::uint32_t m_counter = 0;
};

/// The process's own source.
[[nodiscard]] QUuid newUuid7(std::int64_t unixMilliseconds);

/// Builds a UUIDv7 from its parts: 48 bits of milliseconds, 12 of randA, 62 of randB.
[[nodiscard]] QUuid uuid7FromParts(std::int64_t unixMilliseconds, std::uint32_t randA,
                                   std::uint64_t randB);

/// The milliseconds in a UUIDv7.
[[nodiscard]] std::int64_t uuid7Milliseconds(const QUuid &uuid);

/// A name-based UUID (version 5) for a row that comes from a file and has no id of its own: the
/// same content gives the same id, so reading one file twice doubles nothing.
[[nodiscard]] QUuid uuidFromContent(const QByteArray &content);

} // namespace keyround
