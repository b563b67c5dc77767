// SPDX-License-Identifier: GPL-3.0-or-later
// The board report's figures on a handful of invented valves, each counted by hand.
#include "core/reports/board_report.h"

#include <QTest>

using namespace keyround;

namespace {

Valve valveOf(int number, int inches, bool retired = false)
{
    Valve valve;
    valve.id = ValveId{uuidFromContent(QByteArray::number(number))};
    valve.number = QStringLiteral("V-%1").arg(number);
    valve.size = NominalSize::ofInches(inches);
    valve.type = ValveType::Gate;
    valve.listedTurns = QuarterTurns::ofTurns(20);
    valve.installYear = 1980;
    valve.retired = retired;
    return valve;
}

Visit visitOf(const Valve &valve, const QDate &day, int turns, const QList<Problem> &problems = {})
{
    static int made = 0;
    Visit visit;
    visit.id = VisitId{uuidFromContent(QByteArray("visit ") + QByteArray::number(++made))};
    visit.valve = valve.id;
    visit.arrived = Moment::from(QDateTime(day, QTime(9, 0), Qt::OffsetFromUTC, 0));
    visit.finished = visit.arrived;
    visit.crew = QStringLiteral("Crew 1");
    visit.recordedBy = QStringLiteral("R. Invented");
    if (turns > 0) {
        visit.passes = {{PassDirection::Closing, QuarterTurns::ofTurns(turns)},
                        {PassDirection::Opening, QuarterTurns::ofTurns(turns)}};
    }
    visit.problems = problems;
    return visit;
}

const BoardPage *pageTitled(const std::vector<BoardPage> &pages, const QString &title)
{
    for (const BoardPage &page : pages) {
        if (page.sheet.title.contains(title)) {
            return &page;
        }
    }
    return nullptr;
}

} // namespace

class TestBoardReport : public QObject
{
    Q_OBJECT

    // 8 in: a full cycle in the year, after a short one the year before; one short in the year; one
    // full but the year before. 16 in: never visited. A retired one does not count.
    std::vector<Valve> m_valves{valveOf(1, 8), valveOf(2, 8), valveOf(3, 8), valveOf(4, 16),
                                valveOf(5, 8, true)};
    std::vector<Visit> m_visits;
    Histories m_histories;
    Policy m_policy;
    const Span m_year{QDate(2025, 1, 1), QDate(2025, 12, 31)};

private Q_SLOTS:
    void initTestCase()
    {
        PolicyRule large;
        large.name = QStringLiteral("large");
        large.sizeFrom = NominalSize::ofInches(16);
        large.intervalMonths = 12;
        PolicyRule rest;
        rest.name = QStringLiteral("rest");
        rest.intervalMonths = 36;
        m_policy.name = QStringLiteral("invented policy");
        m_policy.rules = {large, rest};
        m_visits = {visitOf(m_valves[0], QDate(2025, 3, 4), 20),
                    visitOf(m_valves[0], QDate(2024, 2, 4), 9, {Problem::DidNotClose}),
                    visitOf(m_valves[1], QDate(2024, 3, 4), 20),
                    visitOf(m_valves[1], QDate(2025, 4, 4), 9, {Problem::DidNotClose}),
                    visitOf(m_valves[2], QDate(2024, 5, 4), 20),
                    visitOf(m_valves[4], QDate(2025, 5, 4), 20)};
        Visit correction = m_visits[0];
        correction.id = VisitId{uuidFromContent(QByteArray("correction"))};
        correction.supersedes = m_visits[0].id;
        correction.reason = QStringLiteral("wrong remark");
        m_visits.push_back(correction);
        m_histories = readHistories(m_valves, m_visits, {}, Tolerance{});
    }

    void classesAreCountedByHand()
    {
        const std::vector<BoardClass> classes =
            boardClasses(m_valves, m_histories, m_policy, m_year);
        QCOMPARE(classes.size(), size_t(3)); // up to 8 in, from 16 in, all
        const BoardClass &small = classes[0];
        QCOMPARE(small.valves, 3);
        QCOMPARE(small.inspected, 2);
        QCOMPARE(small.fullCycles, 1);
        QCOMPARE(small.notOperable, 1);
        QCOMPARE(small.neverVisited, 0);
        // Three valves each a third a year.
        QVERIFY(std::abs(small.asked - 1.0) < 1e-9);
        const BoardClass &large = classes[1];
        QCOMPARE(large.valves, 1);
        QCOMPARE(large.neverVisited, 1);
        QVERIFY(std::abs(large.asked - 1.0) < 1e-9);
        QCOMPARE(classes[2].valves, 4);
        QCOMPARE(classes[2].inspected, 2);
    }

