// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/load_sheet.h"

#include <algorithm>

namespace keyround {

namespace {

QString stopWords(const Round &round, const LoadLine &line)
{
    if (line.stops.size() == round.stops.size() && line.stops.size() > 1 &&
        (line.deciding.empty() || line.deciding.size() == line.stops.size())) {
        return QStringLiteral("all");
    }
    QStringList words;
    for (const ValveId &id : line.stops) {
        const auto at = std::ranges::find(round.stops, id);
        const auto place = QString::number(at - round.stops.begin() + 1);
        const bool decides = line.deciding.size() < line.stops.size() &&
                             std::ranges::find(line.deciding, id) != line.deciding.end();
        words << (decides ? QStringLiteral("%1 (decides)").arg(place) : place);
    }
    return words.join(QStringLiteral(", "));
}

} // namespace

Sheet loadSheet(const Round &round, const std::vector<LoadLine> &lines, const QString &utility)
{
    Sheet sheet;
    sheet.title = QStringLiteral("Load list");
    sheet.headerLines = {QStringLiteral("%1, %2, %3 stops")
                             .arg(round.date.toString(Qt::ISODate), round.crew)
                             .arg(round.stops.size())};
    if (!utility.isEmpty()) {
        sheet.headerLines.prepend(utility);
    }
    sheet.table.title = sheet.title;
    sheet.table.columns = {QStringLiteral("What"), QStringLiteral("How many"),
                           QStringLiteral("For stops"), QStringLiteral("Loaded")};
    sheet.penColumnsFrom = 3;
    for (const LoadLine &line : lines) {
        sheet.table.rows.push_back({line.what, line.amount, stopWords(round, line), QString()});
    }
    sheet.notes = {
        QStringLiteral("Cones, signs, paddles and people: what the stop that needs most takes; "
                       "they are picked up and carried on. Lids, sheets and notices are added up."),
        QStringLiteral("Counts of cones follow published spacings; legends of signs, flaggers and "
                       "people are common practice.")};
    sheet.cautions = {QStringLiteral("The road authority's rules, the permit and the person on "
                                     "site decide what a stop needs.")};
    return sheet;
}

} // namespace keyround
