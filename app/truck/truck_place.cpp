// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/truck_place.h"

#include "app/commands/visit_commands.h"
#include "app/dialogs/truck_look.h"
#include "app/position/position_feed.h"
#include "app/shell/session.h"
#include "app/shell/style.h"
#include "app/truck/choose_round_page.h"
#include "app/truck/drop_point_page.h"
#include "app/truck/find_valve_page.h"
#include "app/truck/finish_page.h"
#include "app/truck/stop_list_page.h"
#include "app/truck/stop_page.h"
#include "app/truck/stop_states.h"
#include "app/truck/visit_list_page.h"

#include <QApplication>
#include <QSettings>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

struct TruckPlace::Parts
{
    Parts(TruckPlace *place, Session &open);

    void resume();
    void showChoice();
    void showList();
    void showFinish();
    void openStop(const ValveId &valve);
    void openRound(const RoundId &chosen);
    void correct(const ReadVisit &read);
    void showVisits(const ValveId &valve);
    void showFind();
    void showDrop();
    void back();
    void afterStop(const ValveId &valve);
    void skip();
    void focusPage();
    void refresh();

    Session &session;
    RoundId round;
    bool visitsFromStop = false; ///< the record was opened in the middle of a stop: back goes there
    QStackedWidget *pages;
    ChooseRoundPage *choice;
    StopPage *stop;
    StopListPage *list;
    FinishPage *finish;
    VisitListPage *visits;
    FindValvePage *find;
    DropPointPage *drop;
};

namespace {

constexpr const char *nightKey = "truckNightLook";

QString fieldSheet(const QWidget *place)
{
    // The borders and the padding come on top of min-height.
    const TruckScale scale = TruckScale::of(place);
    return QStringLiteral(
               "QLineEdit { min-height: %1px; font-size: %2px; padding: 2px 10px; border-width: "
               "2px; }"
               "QPlainTextEdit { font-size: %2px; }"
               "QScrollArea, QScrollArea > QWidget > QWidget { background: transparent; }"
               "QScrollBar:vertical { width: %3px; }")
        .arg(scale.target - 8)
        .arg(scale.text)
        .arg(scale.gap * 2);
}

} // namespace

TruckPlace::Parts::Parts(TruckPlace *place, Session &open)
    : session(open), pages(new QStackedWidget(place)), choice(new ChooseRoundPage(open, place)),
      stop(new StopPage(open, place)), list(new StopListPage(open, place)),
      finish(new FinishPage(open, place)), visits(new VisitListPage(open, place)),
      find(new FindValvePage(open, place)), drop(new DropPointPage(open, place))
{
    for (QWidget *page :
         std::initializer_list<QWidget *>{choice, stop, list, finish, visits, find, drop}) {
        pages->addWidget(page);
    }
}

void TruckPlace::Parts::resume()
{
    stop->forget();
    round = {};
    std::vector<StopDraft> drafts = session.drafts();
    std::ranges::sort(drafts, std::ranges::greater{}, &StopDraft::savedAt);
    for (const StopDraft &draft : drafts) {
        if (isSkipMark(draft.content)) {
            continue;
        }
        const auto form = stopFormFromJson(draft.content);
        if (form && form->onScreen && session.valve(draft.valve) != nullptr) {
            round = draft.round;
            stop->open(draft.valve, draft.round, *form, true);
            pages->setCurrentWidget(stop);
            return;
        }
    }
    showChoice();
}

void TruckPlace::Parts::showChoice()
{
    stop->leave();
    round = {};
    choice->load();
    pages->setCurrentWidget(choice);
    focusPage();
}

void TruckPlace::Parts::showList()
{
    if (round.isNull()) {
        showChoice();
        return;
    }
    stop->leave();
    list->load(round);
    pages->setCurrentWidget(list);
    focusPage();
}

void TruckPlace::Parts::showFinish()
{
    stop->leave();
    finish->load(round);
    pages->setCurrentWidget(finish);
    focusPage();
}

void TruckPlace::Parts::openStop(const ValveId &valve)
{
    stop->leave();
    StopForm form;
    bool isDraft = false;
    for (const StopDraft &draft : session.drafts()) {
        if (draft.round != round || draft.valve != valve || isSkipMark(draft.content)) {
            continue;
        }
        if (auto read = stopFormFromJson(draft.content)) {
            form = *read;
            isDraft = true;
        } else {
            Q_EMIT session.notifier().failed(read.error().message);
        }
    }
    if (!isDraft) {
        if (const ReadVisit *done = visitOnRound(session, round, valve)) {
            correct(ReadVisit(*done));
            return;
        }
    }
    stop->open(valve, round, form, isDraft);
    pages->setCurrentWidget(stop);
    stop->focusField();
}

