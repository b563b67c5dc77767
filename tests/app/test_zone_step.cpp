// SPDX-License-Identifier: GPL-3.0-or-later
// The work zone in the Truck, by keys alone and by clicks alone: what is asked once and
// remembered, the set-up that is offered, the utility's own values; targets of 20 mm on two
// screens. The pictures are for looking at.
#include "app/commands/work_zone.h"
#include "app/dialogs/big_button.h"
#include "core/storage/settings_store.h"
#include "tests/support/on_screen.h"
#include "tests/support/truck_bench.h"

#include <QSettings>

#include <cmath>

using namespace keyround;

namespace {

/// Answers by its words, whatever key they have today.
void answer(const TruckBench &bench, const QString &words)
{
    for (auto *button : bench.place->findChildren<BigButton *>()) {
        if (button->isVisible() && button->objectName().startsWith(QLatin1String("site-answer")) &&
            button->text() == words) {
            QTest::mouseClick(button, Qt::LeftButton);
            return;
        }
    }
    QFAIL(qPrintable(
        QStringLiteral("nothing answers \"%1\" to %2").arg(words, bench.text("site-question"))));
}

/// Every target in sight is 20 mm or more both ways, and all is within the page.
QString faultOf(const TruckBench &bench, double pixelsPerMillimetre)
{
    const int least = static_cast<int>(std::floor(20.0 * pixelsPerMillimetre));
    for (QWidget *each : bench.place->findChildren<QWidget *>()) {
        const bool isTarget = qobject_cast<BigButton *>(each) != nullptr ||
                              qobject_cast<QLineEdit *>(each) != nullptr;
        if (!isTarget || !each->isVisible()) {
            continue;
        }
        const QRect here(each->mapTo(bench.place.get(), QPoint(0, 0)), each->size());
        if (here.width() < least || here.height() < least) {
            return QStringLiteral("%1 is %2 x %3, not %4")
                .arg(each->objectName())
                .arg(here.width())
                .arg(here.height())
                .arg(least);
        }
        if (!bench.place->rect().contains(here)) {
            return each->objectName() + QStringLiteral(" is not within the page");
        }
    }
    if (bench.place->size() != bench.size()) {
        return QStringLiteral("the page grew to %1 x %2")
            .arg(bench.place->width())
            .arg(bench.place->height());
    }
    return {};
}

void see(const TruckBench &bench, const char *name, double pixelsPerMillimetre = 96 / 25.4)
{
    QCoreApplication::processEvents();
    const QString file =
        QStringLiteral("truck-zone-%1-%2.png").arg(bench.place->width()).arg(QLatin1String(name));
    QVERIFY(bench.place->grab().save(screenFile(file)));
    const QString fault = faultOf(bench, pixelsPerMillimetre);
    QVERIFY2(fault.isEmpty(), qPrintable(QLatin1String(name) + QStringLiteral(": ") + fault));
}

} // namespace

class TestZoneStep : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        applyLook(*qApp);
    }
    void init() { QSettings().remove(QStringLiteral("pixelsPerMillimetre")); }

    void byKeysAlone();
    void answersAreRememberedForTheStreet();
    void theUtilitysOwnValues();
    void targetsAreLarge_data();
    void targetsAreLarge();
};

