// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/commands/import_layer.h"

#include <QJsonArray>

namespace keyround::batch {

namespace {

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(
        QObject::tr("load: brings a layer in from CSV, XLSX, ODS, GeoPackage, Shapefile, GeoJSON, "
                    "FileGDB or (streets) OpenStreetMap. Rows that cannot be taken are listed; the "
                    "rest come in, all or nothing."));
    parser.addPositionalArgument(
        QStringLiteral("KIND"),
        QStringLiteral("valves|streets|mains|hydrants|services|sources|visits"));
    parser.addPositionalArgument(QStringLiteral("SOURCE"), QObject::tr("the file"));
    addProjectOption(parser);
    parser.addOption(
        {QStringLiteral("layer"), QObject::tr("which layer of the file"), QStringLiteral("NAME")});
    parser.addOption({QStringLiteral("map"),
                      QObject::tr("which column fills a field; may be given again and again"),
                      QStringLiteral("field=column")});
    parser.addOption({QStringLiteral("crs"),
                      QObject::tr("coordinate system, for files that do not say theirs"),
                      QStringLiteral("EPSG:n")});
    parser.addOption({QStringLiteral("dates"),
                      QObject::tr("order of day and month in dates such as 3/4/2025"),
                      QStringLiteral("mdy|dmy")});
    parser.addOption({QStringLiteral("dry-run"), QObject::tr("look, but write nothing")});
    addJsonOption(parser);
}

Outcome<std::optional<int>> epsgFrom(QString text)
{
    if (text.isEmpty()) {
        return std::optional<int>();
    }
    if (text.startsWith(QStringLiteral("EPSG:"), Qt::CaseInsensitive)) {
        text.remove(0, 5);
    }
    bool isNumber = false;
    const int epsg = text.toInt(&isNumber);
    if (!isNumber) {
        return wrongUse(
            QObject::tr("--crs takes an EPSG code such as EPSG:4326, not \"%1\"").arg(text));
    }
    return std::optional<int>(epsg);
}

Outcome<std::optional<DateOrder>> dateOrderFrom(const QString &text)
{
    if (text == QStringLiteral("mdy")) {
        return std::optional(DateOrder::MonthFirst);
    }
    if (text == QStringLiteral("dmy")) {
        return std::optional(DateOrder::DayFirst);
    }
    if (!text.isEmpty()) {
        return wrongUse(QObject::tr("--dates takes mdy or dmy, not \"%1\"").arg(text));
    }
    return std::optional<DateOrder>();
}

Outcome<ReadRequest> requestFrom(const QCommandLineParser &parser)
{
    ReadRequest request;
    request.path = parser.positionalArguments().value(1);
    request.layer = parser.value(QStringLiteral("layer"));
    for (const QString &pair : parser.values(QStringLiteral("map"))) {
        const auto sign = pair.indexOf(QLatin1Char('='));
        if (sign < 1) {
            return wrongUse(QObject::tr("--map takes field=column, not \"%1\"").arg(pair));
        }
        request.columns.insert(pair.left(sign), pair.mid(sign + 1));
    }
    const auto epsg = epsgFrom(parser.value(QStringLiteral("crs")));
    if (!epsg) {
        return tl::unexpected(epsg.error());
    }
    const auto order = dateOrderFrom(parser.value(QStringLiteral("dates")));
    if (!order) {
        return tl::unexpected(order.error());
    }
    request.epsg = *epsg;
    request.dateOrder = *order;
    return request;
}

QJsonObject toJson(const ImportPlan &plan, bool written)
{
    QJsonObject columns;
    for (const auto &[field, column] : plan.columns.asKeyValueRange()) {
        columns.insert(field, column);
    }
    return {{QStringLiteral("kind"), keyFor(plan.kind)},
            {QStringLiteral("source"), plan.request.path},
            {QStringLiteral("written"), written},
            {QStringLiteral("columns"), columns},
            {QStringLiteral("added"), plan.diff.added.size()},
            {QStringLiteral("changed"), plan.diff.changed.size()},
            {QStringLiteral("unchanged"), plan.diff.unchanged.size()},
            {QStringLiteral("missing"), QJsonArray::fromStringList(plan.diff.missing)},
            {QStringLiteral("rejected"), notesJson(plan.rejected)},
            {QStringLiteral("warnings"), notesJson(plan.warnings)}};
}

} // namespace

Done runLoad(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("load"), arguments, 2); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const auto kind = layerKindFromKey(parser.positionalArguments().value(0));
    if (!kind || parser.positionalArguments().size() != 2) {
        return wrongUse(QObject::tr("say what to load and from where: load "
                                    "valves|streets|mains|hydrants|services|sources|visits "
                                    "SOURCE"));
    }
    const auto request = requestFrom(parser);
    if (!request) {
        return tl::unexpected(request.error());
    }
    auto session = openSession(parser);
    if (!session) {
        return tl::unexpected(session.error());
    }
    const auto plan = prepareImport(**session, *kind, *request);
    if (!plan) {
        return failed(plan.error());
    }
    complainOf(plan->warnings, QObject::tr("note"));
    complainOf(plan->rejected, QObject::tr("not taken"));
    if (plan->rowCount() == 0 && !plan->rejected.empty()) {
        if (Done listed = writeJson(parser, toJson(*plan, false)); !listed) {
            return listed;
        }
        return failed(QObject::tr("No row of %1 could be taken; nothing was written.")
                          .arg(plan->request.path));
    }
    const bool write = !parser.isSet(QStringLiteral("dry-run"));
    if (write) {
        if (const Status applied = applyImport(**session, *plan); !applied) {
            return failed(applied.error());
        }
    }
    say(QStringLiteral("%1: %2%3")
            .arg(keyFor(*kind), summaryOf(*plan),
                 write ? QString() : QObject::tr(" (nothing written)")));
    return writeJson(parser, toJson(*plan, write));
}

} // namespace keyround::batch