void TruckPlace::Parts::openRound(const RoundId &chosen)
{
    round = chosen;
    const Round *day = session.round(chosen);
    if (day == nullptr) {
        showChoice();
        return;
    }
    const ValveId next = nextStop(session, Round(*day), {});
    if (day->state == RoundState::Finished || next.isNull()) {
        showList();
    } else {
        openStop(next);
    }
}

void TruckPlace::Parts::correct(const ReadVisit &read)
{
    stop->openCorrection(read);
    pages->setCurrentWidget(stop);
    stop->focusField();
}

void TruckPlace::Parts::showVisits(const ValveId &valve)
{
    visitsFromStop = pages->currentWidget() == stop;
    stop->leave();
    visits->load(valve);
    pages->setCurrentWidget(visits);
    focusPage();
}

void TruckPlace::Parts::showFind()
{
    stop->leave();
    GeoPoint near;
    QString where;
    if (const auto fix = session.positions().current()) {
        near = fix->place;
        where = tr("you");
    } else if (const Round *day = session.round(round)) {
        // Without a fix: near the stop that comes next, where the truck is or will be.
        if (const Valve *next = session.valve(nextStop(session, Round(*day), {}))) {
            near = next->place;
            where = tr("the next stop, valve %1").arg(next->number);
        }
    }
    find->load(near, where);
    pages->setCurrentWidget(find);
    focusPage();
}

void TruckPlace::Parts::showDrop()
{
    drop->load(round);
    pages->setCurrentWidget(drop);
    focusPage();
}

void TruckPlace::Parts::back()
{
    showList(); // outside a round: the choice of rounds
}

void TruckPlace::Parts::afterStop(const ValveId &valve)
{
    const Round *day = session.round(round);
    if (day == nullptr) {
        showChoice();
        return;
    }
    const ValveId next = nextStop(session, Round(*day), valve);
    if (day->state == RoundState::Finished || next.isNull()) {
        showList();
    } else {
        openStop(next);
    }
}

void TruckPlace::Parts::skip()
{
    const ValveId valve = stop->desk().valve.id;
    stop->leave();
    if (const Status marked = skipStop(session, round, valve); !marked) {
        Q_EMIT session.notifier().failed(marked.error().message);
    }
    afterStop(valve);
}

void TruckPlace::Parts::focusPage()
{
    if (pages->currentWidget() == stop) {
        stop->focusField();
    } else if (pages->currentWidget() == list) {
        list->focusField();
    } else if (pages->currentWidget() == finish) {
        finish->focusField();
    } else if (pages->currentWidget() == visits) {
        visits->focusField();
    } else if (pages->currentWidget() == find) {
        find->focusField();
    } else if (pages->currentWidget() == drop) {
        drop->focusField();
    } else {
        choice->focusField();
    }
}

void TruckPlace::Parts::refresh()
{
    // Lists are made anew: the keyboard stays with them.
    const bool keyboardHere = pages->isAncestorOf(QApplication::focusWidget());
    if (pages->currentWidget() == stop) {
        stop->refreshValve();
        return;
    }
    if (pages->currentWidget() == list) {
        list->load(round);
    } else if (pages->currentWidget() == choice) {
        choice->load();
    } else if (pages->currentWidget() == visits) {
        visits->load(visits->valve());
    } else {
        return; // what is typed there stays
    }
    if (keyboardHere) {
        focusPage();
    }
}

