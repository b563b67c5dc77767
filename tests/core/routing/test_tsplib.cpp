// SPDX-License-Identifier: GPL-3.0-or-later
// The reader of published instances that tests and benchmarks lean on: every format of the same
// small table, and the liberties that files take.
#include "tests/support/tsplib.h"

#include <QtTest>

#include <algorithm>
#include <sstream>

using namespace keyround;

namespace {

std::optional<tests::TspInstance> read(const std::string &text)
{
    std::istringstream in(text);
    return tests::readTsplib(in, "folder/file.tsp");
}

} // namespace

class TsplibTest : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    // Lengths 12, 13, 14, 23, 24, 34 between four places, by rows and by columns.
    void explicitFormats_data()
    {
        QTest::addColumn<QString>("cells");
        QTest::newRow("FULL_MATRIX") << "0 12 13 14\n12 0 23 24\n13 23 0 34\n14 24 34 0";
        QTest::newRow("UPPER_ROW") << "12 13 14\n23 24\n34";
        QTest::newRow("LOWER_COL") << "12 13 14 23 24 34";
        QTest::newRow("LOWER_ROW") << "12\n13 23\n14 24 34";
        QTest::newRow("UPPER_COL") << "12 13 23 14\n24 34";
        QTest::newRow("UPPER_DIAG_ROW") << "0 12 13 14 0 23 24 0 34 0";
        QTest::newRow("LOWER_DIAG_COL") << "0 12 13 14 0 23 24 0 34 0";
        QTest::newRow("LOWER_DIAG_ROW") << "0 12 0 13 23 0\n14 24 34 0";
        QTest::newRow("UPPER_DIAG_COL") << "0 12 0 13 23 0 14 24 34 0";
    }
    void explicitFormats()
    {
        QFETCH(const QString, cells);
        const auto found =
            read("NAME : small.tsp\nTYPE: TSP\nCOMMENT : with: a colon\n"
                 "DIMENSION:4\nEDGE_WEIGHT_TYPE : EXPLICIT\nEDGE_WEIGHT_FORMAT :  " +
                 std::string(QTest::currentDataTag()) +
                 " \nDISPLAY_DATA_TYPE: TWOD_DISPLAY\nEDGE_WEIGHT_SECTION\n" + cells.toStdString() +
                 "\nDISPLAY_DATA_SECTION\n1 0 0\n2 1 1\n3 2 2\n4 3 3\nEOF\n");
        QVERIFY(found);
        QCOMPARE(QString::fromStdString(found->name), QStringLiteral("small"));
        for (std::size_t i = 0; i < 4; ++i) {
            for (std::size_t j = 0; j < 4; ++j) {
                const double low = static_cast<double>(std::min(i, j) + 1);
                const double high = static_cast<double>(std::max(i, j) + 1);
                QCOMPARE(found->lengths.at(i, j), i == j ? 0.0 : 10.0 * low + high);
            }
        }
    }

    void differentThereAndBack()
    {
        const auto found = read("NAME: a\r\nTYPE: ATSP\r\nDIMENSION: 2\r\nEDGE_WEIGHT_TYPE: "
                                "EXPLICIT\r\nEDGE_WEIGHT_FORMAT: FULL_MATRIX\r\n"
                                "EDGE_WEIGHT_SECTION\r\n9999 3\r\n5 9999");
        QVERIFY(found);
        QCOMPARE(found->lengths.at(0, 1), 3.0);
        QCOMPARE(found->lengths.at(1, 0), 5.0);
        QCOMPARE(found->lengths.at(0, 0), 0.0);
    }

    // 3-4-5 triangles, with exponents, without a name and without an end mark.
    void coordinates_data()
    {
        QTest::addColumn<double>("length");
        QTest::newRow("EUC_2D") << 5.0;
        QTest::newRow("CEIL_2D") << 6.0;
        QTest::newRow("ATT") << 2.0; // sqrt(26.0 / 10) = 1.61, rounded
    }
    void coordinates()
    {
        QFETCH(const double, length);
        const auto found =
            read("DIMENSION : 2\nEDGE_WEIGHT_TYPE : " + std::string(QTest::currentDataTag()) +
                 "\nNODE_COORD_SECTION\n 2   3.1e+00 4.04\n 1 0.0 0E0");
        QVERIFY(found);
        QCOMPARE(found->lengths.at(0, 1), length);
        QCOMPARE(QString::fromStdString(found->name), QStringLiteral("file"));
    }

    void refusesWhatItDoesNotKnow()
    {
        QVERIFY(!read(""));
        QVERIFY(!read("DIMENSION: 2\nEDGE_WEIGHT_TYPE: XRAY1\nNODE_COORD_SECTION\n1 0 0\n2 1 1\n"));
        QVERIFY(!read("DIMENSION: 2\nEDGE_WEIGHT_TYPE: EUC_2D\nNODE_COORD_SECTION\n1 0 0\n"));
        QVERIFY(!read("DIMENSION: 3\nEDGE_WEIGHT_TYPE: EXPLICIT\nEDGE_WEIGHT_FORMAT: UPPER_ROW\n"
                      "EDGE_WEIGHT_SECTION\n1 2\n"));
    }
};

QTEST_GUILESS_MAIN(TsplibTest)
#include "test_tsplib.moc"