void TestZoneStep::byKeysAlone()
{
    TruckBench bench;
    bench.addRound({QStringLiteral("V-001")});
    bench.show();
    TruckBench::key(Qt::Key_Return); // the round
    TruckBench::key(Qt::Key_Return); // at the valve
    QCOMPARE(bench.text("site-question"), wordsFor(SiteQuestion::Lid));
    TruckBench::key(Qt::Key_4); // in the lane
    const Valve valve = *bench.session.valveByNumber(QStringLiteral("V-001"));
    QVERIFY(siteFor(bench.session, valve).known.valve.lid == LidPlace::Lane);
    // Whatever the layer does not know is asked, one question after the other; numbers are typed.
    int asked = 0;
    while (!siteFor(bench.session, valve).questions.empty() && asked < 12) {
        const SiteQuestion question = siteFor(bench.session, valve).questions.front();
        QCOMPARE(bench.text("site-question"), wordsFor(question));
        if (question == SiteQuestion::LaneWidth) {
            bench.find<QLineEdit>("site-typed")->setFocus();
            TruckBench::type("wide");
            TruckBench::key(Qt::Key_Return);
            QVERIFY(bench.text("site-message").contains(QStringLiteral("\"wide\"")));
            QVERIFY(bench.find<QLineEdit>("site-typed")->property("refused").toBool());
            bench.find<QLineEdit>("site-typed")->selectAll();
            TruckBench::type("11.5");
            TruckBench::key(Qt::Key_Return);
        } else {
            TruckBench::key(question == SiteQuestion::LowVolume || question == SiteQuestion::OneWay
                                ? Qt::Key_2
                                : (question == SiteQuestion::Lanes ? Qt::Key_2 : Qt::Key_1));
        }
        ++asked;
    }
    QVERIFY(asked >= 4 && asked < 12);
    QVERIFY2(bench.text("zone-headline").contains(QStringLiteral("Typical application 10")),
             qPrintable(bench.text("zone-headline")));
    QVERIFY(bench.text("zone-headline").contains(QStringLiteral("not certified")));
    QVERIFY(bench.text("zone-notes").contains(QStringLiteral("person on site decide")));
    QVERIFY(siteFor(bench.session, valve).known.street.laneWidth == Feet{11.5});
    TruckBench::key(Qt::Key_1); // it stands
    QVERIFY(bench.find<QAbstractButton>("zone-up")->isChecked());
    QTRY_VERIFY(!bench.session.drafts().empty() &&
                bench.session.drafts().front().content.value(QStringLiteral("is_set_up")).toBool());
    TruckBench::key(Qt::Key_Return);
    QVERIFY(bench.shows("found-open"));
}

void TestZoneStep::answersAreRememberedForTheStreet()
{
    TruckBench bench;
    bench.addRound({QStringLiteral("V-001")});
    bench.show();
    bench.click("round-1");
    bench.click("next");
    answer(bench, QStringLiteral("in the lane"));
    const Valve first = *bench.session.valveByNumber(QStringLiteral("V-001"));
    const QString street = siteFor(bench.session, first).streetKey;
    for (int asked = 0; asked < siteQuestionCount; ++asked) {
        const auto questions = siteFor(bench.session, first).questions;
        if (questions.empty()) {
            break;
        }
        const bool isCount = questions.front() == SiteQuestion::Lanes;
        answer(bench, isCount ? QStringLiteral("2")
                              : answersTo(questions.front(), UnitSystem::Us).back().words);
    }
    QVERIFY(siteFor(bench.session, first).questions.empty());
    // Another valve of the street is asked about its lid alone.
    int others = 0;
    for (const Valve &other : bench.session.valves()) {
        if (other.id == first.id || siteFor(bench.session, other).streetKey != street) {
            continue;
        }
        ++others;
        QVERIFY(
            answerSite(bench.session, other, SiteQuestion::Lid, static_cast<int>(LidPlace::Lane)));
        QVERIFY(siteFor(bench.session, other).questions.empty());
        QCOMPARE(setUpFor(bench.session, other)->application.number,
                 setUpFor(bench.session, first)->application.number);
        break;
    }
    QCOMPARE(others, 1);
    // What was said can be undone, step by step.
    while (bench.session.undoStack().canUndo()) {
        bench.session.undoStack().undo();
    }
    QVERIFY(bench.session.knownSites() == KnownSites{});
}

