// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/position/position_feed.h"
#include "app/shell/kept_folder.h"
#include "app/shell/session_cache.h"
#include "core/storage/field_report_store.h"
#include "core/storage/kept_stops.h"
#include "core/storage/layer_store.h"
#include "core/storage/round_store.h"
#include "core/storage/site_store.h"
#include "core/storage/valve_store.h"

#include <QSettings>
#include <QSysInfo>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

QString rememberedPerson()
{
    const QString fallback = qEnvironmentVariable("USER", QStringLiteral("operator"));
    return QSettings().value(QStringLiteral("person"), fallback).toString();
}

} // namespace

DriveGraphOptions driveOptions(const ProjectSettings &settings)
{
    DriveGraphOptions options;
    options.turns = settings.turns;
    options.factors = classFactors(settings.learned);
    return options;
}

Session::Session(std::unique_ptr<Clock> clock, QObject *parent)
    : QObject(parent),
      m_clock(std::move(clock)), m_author{rememberedPerson(), QSysInfo::machineHostName()},
      m_positions(std::make_unique<PositionFeed>([this] { return m_clock->now(); })),
      m_cache(std::make_unique<Cache>())
{
    listenToChanges();
}

Session::~Session() = default;

void Session::listenToChanges()
{
    connect(&m_notifier, &Notifier::valvesChanged, this, [this] {
        m_cache->valves.reset();
        m_cache->streetAt.clear();
        m_cache->histories.reset();
        m_cache->forgetDue();
        m_cache->forgetNetwork();
    });
    connect(&m_notifier, &Notifier::layersChanged, this, [this] {
        m_cache->streets.reset();
        m_cache->mains.reset();
        m_cache->hydrants.reset();
        m_cache->services.reset();
        m_cache->sources.reset();
        m_cache->driveGraph.reset();
        m_cache->streetAt.clear();
        m_cache->networkFixes.reset();
        m_cache->forgetNetwork();
        m_cache->due.reset();
    });
    connect(&m_notifier, &Notifier::networkFixesChanged, this, [this] {
        m_cache->networkFixes.reset();
        m_cache->forgetNetwork();
        m_cache->due.reset();
    });
    connect(&m_notifier, &Notifier::shutsChanged, this, [this] {
        m_cache->shuts.reset();
        m_cache->forgetStates();
        m_cache->due.reset();
    });
    connect(&m_notifier, &Notifier::noticesChanged, this, [this] { m_cache->notices.reset(); });
    connect(&m_notifier, &Notifier::fieldReportsChanged, this,
            [this] { m_cache->fieldReports.reset(); });
    connect(&m_notifier, &Notifier::sitesChanged, this, [this] { m_cache->sites.reset(); });
    connect(&m_notifier, &Notifier::visitsChanged, this, [this] {
        if (std::exchange(m_isVisitKept, false)) {
            return;
        }
        m_cache->visits.reset();
        m_cache->histories.reset();
        m_cache->forgetDue();
        m_cache->forgetStates();
    });
    connect(&m_notifier, &Notifier::repairsChanged, this, [this] {
        m_cache->replacements.reset();
        m_cache->repairs.reset();
        m_cache->due.reset();
    });
    connect(&m_notifier, &Notifier::roundsChanged, this, [this] { m_cache->rounds.reset(); });
    connect(&m_notifier, &Notifier::settingsChanged, this, [this] {
        m_cache->settings.reset();
        m_cache->streetAt.clear();
        m_cache->histories.reset();
        m_cache->forgetDue();
        m_cache->forgetStates();
    });
}

Status Session::createProject(const QString &path, UnitSystem units)
{
    auto made = Project::create(path, units);
    if (!made) {
        return tl::unexpected(made.error());
    }
    adopt(std::move(*made));
    return {};
}

Status Session::openProject(const QString &path, DamagedVisits damaged, const Progress &progress)
{
    auto opened = Project::open(path, damaged, progress);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    // Before anyone looks at the half-typed stops.
    const auto back = KeptStops(keptStopsFolder(), (*opened)->path()).bringBack(**opened);
    adopt(std::move(*opened));
    if (!back) {
        Q_EMIT m_notifier.failed(back.error().message);
    } else if (!back->empty()) {
        Q_EMIT m_notifier.said(tr("%n half-typed stops, kept while the project could not be "
                                  "written, are back.",
                                  nullptr, static_cast<int>(back->size())));
    }
    return {};
}

void Session::closeProject()
{
    adopt(nullptr);
}

void Session::adopt(std::unique_ptr<Project> project)
{
    if (m_project) {
        Q_EMIT m_notifier.projectAboutToChange();
    }
    m_undoStack.clear();
    m_project = std::move(project);
    m_cache = std::make_unique<Cache>();
    Q_EMIT m_notifier.projectChanged();
}

Project &Session::project()
{
    Q_ASSERT(m_project);
    return *m_project;
}

void Session::setPerson(const QString &person)
{
    m_author.person = person;
    QSettings().setValue(QStringLiteral("person"), person);
}

