// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/condition/count_slips.h"

#include <QTest>

using namespace keyround;

namespace {

/// The places of the slips, where counts a turn apart agree.
std::vector<std::size_t> slipsIn(const std::vector<double> &turns)
{
    const std::vector<bool> slips = countSlips(turns, 1.0);
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < slips.size(); ++i) {
        if (slips[i]) {
            places.push_back(i);
        }
    }
    return places;
}

using Places = std::vector<std::size_t>;

} // namespace

class TestCountSlips : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void oneWildCountBetweenTwoThatAgree()
    {
        QCOMPARE(slipsIn({27, 277, 27}), Places{1});
        QCOMPARE(slipsIn({27, 27.5, 2, 27, 26.5}), Places{2});
        QCOMPARE(slipsIn({27, 277, 27, 277, 27}), (Places{1, 3}));
    }
    static void whatMayBeTheValveIsNone()
    {
        QCOMPARE(slipsIn({27, 27, 20}), Places{});         // the newest: nothing tells yet
        QCOMPARE(slipsIn({27, 27, 20, 20, 20}), Places{}); // it changed, and stays so
        QCOMPARE(slipsIn({27, 20, 24}), Places{});         // the two beside it do not agree
        QCOMPARE(slipsIn({27, 26.5, 26, 25.5, 25, 24.5}), Places{});
    }
    static void theFirstWantsThreeThatAgree()
    {
        QCOMPARE(slipsIn({72, 27, 27, 27}), Places{0});
        QCOMPARE(slipsIn({72, 27, 27}), Places{});
        QCOMPARE(slipsIn({72, 27, 27, 35}), Places{});
    }
    static void fewCountsHaveNone()
    {
        QCOMPARE(slipsIn({}), Places{});
        QCOMPARE(slipsIn({27}), Places{});
        QCOMPARE(slipsIn({27, 2}), Places{});
    }
};

QTEST_GUILESS_MAIN(TestCountSlips)
#include "test_count_slips.moc"