void TestZoneStep::theUtilitysOwnValues()
{
    TruckBench bench;
    bench.addRound({QStringLiteral("V-001")});
    bench.show();
    const Valve valve = *bench.session.valveByNumber(QStringLiteral("V-001"));
    SiteFacts facts;
    facts.street = {35, 2, Feet{12}, Feet{0}, false, false, RoadSetting::UrbanLowSpeed, false};
    facts.valve.lid = LidPlace::Lane;
    for (int i = 0; i < siteQuestionCount; ++i) {
        const auto question = static_cast<SiteQuestion>(i);
        QVERIFY(answerSite(bench.session, valve, question, answerIn(facts, question)));
    }
    const int worked = setUpFor(bench.session, valve)->cones;
    TruckBench::key(Qt::Key_Return);
    TruckBench::key(Qt::Key_Return);
    QVERIFY(bench.shows("zone-headline"));
    see(bench, "card");
    TruckBench::key(Qt::Key_2);
    QCOMPARE(TruckBench::focus(), QStringLiteral("change-cones"));
    bench.find<QLineEdit>("change-by")->clear();
    TruckBench::type("19");
    TruckBench::key(Qt::Key_Return); // refused: nobody is named
    QVERIFY2(bench.text("change-message").contains(QStringLiteral("who changes")),
             qPrintable(bench.text("change-message")));
    see(bench, "change");
    bench.find<QLineEdit>("change-by")->setFocus();
    TruckBench::type("A. Foreman (invented)");
    bench.find<QLineEdit>("change-name")->setFocus();
    TruckBench::type("beside the school");
    bench.click("change-keep-street");
    QVERIFY(bench.shows("zone-headline"));
    QVERIFY2(bench.text("zone-changed").contains(QStringLiteral("A. Foreman (invented)")),
             qPrintable(bench.text("zone-changed")));
    QVERIFY(bench.text("zone-changed")
                .contains(QStringLiteral("cones: 19, worked out %1").arg(worked)));
    QCOMPARE(setUpFor(bench.session, valve)->cones, 19);
    QCOMPARE(bench.session.settings().savedSetUps.size(), std::size_t(1));
    see(bench, "changed");
    bench.click("zone-change");
    bench.click("change-take-back");
    QCOMPARE(setUpFor(bench.session, valve)->cones, worked);
    QVERIFY(!bench.shows("zone-changed"));
}

void TestZoneStep::targetsAreLarge_data()
{
    QTest::addColumn<QSize>("size");
    QTest::addColumn<double>("dotsPerInch");
    QTest::newRow("96 dpi") << QSize(1366, 660) << 96.0;
    QTest::newRow("144 dpi") << QSize(1920, 960) << 144.0;
}

void TestZoneStep::targetsAreLarge()
{
    QFETCH(QSize, size);
    QFETCH(double, dotsPerInch);
    const double scale = dotsPerInch / 25.4;
    QSettings().setValue(QStringLiteral("pixelsPerMillimetre"), scale);
    TruckBench bench(size);
    bench.addRound({bench.town->longWords});
    bench.show();
    bench.click("round-1");
    bench.click("next");
    see(bench, "lid", scale);
    const Valve valve = *bench.session.valveByNumber(bench.town->longWords);
    const SiteFacts facts{
        {45, 4, Feet{11}, Feet{6}, false, false, RoadSetting::UrbanHighSpeed, false},
        {LidPlace::InnerLane, true}};
    for (int i = 0; i < siteQuestionCount; ++i) {
        const auto question = static_cast<SiteQuestion>(i);
        QVERIFY(answerSite(bench.session, valve, question, answerIn(facts, question)));
    }
    bench.click("back");
    bench.click("next");
    QVERIFY(bench.shows("zone-headline"));
    see(bench, "offered", scale);
    bench.click("zone-again");
    for (int i = 0; i < 12 && bench.shows("site-question"); ++i) {
        see(bench, qPrintable(QStringLiteral("ask-%1").arg(i)), scale);
        TruckBench::key(Qt::Key_A);
    }
    QVERIFY(bench.shows("zone-headline"));
    bench.click("zone-change");
    see(bench, "change", scale);
    TruckBench::key(Qt::Key_Escape);
    QVERIFY(bench.shows("zone-headline"));
}

QTEST_MAIN(TestZoneStep)
#include "test_zone_step.moc"
