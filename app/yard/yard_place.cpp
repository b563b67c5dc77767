// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/yard_place.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/settings_panel.h"
#include "app/dialogs/typed_values.h"
#include "app/dialogs/valve_card.h"
#include "app/dialogs/work_bar.h"
#include "app/map/map_widget.h"
#include "app/yard/day_ribbon.h"
#include "app/yard/round_bar.h"
#include "app/yard/round_desk.h"
#include "app/yard/side_column.h"

#include <QGuiApplication>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QMainWindow>
#include <QMenuBar>
#include <QPushButton>
#include <QSettings>
#include <QSplitter>
#include <QStackedLayout>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

/// A splitter that is found again as it was left.
QSplitter *rememberedSplitter(Qt::Orientation orientation, const QString &name, QWidget *parent)
{
    auto *splitter = new QSplitter(orientation, parent);
    splitter->setObjectName(name);
    splitter->setChildrenCollapsible(false);
    splitter->setHandleWidth(5);
    QObject::connect(splitter, &QSplitter::splitterMoved, splitter, [splitter, name] {
        QSettings().setValue(QStringLiteral("splitters/") + name, splitter->saveState());
    });
    return splitter;
}

void restoreSplitter(QSplitter *splitter)
{
    const QByteArray state =
        QSettings().value(QStringLiteral("splitters/") + splitter->objectName()).toByteArray();
    if (!state.isEmpty()) {
        splitter->restoreState(state);
    }
}

} // namespace

struct YardPlace::Parts
{
    explicit Parts(Session &theSession) : session(theSession) {}

    Session &session;
    RoundDesk *desk = nullptr;
    QStackedLayout *pages = nullptr;
    QWidget *start = nullptr;
    QWidget *work = nullptr;
    RoundBar *bar = nullptr;
    SideColumn *column = nullptr;
    QFrame *yardQuestion = nullptr;
    CheckedLine *yardLine = nullptr;
    QLabel *mapHint = nullptr;
    QToolButton *lasso = nullptr;
    MapWidget *map = nullptr;
    ValveCard *card = nullptr;
    QSplitter *across = nullptr;
    QLabel *sentence = nullptr;
    QLabel *notes = nullptr;
    QPushButton *leftOut = nullptr;
    QPushButton *drop = nullptr;
    DayRibbon *ribbon = nullptr;
    WorkBar *workBar = nullptr;
    QList<ValveId> chosen;
    RoundId shownRound;
};

