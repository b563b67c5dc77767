// SPDX-License-Identifier: GPL-3.0-or-later
// A valve's visits beside the answer, newest first; the visit that showed what the answer says
// stands out, by words and by its edge.
#pragma once

#include "core/common/ids.h"

#include <QFrame>

class QLabel;
class QScrollArea;

namespace keyround {

class Session;

class HistoryPanel final : public QFrame
{
    Q_OBJECT
public:
    explicit HistoryPanel(Session &session, QWidget *parent = nullptr);

    void showValve(const ValveId &valve, const VisitId &visit);
    /// Reads what is shown again.
    void refresh();

Q_SIGNALS:
    void closeWanted();

private:
    Session &m_session;
    ValveId m_valve;
    VisitId m_visit;
    QLabel *m_title;
    QLabel *m_where;
    QScrollArea *m_scroll;
};

} // namespace keyround
