// SPDX-License-Identifier: GPL-3.0-or-later
// Who loses water when a valve is shut, and whether they were told: one wording for the Yard's
// lists, the card and the Truck. All of it is connectivity, not pressure.
#pragma once

#include "core/common/ids.h"

#include <QDateTime>
#include <QString>

namespace keyround {

class Session;

/// "Shut alone, it leaves 14 services (1 critical), 2 hydrants without water."; empty when nobody
/// loses it, or the valve is on no main.
[[nodiscard]] QString whoLosesWater(Session &session, const ValveId &valve);

enum class NoticeState { NotNeeded, Needed, Given };
struct NoticeStanding
{
    NoticeState state = NoticeState::NotNeeded;
    QString words; ///< "Notice given on 2026-05-04 by M. Rowe: door hangers", or what is needed
};
/// For work that begins at `work`, by the project's lead time.
[[nodiscard]] NoticeStanding noticeStanding(Session &session, const ValveId &valve,
                                            const QDateTime &work);

/// The first day on which the valve may be shut: a notice for it was given, or can still be given.
/// Null when nobody loses water.
[[nodiscard]] QDate firstDayWithNotice(Session &session, const ValveId &valve);

} // namespace keyround
