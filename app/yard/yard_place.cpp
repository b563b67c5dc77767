// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/yard_place.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "app/dialogs/valve_card.h"
#include "app/dialogs/work_bar.h"
#include "app/map/map_widget.h"
#include "app/yard/day_ribbon.h"
#include "app/yard/day_sentence.h"
#include "app/yard/offer_bar.h"
#include "app/yard/order_offer.h"
#include "app/yard/round_bar.h"
#include "app/yard/round_desk.h"
#include "app/yard/side_column.h"
#include "app/yard/stop_actions.h"
#include "app/yard/yard_place_parts.h"

#include <QAction>
#include <QKeyEvent>
#include <QMainWindow>
#include <QMenuBar>
#include <QPushButton>
#include <QSplitter>
#include <QStackedLayout>

#include <algorithm>
#include <utility>

namespace keyround {

YardPlace::YardPlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(session))
{
    m_parts->desk = new RoundDesk(session, this);
    m_parts->actions = new StopActions(session, *m_parts->desk, this);
    m_parts->offer = new OrderOffer(session, *m_parts->desk, this);
    build();
    wire();
    refreshAll();
    refreshRound();
}

YardPlace::~YardPlace() = default;

RoundId YardPlace::chosenRound() const
{
    return m_parts->desk->round().id;
}

void YardPlace::choose(const QList<ValveId> &valves)
{
    Parts &p = *m_parts;
    p.chosen = valves;
    const QSet<ValveId> chosen(valves.begin(), valves.end());
    p.actions->setChosen(valves);
    p.map->setChosen(chosen);
    p.column->showChosen(chosen);
    p.ribbon->setChosen(valves.size() == 1 ? valves.first() : ValveId{});
    refreshCard();
    refreshSentence();
}

void YardPlace::showValve(const ValveId &valve)
{
    choose({valve});
    m_parts->map->showValve(valve);
}

void YardPlace::refreshCard()
{
    Parts &p = *m_parts;
    const bool isOne = p.chosen.size() == 1 && p.session.valve(p.chosen.first()) != nullptr;
    if (isOne) {
        p.card->showValve(p.chosen.first());
        p.card->setRoundState(p.desk->canChange(), p.desk->isStop(p.chosen.first()));
    }
    p.card->setVisible(isOne);
}

void YardPlace::addChosen(const QList<ValveId> &valves)
{
    say(m_parts->desk->addStops(valves));
}

void YardPlace::dropChosen(const QList<ValveId> &valves)
{
    say(m_parts->desk->dropStops(valves));
}

void YardPlace::drawUp()
{
    Parts &p = *m_parts;
    QList<QWidget *> others{p.bar, p.across, p.day};
    // Nothing may change the project under the work: the menus rest too.
    if (auto *window = qobject_cast<QMainWindow *>(this->window())) {
        others << window->menuBar();
    }
    const Status drawn =
        p.workBar->run(others, [&](const Progress &progress) { return p.desk->drawUp(progress); });
    refreshRound();
    if (!drawn && drawn.error().code == ErrorCode::Cancelled) {
        Q_EMIT p.session.notifier().said(tr("Stopped. The round is as it was."));
        return;
    }
    say(drawn);
    if (drawn) {
        p.map->showRoute();
        Q_EMIT p.session.notifier().said(tr("Drew up %1.").arg(p.sentence->text()));
    }
}

Status YardPlace::setYard(const GeoPoint &place)
{
    ProjectSettings after = m_parts->session.settings();
    after.yard = place;
    return pushCommand(
        m_parts->session,
        std::make_unique<ChangeSettings>(m_parts->session, std::move(after), tr("Set the yard")));
}

void YardPlace::placeClicked(const GeoPoint &place)
{
    Parts &p = *m_parts;
    if (p.bar->endWanted() != RoundBar::End::None) {
        p.bar->takePlace(place);
    } else if (p.session.isOpen() && !p.session.settings().yard) {
        say(setYard(place));
    } else {
        choose({});
    }
}

