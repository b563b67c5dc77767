// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/visit.h"

#include <rapidcheck.h>

#include <QtTest>

#include <algorithm>
#include <random>

using namespace keyround;

namespace {

VisitId idOf(int n)
{
    return {uuid7FromParts(n, 0, 0)};
}

Visit visit(int n, int day, int stamp, int supersedes = 0)
{
    Visit v;
    v.id = idOf(n);
    v.arrived = {day * 86400000LL, 0};
    v.stamp = {static_cast<std::uint64_t>(stamp)};
    if (supersedes != 0) {
        v.supersedes = idOf(supersedes);
    }
    return v;
}

QList<VisitId> ids(const std::vector<Visit> &visits)
{
    QList<VisitId> list;
    for (const Visit &v : visits) {
        list << v.id;
    }
    return list;
}

} // namespace

class TestVisit : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void correctionReplaces()
    {
        const auto result = standingVisits({visit(1, 5, 1), visit(2, 4, 2), visit(3, 5, 3, 1)});
        QCOMPARE(ids(result.visits), (QList{idOf(2), idOf(3)}));
        QVERIFY(result.disputed.empty());
    }
    static void chains()
    {
        const auto result = standingVisits({visit(3, 1, 3, 2), visit(1, 1, 1), visit(2, 1, 2, 1)});
        QCOMPARE(ids(result.visits), (QList{idOf(3)}));
    }
    static void laterStampWins()
    {
        const auto result = standingVisits({visit(1, 1, 1), visit(2, 1, 9, 1), visit(3, 1, 8, 1)});
        QCOMPARE(ids(result.visits), (QList{idOf(2)}));
        QCOMPARE(ids(result.disputed), (QList{idOf(3)}));
    }
    static void largerIdSettlesATie()
    {
        const auto result = standingVisits({visit(1, 1, 1), visit(2, 1, 9, 1), visit(3, 1, 9, 1)});
        QCOMPARE(ids(result.visits), (QList{idOf(3)}));
        QCOMPARE(ids(result.disputed), (QList{idOf(2)}));
    }
    static void aCorrectedDisputeStands()
    {
        // The losing correction is corrected again, later than all: that is the last word.
        const auto result = standingVisits(
            {visit(1, 1, 1), visit(2, 1, 9, 1), visit(3, 1, 8, 1), visit(4, 1, 10, 3)});
        QCOMPARE(ids(result.visits), (QList{idOf(4)}));
        QCOMPARE(ids(result.disputed), (QList{idOf(2)}));
    }
    static void parentNotThereYet()
    {
        const auto result = standingVisits({visit(2, 1, 2, 1)});
        QCOMPARE(ids(result.visits), (QList{idOf(2)}));
    }
    static void damageLosesNothing()
    {
        // A row that names itself, and two that name one another: never written, but readable.
        const auto result =
            standingVisits({visit(1, 1, 1, 1), visit(2, 1, 2, 3), visit(3, 1, 3, 2)});
        QCOMPARE(ids(result.visits), (QList{idOf(1), idOf(3)}));
    }
    static void orderAndRepeatsDoNotMatter()
    {
        QVERIFY(rc::check("any order, with repeats, gives the same", []() {
            const int count = *rc::gen::inRange(1, 12);
            std::vector<Visit> visits;
            for (int n = 1; n <= count; ++n) {
                // Few days and stamps, so that they collide.
                visits.push_back(visit(n, *rc::gen::inRange(1, 4), *rc::gen::inRange(1, 4),
                                       *rc::gen::inRange(0, count + 3)));
            }
            const StandingVisits once = standingVisits(visits);
            std::vector<Visit> mixed = visits;
            mixed.push_back(visits[static_cast<size_t>(*rc::gen::inRange(0, count))]);
            std::mt19937 random(static_cast<unsigned>(*rc::gen::inRange(0, 1000000)));
            std::shuffle(mixed.begin(), mixed.end(), random);
            const StandingVisits again = standingVisits(mixed);
            RC_ASSERT(ids(once.visits) == ids(again.visits));
            RC_ASSERT(ids(once.disputed) == ids(again.disputed));
            RC_ASSERT(!once.visits.empty());
        }));
    }
    static void problemsByKeyOrWords()
    {
        QCOMPARE(problemList().size(), 18);
        for (const ProblemInfo &info : problemList()) {
            QCOMPARE(infoOf(info.problem).key, info.key);
            QCOMPARE(problemFromText(QLatin1String(info.key)), std::optional(info.problem));
            QCOMPARE(problemFromText(QString::fromLatin1(info.words).toUpper()),
                     std::optional(info.problem));
        }
        QCOMPARE(problemFromText(QStringLiteral("did-not-close!")),
                 std::optional(Problem::DidNotClose));
        QVERIFY(!problemFromText(QStringLiteral("haunted")));
        QVERIFY(!problemFromText(QString()));
    }
};

QTEST_GUILESS_MAIN(TestVisit)
#include "test_visit.moc"
