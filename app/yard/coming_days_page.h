// SPDX-License-Identifier: GPL-3.0-or-later
// The Yard's page of the coming days: the sheet of crews and days, the chosen day's stops beside
// it, what was left out and why, and drawing up. A valve is moved by taking it from a cell or from
// the list and letting it go over another day, by the "Move to" menu, or by Alt with the arrows.
#pragma once

#include "app/yard/coming_days_desk.h"

#include <QWidget>

class QButtonGroup;
class QLabel;
class QPushButton;
class QSplitter;
class QStackedWidget;
class QToolButton;

namespace keyround {

class CheckedLine;
class ComingDaysGrid;
class DataTable;
class LeftOutModel;
class RoundDesk;
class RoundModel;
class WorkBar;

class ComingDaysPage final : public QWidget
{
    Q_OBJECT
public:
    ComingDaysPage(Session &session, RoundDesk &desk, QWidget *parent = nullptr);

    [[nodiscard]] ComingDaysGrid *grid() const { return m_grid; }
    [[nodiscard]] ComingDaysDesk *days() const { return m_days; }
    [[nodiscard]] DataTable *stopTable() const { return m_stopTable; }
    [[nodiscard]] DataTable *leftOutTable() const { return m_leftOutTable; }

Q_SIGNALS:
    void dayWanted(); ///< the day on the desk is to be worked on

protected:
    void showEvent(QShowEvent *event) override;

private:
    [[nodiscard]] QWidget *buildHead();
    [[nodiscard]] QWidget *buildSide();
    void watchDragging(DataTable *table);
    void wire();
    void drawUp();
    void layOnDesk(const CellAt &at);
    void moveTo(const QList<ValveId> &valves, const CellAt &to);
    void moveChosen(int days, int crews);
    void fillMoveMenu();
    void refreshIfShown();
    void refresh();
    void refreshSide();
    void refreshLeftOut();
    [[nodiscard]] QList<ValveId> chosenValves() const;
    [[nodiscard]] QList<ValveId> valvesIn(const DataTable *table, const QList<int> &rows) const;
    void say(const Status &status);

    Session &m_session;
    RoundDesk &m_desk;
    ComingDaysDesk *m_days;
    ComingDaysGrid *m_grid;
    RoundModel *m_stops;
    LeftOutModel *m_leftOut;
    CheckedLine *m_count = nullptr;
    QPushButton *m_drawUp = nullptr;
    QLabel *m_sentence = nullptr;
    QLabel *m_empty = nullptr;
    QLabel *m_title = nullptr;
    QPushButton *m_told = nullptr;
    QPushButton *m_open = nullptr;
    QToolButton *m_move = nullptr;
    QButtonGroup *m_views = nullptr;
    QStackedWidget *m_lists = nullptr;
    DataTable *m_stopTable = nullptr;
    DataTable *m_leftOutTable = nullptr;
    QWidget *m_head = nullptr;
    QSplitter *m_across = nullptr;
    WorkBar *m_workBar = nullptr;
};

} // namespace keyround
