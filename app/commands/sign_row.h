// SPDX-License-Identifier: GPL-3.0-or-later
// What every row of the log carries beside what it says: who, where, and a stamp after all others.
#pragma once

#include "app/shell/session.h"

namespace keyround {

/// Row: anything with person, device and stamp.
template <typename Row> Status signRow(Session &session, Row &row)
{
    row.person = session.author().person;
    row.device = session.author().device;
    return session.project().nextStamp(session.now()).map([&row](HybridTime stamp) {
        row.stamp = stamp;
    });
}

} // namespace keyround
