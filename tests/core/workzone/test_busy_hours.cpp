// SPDX-License-Identifier: GPL-3.0-or-later
// Busy hours: which rules hold in a street on a day, what they leave open, and their words.
#include "core/workzone/busy_hours.h"

#include <QtTest>

using namespace keyround;

namespace {

const QDate monday(2026, 5, 4);
const QDate saturday(2026, 5, 9);

BusyHours onStreet(const QString &street, QTime from, QTime to, QList<int> weekdays = {})
{
    BusyHours rule;
    rule.street = street;
    rule.weekdays = std::move(weekdays);
    rule.from = from;
    rule.to = to;
    return rule;
}

BusyHours onClass(QList<StreetClass> classes, QTime from, QTime to, QList<int> weekdays = {})
{
    BusyHours rule = onStreet({}, from, to, std::move(weekdays));
    rule.classes = std::move(classes);
    return rule;
}

/// "00:00:00-07:00:00 09:00:00-23:59:59".
QString openText(const WorkHours &hours)
{
    QStringList spans;
    for (const WorkSpan &span : hours.open) {
        spans << QStringLiteral("%1-%2").arg(span.from.toString(QStringLiteral("HH:mm:ss")),
                                             span.to.toString(QStringLiteral("HH:mm:ss")));
    }
    return spans.join(QLatin1Char(' '));
}

QString openOn(const std::vector<BusyHours> &rules, const QDate &date,
               const QString &street = QStringLiteral("Main Street"),
               StreetClass kind = StreetClass::Arterial)
{
    return openText(workHours(rules, street, kind, date));
}

const QString wholeDay = QStringLiteral("00:00:00-23:59:59");

} // namespace

class BusyHoursTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void noRuleLeavesTheWholeDay()
    {
        QCOMPARE(openOn({}, monday), wholeDay);
        QVERIFY(workHours({}, {}, StreetClass::Unknown, monday).closedBy.empty());
    }

    void oneRuleCutsTheDay()
    {
        const auto hours = workHours({onStreet(QStringLiteral("Main Street"), {7, 0}, {9, 0})},
                                     QStringLiteral("Main Street"), StreetClass::Unknown, monday);
        QCOMPARE(openText(hours), QStringLiteral("00:00:00-07:00:00 09:00:00-23:59:59"));
        QCOMPARE(hours.closedBy.size(), std::size_t{1});
    }

    // Overlapping, touching and nested rules close their union; no open stretch of no length is
    // left between two that touch.
    void rulesOverlapTouchAndNest()
    {
        const QString name = QStringLiteral("Main Street");
        QCOMPARE(openOn({onStreet(name, {8, 0}, {10, 0}), onStreet(name, {7, 0}, {9, 0})}, monday),
                 QStringLiteral("00:00:00-07:00:00 10:00:00-23:59:59"));
        QCOMPARE(openOn({onStreet(name, {7, 0}, {9, 0}), onStreet(name, {9, 0}, {11, 0})}, monday),
                 QStringLiteral("00:00:00-07:00:00 11:00:00-23:59:59"));
        QCOMPARE(openOn({onStreet(name, {7, 0}, {12, 0}), onStreet(name, {8, 0}, {9, 0}),
                         onStreet(name, {15, 30}, {17, 30})},
                        monday),
                 QStringLiteral("00:00:00-07:00:00 12:00:00-15:30:00 17:30:00-23:59:59"));
    }

    void rulesFromAndUpToMidnight()
    {
        const QString name = QStringLiteral("Main Street");
        const QString until = QStringLiteral("00:00:00-20:00:00");
        QCOMPARE(openOn({onStreet(name, {20, 0}, {0, 0})}, monday), until);
        QCOMPARE(openOn({onStreet(name, {20, 0}, {23, 59})}, monday), until);
        QCOMPARE(openOn({onStreet(name, {20, 0}, {23, 59, 59})}, monday), until);
        QCOMPARE(openOn({onStreet(name, {0, 0}, {6, 0})}, monday),
                 QStringLiteral("06:00:00-23:59:59"));
        const auto closed =
            workHours({onStreet(name, {0, 0}, {0, 0})}, name, StreetClass::Unknown, monday);
        QVERIFY(closed.open.empty());
        QCOMPARE(closed.closedBy.size(), std::size_t{1});
    }

    void weekdaysDecide()
    {
        const auto rule = onStreet(QStringLiteral("Main Street"), {7, 0}, {9, 0}, {1, 2, 3, 4, 5});
        QCOMPARE(openOn({rule}, monday), QStringLiteral("00:00:00-07:00:00 09:00:00-23:59:59"));
        QCOMPARE(openOn({rule}, saturday), wholeDay);
        QVERIFY(workHours({rule}, rule.street, StreetClass::Unknown, saturday).closedBy.empty());
    }

    void namesMatchWithoutCaseAndSpaces()
    {
        const auto rule = onStreet(QStringLiteral("  main   STREET "), {7, 0}, {9, 0});
        QVERIFY(openOn({rule}, monday) != wholeDay);
        QCOMPARE(openOn({rule}, monday, QStringLiteral("Main Street North")), wholeDay);
        QCOMPARE(openOn({rule}, monday, QString()), wholeDay);
    }

    void classesDecideWhereNoNameIsGiven()
    {
        const auto arterials =
            onClass({StreetClass::Arterial, StreetClass::Collector}, {7, 0}, {9, 0});
        QVERIFY(openOn({arterials}, monday) != wholeDay);
        QCOMPARE(openOn({arterials}, monday, QStringLiteral("Elm"), StreetClass::Residential),
                 wholeDay);
        const auto everywhere = onClass({}, {7, 0}, {9, 0});
        QVERIFY(openOn({everywhere}, monday, {}, StreetClass::Unknown) != wholeDay);
    }

    // Main Street has hours of its own on weekdays: those of its class do not count then, and do
    // on a Saturday, for which it has none.
    void nameGoesBeforeClass()
    {
        const std::vector<BusyHours> rules{
            onClass({StreetClass::Arterial}, {7, 0}, {9, 0}),
            onStreet(QStringLiteral("Main Street"), {12, 0}, {13, 0}, {1, 2, 3, 4, 5})};
        QCOMPARE(openOn(rules, monday), QStringLiteral("00:00:00-12:00:00 13:00:00-23:59:59"));
        QCOMPARE(openOn(rules, saturday), QStringLiteral("00:00:00-07:00:00 09:00:00-23:59:59"));
        QCOMPARE(openOn(rules, monday, QStringLiteral("Elm Street")),
                 QStringLiteral("00:00:00-07:00:00 09:00:00-23:59:59"));
    }

    void ruleWithoutSenseClosesNothing()
    {
        const QString name = QStringLiteral("Main Street");
        QCOMPARE(openOn({onStreet(name, {}, {9, 0})}, monday), wholeDay);
        QCOMPARE(openOn({onStreet(name, {9, 0}, {})}, monday), wholeDay);
        QCOMPARE(openOn({onStreet(name, {9, 0}, {7, 0})}, monday), wholeDay);
        QCOMPARE(openOn({onStreet(name, {9, 0}, {9, 0})}, monday), wholeDay);
    }

    void words()
    {
        auto rule = onStreet(QStringLiteral("Main Street"), {7, 0}, {9, 0}, {1, 2, 3, 4, 5});
        rule.why = QStringLiteral("school");
        QCOMPARE(wordsFor(rule),
                 QStringLiteral("07:00-09:00 on Main Street, Monday to Friday (school)"));
        rule.why.clear();
        rule.weekdays = {3, 1};
        QCOMPARE(wordsFor(rule),
                 QStringLiteral("07:00-09:00 on Main Street, Monday and Wednesday"));
        rule.weekdays = {1, 2, 3, 6, 7};
        QCOMPARE(wordsFor(rule), QStringLiteral("07:00-09:00 on Main Street, Monday to Wednesday, "
                                                "Saturday and Sunday"));
        rule.weekdays = {};
        QCOMPARE(wordsFor(rule), QStringLiteral("07:00-09:00 on Main Street, every day"));
        QCOMPARE(wordsFor(onClass({}, {16, 0}, {18, 0}, {5})),
                 QStringLiteral("16:00-18:00 on every street, Friday"));
        QCOMPARE(wordsFor(onClass({StreetClass::Arterial, StreetClass::Collector}, {16, 0}, {18, 0},
                                  {7, 6, 5, 4, 3, 2, 1})),
                 QStringLiteral("16:00-18:00 on streets of class arterial and collector, every "
                                "day"));
    }
};

QTEST_GUILESS_MAIN(BusyHoursTest)
#include "test_busy_hours.moc"
