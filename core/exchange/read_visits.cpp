// SPDX-License-Identifier: GPL-3.0-or-later
// Past visits from a table. A time without an offset is kept as written, with offset 0: the file
// does not say its zone, and a guess from the machine would give one row two identities.
#include "core/exchange/row_parsing.h"
#include "core/exchange/visit_words.h"

namespace keyround {

namespace {

Moment momentOf(const QDate &date, const QTime &time, int offsetSeconds)
{
    return Moment::from(QDateTime(date, time, Qt::OffsetFromUTC, offsetSeconds));
}

QByteArray contentOf(const QString &valve, const Visit &visit)
{
    QStringList parts{valve, visit.arrived.iso()};
    for (const Pass &pass : visit.passes) {
        parts << QStringLiteral("%1%2")
                     .arg(pass.direction == PassDirection::Closing ? QLatin1Char('c')
                                                                   : QLatin1Char('o'))
                     .arg(pass.turns.value);
    }
    for (const Problem problem : visit.problems) {
        parts << QLatin1String(infoOf(problem).key);
    }
    parts << visit.otherProblem << visit.remarks;
    return parts.join(QChar(u'\x1f')).toUtf8();
}

class VisitReading
{
public:
    VisitReading(const LayerReader &reader, std::optional<DateOrder> order)
        : m_reader(reader), m_order(order)
    {
    }

    void take(const SourceRow &row)
    {
        VisitRow taken;
        taken.valveNumber = row.text(QStringLiteral("valve"));
        if (taken.valveNumber.isEmpty()) {
            reject(row, QStringLiteral("valve"), QStringLiteral("the row has no valve number"));
            return;
        }
        if (!takeTimes(row, taken.visit)) {
            return;
        }
        takePasses(row, taken.visit);
        takeWords(row, taken.visit);
        taken.visit.id = VisitId{uuidFromContent(contentOf(taken.valveNumber, taken.visit))};
        const auto ms = std::max<std::int64_t>(taken.visit.arrived.utcMilliseconds, 0);
        taken.visit.stamp = HybridTime{static_cast<std::uint64_t>(ms) << 16U};
        const qint64 first = m_seen.take(taken.visit.id.text(), row.number());
        if (first != 0) {
            reject(row, QStringLiteral("valve"),
                   QStringLiteral("row %1 says the same; that row was kept").arg(first));
            return;
        }
        taken.row = row.number();
        m_result.rows.push_back(std::move(taken));
    }

    [[nodiscard]] Imported<VisitRow> &result() { return m_result; }

private:
    void reject(const SourceRow &row, const QString &field, const QString &reason)
    {
        m_result.rejected.push_back(m_reader.note(row, field, reason));
    }

    /// False when the row was rejected: a visit without its day is none.
    bool takeTimes(const SourceRow &row, Visit &visit)
    {
        const auto when = parseWhen(row.text(QStringLiteral("date")), m_order);
        if (!when || !when->has_value()) {
            reject(row, QStringLiteral("date"),
                   when ? QStringLiteral("the row has no date") : when.error().message);
            return false;
        }
        const auto noted = [&](const QString &field, auto parse) {
            return parsedField(m_reader, row, field, m_result.warnings, parse);
        };
        const auto time = noted(QStringLiteral("time"), parseTime);
        const int offset = (*when)->offsetSeconds.value_or(0);
        const QTime arrived = time.value_or((*when)->time.value_or(QTime(0, 0)));
        visit.arrived = momentOf((*when)->date, arrived, offset);
        visit.finished = visit.arrived;
        const QString finishedField = QStringLiteral("finished");
        if (row.text(finishedField).contains(QLatin1Char('-')) ||
            row.text(finishedField).contains(QLatin1Char('/'))) {
            const auto end = noted(
                finishedField, [this](const QString &text) { return parseWhen(text, m_order); });
            if (end) {
                visit.finished = momentOf(end->date, end->time.value_or(arrived),
                                          end->offsetSeconds.value_or(offset));
            }
        } else if (const auto end = noted(finishedField, parseTime)) {
            // A visit that ends earlier in the day than it began went past midnight.
            visit.finished = momentOf((*when)->date.addDays(*end < arrived ? 1 : 0), *end, offset);
        }
        return true;
    }

    void takePasses(const SourceRow &row, Visit &visit)
    {
        const auto take = [&](const QString &field, PassDirection direction) {
            const auto turns = parsedField(m_reader, row, field, m_result.warnings, parseTurns);
            if (turns) {
                visit.passes.push_back({direction, *turns});
            }
        };
        take(QStringLiteral("turns_closing"), PassDirection::Closing);
        take(QStringLiteral("turns_opening"), PassDirection::Opening);
    }

    void takeWords(const SourceRow &row, Visit &visit)
    {
        const ProblemWords words = parseProblems(row.text(QStringLiteral("problems")));
        visit.problems = words.problems;
        visit.otherProblem = words.other;
        const auto standing = [&](const QString &field) {
            return parsedField(m_reader, row, field, m_result.warnings, parseStanding)
                .value_or(Standing{});
        };
        visit.found = standing(QStringLiteral("found"));
        visit.left = standing(QStringLiteral("left"));
        visit.crew = row.text(QStringLiteral("crew"));
        visit.remarks = row.text(QStringLiteral("remarks"));
        visit.recordedBy = row.text(QStringLiteral("who"));
    }

    const LayerReader &m_reader;
    std::optional<DateOrder> m_order;
    FirstOfEach m_seen;
    Imported<VisitRow> m_result;
};

/// The order of the file's dates when nobody has said it: from the dates themselves, or an error
/// that asks.
Result<std::optional<DateOrder>> orderOfDates(LayerReader &reader)
{
    DateOrderFinder finder;
    std::vector<RowNote> ignored; // the second reading rejects them again
    const Status read = reader.readRows({}, ignored, [&finder](const SourceRow &row) {
        finder.see(row.text(QStringLiteral("date")));
    });
    return read ? finder.order(reader.fileName()) : tl::unexpected(read.error());
}

} // namespace

Result<Imported<VisitRow>> readVisits(const ReadRequest &request, const Progress &progress)
{
    auto reader = LayerReader::open(LayerKind::Visits, request);
    if (!reader) {
        return tl::unexpected(reader.error());
    }
    std::vector<RowNote> notes = reader->notes();
    std::optional<DateOrder> order = request.dateOrder;
    if (!order) {
        const auto found = orderOfDates(*reader);
        if (!found) {
            return tl::unexpected(found.error());
        }
        order = *found;
        if (order) {
            notes.push_back({0, reader->columns().value(QStringLiteral("date")), QString(),
                             *order == DateOrder::MonthFirst
                                 ? QStringLiteral("dates were read month first, as other dates in "
                                                  "the file show")
                                 : QStringLiteral("dates were read day first, as other dates in "
                                                  "the file show")});
        }
    }
    VisitReading reading(*reader, order);
    Imported<VisitRow> &result = reading.result();
    const Status read = reader->readRows(progress, result.rejected,
                                         [&reading](const SourceRow &row) { reading.take(row); });
    if (!read) {
        return tl::unexpected(read.error());
    }
    result.warnings.insert(result.warnings.begin(), notes.begin(), notes.end());
    result.columns = reader->columns();
    return std::move(result);
}

} // namespace keyround
