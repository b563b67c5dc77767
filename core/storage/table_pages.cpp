// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/table_pages.h"

#include <QtEndian>

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <optional>

namespace keyround {

namespace {

constexpr unsigned char tableLeaf = 0x0D;
constexpr qsizetype fileHeader = 100;
// A row of ours has at most some hundred kilobytes; a damaged length may claim anything.
constexpr qsizetype payloadAtMost = qsizetype{64} * 1024 * 1024;

unsigned byteAt(QByteArrayView bytes, qsizetype at)
{
    return static_cast<unsigned char>(bytes[at]);
}

struct Varint
{
    std::uint64_t value = 0;
    qsizetype length = 0;
};

std::optional<Varint> varintAt(QByteArrayView bytes, qsizetype at)
{
    Varint read;
    for (; read.length < 9; ++read.length) {
        if (at + read.length >= bytes.size()) {
            return std::nullopt;
        }
        const unsigned byte = byteAt(bytes, at + read.length);
        if (read.length == 8) {
            read.value = (read.value << 8U) | byte;
            return Varint{read.value, 9};
        }
        read.value = (read.value << 7U) | (byte & 0x7FU);
        if ((byte & 0x80U) == 0) {
            return Varint{read.value, read.length + 1};
        }
    }
    return std::nullopt;
}

// A payload that does not fit goes on in a chain of pages, each with the next one's number first.
std::optional<QByteArray> wholePayload(QByteArrayView file, QByteArrayView page, qsizetype at,
                                       qsizetype size)
{
    constexpr qsizetype inLeafAtMost = projectPageSize - 35;
    constexpr qsizetype inLeafAtLeast = (projectPageSize - 12) * 32 / 255 - 23;
    constexpr qsizetype inOverflow = projectPageSize - 4;
    qsizetype local = size;
    if (size > inLeafAtMost) {
        local = inLeafAtLeast + (size - inLeafAtLeast) % inOverflow;
        local = local <= inLeafAtMost ? local : inLeafAtLeast;
    }
    const qsizetype pointer = local < size ? 4 : 0;
    if (at + local + pointer > page.size()) {
        return std::nullopt;
    }
    QByteArray payload = page.sliced(at, local).toByteArray();
    quint32 next = pointer == 0 ? 0 : qFromBigEndian<quint32>(page.data() + at + local);
    while (payload.size() < size) {
        const qsizetype offset = (qsizetype{next} - 1) * projectPageSize;
        if (next == 0 || offset < 0 || offset + projectPageSize > file.size()) {
            return std::nullopt;
        }
        const qsizetype some = std::min(inOverflow, size - payload.size());
        payload.append(file.sliced(offset + 4, some));
        next = qFromBigEndian<quint32>(file.data() + offset);
    }
    return payload;
}

std::optional<qsizetype> storedSize(std::uint64_t serialType)
{
    static constexpr std::array<qsizetype, 10> sizes{0, 1, 2, 3, 4, 6, 8, 8, 0, 0};
    if (serialType < sizes.size()) {
        return sizes[serialType];
    }
    if (serialType < 12 || serialType > 2 * static_cast<std::uint64_t>(payloadAtMost)) {
        return std::nullopt;
    }
    return static_cast<qsizetype>((serialType - 12) / 2);
}

QVariant valueOf(QByteArrayView bytes, std::uint64_t serialType)
{
    if (serialType == 0) {
        return QVariant(QMetaType::fromType<QString>());
    }
    if (serialType >= 12) {
        return serialType % 2 == 0 ? QVariant(bytes.toByteArray())
                                   : QVariant(QString::fromUtf8(bytes));
    }
    if (serialType == 8 || serialType == 9) {
        return QVariant(static_cast<qlonglong>(serialType - 8));
    }
    // Two's complement, high byte first, in 1 to 8 bytes.
    std::uint64_t bits = (byteAt(bytes, 0) & 0x80U) != 0 ? ~std::uint64_t{0} : 0;
    for (qsizetype i = 0; i < bytes.size(); ++i) {
        bits = (bits << 8U) | byteAt(bytes, i);
    }
    return serialType == 7 ? QVariant(std::bit_cast<double>(bits))
                           : QVariant(static_cast<qlonglong>(bits));
}

// A record: the length of its header, a type for each column, then the values.
std::optional<QVariantList> recordOf(const QByteArray &payload)
{
    const auto header = varintAt(payload, 0);
    if (!header || header->value > static_cast<std::uint64_t>(payload.size())) {
        return std::nullopt;
    }
    const auto headerEnd = static_cast<qsizetype>(header->value);
    qsizetype value = headerEnd;
    QVariantList columns;
    for (qsizetype at = header->length; at < headerEnd;) {
        const auto type = varintAt(payload, at);
        const auto size = type ? storedSize(type->value) : std::nullopt;
        if (!size || value + *size > payload.size()) {
            return std::nullopt;
        }
        columns << valueOf(QByteArrayView(payload).sliced(value, *size), type->value);
        value += *size;
        at += type->length;
    }
    return columns;
}

void readPage(QByteArrayView file, qsizetype offset,
              const std::function<void(const QVariantList &)> &take)
{
    const QByteArrayView page = file.sliced(offset, projectPageSize);
    const qsizetype start = offset == 0 ? fileHeader : 0;
    if (byteAt(page, start) != tableLeaf) {
        return;
    }
    const auto cells = qsizetype{qFromBigEndian<quint16>(page.data() + start + 3)};
    const qsizetype pointers = start + 8;
    for (qsizetype cell = 0; cell < cells && pointers + 2 * cell + 2 <= page.size(); ++cell) {
        const auto at = qsizetype{qFromBigEndian<quint16>(page.data() + pointers + 2 * cell)};
        const auto size = varintAt(page, at);
        if (!size || size->value > static_cast<std::uint64_t>(payloadAtMost)) {
            continue;
        }
        const auto rowid = varintAt(page, at + size->length);
        if (!rowid) {
            continue;
        }
        const auto payload = wholePayload(file, page, at + size->length + rowid->length,
                                          static_cast<qsizetype>(size->value));
        if (const auto record = payload ? recordOf(*payload) : std::nullopt) {
            take(*record);
        }
    }
}

} // namespace

void readTablePages(QByteArrayView file, const std::function<void(const QVariantList &)> &take)
{
    for (qsizetype offset = 0; offset + projectPageSize <= file.size(); offset += projectPageSize) {
        readPage(file, offset, take);
    }
}

} // namespace keyround
