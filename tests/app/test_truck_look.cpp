// SPDX-License-Identifier: GPL-3.0-or-later
// Contrast of everything that is read in the Truck, in the sun and in the night look: 7:1 or better
// by the formula of WCAG 2.2 (w3.org/TR/WCAG22, "contrast ratio" and "relative luminance"; level
// AAA of success criterion 1.4.6). The colours are the program's own, not copies.
#include "app/dialogs/truck_look.h"
#include "app/shell/style.h"

#include <QTest>

#include <algorithm>
#include <cmath>

using namespace keyround;

namespace {

double luminance(const QColor &colour)
{
    const auto linear = [](double part) {
        return part <= 0.04045 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) +
           0.0722 * linear(colour.blueF());
}

double contrast(const QColor &a, const QColor &b)
{
    const double one = luminance(a);
    const double two = luminance(b);
    return (std::max(one, two) + 0.05) / (std::min(one, two) + 0.05);
}

} // namespace

class TestTruckLook : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    // Values that the formula must give: black on white 21:1 (WCAG's own example), and #777777 on
    // white 4.48:1, the grey that is known for just failing 4.5:1.
    static void theFormulaIsRight()
    {
        QVERIFY(std::abs(contrast(Qt::black, Qt::white) - 21.0) < 1e-9);
        QVERIFY(std::abs(contrast(QColor(0x77, 0x77, 0x77), Qt::white) - 4.48) < 0.005);
    }

    static void allThatIsReadHasSevenToOne_data()
    {
        QTest::addColumn<QColor>("words");
        QTest::addColumn<QColor>("ground");
        const auto rows = [](const char *look, const TruckColours &colours) {
            const auto row = [look](const char *what, const QColor &words, const QColor &ground) {
                QTest::addRow("%s: %s", look, what) << words << ground;
            };
            row("ink on ground", colours.ink, colours.ground);
            row("ink on card", colours.ink, colours.card);
            row("quiet ink on ground", colours.quietInk, colours.ground);
            row("quiet ink on card", colours.quietInk, colours.card);
            row("ink under a finger", colours.ink, colours.actTint);
            row("the next thing to do", colours.onAct, colours.act);
            row("a button that is down", colours.card, colours.ink);
            row("a caution", colours.ink, colours.cautionTint);
            row("a danger", colours.onDanger, colours.danger);
        };
        rows("sun", TruckColours::sun());
        rows("night", TruckColours::night());
    }

    static void allThatIsReadHasSevenToOne()
    {
        QFETCH(QColor, words);
        QFETCH(QColor, ground);
        const double ratio = contrast(words, ground);
        QVERIFY2(ratio >= 7.0, qPrintable(QString::number(ratio)));
    }

    // WCAG 2.2, 1.4.11: what a control is known by has 3:1 against what lies beside it.
    static void whatIsOnlySeenHasThreeToOne()
    {
        for (const TruckColours *colours : {&TruckColours::sun(), &TruckColours::night()}) {
            QVERIFY(contrast(colours->act, colours->ground) >= 3.0); // edge of a button
            QVERIFY(contrast(colours->act, colours->card) >= 3.0);   // filling of the ring
            QVERIFY(contrast(colours->act, colours->band) >= 3.0 ||  // filling over the band,
                    contrast(colours->ink, colours->band) >= 3.0);   // whose ends are ink
            QVERIFY(contrast(colours->danger, colours->ground) >= 3.0);
            QVERIFY(contrast(colours->caution, colours->ground) >= 3.0);
        }
    }

    static void theNightIsDarkAndTheSunIsLight()
    {
        QVERIFY(luminance(TruckColours::night().ground) < 0.02);
        QVERIFY(luminance(TruckColours::sun().ground) > 0.85);
        QCOMPARE(TruckColours::sun().ground, look::paper);
    }

    static void aPartTakesTheLookOfItsPlace()
    {
        QWidget place;
        auto *part = new QWidget(&place);
        QCOMPARE(TruckColours::of(part).ground, TruckColours::sun().ground);
        setNightLook(&place, true);
        QCOMPARE(TruckColours::of(part).ground, TruckColours::night().ground);
        auto *paper = new QWidget(part);
        setNightLook(paper, false); // within it a part may stay light
        QCOMPARE(TruckColours::of(paper).ground, TruckColours::sun().ground);
    }
};

QTEST_MAIN(TestTruckLook)
#include "test_truck_look.moc"
