// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/visit_reader.h"

#include "core/fieldlog/visit_order.h"
#include "core/storage/raw_query.h"
#include "core/storage/visit_check.h"
#include "core/storage/visit_scan.h"

#include <QSemaphore>
#include <QThread>
#include <QThreadPool>

#include <openssl/evp.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <iterator>
#include <limits>
#include <map>
#include <memory>
#include <mutex>
#include <numeric>
#include <string_view>

namespace keyround {

namespace {

constexpr std::size_t rowsABlock = 2000;
constexpr std::size_t roomForMore = 4096; // so that the next visits recorded do not move all
constexpr int mostThreads = 8;
constexpr int mostUnderWay = 32; // blocks of about a megabyte each

/// The columns that are read, after the row id.
enum Column : std::size_t { Id, ValveColumn, RoundColumn, Supersedes, Hash, Body, columnCount };

struct RowBytes
{
    std::array<QByteArrayView, columnCount> columns;
    qint64 stamp = 0;
};

/// Rows as the database gave them, one after the other.
struct Block
{
    struct Row
    {
        std::array<qsizetype, columnCount> ends{}; ///< of the columns, in `bytes`
        qint64 stamp = 0;
    };
    std::vector<Row> rows;
    QByteArray bytes;
    qint64 firstRow = 0;
    qint64 lastRow = 0;

    void clear() // and keeps its memory
    {
        rows.clear();
        bytes.resize(0);
    }
    void add(const RawQuery &query)
    {
        Row row;
        const qint64 rowId = query.bigint(0, 0);
        firstRow = rows.empty() ? rowId : firstRow;
        lastRow = rowId;
        for (std::size_t i = 0; i < columnCount; ++i) {
            bytes += query.bytes(static_cast<int>(i) + 1);
            row.ends[i] = bytes.size();
        }
        row.stamp = query.bigint(columnCount + 1, -1);
        rows.push_back(row);
    }
};

/// Hashes one text after the other, without asking OpenSSL each time what SHA-256 is.
class Hasher
{
public:
    [[nodiscard]] bool matches(QByteArrayView body, QByteArrayView hash)
    {
        static const std::unique_ptr<EVP_MD, decltype(&EVP_MD_free)> sha256{
            EVP_MD_fetch(nullptr, "SHA256", nullptr), &EVP_MD_free};
        std::array<unsigned char, EVP_MAX_MD_SIZE> sum{};
        unsigned int length = 0;
        if (EVP_DigestInit_ex2(m_context.get(), sha256.get(), nullptr) != 1 ||
            EVP_DigestUpdate(m_context.get(), body.data(), static_cast<std::size_t>(body.size())) !=
                1 ||
            EVP_DigestFinal_ex(m_context.get(), sum.data(), &length) != 1) {
            return false;
        }
        constexpr std::string_view digits = "0123456789abcdef";
        std::array<char, std::size_t{2} * EVP_MAX_MD_SIZE> hex{};
        for (std::size_t i = 0; i < length; ++i) {
            hex[2 * i] = digits[sum[i] >> 4U];
            hex[2 * i + 1] = digits[sum[i] & 15U];
        }
        return QByteArrayView(hex.data(), 2 * qsizetype{length}) == hash;
    }

private:
    std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> m_context{EVP_MD_CTX_new(),
                                                                      &EVP_MD_CTX_free};
};

/// An id as a column has it: canonical text, or empty for none.
bool isSame(const QUuid &uuid, QByteArrayView column)
{
    return uuid.isNull() ? column.isEmpty() : idFromCanonical(column) == uuid;
}

bool readRow(const RowBytes &row, Hasher &hasher, VisitScanner &scanner, Visit &visit)
{
    if (!hasher.matches(row.columns[Body], row.columns[Hash])) {
        return false;
    }
    if (!scanner.scan(row.columns[Body], visit)) {
        Result<Visit> slow = visitFromJson(row.columns[Body].toByteArray());
        if (!slow) {
            return false;
        }
        visit = std::move(*slow);
    }
    return isSame(visit.id.uuid, row.columns[Id]) &&
           isSame(visit.valve.uuid, row.columns[ValveColumn]) &&
           isSame(visit.round.uuid, row.columns[RoundColumn]) &&
           isSame(visit.supersedes.uuid, row.columns[Supersedes]) &&
           static_cast<qint64>(visit.stamp.value) == row.stamp;
}

/// All visits of a block; none where any of its rows is not as it should be.
std::vector<Visit> readBlock(const Block &block)
{
    Hasher hasher;
    VisitScanner scanner;
    std::vector<Visit> visits;
    visits.reserve(block.rows.size());
    const QByteArrayView bytes(block.bytes);
    qsizetype begin = 0;
    for (const Block::Row &row : block.rows) {
        RowBytes cut;
        cut.stamp = row.stamp;
        for (std::size_t i = 0; i < columnCount; ++i) {
            cut.columns[i] = bytes.sliced(begin, row.ends[i] - begin);
            begin = row.ends[i];
        }
        if (!readRow(cut, hasher, scanner, visits.emplace_back())) {
            return {};
        }
    }
    return visits;
}

/// Hands blocks to threads, which read them and put the visits together in the order of the blocks.
class Workers
{
public:
    explicit Workers(std::size_t expected)
    {
        m_visits.reserve(expected + roomForMore);
        m_pool.setMaxThreadCount(std::clamp(QThread::idealThreadCount(), 1, mostThreads));
    }

