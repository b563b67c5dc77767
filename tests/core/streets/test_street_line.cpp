// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/streets/street_line.h"

#include <QTest>

using namespace keyround;

namespace {

/// A stretch on a grid of about 100 m, on open ocean.
Street stretch(const char *name, double x0, double y0, double x1, double y1)
{
    const auto at = [](double x, double y) { return GeoPoint{40 + y * 0.0009, -150 + x * 0.0012}; };
    Street street;
    street.name = QString::fromLatin1(name);
    street.line = {at(x0, y0), at(x1, y1)};
    return street;
}

} // namespace

class StreetLineTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void followsTheName();
    void stopsAtTheReach();
    void aRoundStreetEnds();
};

void StreetLineTest::followsTheName()
{
    // Long Street in three stretches, the last drawn the other way; a side street at its middle;
    // past its end another name goes on.
    const std::vector<Street> streets{stretch("Long", 0, 0, 1, 0), stretch("Long", 1, 0, 2, 0),
                                      stretch("Long", 3, 0, 2, 0), stretch("Side", 1, 0, 1, 1),
                                      stretch("Other", 3, 0, 4, 0)};
    const StreetLine followed = followedStreet(streets, 1, Metres{500});
    QCOMPARE(followed.line.size(), std::size_t(4));
    QVERIFY(followed.line.front() == streets[0].line.front());
    QVERIFY(followed.line.back() == streets[2].line.front());
    QVERIFY(followed.firstIsDeadEnd); // nothing meets its west end
    QVERIFY(!followed.lastIsDeadEnd);
}

void StreetLineTest::stopsAtTheReach()
{
    std::vector<Street> streets;
    for (int i = 0; i < 20; ++i) {
        streets.push_back(stretch("Long", i, 0, i + 1, 0));
    }
    const StreetLine followed = followedStreet(streets, 10, Metres{150});
    QVERIFY(followed.line.size() >= 5 && followed.line.size() <= 8);
    QVERIFY(!followed.firstIsDeadEnd && !followed.lastIsDeadEnd);
}

void StreetLineTest::aRoundStreetEnds()
{
    const std::vector<Street> streets{stretch("Round", 0, 0, 1, 0), stretch("Round", 1, 0, 1, 1),
                                      stretch("Round", 1, 1, 0, 1), stretch("Round", 0, 1, 0, 0)};
    const StreetLine followed = followedStreet(streets, 0, Metres{10000});
    QVERIFY(followed.line.size() >= 4 && followed.line.size() <= 6);
}

QTEST_GUILESS_MAIN(StreetLineTest)
#include "test_street_line.moc"
