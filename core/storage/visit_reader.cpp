// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/visit_reader.h"

#include "core/fieldlog/visit_order.h"
#include "core/storage/visit_check.h"
#include "core/storage/visit_scan.h"

#include <QSemaphore>
#include <QThread>
#include <QThreadPool>

#include <openssl/sha.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <iterator>
#include <numeric>
#include <string_view>

namespace keyround {

namespace {

constexpr qint64 rowsABlock = 2000;
constexpr int mostThreads = 8;
constexpr int mostUnderWay = 32; // blocks of about a megabyte each

// Neither sign stands in canonical JSON, ids or hashes. Where a flipped bit makes one, the fields
// do not come out even, and the block is read row by row.
constexpr char fieldEnd = '\x1F';
constexpr char rowEnd = '\x1E';

struct RowBytes
{
    QByteArrayView id, valve, round, supersedes, stamp, hash, body;
};

struct Block
{
    std::size_t number = 0;
    qint64 firstRow = 0;
    qint64 lastRow = 0;
    QByteArray bytes;
};

bool matches(QByteArrayView body, QByteArrayView hash)
{
    constexpr qsizetype hexLength = 2 * SHA256_DIGEST_LENGTH;
    constexpr std::string_view digits = "0123456789abcdef";
    std::array<unsigned char, SHA256_DIGEST_LENGTH> sum{};
    SHA256(reinterpret_cast<const unsigned char *>(body.data()),
           static_cast<std::size_t>(body.size()), sum.data());
    std::array<char, hexLength> hex{};
    for (std::size_t i = 0; i < sum.size(); ++i) {
        hex[2 * i] = digits[sum[i] >> 4U];
        hex[2 * i + 1] = digits[sum[i] & 15U];
    }
    return hash.size() == hexLength && std::memcmp(hash.data(), hex.data(), hexLength) == 0;
}

/// An id as a column has it: canonical text, or empty for none.
bool isSame(const QUuid &uuid, QByteArrayView column)
{
    constexpr qsizetype length = 36;
    if (uuid.isNull() || column.size() != length) {
        return uuid.isNull() && column.isEmpty();
    }
    const QByteArray text = uuid.toByteArray(QUuid::WithoutBraces);
    return QByteArrayView(text) == column;
}

std::optional<Visit> readRow(const RowBytes &row, VisitScanner &scanner)
{
    if (!matches(row.body, row.hash)) {
        return std::nullopt;
    }
    std::optional<Visit> visit = scanner.scan(row.body);
    if (!visit) {
        Result<Visit> slow = visitFromJson(row.body.toByteArray());
        if (!slow) {
            return std::nullopt;
        }
        visit = std::move(*slow);
    }
    const bool same = isSame(visit->id.uuid, row.id) && isSame(visit->valve.uuid, row.valve) &&
                      isSame(visit->round.uuid, row.round) &&
                      isSame(visit->supersedes.uuid, row.supersedes) &&
                      QByteArrayView(QByteArray::number(visit->stamp.value)) == row.stamp;
    return same ? std::move(visit) : std::nullopt;
}

bool cutField(const char *&at, const char *end, QByteArrayView &field)
{
    const auto *found =
        static_cast<const char *>(std::memchr(at, fieldEnd, static_cast<std::size_t>(end - at)));
    if (found == nullptr) {
        return false;
    }
    field = QByteArrayView(at, found);
    at = found + 1;
    return true;
}

/// All rows of a block, or none where any of them is not as it should be.
bool readBlock(const Block &block, VisitScanner &scanner, std::vector<Visit> &visits)
{
    visits.reserve(static_cast<std::size_t>(rowsABlock));
    const char *at = block.bytes.constData();
    const char *const end = at + block.bytes.size();
    while (at != end) {
        RowBytes row;
        for (QByteArrayView *field :
             {&row.id, &row.valve, &row.round, &row.supersedes, &row.stamp, &row.hash}) {
            if (!cutField(at, end, *field)) {
                return false;
            }
        }
        const auto *last =
            static_cast<const char *>(std::memchr(at, rowEnd, static_cast<std::size_t>(end - at)));
        if (last == nullptr) {
            return false;
        }
        row.body = QByteArrayView(at, last);
        at = last + 1;
        std::optional<Visit> visit = readRow(row, scanner);
        if (!visit) {
            return false;
        }
        visits.push_back(std::move(*visit));
    }
    return true;
}

/// Hands blocks to threads, and gathers what they read in the order of the blocks.
class Workers
{
public:
    explicit Workers(std::size_t blocks) : m_read(blocks), m_odd(blocks)
    {
        m_pool.setMaxThreadCount(std::clamp(QThread::idealThreadCount(), 1, mostThreads));
    }

