// SPDX-License-Identifier: GPL-3.0-or-later
// Pages of the board report that are lists, and what all pages share. Private to the files that
// make the report.
#pragma once

#include "core/reports/board_report.h"

namespace keyround {

[[nodiscard]] QString boardDay(const QDate &day);
[[nodiscard]] inline bool isIn(const Span &span, const QDate &day)
{
    return day >= span.from && day <= span.to;
}
/// A page with its title, its time and the words of the filter.
[[nodiscard]] BoardPage boardPage(const BoardFigures &figures, const QString &title,
                                  BoardPicture picture);

[[nodiscard]] BoardPage boardNotOperablePage(const BoardFigures &figures,
                                             const std::vector<Valve> &valves,
                                             const Histories &histories);
[[nodiscard]] BoardPage boardRepairedPage(const BoardFigures &figures,
                                          const std::vector<Valve> &valves);
[[nodiscard]] BoardPage boardRequestsPage(const BoardFigures &figures,
                                          const std::vector<Valve> &valves);
[[nodiscard]] BoardPage boardDriftPage(const BoardFigures &figures,
                                       const std::vector<Valve> &valves);
[[nodiscard]] BoardPage boardRiskPage(const BoardFigures &figures,
                                      const std::vector<Valve> &valves);
[[nodiscard]] BoardPage boardOutlookPage(const BoardFigures &figures);
[[nodiscard]] BoardPage boardRecordsPage(const BoardFigures &figures,
                                         const std::vector<Valve> &valves,
                                         const std::vector<Visit> &visits);

} // namespace keyround