    /// Less than all is never said to be all.
    void nearlyAllIsNotAll()
    {
        std::vector<Valve> valves;
        std::vector<Visit> visits;
        for (int i = 0; i < 1000; ++i) {
            valves.push_back(valveOf(1000 + i, 8));
            if (i > 0) {
                visits.push_back(visitOf(valves.back(), QDate(2025, 3, 4), 20));
            }
        }
        const Histories histories = readHistories(valves, visits, {}, Tolerance{});
        const Pace pace = paceOf(valves, histories, m_policy, m_year, QDate(2025, 12, 31));
        const ConditionOverTime condition =
            conditionOverTime(valves, histories, m_year, PeriodLength::Year);
        const ConditionChanges changes =
            conditionChanges(valves, histories, m_year, PeriodLength::Year);
        const Ageing ageing = ageingOf(valves, histories, AgeingBy::All, UnitSystem::Us);
        const RepairBook book;
        const RepairHabits habits = startingRepairHabits();
        const FleetTurns turns;
        const Outlook ahead;
        const std::vector<RiskEntry> next;
        const BoardFigures figures{m_year,         {},     {},
                                   UnitSystem::Us, pace,   condition,
                                   changes,        ageing, QDate(2026, 1, 10),
                                   turns,          next,   ahead,
                                   book,           habits};
        const std::vector<BoardPage> pages =
            boardReport(figures, valves, histories, m_policy, visits);
        const BoardPage *first = pageTitled(pages, QStringLiteral("programme"));
        QVERIFY(first != nullptr);
        QCOMPARE(first->sheet.table.rows.back()[2], QStringLiteral("999"));
        QCOMPARE(first->sheet.table.rows.back()[3], QStringLiteral("over 99 %"));
        // Where there is nothing to list no headings stand over it.
        const BoardPage *requests = pageTitled(pages, QStringLiteral("Repair requests"));
        QVERIFY(requests != nullptr);
        QVERIFY(requests->sheet.headerLines.join(QLatin1Char(' '))
                    .contains(QStringLiteral("No repair request")));
        QVERIFY(requests->sheet.table.rows.empty());
        QCOMPARE(requests->sheet.table.columns, QStringList());
        // A thousand valves every three years: 333.3 a year, alike in table and sentence.
        QCOMPARE(first->sheet.table.rows.back()[5], QStringLiteral("334"));
        QVERIFY(
            first->sheet.headerLines.join(QLatin1Char('\n')).contains(QStringLiteral("of 334")));
    }

