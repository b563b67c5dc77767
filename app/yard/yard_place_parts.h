// SPDX-License-Identifier: GPL-3.0-or-later
// What the Yard is put together from, for the two files that implement YardPlace: building and
// wiring in yard_place_build.cpp, what happens after in yard_place.cpp.
#pragma once

#include "app/yard/yard_place.h"

#include <QList>

class QFrame;
class QLabel;
class QPushButton;
class QSplitter;
class QStackedLayout;
class QToolButton;

namespace keyround {

class CheckedLine;
class ComingDaysPage;
class DayRibbon;
class MapWidget;
class OfferBar;
class OrderOffer;
class PlanComparison;
class RoundBar;
class RoundDesk;
class SideColumn;
class StopActions;
class ValveCard;
class WorkBar;

struct YardPlace::Parts
{
    explicit Parts(Session &theSession) : session(theSession) {}

    Session &session;
    RoundDesk *desk = nullptr;
    StopActions *actions = nullptr;
    OrderOffer *offer = nullptr;
    QStackedLayout *pages = nullptr;
    QWidget *start = nullptr;
    QWidget *work = nullptr;
    ComingDaysPage *days = nullptr;
    RoundBar *bar = nullptr;
    SideColumn *column = nullptr;
    QFrame *yardQuestion = nullptr;
    CheckedLine *yardLine = nullptr;
    QLabel *mapHint = nullptr;
    QToolButton *lasso = nullptr;
    MapWidget *map = nullptr;
    ValveCard *card = nullptr;
    QSplitter *across = nullptr;
    QWidget *day = nullptr;
    QLabel *sentence = nullptr;
    QLabel *notes = nullptr;
    QPushButton *leftOut = nullptr;
    QPushButton *aside = nullptr;
    OfferBar *offerBar = nullptr;
    PlanComparison *comparison = nullptr;
    DayRibbon *ribbon = nullptr;
    WorkBar *workBar = nullptr;
    QList<ValveId> chosen;
    RoundId shownRound;
};

} // namespace keyround
