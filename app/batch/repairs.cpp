// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"
#include "app/commands/answer_commands.h"
#include "app/commands/repair_commands.h"
#include "app/print/repair_files.h"
#include "core/reports/repair_table.h"

#include <QJsonArray>

#include <algorithm>

namespace keyround::batch {

namespace {

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(QObject::tr(
        "repairs list|open|send|answer|prove|withdraw: requests to repair what visits and shuts "
        "found.\n"
        "  list      open requests: how urgent, how old, which are overdue\n"
        "  open      make requests of what visits and shuts show and nobody has asked for yet\n"
        "  send      write requests to a file and record that they were sent\n"
        "  answer    take a department's answers back from a table, by number\n"
        "  prove     say yes to the visits that no longer show what was repaired, and to those "
        "that show it again\n"
        "  withdraw  a request that is not to be done"));
    addProjectOption(parser);
    addJsonOption(parser);
    const auto option = [&parser](const char *name, const QString &what, const char *value = "") {
        parser.addOption({QLatin1String(name), what, QLatin1String(value)});
    };
    option("on",
           QObject::tr("the day that ages are counted to, and that is written for what is sent or "
                       "withdrawn; a request is opened on the day of the computer's clock"),
           "YYYY-MM-DD");
    option("all", QObject::tr("list: closed requests too; send: those that were sent before too"));
    option("overdue", QObject::tr("list: only those that are overdue"));
    option("sent", QObject::tr("list: what was sent, when, to whom and how"));
    option("number", QObject::tr("only this request; may be given again"), "NUMBER");
    option("valve", QObject::tr("only this valve's; may be given again"), "NUMBER");
    option("department", QObject::tr("only this department's, by its key"), "KEY");
    addCsvOption(parser, QObject::tr("list, send: a table; send: a file, with columns for the "
                                     "answer"));
    option("xlsx", QObject::tr("the same as a spreadsheet"), "OUT");
    option("pdf", QObject::tr("send: one sheet a request"), "OUT");
    option("to", QObject::tr("send: whom they go to (else whom the department's table names)"),
           "WHOM");
    option("file", QObject::tr("answer: the table (CSV, XLSX, ODS)"), "IN");
    option("dates", QObject::tr("answer: order of dates such as 3/4/2026"), "mdy|dmy");
    option("dry-run", QObject::tr("answer, open, prove: say what would be recorded, and stop"));
    option("why", QObject::tr("withdraw: why it is not to be done"), "WORDS");
}

QString numberOf(Session &session, const ValveId &id)
{
    const Valve *valve = session.valve(id);
    return valve == nullptr ? QString() : valve->number;
}

/// Which valves and departments the options ask for.
class Asked
{
public:
    [[nodiscard]] static Outcome<Asked> from(const QCommandLineParser &parser, Session &session)
    {
        Asked asked;
        for (const QString &number : parser.values(QStringLiteral("valve"))) {
            const Valve *valve = session.valveByNumber(number);
            if (valve == nullptr) {
                return failed(QObject::tr("there is no valve %1").arg(number));
            }
            asked.m_valves << valve->id;
        }
        for (const QString &number : parser.values(QStringLiteral("number"))) {
            const RepairRequest *request = session.repairs().byTypedNumber(number);
            if (request == nullptr) {
                return failed(QObject::tr("there is no repair request %1").arg(number));
            }
            asked.m_requests << request->id;
        }
        asked.m_department = parser.value(QStringLiteral("department"));
        if (!asked.m_department.isEmpty() &&
            session.settings().repairs.department(asked.m_department) == nullptr) {
            return failed(QObject::tr("there is no department \"%1\"").arg(asked.m_department));
        }
        return asked;
    }

