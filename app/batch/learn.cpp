// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/commands/learn_times.h"

#include <QJsonArray>

namespace keyround::batch {

namespace {

QJsonObject toJson(const LearnedFigure &figure)
{
    const auto orNull = [](const std::optional<double> &value) {
        return value ? QJsonValue(*value) : QJsonValue();
    };
    return {{QStringLiteral("median"), orNull(figure.learned)},
            {QStringLiteral("from"), figure.from},
            {QStringLiteral("lower_quartile"), figure.lowerQuartile},
            {QStringLiteral("upper_quartile"), figure.upperQuartile},
            {QStringLiteral("set"), orNull(figure.set)}};
}

QJsonObject with(QJsonObject json, const QString &key, const QJsonValue &value)
{
    json.insert(key, value);
    return json;
}

QString hourText(int hour)
{
    return hour < 0 ? QObject::tr("all hours")
                    : QStringLiteral("%1:00").arg(hour, 2, 10, QLatin1Char('0'));
}

QString streetText(StreetClass street)
{
    return street == StreetClass::Unknown ? QObject::tr("all streets") : wordFor(street);
}

QJsonObject toJson(const LearnedTimes &times)
{
    QJsonArray stops;
    for (const LearnedTimes::Minutes &each : times.stops) {
        stops.append(with(toJson(each.minutes), QStringLiteral("kind"), wordsFor(each.kind)));
    }
    QJsonArray driving;
    for (const LearnedTimes::Driving &each : times.driving) {
        driving.append(
            with(with(toJson(each.factor), QStringLiteral("street"), streetText(each.street)),
                 QStringLiteral("hour"), each.hour < 0 ? QJsonValue() : QJsonValue(each.hour)));
    }
    return {{QStringLiteral("minutes_without_turning"), stops},
            {QStringLiteral("seconds_a_turn"), toJson(times.secondsPerTurn)},
            {QStringLiteral("driving_factor"), driving}};
}

void sayFigure(const QString &what, const LearnedFigure &figure, int digits)
{
    const auto number = [digits](double value) { return QString::number(value, 'f', digits); };
    QString line = figure.learned
                       ? QStringLiteral("%1\t%2\t%3-%4\t")
                             .arg(what, number(*figure.learned), number(figure.lowerQuartile),
                                  number(figure.upperQuartile))
                       : QStringLiteral("%1\t-\t-\t").arg(what);
    line += QObject::tr("%1 visits").arg(figure.from);
    if (figure.set) {
        line += QObject::tr("\tset by hand: %1").arg(number(*figure.set));
    }
    say(line);
}

void sayTimes(const LearnedTimes &times)
{
    sayFigure(QObject::tr("seconds a turn"), times.secondsPerTurn, 1);
    for (const LearnedTimes::Minutes &each : times.stops) {
        sayFigure(QObject::tr("minutes: %1").arg(wordsFor(each.kind)), each.minutes, 1);
    }
    for (const LearnedTimes::Driving &each : times.driving) {
        sayFigure(
            QObject::tr("driving factor: %1, %2").arg(streetText(each.street), hourText(each.hour)),
            each.factor, 2);
    }
}

} // namespace

Done runLearn(const QStringList &arguments)
{
    QCommandLineParser parser;
    parser.setApplicationDescription(
        QObject::tr("learn: what the finished rounds say of the time that things take. Stores "
                    "nothing without --keep."));
    addProjectOption(parser);
    addJsonOption(parser);
    parser.addOption({QStringLiteral("keep"), QObject::tr("plan with these times from now on")});
    if (auto parsed = parse(parser, QStringLiteral("learn"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto times = timesFromRounds(session);
    if (!times) {
        return failed(times.error());
    }
    if (parser.isSet(QStringLiteral("keep"))) {
        if (const Status kept = keepLearnedTimes(session, *times); !kept) {
            return failed(kept.error());
        }
    }
    sayTimes(*times);
    complain(QObject::tr("Medians, with quartiles. A figure from fewer than %1 visits is not used: "
                         "the default holds.")
                 .arg(enoughObservations));
    return writeJson(parser, toJson(*times));
}

} // namespace keyround::batch
