// SPDX-License-Identifier: GPL-3.0-or-later
// The one place where the app holds the open project. It answers reads from a cache that it alone
// keeps and that the notifier's signals empty; it never changes anything itself: changes take the
// road place -> command -> store -> notifier -> models.
//
// Lives on the window's thread. References that it returns hold until the next change.
#pragma once

#include "app/shell/notifier.h"
#include "core/condition/history.h"
#include "core/dayplan/notice.h"
#include "core/dayplan/round.h"
#include "core/fieldlog/shut_log.h"
#include "core/inventory/features.h"
#include "core/mains/build_network.h"
#include "core/mains/shut.h"
#include "core/mains/valve_importance.h"
#include "core/schedule/due.h"
#include "core/storage/project.h"
#include "core/storage/settings_store.h"
#include "core/storage/visit_store.h"
#include "core/streets/drive_graph.h"
#include "core/workzone/known_sites.h"

#include <QUndoStack>

#include <memory>
#include <optional>

namespace keyround {

class PositionFeed;
struct FieldReports;
struct RepairBook;

struct StreetAt
{
    QString name;
    StreetClass kind = StreetClass::Unknown;
    std::optional<std::size_t> index; ///< in Session::streets(); empty off the streets
    /// The valve lies to the right of the street's line, or on it.
    bool isRight = true;
};

/// What the settings say of driving: turns, and the factors that rounds have taught.
[[nodiscard]] DriveGraphOptions driveOptions(const ProjectSettings &settings);

class Session : public QObject
{
    Q_OBJECT
public:
    explicit Session(std::unique_ptr<Clock> clock = std::make_unique<SystemClock>(),
                     QObject *parent = nullptr);
    ~Session() override;

    [[nodiscard]] Status createProject(const QString &path, UnitSystem units);
    /// With SetAside, visits that a flipped bit has damaged are left out and said.
    /// Cancelled where the progress says so: then the project that was open stays open.
    [[nodiscard]] Status openProject(const QString &path,
                                     DamagedVisits damaged = DamagedVisits::Refuse,
                                     const Progress &progress = {});
    void closeProject();
    [[nodiscard]] bool isOpen() const { return m_project != nullptr; }
    /// Only while isOpen().
    [[nodiscard]] Project &project();

    [[nodiscard]] Notifier &notifier() { return m_notifier; }
    [[nodiscard]] QUndoStack &undoStack() { return m_undoStack; }
    [[nodiscard]] Moment now() const { return m_clock->now(); }
    /// The day that due dates are counted to: the clock's, or the one that was set.
    [[nodiscard]] QDate today() const { return m_day.isNull() ? now().localDate() : m_day; }
    /// Looks at the project as on another day (console --on, trying out a plan). What is recorded
    /// still carries the clock's time.
    void setDay(const QDate &day) { m_day = day; }
    /// Where this laptop is; off until somebody starts it.
    [[nodiscard]] PositionFeed &positions() { return *m_positions; }
    /// The person (changeable: several people use one laptop) and the machine.
    [[nodiscard]] Author author() const { return m_author; }
    void setPerson(const QString &person);

    /// A visit was just stored: brings forward what is kept of visits by this one alone, and then
    /// tells the notifier. Whoever stores many says visitsChanged() instead, and all are read anew.
    void tookVisit(const Visit &visit);