    /// Waits while there are enough of them under way.
    void give(Block block)
    {
        m_room.acquire();
        m_pool.start([this, given = std::move(block)] {
            VisitScanner scanner;
            std::vector<Visit> &visits = m_read[given.number];
            if (!readBlock(given, scanner, visits)) {
                visits.clear();
                m_odd[given.number] = 1;
            }
            m_room.release();
        });
    }
    void finish() { m_pool.waitForDone(); }
    /// After finish().
    [[nodiscard]] bool isOdd(std::size_t block) const { return m_odd[block] != 0; }
    [[nodiscard]] std::vector<Visit> &read(std::size_t block) { return m_read[block]; }

private:
    std::vector<std::vector<Visit>> m_read;
    std::vector<char> m_odd; ///< a byte each, since threads write beside each other
    QSemaphore m_room{mostUnderWay};
    QThreadPool m_pool; ///< last: it waits for its threads before what they use goes
};

Status readRowByRow(const QString &connection, qint64 first, qint64 last, StoredVisits &all)
{
    return readRows(
        connection,
        QStringLiteral("SELECT %1 FROM visits WHERE rowid BETWEEN ? AND ?").arg(visitColumns()),
        [&all](const Statement &row) -> Status {
            Result<Visit> visit = readVisit(row);
            if (visit) {
                all.visits.push_back(std::move(*visit));
            } else if (!bodyMatchesHash(row)) {
                all.off.push_back({row.text(0), row.text(1)});
            } else if (!all.unreadable) {
                all.unreadable = visit.error();
            }
            return {};
        },
        first, last);
}

Result<std::pair<qint64, qint64>> rowIds(const QString &connection)
{
    std::pair<qint64, qint64> ends{0, -1};
    return readRows(connection, QStringLiteral("SELECT MIN(rowid), MAX(rowid) FROM visits"),
                    [&ends](const Statement &row) -> Status {
                        if (!row.isNull(0)) {
                            ends = {row.bigint(0), row.bigint(1)};
                        }
                        return {};
                    })
        .map([&ends] { return ends; });
}

Result<Statement> prepareBlocks(const QString &connection)
{
    return Statement::prepare(
        connection,
        QStringLiteral("SELECT CAST(group_concat(id || char(31) || valve_id || char(31) || "
                       "COALESCE(round_id, '') || char(31) || COALESCE(supersedes, '') || "
                       "char(31) || stamp || char(31) || hash || char(31) || body || char(30), "
                       "'') AS BLOB) FROM visits WHERE rowid BETWEEN ? AND ?"));
}

/// The order that all() promises. Files are written in it but for what came from other laptops.
void sortByStamp(std::vector<Visit> &visits)
{
    if (std::ranges::is_sorted(visits, isStampedBefore)) {
        return;
    }
    std::vector<std::size_t> order(visits.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::sort(order, [&visits](std::size_t a, std::size_t b) {
        return isStampedBefore(visits[a], visits[b]);
    });
    std::vector<Visit> sorted;
    sorted.reserve(visits.size());
    for (const std::size_t i : order) {
        sorted.push_back(std::move(visits[i]));
    }
    visits = std::move(sorted);
}

std::vector<Block> planBlocks(const std::pair<qint64, qint64> &rows)
{
    std::vector<Block> blocks;
    for (qint64 first = rows.first; first <= rows.second; first += rowsABlock) {
        Block block;
        block.number = blocks.size();
        block.firstRow = first;
        block.lastRow = std::min(first + rowsABlock - 1, rows.second);
        blocks.push_back(std::move(block));
    }
    return blocks;
}

/// After finish(): what the threads have read, and row by row what they have not.
Status gather(Workers &workers, const std::vector<Block> &blocks, const QString &connection,
              StoredVisits &all)
{
    std::size_t count = 0;
    for (const Block &block : blocks) {
        count += workers.read(block.number).size();
    }
    all.visits.reserve(count);
    for (const Block &block : blocks) {
        if (workers.isOdd(block.number)) {
            Status status = readRowByRow(connection, block.firstRow, block.lastRow, all);
            if (!status) {
                return status;
            }
            continue;
        }
        std::vector<Visit> &read = workers.read(block.number);
        std::move(read.begin(), read.end(), std::back_inserter(all.visits));
        std::vector<Visit>().swap(read);
    }
    return {};
}

/// A page of the table that says that it holds fewer rows than it does loses them without another
/// sign: each that is left still matches its hash. The index knows of them.
Status compareWithIndex(const QString &connection, const StoredVisits &all)
{
    if (all.unreadable) {
        return {}; // such rows are in neither list, and are said anyway
    }
    qint64 indexed = 0;
    const Status counted = readRows(
        connection, QStringLiteral("SELECT COUNT(*) FROM visits INDEXED BY visits_by_stamp"),
        [&indexed](const Statement &row) -> Status {
            indexed = row.bigint(0);
            return {};
        });
    if (!counted || indexed == static_cast<qint64>(all.visits.size() + all.off.size())) {
        return counted;
    }
    return fail(ErrorCode::Damaged,
                QStringLiteral("The table of visits has other rows than its index: the file was "
                               "damaged on the disk. Keep it, and recover it row by row."));
}

} // namespace

Result<StoredVisits> readStoredVisits(const QString &connection)
{
    const auto rows = rowIds(connection);
    if (!rows) {
        return tl::unexpected(rows.error());
    }
    Result<Statement> blockOf = prepareBlocks(connection);
    if (!blockOf) {
        return tl::unexpected(blockOf.error());
    }
    const std::vector<Block> blocks = planBlocks(*rows);
    Workers workers(blocks.size());
    for (const Block &planned : blocks) {
        Block block = planned;
        Status status = blockOf->run(block.firstRow, block.lastRow).and_then([&] {
            return blockOf->each([&block](const Statement &row) -> Status {
                block.bytes = row.bytes(0);
                return {};
            });
        });
        if (!status) {
            return tl::unexpected(status.error());
        }
        workers.give(std::move(block));
    }
    workers.finish();
    StoredVisits all;
    if (Status gathered = gather(workers, blocks, connection, all); !gathered) {
        return tl::unexpected(gathered.error());
    }
    if (Status counted = compareWithIndex(connection, all); !counted) {
        return tl::unexpected(counted.error());
    }
    sortByStamp(all.visits);
    return all;
}

} // namespace keyround
