// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/answer_commands.h"

#include "app/commands/repair_commands.h"
#include "core/exchange/read_answers.h"

#include <QFileInfo>

#include <algorithm>

namespace keyround {

namespace {

/// The valves that the answer says were replaced; one a valve, however many departments say so.
void addReplaced(Session &session, const PlannedAnswer &planned,
                 std::vector<ValveReplaced> &replaced)
{
    const RepairRequest *request = session.repairs().request(planned.request);
    const Valve *valve = request == nullptr ? nullptr : session.valve(request->valve);
    const bool isKnown =
        valve == nullptr || std::ranges::any_of(replaced, [valve](const ValveReplaced &each) {
            return each.after.id == valve->id;
        });
    if (!isKnown) {
        ValveReplaced one;
        one.replacement.valve = valve->id;
        one.replacement.on = planned.answer.on;
        one.replacement.words = planned.answer.words;
        one.after = valveAfter(*valve, planned.answer);
        replaced.push_back(std::move(one));
    }
}

} // namespace

Result<AnswerPlan> prepareAnswers(Session &session, const QString &path,
                                  std::optional<DateOrder> dates)
{
    return readRepairAnswers(path, dates).map([&](std::vector<RepairAnswer> answers) {
        return planAnswers(session.repairs(), std::move(answers), QFileInfo(path).fileName(),
                           session.today());
    });
}

Status applyAnswers(Session &session, const AnswerPlan &plan)
{
    std::vector<RepairEvent> events;
    std::vector<ValveReplaced> replaced;
    for (const PlannedAnswer &planned : plan.rows) {
        if (planned.fate == AnswerFate::Taken) {
            events.push_back(eventFor(planned, plan.isTyped ? QString() : plan.source));
            if (planned.answer.isReplaced) {
                addReplaced(session, planned, replaced);
            }
        }
    }
    if (events.empty()) {
        return fail(ErrorCode::NotFound,
                    QObject::tr("%1 has no answer to take: %2.").arg(plan.source, wordsFor(plan)));
    }
    return recordRepairs(session, std::move(events),
                         plan.isTyped ? plan.source
                                      : QObject::tr("Answers from %1").arg(plan.source),
                         std::move(replaced));
}

} // namespace keyround