    // Reads. A failing read is said through the notifier once and gives an empty answer.
    [[nodiscard]] const ProjectSettings &settings();
    [[nodiscard]] UnitSystem units() { return settings().units; }
    [[nodiscard]] const std::vector<Valve> &valves();
    /// Null when no valve has this id or number.
    [[nodiscard]] const Valve *valve(const ValveId &id);
    [[nodiscard]] const Valve *valveByNumber(const QString &number);
    /// The street that a valve is reached from; nameless and unclassified off the streets.
    [[nodiscard]] StreetAt streetAt(const ValveId &id);
    [[nodiscard]] const std::vector<Street> &streets();
    [[nodiscard]] const std::vector<Main> &mains();
    [[nodiscard]] const std::vector<Hydrant> &hydrants();
    [[nodiscard]] const std::vector<Service> &services();
    [[nodiscard]] const std::vector<Source> &sources();
    [[nodiscard]] const DriveGraph &driveGraph();
    /// The same for a worker thread, which may hold it while the session builds another one.
    [[nodiscard]] std::shared_ptr<const DriveGraph> sharedDriveGraph();
    [[nodiscard]] const std::vector<Visit> &visits();
    [[nodiscard]] const std::vector<Replacement> &replacements();
    [[nodiscard]] const Histories &histories();
    /// An entry for every valve id; an empty history for an unknown one.
    [[nodiscard]] const ValveHistory &history(const ValveId &id);
    [[nodiscard]] const std::vector<DueEntry> &dueList(); ///< for today()
    [[nodiscard]] const DueEntry *dueEntry(const ValveId &id);
    [[nodiscard]] const std::vector<Round> &rounds(); ///< newest first
    [[nodiscard]] const Round *round(const RoundId &id);
    [[nodiscard]] std::vector<StopDraft> drafts();

    // The pipe network, and what follows from it. Built when it is first asked for.
    [[nodiscard]] const NetworkFixes &networkFixes();
    [[nodiscard]] const BuiltNetwork &network();
    /// What is known of each valve of the network today, steps of shuts that are going on
    /// included; by index.
    [[nodiscard]] const ValveStates &valveStates();
    /// Who loses water when one valve is shut, for all valves.
    [[nodiscard]] const SingleShuts &singleShuts();
    [[nodiscard]] const std::vector<ValveImportance> &importances();
    /// noIndex when the valve is not in the network.
    [[nodiscard]] NetIndex networkIndex(const ValveId &valve);
    /// Who loses water when this valve alone is shut; nobody for a valve outside the network.
    [[nodiscard]] Load shutLoad(const ValveId &valve);

    [[nodiscard]] const std::vector<ShutLog> &shuts(); ///< newest first
    [[nodiscard]] const ShutLog *shut(const ShutId &id);
    [[nodiscard]] const std::vector<Notice> &notices();
    /// Places and valves that were reported from the field, newest first.
    [[nodiscard]] const FieldReports &fieldReports();
    /// What people have said of streets and valves for their work zones; see work_zone.h.
    [[nodiscard]] const KnownSites &knownSites();

    /// Repair requests, and what visits and shuts propose for them: core/repairs/repair_book.h.
    [[nodiscard]] const RepairBook &repairs();

    /// The valves that the last visit, or a shut that goes on, left in another than their normal
    /// position.
    [[nodiscard]] std::vector<ValveId> leftOtherThanNormal();

    /// Passes the value on, or says the error through the notifier and gives the fallback.
    template <typename T> T valueOr(Result<T> result, T fallback)
    {
        if (result) {
            return std::move(*result);
        }
        Q_EMIT m_notifier.failed(result.error().message);
        return fallback;
    }

private:
    [[nodiscard]] ShutStakes shutStakes();
    void adopt(std::unique_ptr<Project> project);
    void listenToChanges();
    /// False: it does not go on from what is kept.
    [[nodiscard]] bool keepOneMore(const Visit &visit);
    void readStatesAgain(const std::vector<ValveId> &valves);

    std::unique_ptr<Clock> m_clock;
    Notifier m_notifier;
    QUndoStack m_undoStack;
    Author m_author;
    QDate m_day;
    std::unique_ptr<Project> m_project;
    std::unique_ptr<PositionFeed> m_positions;
    bool m_isVisitKept = false; ///< the visitsChanged() that comes is of a visit that is kept

    struct Cache;
    std::unique_ptr<Cache> m_cache;
};

} // namespace keyround
