// SPDX-License-Identifier: GPL-3.0-or-later
// Invented rows for the storage tests, with every field set to something awkward.
#pragma once

#include "core/storage/project.h"
#include "core/storage/valve_store.h"
#include "core/storage/visit_store.h"

#include <QFile>
#include <QTemporaryDir>

namespace keyround::fixtures {

inline constexpr std::int64_t someDay = 1750000000000; // 2025-06-15T15:06:40Z

inline Moment moment(std::int64_t later = 0)
{
    return Moment{someDay + later, -5 * 3600};
}

inline Author author()
{
    return Author{QStringLiteral("A. Crew (invented)"), QStringLiteral("laptop-1")};
}

/// Markup, emoji beyond the basic plane, right-to-left text, quotes, line ends, a NUL, and length.
inline QString awkwardText()
{
    return QStringLiteral("<b>bold</b> &amp; 'quoted' \"twice\"; DROP TABLE valves; -- \n\t\r\n") +
           QString::fromUtf8(
               "\xF0\x9F\x9A\xB0\xF0\x9F\x91\xB7\xE2\x80\x8D\xE2\x99\x80\xEF\xB8\x8F ") +
           QString::fromUtf8(
               "\xD7\xA9\xD7\xA1\xD7\xAA\xD7\x95\xD7\x9D \xD8\xB5\xD9\x85\xD8\xA7\xD9\x85") +
           QChar(0) + QString(20000, QLatin1Char('x'));
}

inline Valve fullValve(const QString &number)
{
    Valve valve;
    valve.id = ValveId{newUuid7(someDay)};
    valve.number = number;
    valve.place = GeoPoint{40.123456789012345, -88.98765432109876};
    valve.address = QString::fromUtf8("12 Invented St \xE2\x80\x93 corner");
    valve.ties = awkwardText();
    valve.depthToNut = Metres{1.0 / 3.0};
    valve.size = NominalSize{9};
    valve.type = ValveType::GearedGate;
    valve.listedTurns = QuarterTurns{0};
    valve.closes = ClosingDirection::Counterclockwise;
    valve.normally = NormalPosition::Closed;
    valve.role = ValveRole::FireLine;
    valve.installYear = 1931;
    valve.surface = QStringLiteral("asphalt");
    valve.zone = QStringLiteral("High zone");
    valve.criticalCustomers = QStringLiteral("Dialysis (invented)");
    valve.remarks = awkwardText();
    valve.retired = true;
    return valve;
}

inline Valve plainValve(const QString &number)
{
    Valve valve;
    valve.id = ValveId{newUuid7(someDay)};
    valve.number = number;
    return valve;
}

inline Visit fullVisit(const ValveId &valve, std::uint64_t stamp)
{
    Visit visit;
    visit.id = VisitId{newUuid7(someDay)};
    visit.valve = valve;
    visit.round = RoundId{newUuid7(someDay)};
    visit.arrived = moment();
    visit.finished = moment(900000);
    visit.crew = QStringLiteral("Crew 1");
    visit.found = Standing{Position::PartOpen, QuarterTurns{33}};
    visit.left = Standing{Position::Open, std::nullopt};
    visit.passes = {{PassDirection::Closing, QuarterTurns{108}},
                    {PassDirection::Opening, QuarterTurns{107}},
                    {PassDirection::Opening, QuarterTurns{0}}};
    for (const ProblemInfo &info : problemList()) {
        visit.problems << info.problem;
    }
    visit.otherProblem = awkwardText();
    visit.ownProblems = {QStringLiteral("Ants (invented)"), awkwardText()};
    visit.passes.front().torque = Torque{120 * newtonMetresPerFootPound};
    visit.search = SearchRecord{true, false, true, true, SearchOutcome::PavedOver};
    visit.lid = LidCondition::Missing;
    visit.box = BoxCondition::WrongHeight;
    visit.lidFix = LidFix{GeoPoint{40.123456789012345, -88.98765432109876}, Metres{1.0 / 3.0},
                          awkwardText(), moment(60000)};
    visit.setUpStood = SetUpStood{awkwardText()};
    visit.remarks = awkwardText();
    visit.supersedes = VisitId{newUuid7(someDay)};
    visit.reason = QStringLiteral("typed the wrong count");
    visit.recordedBy = QStringLiteral("A. Crew (invented)");
    visit.device = QStringLiteral("laptop-1");
    visit.stamp = HybridTime{stamp};
    return visit;
}

inline Visit plainVisit(const ValveId &valve, std::uint64_t stamp)
{
    Visit visit;
    visit.id = VisitId{newUuid7(someDay)};
    visit.valve = valve;
    visit.arrived = moment();
    visit.stamp = HybridTime{stamp};
    return visit;
}

inline QByteArray bytesOf(const QString &path)
{
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
}

inline bool writeBytes(const QString &path, const QByteArray &bytes)
{
    QFile file(path);
    return file.open(QIODevice::WriteOnly) && file.write(bytes) == bytes.size();
}

template <typename T> QByteArray messageOf(const Result<T> &result)
{
    return result ? QByteArray("no error") : result.error().message.toUtf8();
}

} // namespace keyround::fixtures

// For Result and Status in a test: the message is shown when it fails. Evaluates once.
#define VERIFY_OK(expression)                                                                      \
    do {                                                                                           \
        const auto &outcomeOf = (expression);                                                      \
        QVERIFY2(outcomeOf.has_value(), keyround::fixtures::messageOf(outcomeOf).constData());     \
    } while (false)
