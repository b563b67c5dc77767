// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/repair_table.h"

#include "core/inventory/valve_fields.h"
#include "core/reports/valve_words.h"

#include <QJsonArray>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

QString iso(const QDate &date)
{
    return date.toString(Qt::ISODate);
}

constexpr std::array repairColumns{"number",
                                   "valve",
                                   "what",
                                   "where",
                                   "latitude",
                                   "longitude",
                                   "department",
                                   "urgency",
                                   "state",
                                   "found",
                                   "since",
                                   "opened",
                                   "age_days",
                                   "due_on",
                                   "days_overdue",
                                   "services",
                                   "critical",
                                   "visits",
                                   "sent_on",
                                   "sent_to",
                                   "scheduled_for",
                                   "done_on",
                                   "done_by",
                                   "work",
                                   "answer",
                                   "answer_date",
                                   "answer_by",
                                   "answer_work",
                                   "new_install_year",
                                   "new_turns",
                                   "new_size",
                                   "new_type"};
constexpr int answerColumns = 8; // the last ones, left empty for the department

QStringList placeCells(const Valve *valve)
{
    if (valve == nullptr || !valve->place.isValid()) {
        return {QString(), QString()};
    }
    return {QString::number(valve->place.latitude, 'f', 6),
            QString::number(valve->place.longitude, 'f', 6)};
}

/// Keys and values, without the answer's columns.
QStringList cellsOf(const BacklogRow &row, UnitSystem units)
{
    const RepairRequest &request = *row.request;
    const Valve *valve = row.valve;
    const RepairEvent *sent = request.lastOf(RepairStep::Sent);
    QStringList cells{request.number, valve == nullptr ? QString() : valve->number,
                      valve == nullptr ? QString() : whatWords(*valve, units),
                      valve == nullptr ? QString() : whereWords(*valve, units)};
    cells << placeCells(valve);
    cells << row.department << wordFor(row.urgency) << keyFor(request.state)
          << findingsWords(request.findings) << iso(request.since)
          << iso(request.opened.localDate()) << QString::number(row.ageDays) << iso(row.dueOn)
          << (row.dueOn.isValid() ? QString::number(row.daysOverdue) : QString())
          << QString::number(row.services)
          << (valve == nullptr ? QString() : valve->criticalCustomers)
          << QString::number(request.visits.size() + request.ticks.size())
          << (sent == nullptr ? QString() : iso(sent->on))
          << (sent == nullptr ? QString() : sent->party) << iso(request.scheduledFor)
          << iso(request.doneOn) << request.doneBy << request.work;
    return cells;
}

QJsonObject eventJson(const RepairEvent &event)
{
    QJsonObject json{{QStringLiteral("step"), keyFor(event.step)},
                     {QStringLiteral("at"), event.at.iso()},
                     {QStringLiteral("person"), event.person}};
    const auto put = [&json](const char *key, const QString &text) {
        if (!text.isEmpty()) {
            json[QLatin1String(key)] = text;
        }
    };
    put("on", iso(event.on));
    put("party", event.party);
    put("how", event.how);
    put("words", event.words);
    put("visit", event.visit.isNull() ? QString() : event.visit.text());
    if (!event.findings.isEmpty()) {
        json[QStringLiteral("findings")] = QJsonArray::fromStringList(event.findings);
    }
    return json;
}

} // namespace

ReportTable repairTable(const std::vector<BacklogRow> &rows, UnitSystem units)
{
    ReportTable table;
    table.title = QStringLiteral("Repair requests");
    for (const char *column : repairColumns) {
        table.columns << QLatin1String(column);
    }
    for (const BacklogRow &row : rows) {
        QStringList cells = cellsOf(row, units);
        cells.resize(table.columns.size());
        table.rows.push_back(std::move(cells));
    }
    return table;
}

QJsonObject repairJson(const std::vector<BacklogRow> &rows, UnitSystem units)
{
    QJsonArray requests;
    for (const BacklogRow &row : rows) {
        const QStringList cells = cellsOf(row, units);
        QJsonObject json;
        for (std::size_t i = 0; i < repairColumns.size() - answerColumns; ++i) {
            json[QLatin1String(repairColumns[i])] = cells[static_cast<qsizetype>(i)];
        }
        json[QStringLiteral("age_days")] = row.ageDays;
        json[QStringLiteral("services")] = row.services;
        json[QStringLiteral("age_bucket")] = keyFor(row.bucket);
        if (row.dueOn.isValid()) {
            json[QStringLiteral("days_overdue")] = row.daysOverdue;
        }
        json[QStringLiteral("findings")] = QJsonArray::fromStringList(row.request->findings);
        QJsonArray life;
        for (const RepairEvent &event : row.request->life) {
            life.append(eventJson(event));
        }
        json[QStringLiteral("life")] = life;
        requests.append(json);
    }
    const BacklogCounts counts = countsOf(rows);
    return {{QStringLiteral("requests"), requests},
            {QStringLiteral("open"), counts.open},
            {QStringLiteral("overdue"), counts.overdue},
            {QStringLiteral("to_prove"), counts.toProve}};
}

ReportTable sentTable(const RepairBook &book, const std::vector<Valve> &valves)
{
    QHash<ValveId, QString> numbers;
    for (const Valve &valve : valves) {
        numbers.insert(valve.id, valve.number);
    }
    struct SentRow
    {
        HybridTime stamp;
        QStringList cells;
    };
    std::vector<SentRow> sent;
    for (const RepairRequest &request : book.requests) {
        for (const RepairEvent &event : request.life) {
            if (event.step == RepairStep::Sent) {
                sent.push_back({event.stamp,
                                {iso(event.on), request.number, numbers.value(request.valve),
                                 event.party, event.how, event.person}});
            }
        }
    }
    std::ranges::stable_sort(sent, std::ranges::greater{}, &SentRow::stamp);
    ReportTable table{QStringLiteral("Requests that were sent"),
                      {QStringLiteral("sent_on"), QStringLiteral("number"), QStringLiteral("valve"),
                       QStringLiteral("to"), QStringLiteral("how"), QStringLiteral("by")},
                      {}};
    for (SentRow &row : sent) {
        table.rows.push_back(std::move(row.cells));
    }
    return table;
}

QString lifeWords(const RepairEvent &event)
{
    QString words = wordFor(event.step);
    const auto with = [&words](const QString &pattern, const QString &text) {
        if (!text.isEmpty()) {
            words += pattern.arg(text);
        }
    };
    switch (event.step) {
    case RepairStep::Sent:
        with(QStringLiteral(" to %1"), event.party);
        with(QStringLiteral(" as %1"), event.how);
        break;
    case RepairStep::Scheduled:
        with(QStringLiteral(" for %1"), iso(event.on));
        with(QStringLiteral(" with %1"), event.party);
        break;
    case RepairStep::Done:
        with(QStringLiteral(" on %1"), iso(event.on));
        with(QStringLiteral(" by %1"), event.party);
        break;
    default:
        with(QStringLiteral(", seen %1"),
             event.visit.isNull() && event.tick.isNull() ? QString() : iso(event.on));
        break;
    }
    if (event.step != RepairStep::Proved) {
        with(QStringLiteral(": %1"), findingsWords(event.findings));
    }
    with(QStringLiteral(": %1"), event.words);
    if (!event.replacement.isNull()) {
        words += QStringLiteral("; valve replaced");
    }
    return words;
}

} // namespace keyround
