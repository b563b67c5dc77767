// SPDX-License-Identifier: GPL-3.0-or-later
// The Yard's lists: what is due and why, all valves, the round's stops, and what was left out.
// Choosing rows is shared with the map and the ribbon through the place.
#pragma once

#include "core/common/ids.h"

#include <QList>
#include <QSet>
#include <QWidget>

class QButtonGroup;
class QLabel;
class QPushButton;
class QStackedWidget;

namespace keyround {

class DataTable;
class DueModel;
class LeftOutModel;
class RoundDesk;
class RoundModel;
class RowDrag;
class Session;
class StopActions;
class ValveModel;

class SideColumn final : public QWidget
{
    Q_OBJECT
public:
    enum Page { DuePage, ValvesPage, StopsPage, LeftOutPage };

    SideColumn(Session &session, RoundDesk &desk, StopActions &actions, QWidget *parent = nullptr);

    void showPage(Page page);
    /// Selects the rows of these valves in the lists, without saying so again.
    void showChosen(const QSet<ValveId> &chosen);
    [[nodiscard]] DataTable *dueTable() const { return m_dueTable; }
    [[nodiscard]] DataTable *valveTable() const { return m_valveTable; }
    [[nodiscard]] DataTable *stopTable() const { return m_stopTable; }

Q_SIGNALS:
    void valvesChosen(const QList<ValveId> &valves);
    void addWanted();
    void dropWanted();
    void showWanted(const ValveId &valve); ///< a row was activated: show it on the map

private:
    [[nodiscard]] QWidget *buildDuePage();
    [[nodiscard]] QWidget *buildValvesPage();
    [[nodiscard]] QWidget *buildStopsPage();
    [[nodiscard]] QWidget *buildLeftOutPage();
    QPushButton *addAddButton(QWidget *page);
    void watch(DataTable *table);
    void watchDragging();
    void moveRow(int row, int before);
    void refresh();
    void refreshReason();
    void refreshButtons();
    void refreshLeftOut();
    [[nodiscard]] ValveId valveAt(const DataTable *table, int row) const;
    [[nodiscard]] int rowOf(const DataTable *table, const ValveId &valve) const;
    [[nodiscard]] QList<ValveId> chosenIn(const DataTable *table) const;

    Session &m_session;
    RoundDesk &m_desk;
    StopActions &m_actions;
    QButtonGroup *m_buttons;
    QStackedWidget *m_pages;
    DueModel *m_due;
    ValveModel *m_valves;
    RoundModel *m_stops;
    LeftOutModel *m_leftOut;
    DataTable *m_dueTable = nullptr;
    DataTable *m_valveTable = nullptr;
    DataTable *m_stopTable = nullptr;
    DataTable *m_leftOutTable = nullptr;
    QLabel *m_reason = nullptr;
    QLabel *m_whyLeftOut = nullptr;
    RowDrag *m_drag = nullptr;
    QPushButton *m_drop = nullptr;
    QList<QPushButton *> m_adds;
    QSet<ValveId> m_chosen;
    bool m_isShowing = false; ///< selections made by the program, not by a person
};

} // namespace keyround
