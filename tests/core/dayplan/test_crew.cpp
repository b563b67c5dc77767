// SPDX-License-Identifier: GPL-3.0-or-later
// Crews: when they work, and what a valve asks of them.
#include "core/dayplan/crew.h"

#include <QtTest>

using namespace keyround;

namespace {

const QDate monday(2026, 5, 4);

Valve valveOf(ValveType type, int inches)
{
    Valve valve;
    valve.type = type;
    valve.size = inches > 0 ? NominalSize::ofInches(inches) : NominalSize();
    return valve;
}

} // namespace

class CrewTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void worksOnItsWeekdaysAndNotOnItsDaysOff()
    {
        Crew crew;
        QVERIFY(worksOn(crew, monday));
        QVERIFY(!worksOn(crew, monday.addDays(5)));
        crew.daysOff = {monday};
        QVERIFY(!worksOn(crew, monday));
        QVERIFY(!worksOn(crew, QDate()));
    }

    void workingDaysPassOverDaysOff()
    {
        Crew crew;
        crew.weekdays = {1, 3, 5};
        crew.daysOff = {monday.addDays(2), monday.addDays(7)};
        QCOMPARE(workingDays(crew, monday, 4),
                 (QList<QDate>{monday, monday.addDays(4), monday.addDays(9), monday.addDays(11)}));
        QCOMPARE(workingDays(crew, monday.addDays(1), 1), QList<QDate>{monday.addDays(4)});
        QVERIFY(workingDays(crew, monday, 0).isEmpty());
    }

    void aCrewThatNeverWorksHasNoDays()
    {
        Crew crew;
        crew.weekdays.clear();
        QVERIFY(workingDays(crew, monday, 5).isEmpty());
    }

    // One weekday, and the next 30 of them off: the days after that are still found.
    void aLongLeaveIsWaitedOut()
    {
        Crew crew;
        crew.weekdays = {1};
        for (int week = 0; week < 30; ++week) {
            crew.daysOff << monday.addDays(7 * week);
        }
        QCOMPARE(workingDays(crew, monday, 2),
                 (QList<QDate>{monday.addDays(210), monday.addDays(217)}));
    }

    void skillsByTypeAndSize()
    {
        const QString large = QStringLiteral("large valves");
        const QString any = QStringLiteral("confined space");
        const std::vector<SkillNeed> needs{
            {large, NominalSize::ofInches(16), {}},
            {QStringLiteral("Large  Valves"), NominalSize::ofInches(24), {}}, // said twice
            {any, {}, {ValveType::Butterfly}},
            {QStringLiteral(" "), {}, {}}};
        QCOMPARE(skillsFor(needs, valveOf(ValveType::Gate, 24)), QStringList{large});
        QCOMPARE(skillsFor(needs, valveOf(ValveType::Gate, 16)), QStringList{large});
        QVERIFY(skillsFor(needs, valveOf(ValveType::Gate, 12)).isEmpty());
        QVERIFY(skillsFor(needs, valveOf(ValveType::Gate, 0)).isEmpty());
        QCOMPARE(skillsFor(needs, valveOf(ValveType::Butterfly, 20)), (QStringList{large, any}));
    }

    void missingSkillsInAnyCase()
    {
        Crew crew;
        crew.skills = {QStringLiteral("Geared Gate "), QStringLiteral("flagging")};
        const QStringList needed{QStringLiteral("geared gate"), QStringLiteral("large valves"),
                                 QStringLiteral("Large Valves")};
        QCOMPARE(missingSkills(crew, needed), QStringList{QStringLiteral("large valves")});
        QVERIFY(missingSkills(crew, {}).isEmpty());
    }
};

QTEST_GUILESS_MAIN(CrewTest)
#include "test_crew.moc"
