// SPDX-License-Identifier: GPL-3.0-or-later
// How the Yard's screen is put together, and which part tells which.
#include "app/dialogs/checked_line.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/day_preview.h"
#include "app/dialogs/notice_panel.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/settings_panel.h"
#include "app/dialogs/typed_values.h"
#include "app/dialogs/valve_card.h"
#include "app/dialogs/work_bar.h"
#include "app/map/map_widget.h"
#include "app/print/zone_files.h"
#include "app/shell/session.h"
#include "app/yard/coming_days_page.h"
#include "app/yard/day_ribbon.h"
#include "app/yard/offer_bar.h"
#include "app/yard/order_offer.h"
#include "app/yard/plan_comparison.h"
#include "app/yard/radio_window.h"
#include "app/yard/round_bar.h"
#include "app/yard/round_desk.h"
#include "app/yard/side_column.h"
#include "app/yard/stop_actions.h"
#include "app/yard/yard_place_parts.h"

#include <QGuiApplication>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QStackedLayout>
#include <QToolButton>
#include <QVBoxLayout>

namespace keyround {

void YardPlace::build()
{
    Parts &p = *m_parts;
    p.work = new QWidget(this);
    p.bar = new RoundBar(p.session, *p.desk, p.work);
    p.workBar = new WorkBar(p.work);
    p.across = new QSplitter(Qt::Horizontal, p.work);
    p.across->setChildrenCollapsible(false);
    p.across->setHandleWidth(5);
    p.column = new SideColumn(p.session, *p.desk, *p.actions, p.across);
    p.across->addWidget(p.column);
    p.across->addWidget(buildMapSide());
    p.card = new ValveCard(p.session, p.across);
    p.across->addWidget(p.card);
    p.across->setStretchFactor(1, 1);
    p.across->setSizes({430, 560, 340});
    rememberSplitter(p.across, QStringLiteral("yard-across"));
    p.card->hide();

    auto *layout = new QVBoxLayout(p.work);
    layout->setContentsMargins(10, 8, 10, 8);
    layout->setSpacing(6);
    layout->addWidget(p.bar);
    layout->addWidget(p.workBar);
    layout->addWidget(p.across, 1);
    layout->addWidget(buildDay());

    p.start = buildStart();
    p.pages = new QStackedLayout(this);
    p.pages->addWidget(p.start);
    p.pages->addWidget(p.work);
    p.days = new ComingDaysPage(p.session, *p.desk, this);
    p.pages->addWidget(p.days);
}

QWidget *YardPlace::buildStart()
{
    auto *page = new QWidget(this);
    auto *title = plainLabel(tr("No valves yet"), QStringLiteral("title"), page);
    auto *words =
        plainLabel(tr("Bring in the utility's own files, streets and valves first: CSV, "
                      "XLSX, ODS, GeoPackage, Shapefile, GeoJSON or FileGDB. Then the valves that "
                      "are due stand here, and a round is drawn up over the streets."),
                   QStringLiteral("quiet"), page);
    words->setFixedWidth(560);
    title->setAlignment(Qt::AlignHCenter);
    words->setAlignment(Qt::AlignHCenter);
    auto *bring = new QPushButton(tr("Bring in valves..."), page);
    bring->setObjectName(QStringLiteral("bringIn"));
    bring->setProperty("role", QStringLiteral("primary"));
    bring->setMinimumHeight(46);
    connect(bring, &QPushButton::clicked, this, &YardPlace::importWanted);
    auto *layout = new QVBoxLayout(page);
    layout->addStretch(2);
    layout->addWidget(title);
    // Between stretches, not aligned: an aligned label is given the height of its wider self.
    auto *middle = new QHBoxLayout;
    middle->addStretch();
    middle->addWidget(words);
    middle->addStretch();
    layout->addLayout(middle);
    layout->addSpacing(12);
    layout->addWidget(bring, 0, Qt::AlignHCenter);
    layout->addStretch(3);
    return page;
}

QWidget *YardPlace::buildMapSide()
{
    Parts &p = *m_parts;
    auto *side = new QWidget(p.across);
    p.yardQuestion = new QFrame(side);
    p.yardQuestion->setObjectName(QStringLiteral("yardQuestion"));
    p.yardQuestion->setProperty("role", QStringLiteral("caution"));
    auto *question =
        plainLabel(tr("Where is the yard? Click on the map, or type latitude, longitude:"), {},
                   p.yardQuestion);
    p.yardLine = new CheckedLine(
        tr("Yard: latitude, longitude"),
        [this](const QString &text) -> Status {
            const Result<GeoPoint> place = placeTyped(text);
            return place ? setYard(*place) : Status(tl::unexpected<Error>(place.error()));
        },
        p.yardQuestion);
    p.yardLine->setObjectName(QStringLiteral("yardLine"));
    p.yardLine->line()->setPlaceholderText(QStringLiteral("41.2345, -88.1234"));
    auto *asked = new QHBoxLayout(p.yardQuestion);
    asked->addWidget(question, 1);
    asked->addWidget(p.yardLine, 1);

    p.map = new MapWidget(p.session, side);
    p.mapHint = plainLabel({}, QStringLiteral("quiet"), side);
    p.mapHint->setObjectName(QStringLiteral("mapHint"));
    p.lasso = new QToolButton(side);
    p.lasso->setObjectName(QStringLiteral("lasso"));
    p.lasso->setText(tr("Lasso"));
    p.lasso->setCheckable(true);
    p.lasso->setToolTip(tr("Draw round the valves that you want to choose"));
    connect(p.lasso, &QToolButton::toggled, p.map, &MapWidget::setLasso);
    auto *tools = new QHBoxLayout;
    tools->addWidget(p.mapHint, 1);
    tools->addWidget(p.lasso);

    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(4, 0, 4, 0);
    layout->addWidget(p.yardQuestion);
    layout->addLayout(tools);
    layout->addWidget(p.map, 1);
    return side;
}

QWidget *YardPlace::buildDay()
{
    Parts &p = *m_parts;
    auto *day = new QWidget(p.work);
    p.day = day;
    p.sentence = plainLabel({}, QStringLiteral("heading"), day);
    p.sentence->setObjectName(QStringLiteral("sentence"));
    p.notes = plainLabel({}, QStringLiteral("caution"), day);
    p.notes->setObjectName(QStringLiteral("notes"));
    p.leftOut = new QPushButton(day);
    p.leftOut->setObjectName(QStringLiteral("leftOut"));
    p.offerBar = new OfferBar(*p.offer, *p.desk, day);
    p.comparison = new PlanComparison(p.session, *p.desk, day);
    p.ribbon = new DayRibbon(day);
    p.actions->giveTo(p.ribbon);
    auto *row = new QHBoxLayout;
    row->addWidget(p.sentence, 1);
    row->addWidget(p.leftOut);
    auto *layout = new QVBoxLayout(day);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(4);
    layout->addLayout(row);
    layout->addWidget(p.notes);
    layout->addWidget(p.offerBar);
    layout->addWidget(p.comparison);
    layout->addWidget(p.ribbon);
    layout->addLayout(buildStopButtons(day));
    return day;
}

QHBoxLayout *YardPlace::buildStopButtons(QWidget *day)
{
    Parts &p = *m_parts;
    auto *row = new QHBoxLayout;
    row->setSpacing(6);
    using Act = StopActions::Act;
    for (const Act act : {Act::KeepFirst, Act::KeepLast, Act::Hold, Act::MustGo, Act::Earlier,
                          Act::Later, Act::Add, Act::Drop}) {
        row->addWidget(p.actions->addButton(act, day));
    }
    row->addStretch(1);
    p.aside = new QPushButton(tr("Set this plan aside to compare"), day);
    p.aside->setObjectName(QStringLiteral("setPlanAside"));
    row->addWidget(p.aside);
    connect(p.aside, &QPushButton::clicked, p.comparison, &PlanComparison::setAside);
    return row;
}

void YardPlace::wire()
{
    Parts &p = *m_parts;
    Notifier &notifier = p.session.notifier();
    for (const auto change :
         {&Notifier::projectChanged, &Notifier::valvesChanged, &Notifier::settingsChanged}) {
        connect(&notifier, change, this, &YardPlace::refreshAll);
    }
    // After the map has put the old project's route away.
    connect(&notifier, &Notifier::projectChanged, this, &YardPlace::refreshRound);
    connect(&notifier, &Notifier::projectChanged, p.map, &MapWidget::showAll);
    connect(p.desk, &RoundDesk::changed, this, &YardPlace::refreshRound);
    connect(p.bar, &RoundBar::drawUpWanted, this, &YardPlace::drawUp);
    connect(p.bar, &RoundBar::sheetWanted, this, [this] { Q_EMIT sheetWanted(chosenRound()); });
    connect(p.bar, &RoundBar::gpxWanted, this, [this] { Q_EMIT gpxWanted(chosenRound()); });
    connect(p.bar, &RoundBar::radioListWanted, this,
            [this] { RadioWindow::openBeside(this, m_parts->session, *m_parts->desk); });
    const auto save = [this](const QString &title, const QString &name, auto write) {
        const QString path = chooseFileToSave(this, title, name, QStringLiteral("PDF (*.pdf)"));
        if (path.isEmpty()) {
            return;
        }
        Session &session = m_parts->session;
        const Status written = write(session, chosenRound(), path);
        if (written) {
            Q_EMIT session.notifier().said(tr("Saved to %1").arg(path));
        } else {
            Q_EMIT session.notifier().failed(written.error().message);
        }
    };
    connect(p.bar, &RoundBar::loadListWanted, this,
            [save] { save(tr("Save the load list"), tr("load-list.pdf"), writeLoadSheet); });
    connect(p.bar, &RoundBar::workZonesWanted, this,
            [save] { save(tr("Save the work zones"), tr("work-zones.pdf"), writeRoundZones); });
    connect(p.bar, &RoundBar::packetWanted, this,
            [this] { openDayPreview(this, m_parts->session, chosenRound()); });
    connect(p.bar, &RoundBar::noticesWanted, this,
            [this] { NoticePanel::openForRound(this, m_parts->session, chosenRound()); });
    connect(p.bar, &RoundBar::comingDaysWanted, this,
            [this] { m_parts->pages->setCurrentWidget(m_parts->days); });
    connect(p.days, &ComingDaysPage::dayWanted, this,
            [this] { m_parts->pages->setCurrentWidget(m_parts->work); });
    connect(p.bar, &RoundBar::policyWanted, this, [this] {
        SettingsPanel::openBeside(this, m_parts->session, SettingsPanel::PolicyPage);
    });
    connect(p.bar, &RoundBar::endWantedChanged, this, &YardPlace::refreshSentence);
    connect(p.column, &SideColumn::valvesChosen, this, &YardPlace::choose);
    connect(p.column, &SideColumn::addWanted, this, [this] { addChosen(m_parts->chosen); });
    connect(p.column, &SideColumn::dropWanted, this, [this] { dropChosen(m_parts->chosen); });
    connect(p.column, &SideColumn::showWanted, p.map, &MapWidget::showValve);
    connect(p.ribbon, &DayRibbon::stopChosen, this, [this](const ValveId &id) { choose({id}); });
    connect(p.ribbon, &DayRibbon::stopMoved, this,
            [this](int from, int to) { say(m_parts->desk->moveStop(from, to)); });
    connect(p.ribbon, &DayRibbon::stopDropped, this,
            [this](const ValveId &id) { dropChosen({id}); });
    connect(p.offerBar, &OfferBar::lookChanged, this, &YardPlace::refreshRound);
    connect(p.offerBar, &OfferBar::failed, &notifier, &Notifier::failed);
    connect(p.leftOut, &QPushButton::clicked, this,
            [this] { m_parts->column->showPage(SideColumn::LeftOutPage); });
    connect(p.card, &ValveCard::closeWanted, this, [this] { choose({}); });
    connect(p.card, &ValveCard::addToRoundWanted, this,
            [this](const ValveId &id) { addChosen({id}); });
    connect(p.card, &ValveCard::showOnMapWanted, p.map, &MapWidget::showValve);
    connect(p.card, &ValveCard::repairsWanted, this, &YardPlace::repairsWanted);
    wireMap();
}

void YardPlace::wireMap()
{
    Parts &p = *m_parts;
    connect(p.map, &MapWidget::valveClicked, this, [this](const ValveId &id) {
        const Valve *valve = m_parts->session.valve(id);
        if (m_parts->bar->endWanted() != RoundBar::End::None && valve != nullptr) {
            m_parts->bar->takePlace(valve->place);
            return;
        }
        QList<ValveId> valves{id};
        if (QGuiApplication::keyboardModifiers() & Qt::ControlModifier) {
            valves = m_parts->chosen;
            if (valves.removeAll(id) == 0) {
                valves << id;
            }
        }
        choose(valves);
    });
    connect(p.map, &MapWidget::valvesPicked, this, [this](const QList<ValveId> &valves) {
        m_parts->lasso->setChecked(false);
        choose(valves);
    });
    connect(p.map, &MapWidget::placeClicked, this, &YardPlace::placeClicked);
}

} // namespace keyround