    /// Waits while there are enough of them under way.
    void give(Block block)
    {
        m_room.acquire();
        m_pool.start([this, number = m_given++, given = std::move(block)]() mutable {
            std::vector<Visit> read = readBlock(given);
            const std::scoped_lock lock(m_mutex);
            take(number, std::move(read), given);
            given.clear();
            m_spare.push_back(std::move(given));
            m_room.release();
        });
    }
    /// An empty block, if there is one with the memory of one that was read.
    [[nodiscard]] Block empty()
    {
        const std::scoped_lock lock(m_mutex);
        if (m_spare.empty()) {
            return {};
        }
        Block block = std::move(m_spare.back());
        m_spare.pop_back();
        return block;
    }
    void finish() { m_pool.waitForDone(); }

    /// After finish(): what was read, in the order of the blocks, without those of odd().
    [[nodiscard]] std::vector<Visit> &visits() { return m_visits; }
    /// After finish(): first and last row of blocks with a row that is not as it should be.
    [[nodiscard]] const std::vector<std::pair<qint64, qint64>> &odd() const { return m_odd; }

private:
    void take(std::size_t number, std::vector<Visit> read, const Block &block)
    {
        if (read.empty()) {
            m_odd.emplace_back(block.firstRow, block.lastRow);
        }
        m_waiting.insert_or_assign(number, std::move(read));
        while (!m_waiting.empty() && m_waiting.begin()->first == m_next) {
            std::vector<Visit> &next = m_waiting.begin()->second;
            std::move(next.begin(), next.end(), std::back_inserter(m_visits));
            m_waiting.erase(m_waiting.begin());
            ++m_next;
        }
    }

    std::mutex m_mutex;
    std::vector<Visit> m_visits;
    std::map<std::size_t, std::vector<Visit>> m_waiting; ///< for those before them
    std::size_t m_next = 0;                              ///< the block that m_visits waits for
    std::vector<std::pair<qint64, qint64>> m_odd;
    std::vector<Block> m_spare;
    std::size_t m_given = 0;
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
    sorted.reserve(visits.size() + roomForMore);
    for (const std::size_t i : order) {
        sorted.push_back(std::move(visits[i]));
    }
    visits = std::move(sorted);
}

/// Steps through the table and hands its rows on, a block at a time.
Status giveAll(const QString &connection, Workers &workers, std::size_t expected,
               const Progress &progress)
{
    Result<RawQuery> query = RawQuery::prepare(
        connection,
        "SELECT rowid, id, valve_id, round_id, supersedes, hash, body, stamp FROM visits");
    if (!query) {
        return tl::unexpected(query.error());
    }
    Block block;
    std::size_t given = 0;
    Result<bool> more = query->next();
    while (more && *more) {
        block.add(*query);
        if (block.rows.size() == rowsABlock) {
            given += rowsABlock;
            workers.give(std::move(block));
            block = workers.empty();
            const double done = static_cast<double>(given) / static_cast<double>(expected);
            if (!report(progress, std::min(done, 1.0), QStringLiteral("Reading the visits"))) {
                return fail(ErrorCode::Cancelled,
                            QStringLiteral("Stopped; the project was not opened."));
            }
        }
        more = query->next();
    }
    if (!more) {
        return tl::unexpected(more.error());
    }
    if (!block.rows.empty()) {
        workers.give(std::move(block));
    }
    return {};
}

Status readInBlocks(const QString &connection, const std::function<Status()> &meanwhile,
                    std::size_t expected, const Progress &progress, StoredVisits &all)
{
    Workers workers(expected);
    Status status = giveAll(connection, workers, expected, progress).and_then(meanwhile);
    workers.finish();
    if (!status) {
        return status;
    }
    all.visits = std::move(workers.visits());
    for (const auto &[first, last] : workers.odd()) {
        if (status = readRowByRow(connection, first, last, all); !status) {
            return status;
        }
    }
    return {};
}

/// How many visits the index knows of.
Result<std::size_t> indexedVisits(const QString &connection)
{
    std::size_t count = 0;
    return readRows(connection,
                    QStringLiteral("SELECT COUNT(*) FROM visits INDEXED BY visits_by_stamp"),
                    [&count](const Statement &row) -> Status {
                        count = static_cast<std::size_t>(row.bigint(0));
                        return {};
                    })
        .map([&count] { return count; });
}

/// A page of the table that says that it holds fewer rows than it does loses them without another
/// sign: each that is left still matches its hash. The index knows of them.
Status compareWithIndex(const StoredVisits &all, std::size_t indexed)
{
    // Unreadable ones are in neither list, and are said anyway.
    if (all.unreadable || indexed == all.visits.size() + all.off.size()) {
        return {};
    }
    return fail(ErrorCode::Damaged,
                QStringLiteral("The table of visits has other rows than its index: the file was "
                               "damaged on the disk. Keep it, and recover it row by row."));
}

} // namespace

Result<StoredVisits> readStoredVisits(const QString &connection,
                                      const std::function<Status()> &meanwhile,
                                      const Progress &progress)
{
    const Result<std::size_t> indexed = indexedVisits(connection);
    if (!indexed) {
        return tl::unexpected(indexed.error());
    }
    StoredVisits all;
    Status status;
    if (RawQuery::isPossible(connection)) {
        status = readInBlocks(connection, meanwhile, *indexed, progress, all);
    } else {
        using RowIds = std::numeric_limits<qint64>;
        status = readRowByRow(connection, RowIds::min(), RowIds::max(), all).and_then(meanwhile);
    }
    return status.and_then([&] { return compareWithIndex(all, *indexed); }).map([&all] {
        sortByStamp(all.visits);
        return std::move(all);
    });
}

} // namespace keyround
