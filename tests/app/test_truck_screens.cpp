// SPDX-License-Identifier: GPL-3.0-or-later
// Every step of the Truck with long names, on a 14 inch screen of 1366 x 768 and of 1920 x 1080 at
// 100, 125 and 150 %, at 96 and 144 dots an inch, in the sun and the night look: targets of 20 mm
// with 3 mm between them, everything within the page, nothing cut off, nothing over another. The
// pictures are for looking at.
#include "app/dialogs/big_button.h"
#include "app/truck/stop_list_page.h"
#include "tests/support/truck_bench.h"

#include <QDir>
#include <QScrollArea>
#include <QSettings>
#include <QStackedWidget>

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

QList<QWidget *> readable(const QWidget &place)
{
    QList<QWidget *> parts;
    for (QWidget *each : place.findChildren<QWidget *>()) {
        auto *label = qobject_cast<QLabel *>(each);
        const bool says = label != nullptr && !label->text().isEmpty();
        const bool isTarget = qobject_cast<BigButton *>(each) != nullptr ||
                              qobject_cast<QLineEdit *>(each) != nullptr;
        if ((says || isTarget) && each->isVisible()) {
            parts << each;
        }
    }
    return parts;
}

/// Empty when all words can be read: none cut off by its own widget, none under another.
QString cutOff(const QWidget &place)
{
    const QList<QWidget *> parts = readable(place);
    for (const QWidget *each : parts) {
        if (const auto *button = qobject_cast<const BigButton *>(each)) {
            if (!button->showsAllWords()) {
                return named(each) +
                       QStringLiteral(" does not show all of \"%1\"").arg(button->text());
            }
        } else if (const auto *label = qobject_cast<const QLabel *>(each)) {
            const bool wraps = label->wordWrap();
            const bool tooLow =
                wraps && label->heightForWidth(label->width()) > label->height() + 1;
            const bool tooNarrow = !wraps && label->sizeHint().width() > label->width() + 1;
            if (tooLow || tooNarrow) {
                return QStringLiteral("cut off: \"%1\" (%2 x %3)")
                    .arg(label->text())
                    .arg(label->width())
                    .arg(label->height());
            }
        }
        if (isInScrollArea(each)) {
            continue;
        }
        for (const QWidget *other : parts) {
            if (other != each && !isInScrollArea(other) && !each->isAncestorOf(other) &&
                !other->isAncestorOf(each) &&
                onPlace(each, &place).intersects(onPlace(other, &place))) {
                return named(each) + QStringLiteral(" lies over ") + named(other);
            }
        }
    }
    return {};
}

/// Which pages ask for the most room: for the message of a failure.
QString largestParts(const QWidget &place)
{
    QStringList parts;
    for (const auto *stack : place.findChildren<QStackedWidget *>()) {
        for (int i = 0; i < stack->count(); ++i) {
            const QSize needs = stack->widget(i)->minimumSizeHint();
            if (needs.height() < place.height() * 0.6 && needs.width() < place.width() * 0.8) {
                continue;
            }
            parts << QStringLiteral("%1 %2 x %3")
                         .arg(QString::fromLatin1(stack->widget(i)->metaObject()->className()))
                         .arg(needs.width())
                         .arg(needs.height());
        }
    }
    return parts.join(QStringLiteral("; "));
}

void check(const TruckBench &bench, const char *name)
{
    QTest::qWait(1); // what asks for a new layout is dealt with in turns
    const QString file =
        QStringLiteral(KEYROUND_BUILD_DIR "/screens/truck-%1-%2-%3.png")
            .arg(QString::fromLatin1(QTest::currentDataTag()).section(u' ', 0, 3))
            .arg(bench.place->isNight() ? QStringLiteral("night") : QStringLiteral("sun"),
                 QLatin1String(name));
    QVERIFY(bench.place->grab().save(QString(file).replace(QLatin1Char(' '), QLatin1Char('-'))));
    // Nothing pushes the window larger.
    QVERIFY2(bench.place->size() == bench.size(),
             qPrintable(QLatin1String(name) + QStringLiteral(": ") + largestParts(*bench.place)));
    QString fault = faultOf(*bench.place);
    if (fault.isEmpty()) {
        fault = cutOff(*bench.place);
    }
    QVERIFY2(fault.isEmpty(), qPrintable(QLatin1String(name) + QStringLiteral(": ") + fault));
}

