// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/notice_commands.h"

#include "app/commands/round_commands.h"
#include "app/commands/sign_row.h"
#include "core/common/natural_key.h"
#include "core/mains/shut.h"
#include "core/storage/back_ups.h"
#include "core/storage/layer_store.h"
#include "core/storage/shut_store.h"

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

/// A street's houses in their order, not all the house numbers of a town.
QString streetAndHouse(const QString &address)
{
    qsizetype digits = 0;
    while (digits < address.size() && address.at(digits).isDigit()) {
        ++digits;
    }
    return naturalKey(address.mid(digits).trimmed() + QLatin1Char(' ') + address.left(digits));
}

std::vector<NoticeRecipient> recipientsOf(Session &session, const std::vector<NetIndex> &services)
{
    QHash<FeatureId, const Service *> byId;
    for (const Service &service : session.services()) {
        byId.insert(service.id, &service);
    }
    std::vector<std::pair<QString, NoticeRecipient>> found;
    for (const NetIndex index : services) {
        const Service *service = byId.value(session.network().network.services[index].id, nullptr);
        if (service != nullptr) {
            found.emplace_back(streetAndHouse(service->address),
                               NoticeRecipient{service->number, service->address, service->customer,
                                               service->phone, service->critical});
        }
    }
    std::ranges::stable_sort(found, {}, &std::pair<QString, NoticeRecipient>::first);
    std::vector<NoticeRecipient> recipients;
    for (auto &[key, recipient] : found) {
        recipients.push_back(std::move(recipient));
    }
    return recipients;
}

void setTimes(Session &session, NoticeJob &job, const QDate &day,
              const std::optional<NoticeWindow> &window)
{
    const ProjectSettings &settings = session.settings();
    constexpr int hour = 3600;
    const NoticeWindow hours =
        window ? *window : NoticeWindow{settings.shift.from, settings.shift.from.addSecs(hour)};
    job.day = day;
    job.from = hours.from;
    job.to = hours.to;
    job.latest = latestNotice(QDateTime(day, job.from), settings.notice, settings.holidays);
}

} // namespace

NoticeJob noticeJobFor(Session &session, const ValveId &valve, const QDate &day,
                       const std::optional<NoticeWindow> &window)
{
    NoticeJob job;
    job.valve = valve;
    if (const Valve *known = session.valve(valve)) {
        job.what = known->address.isEmpty()
                       ? QObject::tr("valve %1").arg(known->number)
                       : QObject::tr("valve %1 at %2").arg(known->number, known->address);
    }
    const NetIndex index = session.networkIndex(valve);
    if (index != noIndex) {
        job.recipients = recipientsOf(
            session, shutOne(session.network().network, session.valveStates(), index).services);
    }
    setTimes(session, job, day, window);
    return job;
}

NoticeJob noticeJobFor(Session &session, const ShutPlan &plan, const QDate &day,
                       const std::optional<NoticeWindow> &window)
{
    NoticeJob job;
    const PipeNetwork &network = session.network().network;
    if (!plan.close.empty()) {
        job.valve = network.valves[plan.close.front().valve].id;
    }
    job.what = QObject::tr("the shut %1").arg(plan.at.words);
    std::vector<NetIndex> services = plan.servicesOut;
    services.insert(services.end(), plan.servicesBeyond.begin(), plan.servicesBeyond.end());
    job.recipients = recipientsOf(session, services);
    setTimes(session, job, day, window);
    return job;
}

Result<std::vector<NoticeJob>> noticeJobsOf(Session &session, const Round &round)
{
    const Result<DayPlan> plan = timesOf(session, round);
    if (!plan) {
        return tl::unexpected(plan.error());
    }
    std::vector<NoticeJob> jobs;
    for (const PlannedStop &stop : plan->stops) {
        NoticeJob job =
            noticeJobFor(session, stop.valve, round.date,
                         windowFor(stop.begin.isValid() ? stop.begin : stop.arrive, stop.leave));
        if (!job.recipients.empty()) {
            jobs.push_back(std::move(job));
        }
    }
    return jobs;
}