YardPlace::YardPlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(session))
{
    m_parts->desk = new RoundDesk(session, this);
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

void YardPlace::build()
{
    Parts &p = *m_parts;
    p.work = new QWidget(this);
    p.bar = new RoundBar(p.session, *p.desk, p.work);
    p.workBar = new WorkBar(p.work);
    p.across = rememberedSplitter(Qt::Horizontal, QStringLiteral("yard-across"), p.work);
    p.column = new SideColumn(p.session, *p.desk, p.across);
    p.across->addWidget(p.column);
    p.across->addWidget(buildMapSide());
    p.card = new ValveCard(p.session, p.across);
    p.across->addWidget(p.card);
    p.across->setStretchFactor(1, 1);
    p.across->setSizes({430, 560, 340});
    restoreSplitter(p.across);
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
}

QWidget *YardPlace::buildStart()
{
    auto *page = new QWidget(this);
    auto *title = plainLabel(tr("No valves yet"), QStringLiteral("title"), page);
    auto *words =
        plainLabel(tr("Bring in the utility's own files, valves first and streets next: CSV, "
                      "XLSX, ODS, GeoPackage, Shapefile, GeoJSON or FileGDB. Then the valves that "
                      "are due stand here, and a round is drawn up over the streets."),
                   QStringLiteral("quiet"), page);
    words->setMaximumWidth(560);
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
    layout->addWidget(words, 0, Qt::AlignHCenter);
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
    p.lasso = new QToolButton(side);
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
    p.sentence = plainLabel({}, QStringLiteral("heading"), day);
    p.sentence->setObjectName(QStringLiteral("sentence"));
    p.notes = plainLabel({}, QStringLiteral("caution"), day);
    p.notes->setObjectName(QStringLiteral("notes"));
    p.leftOut = new QPushButton(day);
    p.leftOut->setObjectName(QStringLiteral("leftOut"));
    p.drop = new QPushButton(tr("Drop the stop"), day);
    p.drop->setObjectName(QStringLiteral("dropStop"));
    p.drop->setToolTip(tr("Delete does the same; Alt+Left and Alt+Right move the stop"));
    p.ribbon = new DayRibbon(day);
    auto *row = new QHBoxLayout;
    row->addWidget(p.sentence, 1);
    row->addWidget(p.leftOut);
    row->addWidget(p.drop);
    auto *layout = new QVBoxLayout(day);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(4);
    layout->addLayout(row);
    layout->addWidget(p.notes);
    layout->addWidget(p.ribbon);
    return day;
}

void YardPlace::wire()
{
    Parts &p = *m_parts;
    Notifier &notifier = p.session.notifier();
    for (const auto change :
         {&Notifier::projectChanged, &Notifier::valvesChanged, &Notifier::settingsChanged}) {
        connect(&notifier, change, this, &YardPlace::refreshAll);
    }
    connect(&notifier, &Notifier::projectChanged, p.map, &MapWidget::showAll);
    connect(p.desk, &RoundDesk::changed, this, &YardPlace::refreshRound);
    connect(p.bar, &RoundBar::drawUpWanted, this, &YardPlace::drawUp);
    connect(p.bar, &RoundBar::sheetWanted, this, [this] { Q_EMIT sheetWanted(chosenRound()); });
    connect(p.bar, &RoundBar::gpxWanted, this, [this] { Q_EMIT gpxWanted(chosenRound()); });
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
    connect(p.drop, &QPushButton::clicked, this, [this] { dropChosen(m_parts->chosen); });
    connect(p.leftOut, &QPushButton::clicked, this,
            [this] { m_parts->column->showPage(SideColumn::LeftOutPage); });
    connect(p.card, &ValveCard::closeWanted, this, [this] { choose({}); });
    connect(p.card, &ValveCard::addToRoundWanted, this,
            [this](const ValveId &id) { addChosen({id}); });
    connect(p.card, &ValveCard::showOnMapWanted, p.map, &MapWidget::showValve);
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

void YardPlace::choose(const QList<ValveId> &valves)
{
    Parts &p = *m_parts;
    p.chosen = valves;
    const QSet<ValveId> chosen(valves.begin(), valves.end());
    p.map->setChosen(chosen);
    p.column->showChosen(chosen);
    p.ribbon->setChosen(valves.size() == 1 ? valves.first() : ValveId{});
    refreshCard();
    refreshSentence();
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
    QList<QWidget *> others{p.bar, p.across, p.ribbon, p.leftOut, p.drop};
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
    if (isDrop && m_parts->drop->isEnabled()) {
        dropChosen(m_parts->chosen);
        return;
    }
    QWidget::keyPressEvent(event);
}

void YardPlace::refreshAll()
{
    Parts &p = *m_parts;
    const bool hasValves = !p.session.valves().empty();
    p.pages->setCurrentWidget(hasValves ? p.work : p.start);
    const bool asksForYard = p.session.isOpen() && !p.session.settings().yard;
    p.yardQuestion->setVisible(asksForYard);
    p.yardLine->setStored(asksForYard ? QString() : placeText(*p.session.settings().yard));
    p.chosen.removeIf([&](const ValveId &id) { return p.session.valve(id) == nullptr; });
    choose(p.chosen);
}

void YardPlace::refreshRound()
{
    Parts &p = *m_parts;
    const Round &round = p.desk->round();
    DayRibbon::Content content;
    content.plan = p.desk->plan();
    content.shift = round.shift;
    content.done = p.desk->visited();
    content.canChange = p.desk->canChange();
    const StopTimes &times = p.session.settings().stopTimes;
    for (const PlannedStop &stop : content.plan.stops) {
        const Valve *valve = p.session.valve(stop.valve);
        const bool isLarge = valve != nullptr && valve->size >= times.largeFrom;
        content.labels << (valve != nullptr ? valve->number : QString());
        content.setUpMinutes.push_back(times.baseMinutes +
                                       (isLarge ? times.largeExtraMinutes : 0.0));
    }
    p.ribbon->setContent(std::move(content));
    p.ribbon->setChosen(p.chosen.size() == 1 ? p.chosen.first() : ValveId{});
    p.map->setRoute(round.stops.empty() ? MapRoute{} : mapRouteOf(p.session, round));
    refreshSentence();
    refreshCard();
}

void YardPlace::refreshSentence()
{
    Parts &p = *m_parts;
    const DayPlan &plan = p.desk->plan();
    const Round &round = p.desk->round();
    QString sentence = p.desk->planTrouble();
    if (sentence.isEmpty() && plan.stops.empty()) {
        sentence = tr("Nothing is planned yet");
    } else if (sentence.isEmpty()) {
        sentence = tr("%1 stops · %2 driving, %3 · finish %4 · travel by %5")
                       .arg(plan.stops.size())
                       .arg(durationText(Seconds{plan.driveSeconds}),
                            lengthText(Metres{plan.driveMetres}, p.session.units()),
                            timeText(plan.finish), wordFor(plan.travel));
    }
    if (plan.overrunsShift) {
        sentence += tr(" · past the shift's end at %1").arg(timeText(round.shift.to));
    }
    if (round.state == RoundState::Finished) {
        sentence += tr(" · finished, cannot be changed");
    }
    p.sentence->setText(sentence);
    p.notes->setText(plan.notes.join(QLatin1Char('\n')));
    p.notes->setVisible(!plan.notes.isEmpty());
    const size_t leftOut = p.desk->leftOut().size();
    p.leftOut->setText(tr("%n left out: why", nullptr, static_cast<int>(leftOut)));
    p.leftOut->setVisible(leftOut > 0);
    const bool hasStop =
        std::ranges::any_of(p.chosen, [&](const ValveId &id) { return p.desk->isStop(id); });
    p.drop->setEnabled(hasStop && p.desk->canChange());
    p.mapHint->setText(p.bar->endWanted() != RoundBar::End::None
                           ? tr("Click on the map where the round starts or finishes.")
                           : QString());
}

} // namespace keyround
