// SPDX-License-Identifier: GPL-3.0-or-later
// The Office's answers: one sentence, a picture, the valves behind it. A choice in the picture (a
// period, a year, a box, a point) narrows the valves and, where it can, the sentence.
#pragma once

#include "app/charts/chart_picture.h"
#include "app/office/figure_desk.h"
#include "app/office/questions.h"

#include <functional>

namespace keyround {

/// What is asked.
struct Asked
{
    Question question = Question::State;
    FigureScope scope;
    int view = 0;
    int item = -1; ///< of the picture, when somebody chose it
    WhatIfWish wish;
};

struct AnswerRow
{
    ValveId valve;
    VisitId visit;         ///< the visit that showed it; null where there is none
    std::size_t index = 0; ///< in the figure that the cells are read from
    Condition condition = Condition::NeverVisited;
};

struct AnswerColumn
{
    enum class Kind { Text, Number, Condition };
    QString heading;
    Kind kind = Kind::Text;
    bool takesRest = false; ///< long words, which share the width that the others leave
};

struct Answer
{
    QString sentence;
    QString caution;   ///< what the figure does not know
    QStringList views; ///< the pictures to choose from
    ChartPicture picture;
    std::vector<AnswerRow> rows;
    /// One cell a column; called for the rows that somebody looks at.
    std::function<QStringList(const AnswerRow &)> cells;
    QString emptyTable; ///< said where there are no rows
    QString hint;       ///< what a click does
};

/// The columns of a question's table.
[[nodiscard]] QList<AnswerColumn> answerColumns(Question question);
[[nodiscard]] Answer answerTo(Session &session, FigureDesk &desk, const Asked &asked);

/// From the first visit on record (a year ago when there is none) until today.
[[nodiscard]] Span wholeSpan(Session &session);

/// Sorts conditions: the worst highest.
[[nodiscard]] int severityOf(Condition condition);

} // namespace keyround