    [[nodiscard]] bool takes(const ValveId &valve, const QString &department,
                             const RequestId &request) const
    {
        return (m_valves.isEmpty() || m_valves.contains(valve)) &&
               (m_department.isEmpty() || m_department == department) &&
               (m_requests.isEmpty() || m_requests.contains(request));
    }
    [[nodiscard]] bool namesRequests() const { return !m_requests.isEmpty(); }

private:
    QList<ValveId> m_valves;
    QList<RequestId> m_requests;
    QString m_department;
};

void sayRow(const BacklogRow &row)
{
    const RepairRequest &request = *row.request;
    say(QStringList{request.number, row.valve == nullptr ? QString() : row.valve->number,
                    row.department, wordFor(row.urgency), wordFor(request.state),
                    QObject::tr("%1 days old").arg(row.ageDays),
                    row.daysOverdue > 0 ? QObject::tr("%1 days overdue").arg(row.daysOverdue)
                                        : wordFor(row.bucket),
                    findingsWords(request.findings)}
            .join(QLatin1Char('\t')));
}

Done listSent(const QCommandLineParser &parser, Session &session)
{
    const ReportTable table = sentTable(session.repairs(), session.valves());
    QJsonArray rows;
    for (const QStringList &row : table.rows) {
        say(row.join(QLatin1Char('\t')));
        QJsonObject json;
        for (qsizetype i = 0; i < row.size(); ++i) {
            json[table.columns[i]] = row[i];
        }
        rows.append(json);
    }
    return writeJson(parser, {{QStringLiteral("sent"), rows}});
}

QJsonArray proposalsJson(Session &session, const std::vector<RepairProposal> &proposals)
{
    static constexpr std::array kinds{"open", "join", "prove", "reopen"};
    QJsonArray array;
    for (const RepairProposal &each : proposals) {
        const RepairRequest *request = session.repairs().request(each.request);
        array.append(QJsonObject{
            {QStringLiteral("kind"), QLatin1String(kinds[static_cast<std::size_t>(each.kind)])},
            {QStringLiteral("valve"), numberOf(session, each.valve)},
            {QStringLiteral("department"), each.department},
            {QStringLiteral("number"), request == nullptr ? QString() : request->number},
            {QStringLiteral("findings"), QJsonArray::fromStringList(each.findings)},
            {QStringLiteral("on"), each.on.toString(Qt::ISODate)},
            {QStringLiteral("words"), each.words}});
    }
    return array;
}

/// Written out where --csv or --xlsx asks for it.
Done writeAsked(const QCommandLineParser &parser, Session &session,
                const std::vector<BacklogRow> &rows)
{
    const bool isPrinted = parser.value(QStringLiteral("csv")) == QStringLiteral("-");
    if (isPrinted) {
        const ReportTable table = repairTable(rows, session.units());
        if (auto written =
                writeCsvAsked(parser, {table.columns, {table.rows.begin(), table.rows.end()}});
            !written) {
            return written;
        }
    }
    for (const char *option : {"csv", "xlsx"}) {
        const QString path = parser.value(QLatin1String(option));
        if (!path.isEmpty() && !(isPrinted && path == QStringLiteral("-"))) {
            if (Status written = writeRepairs(session, rows, path); !written) {
                return failed(written.error());
            }
        }
    }
    return exitDone;
}

Done runList(const QCommandLineParser &parser, Session &session, const Asked &asked)
{
    if (parser.isSet(QStringLiteral("sent"))) {
        return listSent(parser, session);
    }
    std::vector<BacklogRow> rows = backlogOf(session, parser.isSet(QStringLiteral("all")));
    std::erase_if(rows, [&](const BacklogRow &row) {
        return !asked.takes(row.request->valve, row.request->department, row.request->id) ||
               (parser.isSet(QStringLiteral("overdue")) && row.daysOverdue <= 0);
    });
    std::ranges::for_each(rows, sayRow);
    const std::vector<RepairProposal> proposals = proposalsOf(session);
    complain(wordsFor(countsOf(rows)));
    if (!proposals.empty()) {
        complain(QObject::tr("%1 more that visits and shuts show and nobody has decided on: "
                             "repairs open, repairs prove")
                     .arg(proposals.size()));
    }
    QJsonObject json = repairJson(rows, session.units());
    json[QStringLiteral("proposed")] = proposalsJson(session, proposals);
    return writeAsked(parser, session, rows).and_then([&](int) { return writeJson(parser, json); });
}

/// Says yes to the proposals of these kinds.
Done accept(const QCommandLineParser &parser, Session &session, const Asked &asked,
            const QList<ProposalKind> &kinds)
{
    std::vector<RepairProposal> proposals = proposalsOf(session);
    std::erase_if(proposals, [&](const RepairProposal &each) {
        return !kinds.contains(each.kind) ||
               !asked.takes(each.valve, each.department, each.request);
    });
    const QJsonArray json = proposalsJson(session, proposals);
    for (const RepairProposal &each : proposals) {
        say(QStringList{numberOf(session, each.valve), each.department, each.words}.join(
            QLatin1Char('\t')));
    }
    const bool isDry = parser.isSet(QStringLiteral("dry-run"));
    if (!isDry) {
        if (const auto taken = acceptProposals(session, proposals); !taken) {
            return failed(taken.error());
        }
        complain(QObject::tr("%1 recorded").arg(proposals.size()));
    }
    return writeJson(parser,
                     {{isDry ? QStringLiteral("proposed") : QStringLiteral("recorded"), json}});
}

/// The one file that is asked for.
Outcome<QString> fileAsked(const QCommandLineParser &parser)
{
    QStringList paths;
    for (const char *option : {"pdf", "csv", "xlsx", "json"}) {
        if (const QString path = parser.value(QLatin1String(option)); !path.isEmpty()) {
            paths << path;
        }
    }
    if (paths.size() != 1) {
        return wrongUse(QObject::tr("send: say where to: one of --pdf, --csv, --xlsx and --json"));
    }
    return paths.front();
}

/// Whom the requests go to: as asked, else whom their department's table names.
Outcome<QString> recipient(const QCommandLineParser &parser, Session &session,
                           const std::vector<BacklogRow> &rows)
{
    QString to = parser.value(QStringLiteral("to"));
    if (to.isEmpty()) {
        QSet<QString> named;
        for (const BacklogRow &row : rows) {
            const RepairDepartment *department =
                session.settings().repairs.department(row.request->department);
            named.insert(department == nullptr ? QString() : department->sendTo);
        }
        to = named.size() == 1 ? *named.begin() : QString();
    }
    if (to.isEmpty()) {
        return wrongUse(QObject::tr("send: say whom the requests go to: --to WHOM"));
    }
    return to;
}

Done runSend(const QCommandLineParser &parser, Session &session, const Asked &asked)
{
    const auto path = fileAsked(parser);
    if (!path) {
        return tl::unexpected(path.error());
    }
    std::vector<BacklogRow> rows = backlogOf(session);
    std::erase_if(rows, [&](const BacklogRow &row) {
        const bool wasSent = row.request->state != RepairState::Open;
        return !asked.takes(row.request->valve, row.request->department, row.request->id) ||
               (wasSent && !asked.namesRequests() && !parser.isSet(QStringLiteral("all")));
    });
    if (rows.empty()) {
        complain(QObject::tr("no request waits to be sent"));
        return exitDone;
    }
    const auto to = recipient(parser, session, rows);
    if (!to) {
        return tl::unexpected(to.error());
    }
    std::vector<RequestId> ids;
    for (const BacklogRow &row : rows) {
        sayRow(row);
        ids.push_back(row.request->id);
    }
    if (Status sent = sendRepairs(session, ids, *to, *path); !sent) {
        return failed(sent.error());
    }
    complain(QObject::tr("%1 sent to %2").arg(ids.size()).arg(*to));
    return exitDone;
}

Done runAnswer(const QCommandLineParser &parser, Session &session)
{
    const QString order = parser.value(QStringLiteral("dates"));
    if (!order.isEmpty() && order != QLatin1String("mdy") && order != QLatin1String("dmy")) {
        return wrongUse(QObject::tr("answer: --dates takes mdy or dmy"));
    }
    std::optional<DateOrder> dates;
    if (!order.isEmpty()) {
        dates = order == QLatin1String("mdy") ? DateOrder::MonthFirst : DateOrder::DayFirst;
    }
    const QString path = parser.value(QStringLiteral("file"));
    if (path.isEmpty()) {
        return wrongUse(QObject::tr("answer: name the table: --file IN"));
    }
    const auto plan = prepareAnswers(session, path, dates);
    if (!plan) {
        return failed(plan.error());
    }
    static constexpr std::array fates{"taken", "known", "blank", "refused"};
    QJsonArray rows;
    for (const PlannedAnswer &each : plan->rows) {
        const QString fate = QLatin1String(fates[static_cast<std::size_t>(each.fate)]);
        say(QStringList{QString::number(each.answer.row), each.answer.number, fate, each.words}
                .join(QLatin1Char('\t')));
        rows.append(QJsonObject{{QStringLiteral("row"), each.answer.row},
                                {QStringLiteral("number"), each.answer.number},
                                {QStringLiteral("fate"), fate},
                                {QStringLiteral("words"), each.words}});
    }
    complain(wordsFor(*plan));
    if (!parser.isSet(QStringLiteral("dry-run")) && plan->taken > 0) {
        if (Status applied = applyAnswers(session, *plan); !applied) {
            return failed(applied.error());
        }
    }
    return writeJson(parser, {{QStringLiteral("rows"), rows},
                              {QStringLiteral("taken"), plan->taken},
                              {QStringLiteral("refused"), plan->refused}});
}

Done runWithdraw(const QCommandLineParser &parser, Session &session, const Asked &asked)
{
    const QString why = parser.value(QStringLiteral("why")).trimmed();
    if (!asked.namesRequests() || why.isEmpty()) {
        return wrongUse(QObject::tr("withdraw: name the request and say why: --number N --why W"));
    }
    std::vector<RepairEvent> events;
    for (const BacklogRow &row : backlogOf(session)) {
        if (asked.takes(row.request->valve, row.request->department, row.request->id)) {
            sayRow(row);
            events.push_back(withdrawnEvent(row.request->id, session.today(), why));
        }
    }
    if (events.empty()) {
        return failed(QObject::tr("the request is closed already"));
    }
    if (Status done = recordRepairs(session, std::move(events), QObject::tr("Withdraw")); !done) {
        return failed(done.error());
    }
    return exitDone;
}

} // namespace

Done runRepairs(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("repairs"), arguments, 1); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const QString what = parser.positionalArguments().value(0);
    static const QStringList known{QStringLiteral("list"),  QStringLiteral("open"),
                                   QStringLiteral("send"),  QStringLiteral("answer"),
                                   QStringLiteral("prove"), QStringLiteral("withdraw")};
    if (!known.contains(what)) {
        return wrongUse(
            QObject::tr("say what to do: repairs %1").arg(known.join(QLatin1Char('|'))));
    }
    auto opened = openSessionOn(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto asked = Asked::from(parser, session);
    if (!asked) {
        return tl::unexpected(asked.error());
    }
    switch (known.indexOf(what)) {
    case 0:
        return runList(parser, session, *asked);
    case 1:
        return accept(parser, session, *asked, {ProposalKind::Open, ProposalKind::Join});
    case 2:
        return runSend(parser, session, *asked);
    case 3:
        return runAnswer(parser, session);
    case 4:
        return accept(parser, session, *asked, {ProposalKind::Prove, ProposalKind::Reopen});
    default:
        return runWithdraw(parser, session, *asked);
    }
}

} // namespace keyround::batch
