// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include "app/commands/notice_commands.h"
#include "app/commands/shut_commands.h"
#include "app/print/notice_files.h"
#include "core/mains/shut.h"

#include <QDir>
#include <QJsonArray>

namespace keyround::batch {

namespace {

QString option(const char *name)
{
    return QLatin1String(name);
}

void describeNotices(QCommandLineParser &parser)
{
    parser.setApplicationDescription(QObject::tr(
        "notices: who must be told before water goes off, for a round's stops, one valve or a "
        "shut of a main, and the notices to print. Whether water must be boiled afterwards is the "
        "utility's and its regulator's to say, in notices of their own."));
    addProjectOption(parser);
    addRoundOptions(parser, option("round"));
    parser.addOption({option("valve"), QObject::tr("for one valve, shut alone"), option("NUMBER")});
    parser.addOption({option("main"), QObject::tr("for a shut of a main"), option("NUMBER")});
    parser.addOption({option("on"), QObject::tr("the day of the work, for --valve and --main"),
                      option("YYYY-MM-DD")});
    parser.addOption(
        {option("from"), QObject::tr("water goes off, for --valve and --main"), option("HH:MM")});
    parser.addOption({option("to"), QObject::tr("water is back"), option("HH:MM")});
    parser.addOption({option("why"), QObject::tr("the reason on the notice"), option("WORDS")});
    parser.addOption({option("template"),
                      QObject::tr("a wording of the project's; several of one kind for several "
                                  "languages"),
                      option("NAME")});
    parser.addOption({option("out"),
                      QObject::tr("write the notices; a folder where there are several shuts"),
                      option("OUT.pdf")});
    addCsvOption(parser, QObject::tr("write the services that lose water"));
    parser.addOption(
        {option("log"), QObject::tr("write all notices that were given"), option("OUT.csv")});
    parser.addOption({option("contact"),
                      QObject::tr("whom to ask, where the project does not say it"),
                      option("WORDS")});
    parser.addOption(
        {option("given"), QObject::tr("write down that they were told, and how"), option("HOW")});
    parser.addOption(
        {option("told"), QObject::tr("how many were told, where not all"), option("COUNT")});
    addJsonOption(parser);
}

Outcome<std::optional<NoticeWindow>> windowOption(const QCommandLineParser &parser)
{
    if (!parser.isSet(option("from")) && !parser.isSet(option("to"))) {
        return std::optional<NoticeWindow>();
    }
    const QTime from = QTime::fromString(parser.value(option("from")), option("H:mm"));
    const QTime to = QTime::fromString(parser.value(option("to")), option("H:mm"));
    if (!from.isValid() || !to.isValid() || to <= from) {
        return wrongUse(QObject::tr("--from and --to are hours of one day: --from 08:00 --to "
                                    "10:30"));
    }
    return std::optional(NoticeWindow{from, to});
}

Outcome<std::vector<NoticeJob>> jobsAsked(const QCommandLineParser &parser, Session &session)
{
    const int asked = int(parser.isSet(option("round"))) + int(parser.isSet(option("valve"))) +
                      int(parser.isSet(option("main")));
    if (asked == 0 && parser.isSet(option("log"))) {
        return std::vector<NoticeJob>{};
    }
    if (asked != 1) {
        return wrongUse(QObject::tr("say for what: --round DAY, --valve NUMBER or --main NUMBER"));
    }
    if (parser.isSet(option("round"))) {
        const auto round = roundOf(parser, session, option("round"));
        if (!round) {
            return tl::unexpected(round.error());
        }
        auto jobs = noticeJobsOf(session, *round);
        return jobs ? Outcome<std::vector<NoticeJob>>(std::move(*jobs)) : failed(jobs.error());
    }
    const auto day = dateOption(parser, option("on"), session.today());
    if (!day) {
        return tl::unexpected(day.error());
    }
    const auto window = windowOption(parser);
    if (!window) {
        return tl::unexpected(window.error());
    }
    if (parser.isSet(option("valve"))) {
        const QString number = parser.value(option("valve"));
        const Valve *valve = session.valveByNumber(number);
        if (valve == nullptr) {
            return failed(QObject::tr("no valve %1 is in the project").arg(number));
        }
        return std::vector{noticeJobFor(session, valve->id, *day, *window)};
    }
    const auto at =
        breakOnMain(session.network().network, parser.value(option("main")), {}, session.units());
    if (!at) {
        return failed(at.error());
    }
    return std::vector{
        noticeJobFor(session, shutFor(session, *at, session.valveStates()), *day, *window)};
}

Outcome<NoticePrint> printAsked(const QCommandLineParser &parser, Session &session)
{
    NoticePrint print;
    print.why = parser.value(option("why"));
    print.contact = parser.value(option("contact"));
    const NoticeTemplates &templates = session.settings().noticeTemplates;
    for (const QString &name : parser.values(option("template"))) {
        const NoticeTemplate *wording = templateNamed(templates, name);
        if (wording == nullptr) {
            QStringList names;
            for (const NoticeTemplate &each : templates.list) {
                names << each.name;
            }
            return wrongUse(QObject::tr("there is no wording \"%1\"; the project has: %2")
                                .arg(name, names.join(option("; "))));
        }
        print.wordings.push_back(*wording);
    }
    return print;
}

QJsonObject jobJson(Session &session, const NoticeJob &job)
{
    QJsonArray services;
    int critical = 0;
    for (const NoticeRecipient &each : job.recipients) {
        critical += each.critical ? 1 : 0;
        services.append(QJsonObject{{option("service"), each.service},
                                    {option("address"), each.address},
                                    {option("phone"), each.phone},
                                    {option("critical"), each.critical}});
    }
    const Valve *valve = session.valve(job.valve);
    return {{option("valve"), valve == nullptr ? QString() : valve->number},
            {option("what"), job.what},
            {option("day"), job.day.toString(Qt::ISODate)},
            {option("from"), job.from.toString(option("HH:mm"))},
            {option("to"), job.to.toString(option("HH:mm"))},
            {option("tell_by"), job.latest.toString(Qt::ISODate)},
            {option("critical"), critical},
            {option("services"), services}};
}

/// One file for one shut; in a folder, one each, where there are several.
QString pathFor(const QString &out, const NoticeJob &job, Session &session, bool isOne)
{
    if (isOne) {
        return out;
    }
    const Valve *valve = session.valve(job.valve);
    return QDir(out).filePath(
        QObject::tr("notices-%1.pdf").arg(valve == nullptr ? QString() : valve->number));
}

Done writeAll(const QCommandLineParser &parser, Session &session,
              const std::vector<NoticeJob> &jobs, const NoticePrint &print)
{
    const QString out = parser.value(option("out"));
    const bool isOne = jobs.size() == 1;
    if (parser.isSet(option("out"))) {
        if (print.wordings.empty()) {
            return wrongUse(QObject::tr("say which wording: --template NAME"));
        }
        if (!isOne && !QDir().mkpath(out)) {
            return failed(QObject::tr("the folder %1 cannot be made").arg(out));
        }
        for (const NoticeJob &job : jobs) {
            if (Status written =
                    writeNotices(session, job, print, pathFor(out, job, session, isOne));
                !written) {
                return failed(written.error());
            }
        }
    }
    if (parser.isSet(option("csv"))) {
        NoticeJob all;
        for (const NoticeJob &job : jobs) {
            all.recipients.insert(all.recipients.end(), job.recipients.begin(),
                                  job.recipients.end());
        }
        if (auto written = writeCsvAsked(parser, recipientsTable(all)); !written) {
            return written;
        }
    }
    return exitDone;
}

Done recordGiven(const QCommandLineParser &parser, Session &session,
                 const std::vector<NoticeJob> &jobs, const NoticePrint &print)
{
    if (!parser.isSet(option("given"))) {
        return exitDone;
    }
    bool isNumber = true;
    const int told =
        parser.isSet(option("told")) ? parser.value(option("told")).toInt(&isNumber) : 0;
    if (!isNumber || (parser.isSet(option("told")) && jobs.size() != 1)) {
        return wrongUse(QObject::tr("--told is a count, and goes with one shut"));
    }
    for (const NoticeJob &job : jobs) {
        NoticeGiven given;
        given.forDay = job.day;
        given.how = parser.value(option("given"));
        given.told = parser.isSet(option("told")) ? told : static_cast<int>(job.recipients.size());
        given.wording = print.wordings.empty() ? QString() : print.wordings.front().name;
        if (Status recorded = recordNotice(session, job, given); !recorded) {
            return failed(recorded.error());
        }
        say(QObject::tr("Written down: %1 of %2 services told of %3")
                .arg(given.told)
                .arg(job.recipients.size())
                .arg(job.what));
    }
    return exitDone;
}

} // namespace

Done runNotices(const QStringList &arguments)
{
    QCommandLineParser parser;
    describeNotices(parser);
    if (auto parsed = parse(parser, option("notices"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    const auto print = printAsked(parser, session);
    if (!print) {
        return tl::unexpected(print.error());
    }
    const auto jobs = jobsAsked(parser, session);
    if (!jobs) {
        return tl::unexpected(jobs.error());
    }
    QJsonArray list;
    for (const NoticeJob &job : *jobs) {
        list.append(jobJson(session, job));
        say(QObject::tr("%1: %2 services, %3 from %4 to %5; tell them by %6")
                .arg(job.what)
                .arg(job.recipients.size())
                .arg(job.day.toString(Qt::ISODate), job.from.toString(option("HH:mm")),
                     job.to.toString(option("HH:mm")),
                     job.latest.toString(option("yyyy-MM-dd HH:mm"))));
        if (session.now().local() > job.latest) {
            complain(QObject::tr("Too late for that day by the project's own lead time: %1")
                         .arg(job.what));
        }
    }
    if (jobs->empty() && parser.isSet(option("round"))) {
        say(QObject::tr("Nobody loses water by this round."));
    }
    if (Done written = writeAll(parser, session, *jobs, *print); !written) {
        return written;
    }
    if (Done recorded = recordGiven(parser, session, *jobs, *print); !recorded) {
        return recorded;
    }
    if (parser.isSet(option("log"))) {
        if (Status written = writeNoticeLog(session, parser.value(option("log"))); !written) {
            return failed(written.error());
        }
    }
    return writeJson(parser, {{option("jobs"), list}});
}

Done runContacts(const QStringList &arguments)
{
    QCommandLineParser parser;
    parser.setApplicationDescription(QObject::tr(
        "contacts: how many customers' names and phones are older than the project keeps them; "
        "with --purge they are deleted for good. Back-ups keep what they hold."));
    addProjectOption(parser);
    parser.addOption({option("older-than"),
                      QObject::tr("days; without it, as the project's settings say"),
                      option("DAYS")});
    parser.addOption({option("purge"), QObject::tr("delete them; without it nothing is changed")});
    addJsonOption(parser);
    if (auto parsed = parse(parser, option("contacts"), arguments); !parsed) {
        return tl::unexpected(parsed.error());
    }
    auto opened = openSession(parser);
    if (!opened) {
        return tl::unexpected(opened.error());
    }
    Session &session = **opened;
    int days = session.settings().noticeTemplates.keepContactDays;
    if (parser.isSet(option("older-than"))) {
        bool isNumber = false;
        days = parser.value(option("older-than")).toInt(&isNumber);
        if (!isNumber || days < 0) {
            return wrongUse(QObject::tr("--older-than is a count of days"));
        }
    }
    const QDate before = session.today().addDays(-days);
    const bool isPurge = parser.isSet(option("purge"));
    const auto purge = isPurge ? purgeContacts(session, before) : previewPurge(session, before);
    if (!purge) {
        return failed(purge.error());
    }
    say(purgeWords(*purge, isPurge));
    return writeJson(parser, {{option("before"), before.toString(Qt::ISODate)},
                              {option("services"), purge->services},
                              {option("undated"), purge->undated},
                              {option("kept"), purge->kept},
                              {option("backups"), purge->backups},
                              {option("deleted"), isPurge}});
}

} // namespace keyround::batch