void addOwnProblems(TruckBench &bench)
{
    ProjectSettings settings = bench.session.settings();
    settings.truckHabits.ownProblems = {
        {QStringLiteral("Ants in the box (invented)")},
        {QStringLiteral("Bus stop over the lid (invented)")},
        {QStringLiteral("Neighbour's hedge grown over the marker post (invented)")}};
    settings.truckHabits.stuckProcedure =
        QStringLiteral("Invented: no more than 5 turns of work without a word to the office.");
    if (!bench.session.project().settings().save(settings)) {
        qFatal("the settings were not kept");
    }
    Q_EMIT bench.session.notifier().settingsChanged();
}

} // namespace

class TestTruckScreens : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        keepProjectsInMemory();
        applyLook(*qApp);
        QDir(QStringLiteral(KEYROUND_BUILD_DIR)).mkpath(QStringLiteral("screens"));
    }

    void everyStepFits_data()
    {
        // What the window leaves to the place: menu, place buttons and message line take the rest.
        QTest::addColumn<QSize>("size");
        QTest::addColumn<double>("pixelsPerMillimetre");
        QTest::addColumn<bool>("night");
        // 14 inch: 4.41 and 6.2 pixels a millimetre; with a scale both the screen and the
        // millimetre have fewer of the program's pixels.
        const auto row = [](const char *name, QSize size, double pixels, double scale, bool night) {
            QTest::newRow(name) << (QSizeF(size) / scale).toSize() << pixels / scale << night;
        };
        row("1366x768 100", QSize(1366, 660), 4.41, 1.0, false);
        row("1366x768 100 night", QSize(1366, 660), 4.41, 1.0, true);
        row("1366x768 125", QSize(1366, 660), 4.41, 1.25, false);
        row("1920x1080 100", QSize(1920, 960), 6.2, 1.0, false);
        row("1920x1080 125", QSize(1920, 960), 6.2, 1.25, false);
        row("1920x1080 150", QSize(1920, 960), 6.2, 1.5, false);
        // A larger screen of each density: 96 and 144 dots an inch.
        row("1366x768 96dpi", QSize(1366, 660), 96 / 25.4, 1.0, false);
        row("1920x1080 144dpi", QSize(1920, 960), 144 / 25.4, 1.0, true);
    }

    void everyStepFits()
    {
        QFETCH(QSize, size);
        QFETCH(double, pixelsPerMillimetre);
        QFETCH(bool, night);
        QSettings().setValue(QStringLiteral("pixelsPerMillimetre"), pixelsPerMillimetre);
        QSettings().setValue(QStringLiteral("truckNightLook"), night);
        TruckBench bench(size);
        addOwnProblems(bench);
        bench.addRound({bench.town->longWords, QStringLiteral("V-005"), bench.town->withoutPlace,
                        bench.town->leftClosed});
        bench.show();
        check(bench, "0-choose");
        TruckBench::key(Qt::Key_Return);
        check(bench, "1-get-there");
        TruckBench::key(Qt::Key_F);
        TruckBench::key(Qt::Key_1);
        check(bench, "1-search");
        TruckBench::key(Qt::Key_8);
        TruckBench::key(Qt::Key_V);
        check(bench, "1-visits");
        TruckBench::key(Qt::Key_Escape);
        auto *list = bench.place->findChild<StopListPage *>();
        QTest::mouseClick(list->findChild<QWidget *>(QStringLiteral("find-a-valve")),
                          Qt::LeftButton);
        check(bench, "1-find");
        TruckBench::key(Qt::Key_Escape);
        bench.click("stop-V-014");
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
        TruckBench::key(Qt::Key_T);
        TruckBench::type("99999");
        TruckBench::key(Qt::Key_Return);
        check(bench, "3-turn-torque");
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
        bench.click("open-photos");
        check(bench, "7-photos");
        bench.click("photos-done");
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
        QSettings().setValue(QStringLiteral("truckNightLook"), false);
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
