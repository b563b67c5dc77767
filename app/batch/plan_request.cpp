// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/plan_request.h"

#include <QFile>

#include <algorithm>
#include <tuple>
#include <utility>

namespace keyround::batch {

namespace {

/// "07:00-15:30"; neither time is valid when it is not that.
std::pair<QTime, QTime> spanFrom(const QString &text)
{
    const QStringList parts = text.split(QLatin1Char('-'));
    if (parts.size() != 2) {
        return {};
    }
    const auto time = [&](qsizetype index) {
        return QTime::fromString(parts[index].trimmed(), QStringLiteral("H:mm"));
    };
    return {time(0), time(1)};
}

Outcome<Shift> shiftFrom(const QString &text, const Shift &fallback)
{
    if (text.isEmpty()) {
        return fallback;
    }
    const auto [from, to] = spanFrom(text);
    if (!from.isValid() || !to.isValid() || from >= to) {
        return wrongUse(
            QObject::tr("--shift takes times such as 07:00-15:30, the earlier first, not \"%1\"")
                .arg(text));
    }
    return Shift{from, to};
}

Outcome<std::vector<ShiftBreak>> breaksFrom(const QStringList &texts,
                                            const std::vector<ShiftBreak> &fallback)
{
    if (texts.isEmpty()) {
        return fallback;
    }
    std::vector<ShiftBreak> breaks;
    for (const QString &text : texts) {
        if (text == QStringLiteral("none")) {
            continue;
        }
        const auto [earliest, latest] = spanFrom(text.section(QLatin1Char('/'), 0, 0));
        bool isNumber = false;
        const double minutes = text.section(QLatin1Char('/'), 1).toDouble(&isNumber);
        if (!earliest.isValid() || !latest.isValid() || earliest > latest || !isNumber ||
            !(minutes > 0) || minutes > 24 * 60) {
            return wrongUse(QObject::tr("--break takes times and minutes such as 11:30-13:00/30, "
                                        "not \"%1\"")
                                .arg(text));
        }
        breaks.push_back({earliest, latest, minutes});
    }
    std::ranges::stable_sort(breaks, {}, &ShiftBreak::earliest);
    return breaks;
}

/// The places the round starts and ends at: as told, else the yard of the crew or the project.
Outcome<std::pair<GeoPoint, GeoPoint>> endsFrom(const QCommandLineParser &parser, GeoPoint start)
{
    if (parser.isSet(QStringLiteral("start"))) {
        const auto told =
            placeFrom(parser.value(QStringLiteral("start")), QStringLiteral("--start"));
        if (!told) {
            return tl::unexpected(told.error());
        }
        start = *told;
    }
    if (!start.isValid()) {
        return wrongUse(QObject::tr("this project has no yard yet: give --start LAT,LON"));
    }
    GeoPoint finish = start;
    if (parser.isSet(QStringLiteral("finish"))) {
        const auto told =
            placeFrom(parser.value(QStringLiteral("finish")), QStringLiteral("--finish"));
        if (!told) {
            return tl::unexpected(told.error());
        }
        finish = *told;
    }
    return std::pair{start, finish};
}

Done addMustGo(const QStringList &numbers, Session &session, Round &day)
{
    for (const QString &number : numbers) {
        const Valve *valve = session.valveByNumber(number);
        if (valve == nullptr) {
            return failed(
                QObject::tr("--must names a valve that is not in the inventory: %1").arg(number));
        }
        day.mustGo.insert(valve->id);
    }
    return exitDone;
}

/// Takes over what was decided of the crew's planned round by hand, when there is one.
Done takePresent(Session &session, Round &day)
{
    for (const Round &round : session.rounds()) {
        if (round.date != day.date || round.crew != day.crew) {
            continue;
        }
        if (round.state != RoundState::Planned) {
            return failed(QObject::tr("The round of %1 on %2 is %3 and is not drawn up again.")
                              .arg(day.crew, day.date.toString(Qt::ISODate), wordFor(round.state)));
        }
        day.id = round.id;
        day.stops = round.stops;
        day.mustGo = round.mustGo;
        day.heldToNext = round.heldToNext;
        day.firstIsPinned = round.firstIsPinned;
        day.lastIsPinned = round.lastIsPinned;
        day.isTold = round.isTold;
        day.breaks = round.breaks;
    }
    return exitDone;
}

} // namespace

Outcome<std::vector<ValveId>> valvesFrom(const QString &path, Session &session)
{
    std::vector<ValveId> valves;
    if (path.isEmpty()) {
        return valves;
    }
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) {
        return failed(QObject::tr("Cannot read %1: %2").arg(path, file.errorString()));
    }
    QStringList unknown;
    for (const QString &line : QString::fromUtf8(file.readAll()).split(QLatin1Char('\n'))) {
        const QString number = line.trimmed();
        if (number.isEmpty()) {
            continue;
        }
        if (const Valve *valve = session.valveByNumber(number)) {
            valves.push_back(valve->id);
        } else {
            unknown << number;
        }
    }
    if (!unknown.isEmpty()) {
        return failed(QObject::tr("%1 names valves that are not in the inventory: %2")
                          .arg(path, unknown.join(QStringLiteral(", "))));
    }
    if (valves.empty()) {
        return failed(QObject::tr("%1 names no valve.").arg(path));
    }
    return valves;
}

Outcome<Round> dayFrom(const QCommandLineParser &parser, Session &session)
{
    const ProjectSettings &settings = session.settings();
    QString crew = parser.value(QStringLiteral("crew"));
    crew = crew.isEmpty() ? crewNames(settings).value(0) : crew;
    Round day = emptyRound(settings, crew, session.today());
    const auto shift = shiftFrom(parser.value(QStringLiteral("shift")), day.shift);
    if (!shift) {
        return tl::unexpected(shift.error());
    }
    day.shift = *shift;
    const auto ends = endsFrom(parser, day.start);
    if (!ends) {
        return tl::unexpected(ends.error());
    }
    std::tie(day.start, day.finish) = *ends;
    if (const Done taken = takePresent(session, day); !taken) {
        return tl::unexpected(taken.error());
    }
    const auto breaks = breaksFrom(parser.values(QStringLiteral("break")), day.breaks);
    if (!breaks) {
        return tl::unexpected(breaks.error());
    }
    day.breaks = *breaks;
    const Done must = addMustGo(parser.values(QStringLiteral("must")), session, day);
    if (!must) {
        return tl::unexpected(must.error());
    }
    return day;
}

} // namespace keyround::batch