NoticeFacts factsOf(Session &session, const NoticeJob &job, const NoticeTemplate &wording,
                    const QString &why)
{
    const ProjectSettings &settings = session.settings();
    return {
        job.day,          job.from,
        job.to,           why.trimmed().isEmpty() ? usualReason(wording.language) : why.trimmed(),
        settings.utility, settings.noticeTemplates.contact};
}

Status recordNotice(Session &session, const NoticeJob &job, const NoticeGiven &given)
{
    const int affected = static_cast<int>(job.recipients.size());
    if (given.told < 1 || given.told > affected) {
        return fail(ErrorCode::BadInput,
                    affected == 0
                        ? QObject::tr("Nobody is without water by %1: there is no notice to "
                                      "write down.")
                              .arg(job.what)
                        : QObject::tr("From 1 to %1 services can have been told of %2, not %3.")
                              .arg(affected)
                              .arg(job.what)
                              .arg(given.told));
    }
    Notice notice;
    notice.given = session.now();
    notice.id = NoticeId{newUuid7(notice.given.utcMilliseconds)};
    notice.valve = job.valve;
    notice.forDay = given.forDay;
    notice.services = given.told;
    notice.how = given.how;
    notice.affected = affected;
    notice.wording = given.wording;
    notice.what = job.what;
    Status stored =
        signRow(session, notice).and_then([&] { return session.project().shuts().add(notice); });
    if (stored) {
        Q_EMIT session.notifier().noticesChanged();
    }
    return stored;
}

Status giveNotice(Session &session, const ValveId &valve, const QDate &forDay, const QString &how)
{
    const NoticeJob job = noticeJobFor(session, valve, forDay.isValid() ? forDay : session.today());
    return recordNotice(session, job,
                        {forDay, how, static_cast<int>(job.recipients.size()), QString()});
}

Result<ContactPurge> previewPurge(Session &session, const QDate &before)
{
    const Result<std::vector<ContactAge>> ages = session.project().layers().contactAges();
    if (!ages) {
        return tl::unexpected(ages.error());
    }
    ContactPurge purge;
    purge.before = before;
    for (const ContactAge &age : *ages) {
        if (!age.since.isValid()) {
            purge.undated += age.services;
        }
        const bool goes = !age.since.isValid() || age.since < before;
        (goes ? purge.services : purge.kept) += age.services;
    }
    purge.backups = static_cast<int>(backUpsOf(session.project().path()).size());
    return purge;
}

Result<ContactPurge> purgeContacts(Session &session, const QDate &before)
{
    Result<ContactPurge> purge = previewPurge(session, before);
    if (!purge || purge->services == 0) {
        return purge;
    }
    ContactsPurged row;
    row.at = session.now();
    row.before = before;
    row.services = purge->services;
    const Status done = signRow(session, row).and_then([&] {
        return session.project().layers().purgeContacts(row);
    });
    if (!done) {
        return tl::unexpected(done.error());
    }
    session.undoStack().clear();
    Q_EMIT session.notifier().layersChanged();
    return purge;
}

QString purgeWords(const ContactPurge &purge, bool isDone)
{
    const QString day = purge.before.toString(Qt::ISODate);
    if (purge.services == 0) {
        return QObject::tr("No name or phone is from before %1; %2 services keep theirs.")
            .arg(day)
            .arg(purge.kept);
    }
    QStringList words{
        isDone ? QObject::tr("Names and phones of %1 services from before %2 were deleted.")
                     .arg(purge.services)
                     .arg(day)
               : QObject::tr("Names and phones of %1 services from before %2 would be deleted for "
                             "good.")
                     .arg(purge.services)
                     .arg(day)};
    if (purge.undated > 0) {
        words << QObject::tr("Of %1 of them nobody knows when they came in.").arg(purge.undated);
    }
    words << QObject::tr("%1 services keep theirs; numbers, places and addresses stay.")
                 .arg(purge.kept);
    if (purge.backups > 0) {
        words << QObject::tr("%1 back-up files beside the project hold the old data until they are "
                             "deleted.")
                     .arg(purge.backups);
    }
    return words.join(QLatin1Char(' '));
}

} // namespace keyround
