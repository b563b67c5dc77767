// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/repair_store.h"

#include "core/storage/settings_store.h"
#include "tests/core/storage/fixtures.h"

#include <QTest>

using namespace keyround;
using namespace keyround::fixtures;

namespace {

Replacement someReplacement(std::uint64_t stamp)
{
    Replacement replacement;
    replacement.id = {newUuid7(someDay)};
    replacement.valve = {newUuid7(someDay)};
    replacement.on = QDate(2025, 6, 1);
    replacement.time = QTime(13, 30);
    replacement.oldInstallYear = 1931;
    replacement.oldListedTurns = QuarterTurns{110};
    replacement.oldSize = NominalSize{9};
    replacement.oldType = ValveType::Gate;
    replacement.words = awkwardText();
    replacement.at = moment();
    replacement.person = author().person;
    replacement.device = author().device;
    replacement.stamp = {stamp};
    return replacement;
}

} // namespace

class RepairStoreTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void init()
    {
        m_project.reset();
        m_folder = std::make_unique<QTemporaryDir>();
        m_path = m_folder->filePath(QStringLiteral("town.keyround"));
        m_project = std::move(*Project::create(m_path, UnitSystem::Us));
    }
    void replacementsSurvive()
    {
        const Replacement full = someReplacement(1);
        Replacement bare;
        bare.id = {newUuid7(someDay)};
        bare.valve = full.valve;
        bare.undoes = full.id;
        bare.stamp = {2};
        RepairStore &store = m_project->repairs();
        VERIFY_OK(store.add(full));
        VERIFY_OK(store.add(bare));
        VERIFY_OK(store.add(full)); // once more is no error
        Replacement changed = full;
        changed.on = changed.on.addDays(1);
        QCOMPARE(store.add(changed).error().code, ErrorCode::Damaged);
        Replacement dateless = someReplacement(3);
        dateless.on = QDate();
        QCOMPARE(store.add(dateless).error().code, ErrorCode::BadInput);
        reopen();
        QVERIFY(*m_project->repairs().replacements() == (std::vector<Replacement>{full, bare}));
        QVERIFY(m_project->verify()->isEmpty());
    }
    void stepsSurvive()
    {
        RepairEvent full;
        full.id = {newUuid7(someDay)};
        full.request = {newUuid7(someDay)};
        full.step = RepairStep::Opened;
        full.on = QDate(2025, 6, 1);
        full.number = QStringLiteral("R25-1111-1111");
        full.valve = {newUuid7(someDay)};
        full.department = QStringLiteral("valves");
        full.findings << QStringLiteral("nut_broken") << awkwardText();
        full.visit = {newUuid7(someDay)};
        full.tick = {newUuid7(someDay)};
        full.party = awkwardText();
        full.how = awkwardText();
        full.words = awkwardText();
        full.replacement = {newUuid7(someDay)};
        full.undoes = {newUuid7(someDay)};
        full.at = moment();
        full.person = author().person;
        full.device = author().device;
        full.stamp = {1};
        std::vector<RepairEvent> events{full};
        for (int i = 0; i < 10; ++i) {
            RepairEvent bare;
            bare.id = {newUuid7(someDay)};
            bare.request = full.request;
            bare.step = static_cast<RepairStep>(i);
            bare.stamp = {static_cast<std::uint64_t>(i) + 2};
            events.push_back(bare);
        }
        VERIFY_OK(m_project->repairs().add(events));
        VERIFY_OK(m_project->repairs().add(events)); // once more is no error
        RepairEvent orphan = events.back();
        orphan.id = {newUuid7(someDay)};
        orphan.request = {};
        events.front().id = {newUuid7(someDay)};
        QVERIFY(!m_project->repairs().add({events.front(), orphan})); // all or none
        events.front() = full;
        reopen();
        QVERIFY(*m_project->repairs().events() == events);
        QVERIFY(m_project->verify()->isEmpty());
    }
    void habitsSurvive()
    {
        auto settings = *m_project->settings().load();
        QVERIFY(settings.repairs == startingRepairHabits());
        settings.repairs.departments.pop_back();
        settings.repairs.departments[0].name = awkwardText();
        settings.repairs.departments[0].sendTo = QStringLiteral("Repair desk (invented)");
        settings.repairs.departments[0].days = {0, 1, 2};
        settings.repairs.departments[0].holdsRounds = false;
        settings.repairs.urgency.erase(settings.repairs.urgency.begin());
        settings.repairs.urgency[0].servicesFrom = 7;
        VERIFY_OK(m_project->settings().save(settings));
        reopen();
        QVERIFY(m_project->settings().load()->repairs == settings.repairs);
        // An empty table is the utility's decision and stays empty.
        settings.repairs = {};
        VERIFY_OK(m_project->settings().save(settings));
        reopen();
        QVERIFY(m_project->settings().load()->repairs == RepairHabits{});
    }
    void wrongHabitsAreRefused()
    {
        const auto settings = *m_project->settings().load();
        const auto refuses = [&](auto change) {
            auto wrong = settings;
            change(wrong.repairs);
            const Status saved = m_project->settings().save(wrong);
            return !saved && saved.error().code == ErrorCode::BadInput;
        };
        QVERIFY(refuses([](RepairHabits &h) { h.departments[0].name.clear(); }));
        QVERIFY(refuses([](RepairHabits &h) { h.departments[0].key = h.departments[1].key; }));
        QVERIFY(refuses(
            [](RepairHabits &h) { h.departments[0].findings << h.departments[1].findings[0]; }));
        QVERIFY(refuses([](RepairHabits &h) { h.departments[0].days[1] = -1; }));
        QVERIFY(m_project->settings().load()->repairs == settings.repairs);
    }

private:
    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_path;
    std::unique_ptr<Project> m_project;
    void reopen()
    {
        m_project.reset();
        m_project = std::move(*Project::open(m_path));
    }
};

QTEST_GUILESS_MAIN(RepairStoreTest)
#include "test_repair_store.moc"
