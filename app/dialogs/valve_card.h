// SPDX-License-Identifier: GPL-3.0-or-later
// One valve: what it is (editable in place), why it is due, its visits, who changed what of it and
// when, and what is known of its place in the street. Shown beside the map when a valve is chosen.
#pragma once

#include "core/common/ids.h"

#include <QFrame>

class QLabel;
class QPushButton;
class QTabWidget;
class QVBoxLayout;

namespace keyround {

class Session;
class ValveFieldsForm;
class ValveSiteForm;
struct RecordEntry;

class ValveCard final : public QFrame
{
    Q_OBJECT
public:
    explicit ValveCard(Session &session, QWidget *parent = nullptr);

    /// A null id empties the card.
    void showValve(const ValveId &valve);
    [[nodiscard]] ValveId valve() const { return m_valve; }
    [[nodiscard]] ValveFieldsForm *fields() const { return m_fields; }
    [[nodiscard]] ValveSiteForm *site() const { return m_site; }
    /// Whether the valve may be added to the round that is shown, and whether it is in it.
    void setRoundState(bool canAdd, bool isStop);

Q_SIGNALS:
    void closeWanted();
    void addToRoundWanted(const ValveId &valve);
    void showOnMapWanted(const ValveId &valve);
    void repairsWanted(const ValveId &valve);

private:
    [[nodiscard]] QWidget *buildHead();
    [[nodiscard]] QVBoxLayout *addRecordTab(const QString &title);
    void refresh();
    void refreshHead();
    void refreshRecords();
    void refreshWater();
    void refreshRepairs();

    Session &m_session;
    ValveId m_valve;
    QLabel *m_title = nullptr;
    QLabel *m_mark = nullptr;
    QLabel *m_condition = nullptr;
    QLabel *m_due = nullptr;
    QLabel *m_water = nullptr;
    QLabel *m_repair = nullptr;
    QPushButton *m_repairs = nullptr;
    QPushButton *m_notice = nullptr;
    QPushButton *m_notices = nullptr;
    QPushButton *m_add = nullptr;
    QPushButton *m_undo = nullptr;
    QTabWidget *m_tabs;
    ValveFieldsForm *m_fields;
    ValveSiteForm *m_site;
    QVBoxLayout *m_visits = nullptr;
    QVBoxLayout *m_edits = nullptr;
};

} // namespace keyround
