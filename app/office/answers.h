// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's questions and their answers: one sentence, a picture, the valves behind it. Worked
// out from the session whenever it is asked; nothing is kept.
#pragma once

#include "app/charts/chart_picture.h"
#include "core/condition/series.h"
#include "core/reports/table.h"

namespace keyround {

class Session;

enum class Question { Condition, WentOut };

/// What is asked: of which valves, over which time.
struct Asked
{
    Question question = Question::Condition;
    ValveFilter filter;
    Span span;
    PeriodLength length = PeriodLength::Month;
    int period = -1; ///< one period of the picture, when somebody picked it
};

struct AnswerRow
{
    ValveId valve;
    VisitId visit;     ///< the visit that showed it; null for a valve never visited
    QStringList cells; ///< by answerColumns()
    Condition condition = Condition::NeverVisited;
    int severity = 0; ///< sorts conditions: the worst highest
};

struct Answer
{
    QString sentence;
    ChartPicture picture;
    std::vector<AnswerRow> rows;
    QString emptyTable;  ///< said where there are no rows
    ReportTable figures; ///< the picture's, for CSV
};

[[nodiscard]] QStringList answerColumns();
[[nodiscard]] Answer answerTo(Session &session, const Asked &asked);

/// From the first visit on record (a year ago when there is none) until today.
[[nodiscard]] Span wholeSpan(Session &session);

} // namespace keyround
