// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/print/day_packet.h"

namespace keyround::batch {

namespace {

Outcome<std::vector<DayPart>> partsAsked(const QCommandLineParser &parser, Session &session,
                                         const RoundId &round)
{
    std::vector<DayPart> parts;
    const QString asked = parser.value(QStringLiteral("parts"));
    for (const QString &key : asked.split(QLatin1Char(','), Qt::SkipEmptyParts)) {
        const std::optional<DayPart> part = dayPartFromKey(key.trimmed());
        if (!part) {
            return wrongUse(QObject::tr("--parts: there is no part \"%1\"; there are route, "
                                        "field, load, zones, calls, log")
                                .arg(key.trimmed()));
        }
        parts.push_back(*part);
    }
    return parts.empty() ? packetOf(session, round) : parts;
}

} // namespace

Done runPaper(const QStringList &arguments)
{
    QCommandLineParser parser;
    parser.setApplicationDescription(QObject::tr(
        "paper: everything that a round's day needs on paper, in one PDF: map and route sheet, "
        "field sheets, load list, work zones, call lists; the day log once something was done."));
    addProjectOption(parser);
    addRoundOptions(parser, QStringLiteral("date"));
    parser.addOption({QStringLiteral("parts"),
                      QObject::tr("only these, in this order: route, field, load, zones, calls, "
                                  "log"),
                      QStringLiteral("LIST")});
    parser.addOption(
        {QStringLiteral("out"), QObject::tr("where to write"), QStringLiteral("OUT.pdf")});
    if (auto parsed = parse(parser, QStringLiteral("paper"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    if (!parser.isSet(QStringLiteral("out"))) {
        return wrongUse(QObject::tr("say where to write: --out OUT.pdf"));
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto round = roundOf(parser, session, QStringLiteral("date"));
    if (!round) {
        return tl::unexpected(round.error());
    }
    const auto parts = partsAsked(parser, session, round->id);
    if (!parts) {
        return tl::unexpected(parts.error());
    }
    const QString path = parser.value(QStringLiteral("out"));
    if (Status written = writeDayPacket(session, round->id, *parts, path); !written) {
        return failed(written.error());
    }
    QStringList names;
    for (const DayPart part : *parts) {
        names << wordsFor(part);
    }
    say(QObject::tr("%1: %2").arg(path, names.join(QStringLiteral(", "))));
    return exitDone;
}

} // namespace keyround::batch
