// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/read_answers.h"

#include "core/exchange/field_headings.h"
#include "core/exchange/tables.h"
#include "core/exchange/visit_words.h"

#include <QFileInfo>

#include <algorithm>

namespace keyround {

namespace {

/// Where a column stands, by its usual headings, best first; -1: there is none.
qsizetype columnOf(const QStringList &header, std::initializer_list<const char *> names)
{
    for (const char *name : names) {
        for (qsizetype i = 0; i < header.size(); ++i) {
            if (plainHeading(header[i]) == QLatin1String(name)) {
                return i;
            }
        }
    }
    return -1;
}

struct AnswerColumns
{
    qsizetype number, answer, date, by, work, year, turns, size, type;
};

AnswerColumns columnsIn(const QStringList &header)
{
    return {
        columnOf(header, {"number", "request", "requestnumber", "repair", "repairnumber", "no"}),
        columnOf(header, {"answer", "status", "state", "outcome", "result"}),
        columnOf(header, {"answerdate", "date", "doneon", "completed", "completedon", "day"}),
        columnOf(header, {"answerby", "by", "doneby", "crew", "completedby"}),
        columnOf(header, {"answerwork", "work", "workdone", "remarks", "comment", "notes"}),
        columnOf(header, {"newinstallyear", "installyear", "newyear"}),
        columnOf(header, {"newturns", "turns"}),
        columnOf(header, {"newsize", "size"}),
        columnOf(header, {"newtype", "type"})};
}

class AnswerReading
{
public:
    AnswerReading(const AnswerColumns &columns, std::optional<DateOrder> order)
        : m_columns(columns), m_order(order)
    {
    }

    [[nodiscard]] RepairAnswer take(const QStringList &cells, qint64 row) const
    {
        const auto cell = [&cells](qsizetype column) {
            const QString text = column < 0 ? QString() : cells.value(column).trimmed();
            return isBlankValue(text) ? QString() : text;
        };
        RepairAnswer answer;
        answer.row = row;
        answer.number = cell(m_columns.number);
        const QString said = cell(m_columns.answer);
        answer.step = answerStepFrom(said);
        answer.by = cell(m_columns.by);
        answer.words = cell(m_columns.work);
        if (said.isEmpty()) {
            return answer;
        }
        if (!answer.step) {
            answer.fault = QStringLiteral("\"%1\" is no answer that is known: write scheduled, "
                                          "done, replaced, declined or note")
                               .arg(said);
        }
        takeDate(answer, cell(m_columns.date));
        take(answer, cell(m_columns.year), answer.installYear, parseYear);
        take(answer, cell(m_columns.turns), answer.turns, parseTurns);
        take(answer, cell(m_columns.type), answer.type, parseValveType);
        std::optional<NominalSize> size;
        take(answer, cell(m_columns.size), size,
             [](const QString &text) { return parseSize(text); });
        answer.size = size.value_or(NominalSize{});
        answer.isReplaced = saysReplaced(said) || answer.installYear.has_value();
        return answer;
    }

private:
    void takeDate(RepairAnswer &answer, const QString &text) const
    {
        if (const auto date = parseDate(text, m_order); !date) {
            answer.fault = date.error().message;
        } else {
            answer.on = date->value_or(QDate());
        }
    }

    template <typename T, typename Parse>
    void take(RepairAnswer &answer, const QString &text, std::optional<T> &target,
              Parse parse) const
    {
        if (const auto value = parse(text); !value) {
            answer.fault = value.error().message;
        } else {
            target = *value;
        }
    }

    AnswerColumns m_columns;
    std::optional<DateOrder> m_order;
};

Result<std::optional<DateOrder>> orderOf(const CsvTable &table, qsizetype column,
                                         const QString &fileName)
{
    DateOrderFinder finder;
    for (const QStringList &row : table.rows) {
        finder.see(row.value(column).trimmed());
    }
    return finder.order(fileName);
}

} // namespace

Result<std::vector<RepairAnswer>> readRepairAnswers(const QString &path,
                                                    std::optional<DateOrder> dateOrder)
{
    const auto table = readTable(path);
    if (!table) {
        return tl::unexpected(table.error());
    }
    const QString name = QFileInfo(path).fileName();
    const AnswerColumns columns = columnsIn(table->header);
    if (columns.number < 0 || columns.answer < 0) {
        return fail(
            ErrorCode::BadInput,
            QStringLiteral("%1 has no column \"%2\" (its columns: %3). Head the columns "
                           "number, answer, date, by and work.")
                .arg(name, columns.number < 0 ? QStringLiteral("number") : QStringLiteral("answer"),
                     table->header.join(QStringLiteral(", "))));
    }
    if (!dateOrder && columns.date >= 0) {
        const auto found = orderOf(*table, columns.date, name);
        if (!found) {
            return tl::unexpected(found.error());
        }
        dateOrder = *found;
    }
    const AnswerReading reading(columns, dateOrder);
    std::vector<RepairAnswer> answers;
    for (qsizetype i = 0; i < table->rows.size(); ++i) {
        const bool isEmpty = std::ranges::all_of(
            table->rows[i], [](const QString &cell) { return cell.trimmed().isEmpty(); });
        if (!isEmpty) {
            answers.push_back(reading.take(table->rows[i], i + 1));
        }
    }
    return answers;
}

} // namespace keyround
