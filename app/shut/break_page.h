// SPDX-License-Identifier: GPL-3.0-or-later
// "A main broke": the map in the middle, where the main is clicked; the plan at the side, in plain
// sentences, with its steps to tick off. Targets are 20 mm, because it is worked from the truck as
// well as from the yard and from home; every control goes by keyboard too.
#pragma once

#include "app/shut/shut_desk.h"

#include <QWidget>

class QLabel;
class QLineEdit;
class QScrollArea;

namespace keyround {

class BigButton;
class ButtonList;
class MapWidget;
class ShutSteps;
class StepList;

class BreakPage final : public QWidget
{
    Q_OBJECT
public:
    BreakPage(Session &session, ShutDesk &desk, QWidget *parent = nullptr);

    void openShut(const ShutId &shut);
    void focusField();
    [[nodiscard]] MapWidget *map() const { return m_map; }

Q_SIGNALS:
    void networkAsked();
    void mattersAsked();

protected:
    void showEvent(QShowEvent *event) override;

private:
    QWidget *buildMapSide();
    QWidget *buildPlanSide();
    QWidget *buildFindRow();
    QWidget *buildToolRow();
    void listen();
    void placeClicked(const GeoPoint &place);
    void find();
    void takeCrew();
    void showCrewButton();
    void say(const Status &status);
    void breakChanged();
    void refresh();
    void refreshSteps();
    void showCurrent();
    void fillShuts();
    [[nodiscard]] QString emptyWords();
    void saveSheet();
    void saveCsv();
    void copy();
    void openNotices();

    Session &m_session;
    ShutDesk &m_desk;
    MapWidget *m_map;
    QLineEdit *m_find;
    BigButton *m_crew;
    BigButton *m_all;
    QList<BigButton *> m_needPlan;
    QLabel *m_refusal;
    QLabel *m_title;
    QLabel *m_change;
    QLabel *m_notes;
    QLabel *m_who;
    QLabel *m_empty;
    StepList *m_list;
    QScrollArea *m_scroll;
    QWidget *m_plan;
    ButtonList *m_shuts;
    ShutSteps *m_steps;
    bool m_takesCrew = false;
};

} // namespace keyround
