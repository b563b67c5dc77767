// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/set_up_words.h"

#include <QSet>

#include <algorithm>

namespace keyround {

namespace {

const QString commonPractice = QStringLiteral("common practice");

QString approachWords(int approach)
{
    switch (approach) {
    case 0:
        return QStringLiteral("Signs for the traffic that passes the lid");
    case 1:
        return QStringLiteral("Signs for the oncoming traffic");
    default:
        break;
    }
    return QStringLiteral("Signs for side street %1").arg(approach - 1);
}

QString nameOf(const ZonePart &part)
{
    switch (part.kind) {
    case ZonePart::Kind::Taper: {
        QString name = wordFor(part.taper);
        name[0] = name[0].toUpper();
        return name;
    }
    case ZonePart::Kind::Buffer:
        return QStringLiteral("Buffer");
    case ZonePart::Kind::WorkSpace:
        break;
    }
    return QStringLiteral("Work space");
}

QString minutesText(double minutes)
{
    return QStringLiteral("%1 min").arg(minutes, 0, 'f', 0);
}

} // namespace

QString headlineOf(const SetUp &setUp)
{
    return QStringLiteral("Typical application %1: %2")
        .arg(setUp.application.number)
        .arg(setUp.application.name);
}

QString signWords(const SetUp &setUp, int approach, UnitSystem units)
{
    std::vector<ZoneSign> signs;
    std::ranges::copy_if(setUp.signs, std::back_inserter(signs),
                         [approach](const ZoneSign &sign) { return sign.approach == approach; });
    std::ranges::sort(signs, std::ranges::greater(), &ZoneSign::before);
    QStringList words;
    for (const ZoneSign &sign : signs) {
        words << QStringLiteral("%1 at %2").arg(sign.legend, lengthAtLeastText(sign.before, units));
    }
    return words.join(QStringLiteral(", "));
}

std::vector<SetUpLine> linesOf(const SetUp &setUp, UnitSystem units)
{
    std::vector<SetUpLine> lines;
    for (const ZonePart &part : setUp.parts) {
        QString amount = lengthAtLeastText(part.length, units);
        if (part.cones > 0) {
            amount +=
                QStringLiteral(", a cone every %1").arg(lengthAtMostText(part.spacing, units));
        }
        lines.push_back({nameOf(part), amount, part.why});
    }
    lines.push_back({QStringLiteral("Cones"), QString::number(setUp.cones),
                     QStringLiteral("counted from the lengths and spacings")});
    QSet<int> approaches;
    int last = 0;
    for (const ZoneSign &sign : setUp.signs) {
        approaches.insert(sign.approach);
        last = std::max(last, sign.approach);
    }
    for (int approach = 0; approach <= last; ++approach) {
        if (approaches.contains(approach)) {
            lines.push_back({approachWords(approach), signWords(setUp, approach, units),
                             QStringLiteral("distances before the transition: table 6B-1; legends: "
                                            "common practice")});
        }
    }
    lines.push_back({QStringLiteral("Flaggers"),
                     setUp.flaggers == 0 ? QStringLiteral("none") : QString::number(setUp.flaggers),
                     commonPractice});
    lines.push_back({QStringLiteral("People"),
                     setUp.flaggers == 0
                         ? QString::number(setUp.people)
                         : QStringLiteral("%1, the flaggers among them").arg(setUp.people),
                     commonPractice});
    lines.push_back({QStringLiteral("Minutes"),
                     QStringLiteral("%1 to set up, %2 to take down")
                         .arg(minutesText(setUp.setUpMinutes), minutesText(setUp.takeDownMinutes)),
                     QStringLiteral("the utility's own habits")});
    lines.push_back(
        {QStringLiteral("Duration"), wordFor(setUp.duration), QStringLiteral("section 6N.01")});
    return lines;
}

QStringList changeWords(const SetUp &setUp)
{
    if (!setUp.changed) {
        return {};
    }
    QStringList words{
        setUp.changed->why.isEmpty()
            ? QStringLiteral("Changed by %1").arg(setUp.changed->by)
            : QStringLiteral("Changed by %1: %2").arg(setUp.changed->by, setUp.changed->why)};
    return words + setUp.changed->what;
}

} // namespace keyround
