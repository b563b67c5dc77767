// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/repair_commands.h"

#include "app/commands/push_command.h"
#include "app/commands/sign_row.h"
#include "core/storage/repair_store.h"
#include "core/storage/valve_store.h"

#include <utility>

namespace keyround {

namespace {

RepairEvent eventOn(const RequestId &request, RepairStep step, const QDate &on)
{
    RepairEvent event;
    event.request = request;
    event.step = step;
    event.on = on;
    return event;
}

} // namespace

ShutStakes servicesAtStake(Session &session)
{
    ShutStakes stakes;
    if (session.mains().empty()) {
        return stakes; // the network need not be built for this
    }
    const std::vector<ValveImportance> &all = session.importances();
    const auto &valves = session.network().network.valves;
    for (std::size_t i = 0; i < all.size(); ++i) {
        stakes.insert(valves[i].id, {all[i].outIfStuck.services, 0});
    }
    return stakes;
}

std::vector<BacklogRow> backlogOf(Session &session, bool withClosed)
{
    return backlogRows(session.repairs(), session.valves(), session.histories(),
                       servicesAtStake(session), session.settings().repairs, session.today(),
                       withClosed);
}

std::vector<RepairProposal> proposalsOf(Session &session)
{
    return repairProposals(session.repairs(), session.valves(), session.histories(),
                           session.shuts(), session.settings().repairs);
}

RecordRepairs::RecordRepairs(Session &session, std::vector<RepairEvent> events, const QString &text,
                             std::vector<ValveReplaced> replaced)
    : Command(session, text), m_events(std::move(events)), m_replaced(std::move(replaced))
{
}

Status RecordRepairs::sign(RepairEvent &event)
{
    event.at = session().now();
    event.id = RepairEventId{newUuid7(event.at.utcMilliseconds)};
    return signRow(session(), event);
}

Status RecordRepairs::writeReplaced()
{
    m_before.clear();
    for (ValveReplaced &each : m_replaced) {
        const Valve *present = session().valve(each.after.id);
        if (present == nullptr) {
            return fail(
                ErrorCode::NotFound,
                QObject::tr("Valve %1 is no longer in this project.").arg(each.after.number));
        }
        m_before.push_back(*present);
        Replacement &row = each.replacement;
        row.id = ReplacementId{newUuid7(session().now().utcMilliseconds)};
        row.valve = present->id;
        row.oldInstallYear = present->installYear;
        row.oldListedTurns = present->listedTurns;
        row.oldSize = present->size;
        row.oldType = present->type;
        row.at = session().now();
        if (Status signedOff = signRow(session(), row); !signedOff) {
            return signedOff;
        }
        const Status written = session().project().repairs().add(row).and_then([&] {
            return session().project().valves().update(
                each.after, session().author(), session().now(), QStringLiteral("valve replaced"));
        });
        if (!written) {
            return written;
        }
    }
    return {};
}

Status RecordRepairs::writeNew()
{
    if (Status replaced = writeReplaced(); !replaced) {
        return replaced;
    }
    for (RepairEvent &event : m_events) {
        if (event.step == RepairStep::Done) {
            const RepairRequest *request = session().repairs().request(event.request);
            for (const ValveReplaced &each : m_replaced) {
                if (request != nullptr && request->valve == each.after.id) {
                    event.replacement = each.replacement.id;
                }
            }
        }
        if (Status signedNow = sign(event); !signedNow) {
            return signedNow;
        }
    }
    return session().project().repairs().add(m_events);
}

Status RecordRepairs::takeBack(bool restoreAfter)
{
    std::vector<RepairEvent> backs;
    for (const RepairEvent &written : m_backs.empty() ? m_events : m_backs) {
        RepairEvent back = eventOn(written.request, RepairStep::TakenBack, session().today());
        back.undoes = written.id;
        if (Status signedNow = sign(back); !signedNow) {
            return signedNow;
        }
        backs.push_back(std::move(back));
    }
    std::vector<Replacement> replacementBacks;
    for (std::size_t i = 0; i < m_replaced.size(); ++i) {
        Replacement back;
        back.undoes =
            m_replacementBacks.empty() ? m_replaced[i].replacement.id : m_replacementBacks[i].id;
        back.id = ReplacementId{newUuid7(session().now().utcMilliseconds)};
        back.valve = m_before[i].id;
        back.at = session().now();
        if (Status signedOff = signRow(session(), back); !signedOff) {
            return signedOff;
        }
        const Status written = session().project().repairs().add(back).and_then([&] {
            return session().project().valves().update(
                restoreAfter ? m_replaced[i].after : m_before[i], session().author(),
                session().now(), restoreAfter ? QStringLiteral("redo") : QStringLiteral("undo"));
        });
        if (!written) {
            return written;
        }
        replacementBacks.push_back(std::move(back));
    }
    return session().project().repairs().add(backs).map([&] {
        m_backs = std::move(backs);
        m_replacementBacks = std::move(replacementBacks);
    });
}

Status RecordRepairs::apply()
{
    return session()
        .project()
        .transaction([this] { return m_isWritten ? takeBack(true) : writeNew(); })
        .map([this] { m_isWritten = true; });
}

Status RecordRepairs::revert()
{
    return session().project().transaction([this] { return takeBack(false); });
}

void RecordRepairs::announce()
{
    Q_EMIT session().notifier().repairsChanged();
    if (!m_replaced.empty()) { // after it: the histories are read anew with the replacements
        Q_EMIT session().notifier().valvesChanged();
    }
}

RepairEvent sentEvent(const RequestId &request, const QDate &on, const QString &to,
                      const QString &how)
{
    RepairEvent event = eventOn(request, RepairStep::Sent, on);
    event.party = to;
    event.how = how;
    return event;
}

RepairEvent scheduledEvent(const RequestId &request, const QDate &day, const QString &with)
{
    RepairEvent event = eventOn(request, RepairStep::Scheduled, day);
    event.party = with;
    return event;
}

RepairEvent doneEvent(const RequestId &request, const QDate &on, const QString &by,
                      const QString &work)
{
    RepairEvent event = eventOn(request, RepairStep::Done, on);
    event.party = by;
    event.words = work;
    return event;
}

RepairEvent withdrawnEvent(const RequestId &request, const QDate &on, const QString &why)
{
    RepairEvent event = eventOn(request, RepairStep::Withdrawn, on);
    event.words = why;
    return event;
}

RepairEvent notedEvent(const RequestId &request, const QDate &on, const QString &words)
{
    RepairEvent event = eventOn(request, RepairStep::Noted, on);
    event.words = words;
    return event;
}

Result<int> acceptProposals(Session &session, const std::vector<RepairProposal> &proposals)
{
    std::vector<RepairEvent> events;
    for (const RepairProposal &proposal : proposals) {
        std::ranges::move(eventsFor(proposal), std::back_inserter(events));
    }
    const auto count = static_cast<int>(proposals.size());
    return recordRepairs(session, std::move(events), QObject::tr("Repair requests (%1)").arg(count))
        .map([count] { return count; });
}

Status recordRepairs(Session &session, std::vector<RepairEvent> events, const QString &text,
                     std::vector<ValveReplaced> replaced)
{
    if (events.empty()) {
        return {};
    }
    return pushCommand(session, std::make_unique<RecordRepairs>(session, std::move(events), text,
                                                                std::move(replaced)));
}

} // namespace keyround
