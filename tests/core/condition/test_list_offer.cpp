// SPDX-License-Identifier: GPL-3.0-or-later
// When the list may be corrected from the truck (common practice, no source).
#include "core/condition/list_offer.h"
#include "tests/support/small_fleet.h"

#include <QTest>

using namespace keyround;

namespace {

Visit cycle(int closing, int opening, int day)
{
    Visit visit;
    visit.id = VisitId{uuid7FromParts(day, 0, 0)};
    visit.arrived = Moment{day * 86400000LL, 0};
    visit.stamp = HybridTime{static_cast<std::uint64_t>(day)};
    visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(closing)},
                    {PassDirection::Opening, QuarterTurns::ofTurns(opening)}};
    return visit;
}

Valve listing(int turns)
{
    Valve valve;
    valve.listedTurns = QuarterTurns::ofTurns(turns);
    return valve;
}

ValveHistory after(const Visit &visit)
{
    ValveHistory history;
    history.visits.emplace_back().visit = visit;
    return history;
}

std::optional<QuarterTurns> offer(const Valve &valve, const ValveHistory &before, const Visit &now)
{
    return listedTurnsToOffer(valve, before, now, Tolerance());
}

} // namespace

class TestListOffer : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    static void beyondTheListOneCycleIsEnough()
    {
        QVERIFY(offer(listing(27), {}, cycle(33, 33, 1)) == QuarterTurns::ofTurns(33));
        QVERIFY(!offer(listing(27), {}, cycle(28, 28, 1)).has_value()); // within the tolerance
        QVERIFY(!offer(listing(27), {}, cycle(33, 27, 1)).has_value()); // the passes disagree
    }

    static void belowTheListItTakesTwoVisits()
    {
        const Visit now = cycle(20, 20, 2);
        QVERIFY(!offer(listing(27), {}, now).has_value());
        QVERIFY(offer(listing(27), after(cycle(20, 20, 1)), now) == QuarterTurns::ofTurns(20));
        QVERIFY(!offer(listing(27), after(cycle(27, 27, 1)), now).has_value());
    }

    static void countedWhereOnlyTheListSaysThatTheyDoNotShut()
    {
        test::SmallFleet fleet;
        for (int i = 0; i < 4; ++i) {
            fleet.add(QString::number(i), 8);
            fleet.valves.back().listedTurns = QuarterTurns::ofTurns(54);
        }
        for (const char *date : {"2020-01-01", "2021-01-01"}) {
            fleet.visit(fleet.valves[0].id, QDate::fromString(QLatin1String(date), Qt::ISODate),
                        27); // alike, and half of the list
            fleet.visit(fleet.valves[1].id, QDate::fromString(QLatin1String(date), Qt::ISODate),
                        54);
        }
        fleet.visit(fleet.valves[2].id, QDate(2021, 1, 1), 27); // once only
        QCOMPARE(doubtedByListAlone(fleet.valves, fleet.read()), 1);
        QVERIFY(doubtedByListWords(1).startsWith(QStringLiteral("1 of those")));
        QVERIFY(doubtedByListWords(0).isEmpty());
    }

    static void contradictedOrUnlistedNothingIsOffered()
    {
        QVERIFY(!offer({}, {}, cycle(33, 33, 1)).has_value());
        Visit spun = cycle(60, 60, 1);
        spun.problems = {Problem::SpunContinuously};
        QVERIFY(!offer(listing(27), {}, spun).has_value());
        Visit closed = cycle(33, 33, 1);
        closed.passes.pop_back();
        QVERIFY(!offer(listing(27), {}, closed).has_value());
    }
};

QTEST_GUILESS_MAIN(TestListOffer)
#include "test_list_offer.moc"