    void thePagesSayWhatARegulatorAsks()
    {
        const Pace pace = paceOf(m_valves, m_histories, m_policy, m_year, QDate(2025, 12, 31));
        const ConditionOverTime condition =
            conditionOverTime(m_valves, m_histories, m_year, PeriodLength::Quarter);
        const ConditionChanges changes =
            conditionChanges(m_valves, m_histories, m_year, PeriodLength::Quarter);
        const Ageing ageing = ageingOf(m_valves, m_histories, AgeingBy::All, UnitSystem::Us);
        RepairBook book;
        const auto ask = [&](const Valve &valve, const QDate &opened, const QDate &closed) {
            RepairRequest request;
            request.valve = valve.id;
            request.department = QStringLiteral("valves");
            request.opened = Moment::from(QDateTime(opened, QTime(9, 0), Qt::OffsetFromUTC, 0));
            request.closedOn = closed;
            request.state = closed.isValid() ? RepairState::Proved : RepairState::Open;
            book.requests.push_back(request);
        };
        ask(m_valves[0], QDate(2024, 11, 1), QDate(2025, 1, 30)); // 90 days
        ask(m_valves[1], QDate(2025, 4, 5), QDate());
        ask(m_valves[2], QDate(2026, 1, 5), QDate()); // after the report's time
        const RepairHabits habits = startingRepairHabits();
        const QDate today(2026, 1, 10);
        const FleetTurns turns = fleetTurns(m_valves, m_histories, m_year);
        const LifeLaws laws = fitLifeLaws(m_valves, m_histories);
        const std::vector<RiskEntry> next =
            whatNext(dueList(m_valves, m_histories, m_policy, today), m_valves, m_histories, laws,
                     {{m_valves[1].id, 40}}, today);
        const Outlook ahead =
            outlook(m_valves, m_histories, m_policy, laws, usualPlans(m_valves, m_histories, today),
                    today, settingsFrom(m_valves, m_histories, today));
        const BoardFigures figures{m_year,
                                   QStringLiteral("zone High"),
                                   QStringLiteral("an invented utility"),
                                   UnitSystem::Us,
                                   pace,
                                   condition,
                                   changes,
                                   ageing,
                                   today,
                                   turns,
                                   next,
                                   ahead,
                                   book,
                                   habits};
        const std::vector<BoardPage> pages =
            boardReport(figures, m_valves, m_histories, m_policy, m_visits);
        for (const BoardPage &page : pages) {
            // Which time and which valves stand on every page.
            QVERIFY(page.sheet.headerLines.value(0).contains(QStringLiteral("2025-12-31")));
            QVERIFY(page.sheet.headerLines.value(1).contains(QStringLiteral("zone High")));
            for (const QStringList &row : page.sheet.table.rows) {
                QCOMPARE(row.size(), page.sheet.table.columns.size());
            }
        }
        const BoardPage *first = pageTitled(pages, QStringLiteral("programme"));
        QVERIFY(first != nullptr && first->picture == BoardPicture::PaceYears);
        QVERIFY(first->sheet.notes.join(QLatin1Char(' ')).contains(QStringLiteral("36 months")));
        const BoardPage *out = pageTitled(pages, QStringLiteral("out of condition at the end"));
        QCOMPARE(out->sheet.table.rows.size(), size_t(1));
        QCOMPARE(out->sheet.table.rows[0][0], QStringLiteral("V-2"));
        QCOMPARE(out->sheet.table.rows[0][4], QStringLiteral("2025-04-04"));
        const BoardPage *back = pageTitled(pages, QStringLiteral("Valves that came back"));
        QVERIFY(back != nullptr);
        QCOMPARE(back->sheet.table.rows.size(), size_t(1));
        const QStringList restored = back->sheet.table.rows[0];
        QCOMPARE(restored[0], QStringLiteral("V-1"));
        QVERIFY(restored[1].contains(QStringLiteral("8 in")));
        QCOMPARE(
            restored.mid(2),
            (QStringList{QStringLiteral("2025-03-04"), wordFor(Condition::DoesNotShut),
                         wordFor(Condition::Serviceable), QStringLiteral("shown by a visit")}));
        QCOMPARE(back->sheet.headerLines.last(), QStringLiteral("1."));
        const BoardPage *risk = pageTitled(pages, QStringLiteral("hurt next"));
        QVERIFY(risk != nullptr);
        QCOMPARE(risk->picture, BoardPicture::WhatNext);
        QVERIFY(
            risk->sheet.headerLines.last().startsWith(QStringLiteral("As known on 2026-01-10.")));
        QCOMPARE(risk->sheet.table.rows.size(), next.size());
        QCOMPARE(risk->sheet.table.rows[0][0], QStringLiteral("V-2")); // out, and 40 services
        QVERIFY(risk->sheet.cautions.join(QString()).contains(QStringLiteral("not by pressure")));
        const BoardPage *plans = pageTitled(pages, QStringLiteral("more or less work"));
        QVERIFY(plans != nullptr && plans->picture == BoardPicture::Outlook);
        QVERIFY(plans->sheet.headerLines.last().endsWith(ahead.sentence));
        QCOMPARE(plans->sheet.table.rows.size(), 2 * ahead.plans.size()); // today, and the end
        const BoardPage *drift = pageTitled(pages, QStringLiteral("counts drift"));
        QVERIFY(drift != nullptr);
        QCOMPARE(drift->sheet.headerLines.last(), turns.sentence);
        QCOMPARE(drift->sheet.table.rows.size(), turns.drifting.size());
        const BoardPage *requests = pageTitled(pages, QStringLiteral("Repair requests"));
        QCOMPARE(requests->sheet.table.rows.size(), size_t(1));
        QCOMPARE(requests->sheet.table.rows[0].mid(1),
                 (QStringList{QStringLiteral("1"), QStringLiteral("1"), QStringLiteral("0"),
                              QStringLiteral("1"), QStringLiteral("90")}));
        const BoardPage *records = pageTitled(pages, QStringLiteral("Records"));
        // In the year: two visits of valves that count here, one of the retired one, one
        // correction.
        const QStringList all = records->sheet.table.rows.back();
        QCOMPARE(all[1], QStringLiteral("3"));
        QCOMPARE(all[3], QStringLiteral("1"));
    }
};

QTEST_GUILESS_MAIN(TestBoardReport)
#include "test_board_report.moc"
