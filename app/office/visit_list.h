// SPDX-License-Identifier: GPL-3.0-or-later
// A valve's visits, newest first, in a column that scrolls; one of them may stand out, and every
// replacement of the valve stands between the visits of two lives.
#pragma once

#include "core/common/ids.h"

#include <QScrollArea>

namespace keyround {

class Session;

class VisitList final : public QScrollArea
{
    Q_OBJECT
public:
    explicit VisitList(QWidget *parent = nullptr);

    /// The marked visit comes into view; null for none.
    void showVisits(Session &session, const ValveId &valve, const VisitId &marked);
};

} // namespace keyround
