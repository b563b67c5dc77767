// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/repairs/repair_request.h"

#include <QHash>
#include <QSet>

#include <algorithm>
#include <array>
#include <tuple>

namespace keyround {

namespace {

struct StepInfo
{
    RepairStep step;
    const char *key;
    const char *word;
};
constexpr std::array steps{
    StepInfo{RepairStep::Opened, "opened", "opened"},
    StepInfo{RepairStep::Evidence, "evidence", "seen again"},
    StepInfo{RepairStep::Sent, "sent", "sent"},
    StepInfo{RepairStep::Scheduled, "scheduled", "scheduled"},
    StepInfo{RepairStep::Done, "done", "done"},
    StepInfo{RepairStep::Proved, "proved", "proved by a visit"},
    StepInfo{RepairStep::Reopened, "reopened", "reopened"},
    StepInfo{RepairStep::Withdrawn, "withdrawn", "withdrawn"},
    StepInfo{RepairStep::Noted, "noted", "noted"},
    StepInfo{RepairStep::TakenBack, "taken_back", "taken back"},
};

struct StateInfo
{
    RepairState state;
    const char *key;
    const char *word;
};
constexpr std::array states{
    StateInfo{RepairState::Open, "open", "open"},
    StateInfo{RepairState::Sent, "sent", "sent"},
    StateInfo{RepairState::Scheduled, "scheduled", "scheduled"},
    StateInfo{RepairState::Done, "done", "done, to be proved"},
    StateInfo{RepairState::Proved, "proved", "proved"},
    StateInfo{RepairState::Withdrawn, "withdrawn", "withdrawn"},
};

bool isEarlier(const RepairEvent &a, const RepairEvent &b)
{
    return std::tie(a.stamp, a.id) < std::tie(b.stamp, b.id);
}

/// Each row once, without those that were taken back, by stamp.
std::vector<RepairEvent> standingEvents(std::vector<RepairEvent> events)
{
    std::ranges::sort(events, isEarlier);
    QSet<RepairEventId> seen;
    QSet<RepairEventId> undone;
    std::vector<RepairEvent> standing;
    // Newest first: a row that takes another back is met before it, and may be taken back itself.
    for (auto event = events.rbegin(); event != events.rend(); ++event) {
        if (seen.contains(event->id)) {
            continue;
        }
        seen.insert(event->id);
        if (undone.contains(event->id)) {
            continue;
        }
        if (event->step == RepairStep::TakenBack) {
            undone.insert(event->undoes);
        } else {
            standing.push_back(std::move(*event));
        }
    }
    std::ranges::reverse(standing);
    return standing;
}

void takeEvidence(RepairRequest &request, const RepairEvent &event)
{
    for (const QString &finding : event.findings) {
        if (!request.findings.contains(finding)) {
            request.findings << finding;
        }
    }
    if (!event.visit.isNull() &&
        std::ranges::find(request.visits, event.visit) == request.visits.end()) {
        request.visits.push_back(event.visit);
    }
    if (!event.tick.isNull() &&
        std::ranges::find(request.ticks, event.tick) == request.ticks.end()) {
        request.ticks.push_back(event.tick);
    }
    if (event.on.isValid() && (request.since.isNull() || event.on < request.since)) {
        request.since = event.on;
    }
}

void close(RepairRequest &request, const RepairEvent &event, RepairState state)
{
    request.state = state;
    request.closedOn = event.on.isValid() ? event.on : event.at.localDate();
}

void reopen(RepairRequest &request, const RepairEvent &event)
{
    if (request.state == RepairState::Open || request.state == RepairState::Sent ||
        request.state == RepairState::Scheduled) {
        takeEvidence(request, event); // two laptops reopened it: once is enough
        return;
    }
    ++request.timesReopened;
    request.state = RepairState::Open;
    request.scheduledFor = QDate();
    request.scheduledWith.clear();
    request.doneOn = QDate();
    request.doneBy.clear();
    request.work.clear();
    request.closedOn = QDate();
    request.provedBy = VisitId();
    request.withdrawnWhy.clear();
    takeEvidence(request, event);
}

void advance(RepairRequest &request, RepairState state)
{
    request.state = std::max(request.state, state);
}

void apply(RepairRequest &request, const RepairEvent &event)
{
    switch (event.step) {
    case RepairStep::Opened: // a second laptop opened the same one
    case RepairStep::Evidence:
        takeEvidence(request, event);
        break;
    case RepairStep::Sent:
        advance(request, RepairState::Sent);
        break;
    case RepairStep::Scheduled:
        advance(request, RepairState::Scheduled);
        request.scheduledFor = event.on;
        request.scheduledWith = event.party;
        break;
    case RepairStep::Done:
        advance(request, RepairState::Done);
        request.doneOn = event.on;
        request.doneBy = event.party;
        request.work = event.words;
        break;
    case RepairStep::Proved:
        close(request, event, RepairState::Proved);
        request.provedBy = event.visit;
        break;
    case RepairStep::Reopened:
        reopen(request, event);
        break;
    case RepairStep::Withdrawn:
        if (request.isOpen()) {
            close(request, event, RepairState::Withdrawn);
            request.withdrawnWhy = event.words;
        }
        break;
    case RepairStep::Noted:
    case RepairStep::TakenBack:
        break;
    }
    request.life.push_back(event);
}

constexpr char signs[] = "123456789ABCDEFGHJKMNPQRSTVWXYZ";
constexpr int signCount = 31; // a prime: the check then notices any exchange of two signs
constexpr int idSigns = 7;

/// The weighted sum of year and signs that the last sign brings to a multiple of 31.
int weighted(const QString &year, const QString &code)
{
    int sum = 0;
    int weight = static_cast<int>(year.size()) + idSigns + 1;
    for (const QChar digit : year) {
        sum += digit.digitValue() * weight--;
    }
    for (const QChar sign : code) {
        sum += static_cast<int>(QLatin1String(signs).indexOf(sign)) * weight--;
    }
    return sum % signCount;
}

QString numberOf(const QString &year, const QString &code)
{
    return QStringLiteral("R%1-%2-%3").arg(year, code.left(4), code.mid(4));
}

} // namespace

QString wordFor(RepairStep step)
{
    return QLatin1String(steps[static_cast<std::size_t>(step)].word);
}

QString keyFor(RepairStep step)
{
    return QLatin1String(steps[static_cast<std::size_t>(step)].key);
}

std::optional<RepairStep> repairStepFromKey(const QString &key)
{
    const auto *const found = std::ranges::find_if(
        steps, [&key](const StepInfo &info) { return key == QLatin1String(info.key); });
    return found == steps.end() ? std::nullopt : std::optional(found->step);
}

QString wordFor(RepairState state)
{
    return QLatin1String(states[static_cast<std::size_t>(state)].word);
}

QString keyFor(RepairState state)
{
    return QLatin1String(states[static_cast<std::size_t>(state)].key);
}

const RepairEvent *RepairRequest::lastOf(RepairStep step) const
{
    const auto found = std::find_if(life.rbegin(), life.rend(), [step](const RepairEvent &event) {
        return event.step == step;
    });
    return found == life.rend() ? nullptr : &*found;
}

std::vector<RepairRequest> foldRequests(std::vector<RepairEvent> events)
{
    std::vector<RepairRequest> requests;
    QHash<RequestId, std::size_t> byId;
    const std::vector<RepairEvent> standing = standingEvents(std::move(events));
    // Opened first: a laptop whose clock lags may have stamped a later step earlier.
    for (const RepairEvent &event : standing) {
        if (event.step == RepairStep::Opened && !byId.contains(event.request)) {
            byId.insert(event.request, requests.size());
            RepairRequest request;
            request.id = event.request;
            request.number = event.number;
            request.valve = event.valve;
            request.department = event.department;
            request.opened = event.at;
            requests.push_back(std::move(request));
        }
    }
    for (const RepairEvent &event : standing) {
        if (const auto at = byId.constFind(event.request); at != byId.cend()) {
            apply(requests[*at], event);
        }
    }
    return requests;
}

RequestId requestIdFor(const ValveId &valve, const QString &department, const QUuid &evidence)
{
    return {uuidFromContent(QStringList{QStringLiteral("repair request"), valve.text(), department,
                                        evidence.toString(QUuid::WithoutBraces)}
                                .join(QChar(0x1F))
                                .toUtf8())};
}

QString requestNumber(const RequestId &id, int year)
{
    // The last bytes of a name-based id are bits of a hash: as good as random.
    quint64 bits = 0;
    for (const uchar byte : id.uuid.data4) {
        bits = (bits << 8U) | byte;
    }
    QString code;
    for (int i = 0; i < idSigns; ++i) {
        code += QLatin1Char(signs[bits % signCount]);
        bits /= signCount;
    }
    const QString shortYear = QStringLiteral("%1").arg(year % 100, 2, 10, QLatin1Char('0'));
    // The last sign has the weight 1, so it is what is missing to 31.
    code += QLatin1Char(signs[(signCount - weighted(shortYear, code)) % signCount]);
    return numberOf(shortYear, code);
}

QString requestNumberFrom(const QString &typed)
{
    QString plain;
    for (const QChar each : typed.toUpper()) {
        if (each.isLetterOrNumber()) {
            plain += each;
        }
    }
    const QString year = plain.mid(1, 2);
    const QString code = plain.mid(3);
    const bool isSpelt =
        plain.size() == 3 + idSigns + 1 && plain.startsWith(QLatin1Char('R')) &&
        std::ranges::all_of(year, [](QChar each) { return each.isDigit(); }) &&
        std::ranges::all_of(code, [](QChar each) { return QLatin1String(signs).contains(each); });
    return isSpelt && weighted(year, code) == 0 ? numberOf(year, code) : QString();
}

} // namespace keyround