TruckPlace::TruckPlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(this, session))
{
    setObjectName(QStringLiteral("truck"));
    setAutoFillBackground(true);
    setNight(QSettings().value(QLatin1String(nightKey), false).toBool());
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_parts->pages);
    Parts *parts = m_parts.get();
    connect(parts->choice, &ChooseRoundPage::roundChosen, this,
            [parts](const RoundId &round) { parts->openRound(round); });
    connect(parts->choice, &ChooseRoundPage::recordAsked, this,
            [parts](const ValveId &valve) { parts->openStop(valve); });
    connect(parts->choice, &ChooseRoundPage::correctAsked, this,
            [parts](const ValveId &valve) { parts->showVisits(valve); });
    connect(parts->stop, &StopPage::recorded, this,
            [parts](const ValveId &valve) { parts->afterStop(valve); });
    connect(parts->stop, &StopPage::skipAsked, this, [parts] { parts->skip(); });
    connect(parts->stop, &StopPage::dropped, this, [parts] { parts->showList(); });
    connect(parts->stop, &StopPage::listAsked, this, [parts] { parts->showList(); });
    connect(parts->list, &StopListPage::stopChosen, this,
            [parts](const ValveId &valve) { parts->openStop(valve); });
    connect(parts->list, &StopListPage::recordAsked, this,
            [parts](const ValveId &valve) { parts->openStop(valve); });
    connect(parts->list, &StopListPage::correctAsked, this,
            [parts](const ValveId &valve) { parts->showVisits(valve); });
    connect(parts->list, &StopListPage::finishAsked, this, [parts] { parts->showFinish(); });
    connect(parts->list, &StopListPage::otherRoundAsked, this, [parts] { parts->showChoice(); });
    connect(parts->choice, &ChooseRoundPage::findAsked, this, [parts] { parts->showFind(); });
    connect(parts->list, &StopListPage::findAsked, this, [parts] { parts->showFind(); });
    connect(parts->choice, &ChooseRoundPage::lookAsked, this, [this] { setNight(!isNight()); });
    connect(parts->list, &StopListPage::lookAsked, this, [this] { setNight(!isNight()); });
    connect(parts->stop, &StopPage::visitsAsked, this,
            [parts](const ValveId &valve) { parts->showVisits(valve); });
    connect(parts->visits, &VisitListPage::correctAsked, this,
            [parts](const ReadVisit &read) { parts->correct(ReadVisit(read)); });
    connect(parts->visits, &VisitListPage::backAsked, this, [parts] {
        parts->visitsFromStop ? parts->openStop(parts->visits->valve()) : parts->back();
    });
    connect(parts->find, &FindValvePage::recordAsked, this,
            [parts](const ValveId &valve) { parts->openStop(valve); });
    connect(parts->find, &FindValvePage::dropAsked, this, [parts] { parts->showDrop(); });
    connect(parts->drop, &DropPointPage::done, this, [parts] { parts->back(); });
    connect(parts->find, &FindValvePage::backAsked, this, [parts] { parts->back(); });
    connect(parts->finish, &FinishPage::backAsked, this, [parts] { parts->showList(); });
    connect(parts->finish, &FinishPage::otherRoundAsked, this, [parts] { parts->showChoice(); });
    connect(parts->choice, &ChooseRoundPage::breakAsked, this, &TruckPlace::breakAsked);
    connect(parts->list, &StopListPage::breakAsked, this, &TruckPlace::breakAsked);
    const Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::projectAboutToChange, this, [parts] { parts->stop->flush(); });
    connect(&notifier, &Notifier::projectChanged, this, [parts] { parts->resume(); });
    connect(&notifier, &Notifier::valvesChanged, this, [parts] { parts->refresh(); });
    connect(&notifier, &Notifier::roundsChanged, this, [parts] { parts->refresh(); });
    connect(&notifier, &Notifier::settingsChanged, this, [parts] { parts->refresh(); });
    parts->resume();
}

TruckPlace::~TruckPlace() = default;

bool TruckPlace::isNight() const
{
    return hasNightLook(this);
}

void TruckPlace::setNight(bool night)
{
    setNightLook(this, night);
    QSettings().setValue(QLatin1String(nightKey), night);
    const TruckColours &colours = TruckColours::of(this);
    QPalette look = palette();
    look.setColor(QPalette::Window, colours.ground);
    look.setColor(QPalette::WindowText, colours.ink);
    look.setColor(QPalette::Text, colours.ink);
    setPalette(look);
    setStyleSheet((night ? sheetFor(colours) : QString()) + fieldSheet(this));
    Q_EMIT lookChanged();
}

bool TruckPlace::hasStopUnderWay() const
{
    return m_parts->stop->holdsStop() && m_parts->pages->currentWidget() == m_parts->stop;
}

void TruckPlace::showEvent(QShowEvent *event)
{
    QWidget::showEvent(event);
    m_parts->refresh();
    m_parts->focusPage();
}

void TruckPlace::hideEvent(QHideEvent *event)
{
    m_parts->stop->flush();
    QWidget::hideEvent(event);
}

} // namespace keyround
