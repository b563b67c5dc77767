// SPDX-License-Identifier: GPL-3.0-or-later
// A valve's visits beside the answer, newest first; the visit that showed what the answer says
// stands out, by words and by its edge. From here to the valve's whole life, and to its repair.
#pragma once

#include "core/common/ids.h"

#include <QFrame>

class QLabel;

namespace keyround {

class Session;
class VisitList;

class HistoryPanel final : public QFrame
{
    Q_OBJECT
public:
    explicit HistoryPanel(Session &session, QWidget *parent = nullptr);

    void showValve(const ValveId &valve, const VisitId &visit);
    [[nodiscard]] ValveId valve() const { return m_valve; }
    [[nodiscard]] VisitId visit() const { return m_visit; }
    /// Reads what is shown again.
    void refresh();

Q_SIGNALS:
    void closeWanted();
    void lifeWanted(const ValveId &valve, const VisitId &visit);
    void repairWanted(const ValveId &valve, const VisitId &visit);

private:
    Session &m_session;
    ValveId m_valve;
    VisitId m_visit;
    QLabel *m_title;
    QLabel *m_where;
    VisitList *m_visits;
};

} // namespace keyround