void YardPlace::say(const Status &status)
{
    if (!status) {
        Q_EMIT m_parts->session.notifier().failed(status.error().message);
    }
}

void YardPlace::keyPressEvent(QKeyEvent *event)
{
    const bool isDrop = event->key() == Qt::Key_Delete && event->modifiers() == Qt::NoModifier;
    if (isDrop && m_parts->actions->action(StopActions::Drop)->isEnabled()) {
        dropChosen(m_parts->chosen);
        return;
    }
    QWidget::keyPressEvent(event);
}

void YardPlace::refreshAll()
{
    Parts &p = *m_parts;
    const bool hasValves = !p.session.valves().empty();
    if (!hasValves || p.pages->currentWidget() == p.start) {
        p.pages->setCurrentWidget(hasValves ? p.work : p.start);
    }
    const bool asksForYard = p.session.isOpen() && !p.session.settings().yard;
    p.yardQuestion->setVisible(asksForYard);
    p.yardLine->setStored(asksForYard ? QString() : placeText(*p.session.settings().yard));
    p.chosen.removeIf([&](const ValveId &id) { return p.session.valve(id) == nullptr; });
    choose(p.chosen);
}

void YardPlace::refreshRound()
{
    Parts &p = *m_parts;
    const auto &better = p.offer->found();
    if (better && p.offerBar->isLooking()) {
        showPlan(better->round, better->plan, true);
    } else {
        showPlan(p.desk->round(), p.desk->plan(), false);
    }
    refreshSentence();
    refreshCard();
}

void YardPlace::showPlan(const Round &round, const DayPlan &plan, bool onlyLooking)
{
    Parts &p = *m_parts;
    DayRibbon::Content content;
    content.plan = plan;
    content.round = round;
    content.done = p.desk->visited();
    content.canChange = p.desk->canChange() && !onlyLooking;
    content.onlyLooking = onlyLooking
                              ? tr("Only looked at: the better order. Take it, or go back to ours.")
                              : QString();
    content.setUpMinutes = setUpMinutesOf(p.session, plan);
    for (const PlannedStop &stop : plan.stops) {
        const Valve *valve = p.session.valve(stop.valve);
        content.labels << (valve != nullptr ? valve->number : QString());
    }
    p.ribbon->setContent(std::move(content));
    p.ribbon->setChosen(p.chosen.size() == 1 ? p.chosen.first() : ValveId{});
    p.map->setRoute(round.stops.empty() ? MapRoute{} : mapRouteOf(p.session, round));
}

void YardPlace::refreshSentence()
{
    Parts &p = *m_parts;
    const DayPlan &plan = p.desk->plan();
    const Round &round = p.desk->round();
    const QString trouble = p.desk->planTrouble();
    QString sentence = trouble.isEmpty() ? daySentence(plan, round, p.session.units()) : trouble;
    if (round.state == RoundState::Finished) {
        sentence += tr(" · finished, cannot be changed");
    }
    p.sentence->setText(sentence);
    p.notes->setText(plan.notes.join(QLatin1Char('\n')));
    p.notes->setVisible(!plan.notes.isEmpty());
    const size_t leftOut = p.desk->leftOut().size();
    p.leftOut->setText(tr("%n left out: why", nullptr, static_cast<int>(leftOut)));
    p.leftOut->setVisible(leftOut > 0);
    p.aside->setEnabled(p.desk->isStored() && !plan.stops.empty());
    const auto stops =
        std::ranges::count_if(p.chosen, [&](const ValveId &id) { return p.desk->isStop(id); });
    p.mapHint->setText(
        p.bar->endWanted() != RoundBar::End::None
            ? tr("Click on the map where the round starts or finishes.")
        : p.chosen.size() > 1
            ? tr("%1 valves chosen, %2 of them stops of this round").arg(p.chosen.size()).arg(stops)
            : QString());
}

} // namespace keyround
