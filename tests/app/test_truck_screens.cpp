// SPDX-License-Identifier: GPL-3.0-or-later
// Every step of the Truck on a 14 inch screen of 1366 x 768 and of 1920 x 1080, with long names:
// targets of 20 mm that keep apart, everything within the page. The pictures are for looking at.
#include "app/dialogs/big_button.h"
#include "tests/support/truck_bench.h"

#include <QDir>
#include <QScrollArea>
#include <QSettings>

#include <cmath>

using namespace keyround;

namespace {

bool isInScrollArea(const QWidget *widget)
{
    for (const QWidget *up = widget->parentWidget(); up != nullptr; up = up->parentWidget()) {
        if (qobject_cast<const QScrollArea *>(up) != nullptr) {
            return true;
        }
    }
    return false;
}

QRect onPlace(const QWidget *widget, const QWidget *place)
{
    return {widget->mapTo(place, QPoint(0, 0)), widget->size()};
}

QString named(const QWidget *widget)
{
    return widget->objectName() + QLatin1Char(' ') + widget->accessibleName();
}

QList<QWidget *> targetsOf(const QWidget &place)
{
    QList<QWidget *> targets;
    for (QWidget *each : place.findChildren<QWidget *>()) {
        const bool isTarget = qobject_cast<BigButton *>(each) != nullptr ||
                              qobject_cast<QLineEdit *>(each) != nullptr;
        if (isTarget && each->isVisible()) {
            targets << each;
        }
    }
    return targets;
}

/// Empty when every target is large enough, within the place and apart from the others.
QString faultOf(const QWidget &place)
{
    const int target = static_cast<int>(std::floor(pixelsFor(20.0, &place)));
    const int gap = static_cast<int>(std::floor(pixelsFor(3.0, &place)));
    const QList<QWidget *> targets = targetsOf(place);
    for (const QWidget *each : targets) {
        if (each->height() < target || each->width() < target) {
            return QStringLiteral("%1 is %2 x %3")
                .arg(named(each))
                .arg(each->width())
                .arg(each->height());
        }
        if (isInScrollArea(each)) {
            continue;
        }
        const QRect here = onPlace(each, &place);
        if (!place.rect().contains(here)) {
            return named(each) + QStringLiteral(" is not within the page");
        }
        const QRect around = here.adjusted(1 - gap, 1 - gap, gap - 1, gap - 1);
        for (const QWidget *other : targets) {
            if (other != each && !isInScrollArea(other) &&
                around.intersects(onPlace(other, &place))) {
                return named(each) + QStringLiteral(" is too near to ") + named(other);
            }
        }
    }
    const QSize needs = place.minimumSizeHint();
    if (needs.height() > place.height() || needs.width() > place.width()) {
        return QStringLiteral("the page needs %1 x %2").arg(needs.width()).arg(needs.height());
    }
    return {};
}

void check(const TruckBench &bench, const char *name)
{
    QCoreApplication::processEvents();
    QCOMPARE(bench.place->size(), bench.size()); // nothing pushes the window larger
    const QString file = QStringLiteral(KEYROUND_BUILD_DIR "/screens/truck-%1-%2.png")
                             .arg(bench.place->width())
                             .arg(QLatin1String(name));
    QVERIFY(bench.place->grab().save(file));
    const QString fault = faultOf(*bench.place);
    QVERIFY2(fault.isEmpty(), qPrintable(QLatin1String(name) + QStringLiteral(": ") + fault));
}

} // namespace

class TestTruckScreens : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
        QDir(QStringLiteral(KEYROUND_BUILD_DIR)).mkpath(QStringLiteral("screens"));
    }

    void everyStepFits_data()
    {
        // What the window leaves to the place: menu, place buttons and message line take the rest.
        QTest::addColumn<QSize>("size");
        QTest::addColumn<double>("pixelsPerMillimetre");
        QTest::newRow("1366x768") << QSize(1366, 660) << 4.41;
        QTest::newRow("1920x1080") << QSize(1920, 960) << 6.2;
    }

    void everyStepFits()
    {
        QFETCH(QSize, size);
        QFETCH(double, pixelsPerMillimetre);
        QSettings().setValue(QStringLiteral("pixelsPerMillimetre"), pixelsPerMillimetre);
        TruckBench bench(size);
        bench.addRound({bench.town->longWords, QStringLiteral("V-005"), bench.town->withoutPlace,
                        bench.town->leftClosed});
        bench.show();
        check(bench, "0-choose");
        TruckBench::key(Qt::Key_Return);
        check(bench, "1-get-there");
        TruckBench::key(Qt::Key_Return);
        check(bench, "1-zone-lid");
        TruckBench::key(Qt::Key_Return); // later
        TruckBench::key(Qt::Key_3);
        TruckBench::type("many");
        check(bench, "2-found");
        bench.find<QLineEdit>("found-turns")->selectAll();
        TruckBench::type("6 1/2");
        TruckBench::key(Qt::Key_Return);
        for (int turn = 0; turn < 12; ++turn) {
            TruckBench::key(Qt::Key_Space);
        }
        TruckBench::key(Qt::Key_Q);
        check(bench, "3-turn");
        TruckBench::key(Qt::Key_O);
        for (int turn = 0; turn < 19; ++turn) {
            TruckBench::key(Qt::Key_Space);
        }
        TruckBench::key(Qt::Key_C);
        TruckBench::key(Qt::Key_Space);
        TruckBench::key(Qt::Key_NumberSign);
        TruckBench::type("lots");
        TruckBench::key(Qt::Key_Return);
        check(bench, "3-turn-typing");
        TruckBench::key(Qt::Key_Escape);
        TruckBench::key(Qt::Key_Return);
        check(bench, "4-judge");
        TruckBench::key(Qt::Key_Return);
        bench.click("problem-hard_to_turn");
        bench.click("problem-other");
        TruckBench::type("wasps in the box");
        check(bench, "5-problems");
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_3);
        check(bench, "6-leave");
        TruckBench::key(Qt::Key_Return);
        check(bench, "7-finish");
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_S);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_L);
        check(bench, "8-stops");
        bench.click("stop-V-014");
        for (int i = 0; i < 5; ++i) {
            bench.click("next");
        }
        check(bench, "9-correction");
        bench.click("stops");
        bench.click("to-finish-round");
        check(bench, "10-finish-round");
    }

    void saysWhatToDoWhenThereIsNothing()
    {
        QSettings().setValue(QStringLiteral("pixelsPerMillimetre"), 4.41);
        TruckBench bench({1366, 660});
        bench.show();
        check(bench, "no-round");
        QVERIFY(bench.text("choose-empty").contains(QStringLiteral("yard")));
        const QString empty = bench.town->folder.filePath(QStringLiteral("empty.keyround"));
        QVERIFY(bench.session.createProject(empty, UnitSystem::Us).has_value());
        QVERIFY(bench.text("choose-empty").contains(QStringLiteral("no valves")));
        check(bench, "no-valves");
        bench.session.closeProject();
        check(bench, "no-project");
    }
};

QTEST_MAIN(TestTruckScreens)
#include "test_truck_screens.moc"
