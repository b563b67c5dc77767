// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/zone_sheet.h"

#include "core/workzone/set_up_words.h"

namespace keyround {

namespace {

QStringList withoutEmpty(QStringList lines)
{
    lines.removeAll(QString());
    return lines;
}

QString lengthOfPart(const SetUp &setUp, ZonePart::Kind kind, UnitSystem units)
{
    for (const ZonePart &part : setUp.parts) {
        if (part.kind == kind && part.taper != TaperKind::Downstream) {
            return lengthAtLeastText(part.length, units);
        }
    }
    return QStringLiteral("none");
}

QStringList rowOf(const RoundZone &zone, const QString &number, UnitSystem units)
{
    const Valve &valve = zone.stop.valve;
    if (!zone.stop.setUp) {
        return {number,      valve.number,
                zone.street, QStringLiteral("not worked out: %1").arg(zone.notWorkedOut),
                QString(),   QString(),
                QString(),   QString(),
                QString(),   QString(),
                QString()};
    }
    const SetUp &setUp = *zone.stop.setUp;
    return {number,
            valve.number,
            zone.street,
            headlineOf(setUp),
            QString::number(setUp.cones),
            QString::number(setUp.signs.size()),
            QString::number(setUp.flaggers),
            QString::number(setUp.people),
            lengthOfPart(setUp, ZonePart::Kind::Taper, units),
            lengthOfPart(setUp, ZonePart::Kind::Buffer, units),
            changeWords(setUp).join(QStringLiteral("; "))};
}

QStringList decidersWords()
{
    return {QStringLiteral("This helps a trained person decide. The road authority's rules, the "
                           "permit and the person on site decide what is set up.")};
}

} // namespace

QString siteWords(const SiteFacts &facts, UnitSystem units)
{
    QStringList words;
    const auto add = [&](SiteQuestion question, const QString &form) {
        if (const auto answer = answerIn(facts, question)) {
            words << form.arg(answerText(question, *answer, units));
        }
    };
    const auto addIf = [&](SiteQuestion question, const char *yes, const char *no) {
        if (const auto answer = answerIn(facts, question)) {
            words << QString::fromLatin1(*answer > 0.5 ? yes : no);
        }
    };
    add(SiteQuestion::Lid, QStringLiteral("lid %1"));
    add(SiteQuestion::Speed, QStringLiteral("%1"));
    add(SiteQuestion::Setting, QStringLiteral("%1"));
    add(SiteQuestion::Lanes, QStringLiteral("%1 lanes"));
    add(SiteQuestion::LaneWidth, QStringLiteral("lanes of %1"));
    addIf(SiteQuestion::OneWay, "one-way", "two-way");
    addIf(SiteQuestion::Divided, "divided", "not divided");
    if (const auto shoulder = answerIn(facts, SiteQuestion::ShoulderWidth)) {
        const QString width = answerText(SiteQuestion::ShoulderWidth, *shoulder, units);
        words << (*shoulder > 0 ? QStringLiteral("shoulder of %1").arg(width) : width);
    }
    addIf(SiteQuestion::LowVolume, "low traffic", "traffic not low");
    addIf(SiteQuestion::Sight, "good sight past the work", "no good sight past the work");
    return words.join(QStringLiteral(", "));
}

Sheet zoneSheet(const Valve &valve, const QString &street, const SiteFacts &facts,
                const SetUp &setUp, const QString &utility, UnitSystem units)
{
    Sheet sheet;
    sheet.title = QStringLiteral("Work zone, valve %1").arg(valve.number);
    sheet.headerLines = withoutEmpty(
        {utility, withoutEmpty({street, valve.address}).join(QStringLiteral("; ")),
         QStringLiteral("%1 (offered, not certified: %2)").arg(headlineOf(setUp), setUp.why),
         siteWords(facts, units)});
    sheet.headerLines += changeWords(setUp);
    sheet.table.title = sheet.title;
    sheet.table.columns = {QStringLiteral("What"), QStringLiteral("How much"),
                           QStringLiteral("Where it is from")};
    for (const SetUpLine &line : linesOf(setUp, units)) {
        sheet.table.rows.push_back({line.what, line.amount, line.why});
    }
    sheet.notes = setUp.doubts;
    sheet.notes << QStringLiteral(
        "Tapers, buffer and sign distances: MUTCD, 11th edition, Part 6, tables 6B-1 to 6B-4, "
        "read from an unofficial copy of them. They are the shortest that the tables allow.");
    sheet.cautions = setUp.cautions;
    return sheet;
}

Sheet roundZoneSheet(const Round &round, const std::vector<RoundZone> &zones,
                     const QString &utility, UnitSystem units)
{
    Sheet sheet;
    sheet.title = QStringLiteral("Work zones of the round");
    sheet.headerLines = withoutEmpty(
        {utility, QStringLiteral("%1, %2").arg(round.date.toString(Qt::ISODate), round.crew)});
    sheet.table.title = sheet.title;
    sheet.table.columns = {
        QStringLiteral("Stop"),           QStringLiteral("Valve"),  QStringLiteral("Street"),
        QStringLiteral("Set-up offered"), QStringLiteral("Cones"),  QStringLiteral("Signs"),
        QStringLiteral("Flaggers"),       QStringLiteral("People"), QStringLiteral("Taper"),
        QStringLiteral("Buffer"),         QStringLiteral("Changed")};
    int number = 0;
    for (const RoundZone &zone : zones) {
        sheet.table.rows.push_back(rowOf(zone, QString::number(++number), units));
    }
    sheet.cautions = decidersWords();
    return sheet;
}

} // namespace keyround
