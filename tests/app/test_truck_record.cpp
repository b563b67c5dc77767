// SPDX-License-Identifier: GPL-3.0-or-later
// Round the stop: corrections with their reason, photos, a valve that is not on the round, dropping
// what was typed, the night look.
#include "app/commands/photo_commands.h"
#include "core/storage/visit_store.h"
#include "tests/support/truck_bench.h"

using namespace keyround;

class TestTruckRecord : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        keepSettingsApart();
        keepProjectsInMemory();
        applyLook(*qApp);
    }

    void correctsARecordedVisit()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001"), QStringLiteral("V-002")});
        bench.show();
        goToCounting();
        TruckBench::key(Qt::Key_NumberSign);
        TruckBench::type("72");
        TruckBench::key(Qt::Key_Return);
        goToFinish(Qt::Key_1);
        TruckBench::key(Qt::Key_Return);
        const Visit first = bench.history("V-001").visits.back().visit;
        const auto before = bench.history("V-001").visits.size();

        TruckBench::key(Qt::Key_L);
        bench.click("stop-V-001");
        QVERIFY(bench.text("stop-title").startsWith(QStringLiteral("Correction")));
        QVERIFY(bench.find<QAbstractButton>("found-open")->isChecked());
        QVERIFY(bench.session.drafts().empty()); // looking is no change
        bench.click("next");
        TruckBench::key(Qt::Key_NumberSign);
        TruckBench::type("27");
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return); // judge
        QVERIFY(bench.text("basis").contains(QStringLiteral("27 turns, counted on")));
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return); // finish: the reason is asked for
        QCOMPARE(TruckBench::focus(), QStringLiteral("correction-why"));
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.text("missing").contains(QStringLiteral("why")));
        TruckBench::type("digits swapped");
        TruckBench::key(Qt::Key_Return);

        const std::vector<ReadVisit> &visits = bench.history("V-001").visits;
        QCOMPARE(visits.size(), before); // it stands in the other's place
        const Visit &corrected = visits.back().visit;
        QVERIFY(corrected.supersedes == first.id);
        QCOMPARE(corrected.reason, QStringLiteral("digits swapped"));
        QVERIFY(corrected.arrived == first.arrived);
        QCOMPARE(corrected.passes.front().turns.value, 108);
        const auto all = bench.session.project().visits().ofValve(first.valve);
        QCOMPARE(all->size(), before + 1); // and the other is kept
        QVERIFY(bench.session.drafts().empty());
    }

    void correctsAnOlderVisitFromTheRecord()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        const std::size_t before = bench.history("V-001").visits.size();
        QVERIFY(before >= 2);
        const Visit old = bench.history("V-001").visits[before - 2].visit;
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_V); // what is on record of it
        QVERIFY(bench.text("visits-title").contains(QStringLiteral("V-001")));
        QCOMPARE(TruckBench::focus(), QStringLiteral("visit-1"));
        bench.click("visit-2");
        QVERIFY(bench.text("stop-title").startsWith(QStringLiteral("Correction")));
        for (int i = 0; i < 5; ++i) {
            bench.click("next");
        }
        QVERIFY(bench.find("skip")->isEnabled() == false);
        TruckBench::key(Qt::Key_Return); // without a reason nothing is recorded
        QCOMPARE(bench.history("V-001").visits.size(), before);
        QVERIFY(bench.text("missing").contains(QStringLiteral("why")));
        TruckBench::type("read the wrong line");
        TruckBench::key(Qt::Key_Return);
        const auto &visits = bench.history("V-001").visits;
        QCOMPARE(visits.size(), before);
        QVERIFY(visits[before - 2].visit.supersedes == old.id);
        QCOMPARE(visits[before - 2].visit.reason, QStringLiteral("read the wrong line"));
        QVERIFY(visits[before - 2].visit.passes == old.passes);
    }

    void takesPhotosFromTheCamerasFolder()
    {
        const QTemporaryDir camera;
        for (int i = 1; i <= 3; ++i) {
            QImage image(640, 480, QImage::Format_RGB32);
            image.fill(QColor(40 * i, 90, 120));
            QVERIFY(image.save(camera.filePath(QStringLiteral("IMG_%1.jpg").arg(i))));
        }
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        goToCounting();
        countByKey(3);
        goToFinish(Qt::Key_1);
        TruckBench::key(Qt::Key_P);
        auto *folder = bench.find<QLineEdit>("camera-folder");
        folder->setFocus();
        folder->selectAll();
        TruckBench::type("/no/such/camera");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(folder->property("refused").toBool());
        folder->setText(camera.path());
        TruckBench::key(Qt::Key_Return);
        QVERIFY(!folder->property("refused").toBool());
        QTRY_VERIFY(bench.shows("offered-photo-3"));
        bench.click("offered-photo-1");
        bench.click("offered-photo-3");
        QVERIFY2(bench.text("photo-note").contains(QStringLiteral("is in the project")),
                 qPrintable(bench.text("photo-note")));
        QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
        QTRY_VERIFY(bench.shows("taken-photo-1"));
        bench.click("taken-photo-1"); // and one out again
        bench.click("photos-done");
        QVERIFY(
            bench.find<QAbstractButton>("open-photos")->text().contains(QStringLiteral("1 photo")));
        bench.click("next");
        const Visit &visit = bench.history("V-001").visits.back().visit;
        const auto photos = photosOf(bench.session, {visit.valve, visit.round, visit.id});
        QCOMPARE(photos.size(), std::size_t(1));
        QVERIFY(!photos.front().thumbnail.isEmpty());
        QCOMPARE(photos.front().sha256.size(), qsizetype(64));
    }

    void theNightLookIsKept()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        QVERIFY(!bench.place->isNight());
        bench.click("choose-look");
        QVERIFY(bench.place->isNight());
        const QImage dark = bench.place->grab().toImage();
        QVERIFY(dark.pixelColor(dark.width() / 2, dark.height() / 2).lightness() < 40);
        const TruckPlace later(bench.session);
        QVERIFY(later.isNight());
        bench.click("choose-look");
        const QImage light = bench.place->grab().toImage();
        QVERIFY(light.pixelColor(light.width() / 2, light.height() / 2).lightness() > 220);
    }

    void recordsAValveThatIsNotOnTheRound()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        bench.click("stops");
        QLineEdit *line = nullptr;
        for (auto *each : bench.place->findChildren<QLineEdit *>(QStringLiteral("valve-number"))) {
            line = each->isVisible() ? each : line;
        }
        QVERIFY(line != nullptr);
        line->setFocus();
        TruckBench::type("999");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(line->property("refused").toBool());
        line->clear();
        TruckBench::type("V-009");
        TruckBench::key(Qt::Key_Return);
        QVERIFY(bench.text("stop-title").contains(QStringLiteral("V-009")));
        QVERIFY(!bench.find("skip")->isEnabled());
    }

    void theRecordLeadsBackToTheStop()
    {
        TruckBench bench;
        bench.addRound({bench.town->neverVisited, QStringLiteral("V-001")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        const QString title = bench.text("stop-title");
        TruckBench::key(Qt::Key_V);
        QVERIFY(bench.shows("visits-back"));
        bench.click("visits-back");
        QVERIFY(bench.shows("stop-title"));
        QCOMPARE(bench.text("stop-title"), title);
    }

    void dropsWhatWasTypedOnlyWhenAskedTwice()
    {
        TruckBench bench;
        bench.addRound({QStringLiteral("V-001")});
        bench.show();
        TruckBench::key(Qt::Key_Return);
        QVERIFY(!bench.find("drop")->isEnabled());
        TruckBench::key(Qt::Key_Return);
        TruckBench::key(Qt::Key_Return); // the work zone is asked about later
        TruckBench::key(Qt::Key_1);
        bench.click("drop");
        QCOMPARE(bench.session.drafts().size(), std::size_t(1));
        TruckBench::key(Qt::Key_2); // a change takes the question back
        TruckBench::key(Qt::Key_Delete);
        QCOMPARE(bench.session.drafts().size(), std::size_t(1));
        TruckBench::key(Qt::Key_Delete);
        QVERIFY(bench.session.drafts().empty());
        QVERIFY(bench.shows("list-title"));
    }
};

QTEST_MAIN(TestTruckRecord)
#include "test_truck_record.moc"
