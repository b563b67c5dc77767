// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/round.h"

namespace keyround {

QString wordFor(RoundState state)
{
    switch (state) {
    case RoundState::UnderWay:
        return QStringLiteral("under way");
    case RoundState::Finished:
        return QStringLiteral("finished");
    case RoundState::Planned:
        break;
    }
    return QStringLiteral("planned");
}

} // namespace keyround
