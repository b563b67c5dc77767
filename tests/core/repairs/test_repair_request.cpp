// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/repair_request.h"

#include "tests/core/repairs/repair_fixtures.h"

#include <rapidcheck.h>

#include <QtTest>

#include <algorithm>
#include <random>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

RequestId idOf(int n)
{
    return requestIdFor({uuid7FromParts(n, 0, 0)}, QStringLiteral("valves"),
                        uuid7FromParts(n, 1, 0));
}

} // namespace

class TestRepairRequest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    static void numbers()
    {
        QSet<QString> seen;
        for (int n = 1; n <= 20000; ++n) {
            const QString number = requestNumber(idOf(n), 2026);
            QCOMPARE(requestNumberFrom(number), number);
            QCOMPARE(number.size(), 13);
            seen.insert(number);
        }
        // 20,000 out of 31^7: two alike are expected in about one run of 138, and the ids are
        // fixed.
        QCOMPARE(seen.size(), 20000);
        QCOMPARE(requestNumber(idOf(7), 2026), requestNumber(idOf(7), 2026));
    }
    static void numbersAsTyped()
    {
        const QString number = requestNumber(idOf(7), 2026);
        QString plain = number;
        plain.remove(QLatin1Char('-'));
        QCOMPARE(requestNumberFrom(plain.toLower()), number);
        QCOMPARE(requestNumberFrom(QStringLiteral("  ") + number + QStringLiteral(" ")), number);
        QVERIFY(requestNumberFrom(QString()).isEmpty());
        QVERIFY(requestNumberFrom(number.chopped(1)).isEmpty());
        QVERIFY(requestNumberFrom(number + QLatin1Char('1')).isEmpty());
        QVERIFY(requestNumberFrom(QStringLiteral("V-0012")).isEmpty());
    }
    static void oneWrongSignIsNoticed()
    {
        const QString signs = QStringLiteral("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ");
        for (int n = 1; n <= 50; ++n) {
            const QString number = requestNumber(idOf(n), 2000 + n);
            for (qsizetype i = 1; i < number.size(); ++i) {
                if (number[i] == QLatin1Char('-')) {
                    continue;
                }
                for (const QChar other : signs) {
                    QString wrong = number;
                    wrong[i] = other;
                    QVERIFY2(wrong == number || requestNumberFrom(wrong).isEmpty(),
                             qPrintable(number + QStringLiteral(" ") + wrong));
                }
            }
            for (qsizetype i = 4; i < number.size(); ++i) {
                for (qsizetype j = i + 1; j < number.size(); ++j) {
                    if (number[i] == QLatin1Char('-') || number[j] == QLatin1Char('-')) {
                        continue;
                    }
                    QString wrong = number;
                    std::swap(wrong[i], wrong[j]);
                    QVERIFY(wrong == number || requestNumberFrom(wrong).isEmpty());
                }
            }
        }
    }
    static void aWholeLife()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        town.accept(town.proposals().front(), "2026-01-06");
        QCOMPARE(town.only().state, RepairState::Open);
        QCOMPARE(town.only().since, day("2026-01-05"));
        town.step(RepairStep::Sent, "2026-01-07").party = QStringLiteral("Repair desk");
        QCOMPARE(town.only().state, RepairState::Sent);
        town.step(RepairStep::Scheduled, "2026-02-01").party = QStringLiteral("Crew R");
        QCOMPARE(town.only().state, RepairState::Scheduled);
        QCOMPARE(town.only().scheduledFor, day("2026-02-01"));
        RepairEvent &done = town.step(RepairStep::Done, "2026-02-02");
        done.words = QStringLiteral("new stem");
        done.party = QStringLiteral("Crew R");
        QCOMPARE(town.only().state, RepairState::Done);
        QCOMPARE(town.only().work, QStringLiteral("new stem"));
        QVERIFY(town.only().isOpen()); // nothing closes by itself
        town.step(RepairStep::Proved, "2026-03-01");
        QCOMPARE(town.only().state, RepairState::Proved);
        QCOMPARE(town.only().closedOn, day("2026-03-01"));
        town.step(RepairStep::Reopened, "2026-04-01");
        QCOMPARE(town.only().state, RepairState::Open);
        QVERIFY(town.only().work.isEmpty());
        QCOMPARE(town.only().timesReopened, 1);
        town.step(RepairStep::Withdrawn, "2026-04-02").words = QStringLiteral("main abandoned");
        QCOMPARE(town.only().state, RepairState::Withdrawn);
        QCOMPARE(town.only().withdrawnWhy, QStringLiteral("main abandoned"));
        QCOMPARE(town.only().life.size(), std::size_t{7});
    }
    static void lateRowsDoNotThrowItBack()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        town.accept(town.proposals().front(), "2026-01-06");
        town.step(RepairStep::Done, "2026-02-02");
        town.step(RepairStep::Sent, "2026-01-07"); // came in from the other laptop
        QCOMPARE(town.only().state, RepairState::Done);
        town.step(RepairStep::Proved, "2026-03-01");
        town.step(RepairStep::Withdrawn, "2026-03-02");
        QCOMPARE(town.only().state, RepairState::Proved);
    }
    static void takingBack()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        town.accept(town.proposals().front(), "2026-01-06");
        const RepairEventId done = town.step(RepairStep::Done, "2026-02-02").id;
        RepairEvent &back = town.step(RepairStep::TakenBack, "2026-02-03");
        back.undoes = done;
        const RepairEventId backId = back.id;
        QCOMPARE(town.only().state, RepairState::Open);
        town.step(RepairStep::TakenBack, "2026-02-03").undoes = backId;
        QCOMPARE(town.only().state, RepairState::Done);
        // Taking back what opened it leaves no request, and its visit is proposed again.
        RepairEvent &all = town.step(RepairStep::TakenBack, "2026-02-04");
        all.undoes = town.events.front().id;
        QVERIFY(town.book().requests.empty());
        QCOMPARE(town.proposals().front().kind, ProposalKind::Open);
    }
    static void twoLaptopsOpenTheSame()
    {
        RepairTown town;
        town.valve("V1");
        town.visit("2026-01-05", 0, {Problem::CouldNotOperate});
        const RepairProposal proposal = town.proposals().front();
        town.accept(proposal, "2026-01-06");
        town.accept(proposal, "2026-01-07");
        QCOMPARE(town.book().requests.size(), std::size_t{1});
        QCOMPARE(town.only().visits.size(), std::size_t{1});
        QCOMPARE(town.only().opened, at("2026-01-06"));
    }
    static void anyOrderGivesOneState()
    {
        QVERIFY(rc::check("rows in any order, and twice, give the same requests", [] {
            std::vector<RepairEvent> events;
            const int count = *rc::gen::inRange(1, 25);
            for (int i = 0; i < count; ++i) {
                RepairEvent event;
                event.id = {uuid7FromParts(i + 1, 0, 0)};
                event.request = idOf(*rc::gen::inRange(1, 4));
                event.step = static_cast<RepairStep>(*rc::gen::inRange(0, 10));
                event.on = day("2026-01-01").addDays(*rc::gen::inRange(0, 20));
                event.number = QString::number(i);
                event.visit = {uuid7FromParts(*rc::gen::inRange(1, 4), 2, 0)};
                event.findings << QString::number(*rc::gen::inRange(0, 3));
                event.party = QString::number(*rc::gen::inRange(0, 3));
                event.words = QString::number(i);
                event.at = at("2026-01-01", 1 + i % 20);
                event.stamp = {static_cast<std::uint64_t>(*rc::gen::inRange(1, 8))};
                if (event.step == RepairStep::TakenBack && i > 0) {
                    event.undoes = events[static_cast<std::size_t>(*rc::gen::inRange(0, i))].id;
                }
                events.push_back(event);
            }
            const std::vector<RepairRequest> once = foldRequests(events);
            for (int i = *rc::gen::inRange(0, 6); i > 0; --i) {
                events.push_back(events[static_cast<std::size_t>(*rc::gen::inRange(0, count))]);
            }
            std::mt19937 random(static_cast<unsigned>(*rc::gen::inRange(0, 1000000)));
            std::shuffle(events.begin(), events.end(), random);
            RC_ASSERT(foldRequests(events) == once);
        }));
    }
};

QTEST_GUILESS_MAIN(TestRepairRequest)
#include "test_repair_request.moc"
