// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/scripted_day.h"

#include "core/storage/photo_store.h"
#include "core/storage/shut_store.h"
#include "core/storage/visit_store.h"
#include "tests/core/storage/fixtures.h"
#include "tests/support/small_pictures.h"

#include <QSqlDatabase>
#include <QSqlQuery>

#include <cstdio>

namespace keyround {

namespace {

void say(const QString &line)
{
    std::fprintf(stdout, "%s\n", qPrintable(line));
    std::fflush(stdout);
}

class Crew
{
public:
    Crew(Project &project, const ScriptedDay &day) : m_project(project), m_day(day) {}

    void work()
    {
        const auto valves = m_project.valves().all();
        if (!valves || valves->empty()) {
            return;
        }
        for (int stop = 0; m_day.stops == 0 || stop < m_day.stops; ++stop) {
            const ValveId valve = (*valves)[static_cast<std::size_t>(stop) % valves->size()].id;
            type(valve);
            if (stop % 3 == 0) {
                photograph(valve, stop);
            }
            record(valve, stop);
            if (stop % 4 == 0) {
                notify(valve);
            }
            if (m_day.backUps && stop % 25 == 24) {
                copy();
            }
            if (m_day.giveUpAfter > 0 && m_refused >= m_day.giveUpAfter) {
                return;
            }
        }
    }

private:
    void refuse(const Error &error)
    {
        ++m_refused;
        say(QStringLiteral("R ") + error.message.simplified());
    }

    HybridTime stamp() { return m_project.nextStamp(now()).value(); }
    static Moment now() { return Moment::from(QDateTime::currentDateTime()); }

    void type(const ValveId &valve)
    {
        for (int turns = 1; turns <= 3; ++turns) {
            const StopDraft draft{m_round, valve, {{QStringLiteral("turns"), turns}}, now()};
            if (const Status saved = m_project.visits().saveDraft(draft)) {
                say(QStringLiteral("D %1 %2").arg(valve.text()).arg(turns));
            } else {
                refuse(saved.error());
            }
        }
    }

    void photograph(const ValveId &valve, int stop)
    {
        Photo photo;
        photo.id = PhotoId{newUuid7(now().utcMilliseconds)};
        photo.owner = {valve, m_round, {}};
        photo.fileName = QStringLiteral("IMG_%1.jpg").arg(stop);
        photo.stamp = stamp();
        // Bytes after the picture's end make each another file.
        const QByteArray bytes = jpegShell() + photo.id.text().toLatin1().repeated(200);
        if (const auto added = m_project.photos().add(photo, bytes)) {
            say(QStringLiteral("P ") + photo.id.text());
        } else {
            refuse(added.error());
        }
    }

    void record(const ValveId &valve, int stop)
    {
        Visit visit = fixtures::plainVisit(valve, stamp().value);
        visit.id = VisitId{newUuid7(now().utcMilliseconds)};
        visit.round = m_round;
        visit.arrived = now();
        visit.finished = now();
        visit.passes = {{PassDirection::Closing, QuarterTurns{100 + stop}},
                        {PassDirection::Opening, QuarterTurns{100 + stop}}};
        visit.left = Standing{Position::Open, {}};
        visit.remarks = QString(1500, QLatin1Char('r')); // several pages a few visits
        if (stop % 5 == 4) {
            visit.supersedes = m_last;
            visit.reason = QStringLiteral("typed the wrong count");
        }
        const Status stored = m_project.transaction([&]() -> Status {
            return m_project.visits()
                .add(visit)
                .and_then([&](VisitStore::Added) {
                    return m_project.photos().moveToVisit(valve, m_round, visit.id, now());
                })
                .and_then([&](int) { return m_project.visits().dropDraft(m_round, valve); });
        });
        if (stored) {
            m_last = visit.id;
            say(QStringLiteral("V %1 %2").arg(visit.id.text(), contentHash(visit)));
        } else {
            refuse(stored.error());
        }
    }

    void notify(const ValveId &valve)
    {
        Notice notice;
        notice.id = NoticeId{newUuid7(now().utcMilliseconds)};
        notice.valve = valve;
        notice.given = now();
        notice.forDay = QDate(2026, 3, 16);
        notice.services = 12;
        notice.how = QStringLiteral("hangers (invented)");
        notice.stamp = stamp();
        if (const Status added = m_project.shuts().add(notice)) {
            say(QStringLiteral("L ") + notice.id.text());
        } else {
            refuse(added.error());
        }
    }

    void copy()
    {
        if (const auto path = m_project.backUp(now())) {
            say(QStringLiteral("B ") + *path);
        } else {
            refuse(path.error());
        }
    }

    Project &m_project;
    ScriptedDay m_day;
    RoundId m_round{newUuid7(fixtures::someDay)};
    VisitId m_last;
    int m_refused = 0;
};

} // namespace

bool makeDayProject(const QString &path)
{
    const auto project = Project::create(path, UnitSystem::Us);
    if (!project) {
        std::fprintf(stderr, "%s\n", qPrintable(project.error().message));
        return false;
    }
    std::vector<Valve> valves;
    for (int number = 1; number <= 20; ++number) {
        valves.push_back(fixtures::plainValve(QString::number(number)));
    }
    return (*project)
        ->valves()
        .addAll(valves, fixtures::author(), fixtures::moment(), QStringLiteral("invented"))
        .has_value();
}

int runScriptedDay(const ScriptedDay &day)
{
    constexpr int notOpened = 3;
    const auto project = Project::open(day.path);
    if (!project) {
        say(QStringLiteral("R ") + project.error().message.simplified());
        return notOpened;
    }
    if (day.unsafe) {
        QSqlQuery query(QSqlDatabase::database(QSqlDatabase::connectionNames().front()));
        query.exec(QStringLiteral("PRAGMA synchronous = OFF"));
    }
    Crew(**project, day).work();
    return 0;
}

} // namespace keyround
