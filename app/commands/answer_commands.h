// SPDX-License-Identifier: GPL-3.0-or-later
// Taking a department's answers back from a file, in two steps: prepare reads and compares and
// writes nothing; apply writes all that is taken in one transaction, and can be undone. Window and
// console take the same road.
#pragma once

#include "app/shell/session.h"
#include "core/inventory/value_parsers.h"
#include "core/repairs/repair_answers.h"

namespace keyround {

[[nodiscard]] Result<AnswerPlan> prepareAnswers(Session &session, const QString &path,
                                                std::optional<DateOrder> dates = {});
[[nodiscard]] Status applyAnswers(Session &session, const AnswerPlan &plan);

} // namespace keyround