const ProjectSettings &Session::settings()
{
    if (!m_cache->settings) {
        m_cache->settings =
            isOpen() ? valueOr(m_project->settings().load(), ProjectSettings{}) : ProjectSettings{};
    }
    return *m_cache->settings;
}

const std::vector<Valve> &Session::valves()
{
    if (!m_cache->valves) {
        m_cache->valves = isOpen() ? valueOr(m_project->valves().all(), {}) : std::vector<Valve>{};
        m_cache->valveIndex.clear();
        m_cache->numberIndex.clear();
        for (size_t i = 0; i < m_cache->valves->size(); ++i) {
            m_cache->valveIndex.insert((*m_cache->valves)[i].id, i);
            m_cache->numberIndex.insert((*m_cache->valves)[i].number, i);
        }
    }
    return *m_cache->valves;
}

const Valve *Session::valve(const ValveId &id)
{
    const std::vector<Valve> &all = valves();
    const auto found = m_cache->valveIndex.constFind(id);
    return found == m_cache->valveIndex.constEnd() ? nullptr : &all[*found];
}

const Valve *Session::valveByNumber(const QString &number)
{
    const std::vector<Valve> &all = valves();
    const auto found = m_cache->numberIndex.constFind(number);
    return found == m_cache->numberIndex.constEnd() ? nullptr : &all[*found];
}

const std::vector<Street> &Session::streets()
{
    if (!m_cache->streets) {
        m_cache->streets =
            isOpen() ? valueOr(m_project->layers().streets(), {}) : std::vector<Street>{};
    }
    return *m_cache->streets;
}

const std::vector<Main> &Session::mains()
{
    if (!m_cache->mains) {
        m_cache->mains = isOpen() ? valueOr(m_project->layers().mains(), {}) : std::vector<Main>{};
    }
    return *m_cache->mains;
}

const std::vector<Hydrant> &Session::hydrants()
{
    if (!m_cache->hydrants) {
        m_cache->hydrants =
            isOpen() ? valueOr(m_project->layers().hydrants(), {}) : std::vector<Hydrant>{};
    }
    return *m_cache->hydrants;
}

const std::vector<Service> &Session::services()
{
    if (!m_cache->services) {
        m_cache->services =
            isOpen() ? valueOr(m_project->layers().services(), {}) : std::vector<Service>{};
    }
    return *m_cache->services;
}

const std::vector<Source> &Session::sources()
{
    if (!m_cache->sources) {
        m_cache->sources =
            isOpen() ? valueOr(m_project->layers().sources(), {}) : std::vector<Source>{};
    }
    return *m_cache->sources;
}

const KnownSites &Session::knownSites()
{
    if (!m_cache->sites) {
        m_cache->sites = isOpen() ? valueOr(m_project->sites().load(), {}) : KnownSites{};
    }
    return *m_cache->sites;
}

const FieldReports &Session::fieldReports()
{
    if (!m_cache->fieldReports) {
        m_cache->fieldReports =
            isOpen() ? valueOr(m_project->fieldReports().all(), {}) : FieldReports{};
    }
    return *m_cache->fieldReports;
}

const DriveGraph &Session::driveGraph()
{
    return *sharedDriveGraph();
}

std::shared_ptr<const DriveGraph> Session::sharedDriveGraph()
{
    const DriveGraphOptions options = driveOptions(settings());
    if (!m_cache->driveGraph || !(options.turns == m_cache->graphOptions.turns) ||
        options.factors != m_cache->graphOptions.factors) {
        m_cache->driveGraph =
            std::make_shared<const DriveGraph>(DriveGraph::build(streets(), options));
        m_cache->graphOptions = options;
    }
    return m_cache->driveGraph;
}

StreetAt Session::streetAt(const ValveId &id)
{
    if (const auto known = m_cache->streetAt.constFind(id); known != m_cache->streetAt.cend()) {
        return *known;
    }
    StreetAt at;
    const Valve *reached = valve(id);
    if (reached != nullptr && reached->place.isValid()) {
        const DriveGraph &graph = driveGraph();
        if (const auto snap = graph.snap(reached->place, settings().travel.snapMetres)) {
            const Street &street = streets()[graph.streetOf(*snap)];
            at = {street.name, street.kind, graph.streetOf(*snap), snap->side != StreetSide::Left};
        }
    }
    m_cache->streetAt.insert(id, at);
    return at;
}

const std::vector<Round> &Session::rounds()
{
    if (!m_cache->rounds) {
        m_cache->rounds = isOpen() ? valueOr(m_project->rounds().all(), {}) : std::vector<Round>{};
    }
    return *m_cache->rounds;
}

const Round *Session::round(const RoundId &id)
{
    const std::vector<Round> &all = rounds();
    const auto found = std::ranges::find(all, id, &Round::id);
    return found == all.end() ? nullptr : &*found;
}

std::vector<StopDraft> Session::drafts()
{
    return isOpen() ? valueOr(m_project->visits().drafts(), {}) : std::vector<StopDraft>{};
}

} // namespace keyround
