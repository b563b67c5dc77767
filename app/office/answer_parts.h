// SPDX-License-Identifier: GPL-3.0-or-later
// What the answers share. Private to the files that make them.
#pragma once

#include "app/charts/figure_pictures.h"
#include "app/office/answers.h"
#include "app/shell/session.h"

#include <QCoreApplication>

namespace keyround {

/// An answer is made from these.
struct AnswerTask
{
    Session &session;
    FigureDesk &desk;
    const Asked &asked;
    std::shared_ptr<const std::vector<Valve>> valves;
};

[[nodiscard]] inline QString officeSay(const char *words)
{
    return QCoreApplication::translate("Office", words);
}
[[nodiscard]] QString valvesText(size_t count);
/// Those that say anything, one after the other.
[[nodiscard]] QString joinedCautions(QStringList sentences);
/// "12 turns, short; Lid missing; remark".
[[nodiscard]] QString foundWords(const ReadVisit &read);
[[nodiscard]] const ReadVisit *visitWith(const ValveHistory &history, const VisitId &id);
/// The item's own words on one line; empty when nothing is chosen.
[[nodiscard]] QString chosenWords(const ChartPicture &picture, int item);

[[nodiscard]] Answer paceAnswer(const AnswerTask &task);
[[nodiscard]] Answer stateAnswer(const AnswerTask &task);
[[nodiscard]] Answer changesAnswer(const AnswerTask &task);
[[nodiscard]] Answer ageingAnswer(const AnswerTask &task);
[[nodiscard]] Answer turnsAnswer(const AnswerTask &task);
[[nodiscard]] Answer nextAnswer(const AnswerTask &task);
[[nodiscard]] Answer whatIfAnswer(const AnswerTask &task);

} // namespace keyround
