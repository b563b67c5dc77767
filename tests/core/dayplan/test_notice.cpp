// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/notice.h"

#include <QTest>

using namespace keyround;

namespace {

QDateTime at(int day, int hour)
{
    return {QDate(2026, 5, day), QTime(hour, 0), Qt::UTC}; // 4 May 2026 is a Monday
}

Notice given(const ValveId &valve, const QDateTime &when, QDate forDay = {})
{
    Notice notice;
    notice.valve = valve;
    notice.given = Moment::from(when);
    notice.forDay = forDay;
    return notice;
}

} // namespace

class NoticeTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void workingDaysBefore();
    void hoursOnTop();
    void whichNoticeHolds();
    void words();
};

void NoticeTest::workingDaysBefore()
{
    const NoticeLead two{2, 0, 30};
    QCOMPARE(latestNotice(at(8, 7), two, {}), at(6, 7));                   // Friday: Wednesday
    QCOMPARE(latestNotice(at(11, 7), two, {}), at(7, 7));                  // Monday: Thursday
    QCOMPARE(latestNotice(at(11, 7), two, {QDate(2026, 5, 8)}), at(6, 7)); // Friday is a holiday
    QCOMPARE(latestNotice(at(11, 7), {0, 0, 30}, {}), at(11, 7));
}

void NoticeTest::hoursOnTop()
{
    QCOMPARE(latestNotice(at(6, 7), {0, 48, 30}, {}), at(4, 7));
    QCOMPARE(latestNotice(at(6, 7), {1, 4, 30}, {}), at(5, 3));
}

void NoticeTest::whichNoticeHolds()
{
    const ValveId valve{newUuid7(1)};
    const ValveId other{newUuid7(1)};
    const NoticeLead lead{2, 0, 30};
    const QDateTime work = at(29, 8);
    const auto holds = [&](const std::vector<Notice> &notices) {
        return noticeFor(notices, valve, work, lead, {});
    };
    QVERIFY(holds({given(valve, at(27, 8))}) != nullptr);
    QVERIFY(holds({given(valve, at(27, 9))}) == nullptr); // an hour too late
    QVERIFY(holds({given(other, at(20, 8))}) == nullptr);
    QVERIFY(holds({given(valve, QDateTime(QDate(2026, 4, 28), QTime(8, 0), Qt::UTC))}) == nullptr);
    QVERIFY(holds({given(valve, at(20, 8), QDate(2026, 5, 28))}) == nullptr); // for another day
    const std::vector<Notice> two{given(valve, at(20, 8)), given(valve, at(22, 8))};
    QCOMPARE(holds(two), &two[1]);
}

void NoticeTest::words()
{
    QVERIFY(noticeNeededWords(14, at(6, 7), at(5, 7)).contains(QStringLiteral("14 services")));
    QVERIFY(noticeNeededWords(14, at(6, 7), at(5, 7)).contains(QStringLiteral("2026-05-06 07:00")));
    QVERIFY(noticeNeededWords(1, at(6, 7), at(7, 7)).contains(QStringLiteral("too late")));
}

QTEST_GUILESS_MAIN(NoticeTest)
#include "test_notice.moc"
