// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/review_request.h"

#include "app/charts/chart.h"
#include "app/charts/condition_picture.h"
#include "core/condition/series.h"
#include "core/reports/condition_tables.h"

#include <QJsonArray>

#include <array>

namespace keyround::batch {

namespace {

constexpr std::array conditions{Condition::Serviceable, Condition::Defect,
                                Condition::DoesNotShut, Condition::DoesNotTurn,
                                Condition::CannotReach, Condition::NeverVisited};

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("condition: how many valves stood in each condition at the end of each "
                    "period, and which went out of condition."));
    addProjectOption(parser);
    parser.addOption({QStringLiteral("from"), QObject::tr("first day (else the first visit)"),
                      QStringLiteral("DATE")});
    parser.addOption(
        {QStringLiteral("to"), QObject::tr("last day (else today)"), QStringLiteral("DATE")});
    parser.addOption({QStringLiteral("by"), QObject::tr("length of the periods"),
                      QStringLiteral("month|quarter|year"), QStringLiteral("month")});
    addJsonOption(parser);
    addCsvOption(parser, QObject::tr("write the series as CSV"));
    parser.addOption(
        {QStringLiteral("png"), QObject::tr("write the chart"), QStringLiteral("OUT.png")});
}

QJsonObject toJson(Session &session, const std::vector<PeriodCounts> &series,
                   const std::vector<ConditionChange> &changes)
{
    QJsonArray periods;
    for (const PeriodCounts &period : series) {
        QJsonObject json{{QStringLiteral("period"), period.period}};
        for (const Condition condition : conditions) {
            json.insert(keyFor(condition), period.of(condition));
        }
        periods.append(json);
    }
    QJsonArray wentOutJson;
    for (const ConditionChange &change : changes) {
        wentOutJson.append(
            QJsonObject{{QStringLiteral("valve"), session.valve(change.valve)->number},
                        {QStringLiteral("date"), change.date.toString(Qt::ISODate)},
                        {QStringLiteral("from"), keyFor(change.from)},
                        {QStringLiteral("to"), keyFor(change.to)}});
    }
    return {{QStringLiteral("series"), periods}, {QStringLiteral("went_out"), wentOutJson}};
}

Done writeFiles(const QCommandLineParser &parser, const std::vector<PeriodCounts> &series)
{
    const ReportTable table = conditionTable(series);
    if (auto written =
            writeCsvAsked(parser, {table.columns, {table.rows.begin(), table.rows.end()}});
        !written) {
        return written;
    }
    if (parser.isSet(QStringLiteral("png"))) {
        ChartPicture picture = conditionPicture(series);
        picture.title = QObject::tr("Condition of the valves");
        if (const Status written = savePng(picture, parser.value(QStringLiteral("png")));
            !written) {
            return failed(written.error());
        }
    }
    return exitDone;
}

} // namespace

Done runCondition(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("condition"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const auto length = lengthOption(parser);
    if (!length) {
        return tl::unexpected(length.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto span = spanOption(parser, session);
    if (!span) {
        return tl::unexpected(span.error());
    }
    const auto series = conditionSeries(session.valves(), session.histories(), *span, *length);
    const auto changes = wentOut(session.valves(), session.histories(), *span);
    for (const ConditionChange &change : changes) {
        say(QStringLiteral("%1\t%2\t%3 -> %4")
                .arg(change.date.toString(Qt::ISODate), session.valve(change.valve)->number,
                     wordFor(change.from), wordFor(change.to)));
    }
    if (Done written = writeFiles(parser, series); !written) {
        return written;
    }
    return writeJson(parser, toJson(session, series, changes));
}

} // namespace keyround::batch
