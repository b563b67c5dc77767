// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/get_there_step.h"

#include "app/commands/work_zone.h"
#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/models/left_words.h"
#include "app/models/notice_words.h"
#include "app/position/position_feed.h"
#include "app/truck/here_words.h"
#include "app/truck/search_panel.h"
#include "app/truck/stop_words.h"
#include "app/truck/words_area.h"
#include "core/repairs/backlog.h"
#include "core/workzone/set_up_words.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPainter>
#include <QStackedWidget>

namespace keyround {

namespace {

constexpr int longAddress = 60; ///< letters; longer ones take more than two lines as a title

/// Shows the way the key goes to close, as an arrow.
class ArrowSign final : public QWidget
{
public:
    explicit ArrowSign(StopDesk &desk, QWidget *parent) : QWidget(parent), m_desk(desk)
    {
        const int side = TruckScale::of(this).target;
        setFixedSize(side, side);
    }

protected:
    void paintEvent(QPaintEvent *) override
    {
        QPainter painter(this);
        drawTurnArrow(painter, rect(), m_desk.valve.closes == ClosingDirection::Clockwise,
                      TruckColours::of(this).ink);
    }

private:
    StopDesk &m_desk;
};

QString placeWords(const Valve &valve)
{
    if (!valve.address.isEmpty()) {
        return valve.address;
    }
    if (valve.place.isValid()) {
        return QObject::tr("No address on record. Position %1, %2")
            .arg(valve.place.latitude, 0, 'f', 6)
            .arg(valve.place.longitude, 0, 'f', 6);
    }
    return QObject::tr("No address and no position on record: go by the ties.");
}

QString factWords(const StopDesk &desk)
{
    const Valve &valve = desk.valve;
    const UnitSystem units = desk.session.units();
    QStringList lines;
    const auto add = [&lines](const QString &what, const QString &value) {
        if (!value.isEmpty()) {
            lines << what.arg(value);
        }
    };
    add(QObject::tr("Ties: %1"), valve.ties);
    if (valve.depthToNut) {
        add(QObject::tr("Depth to the nut: %1"), lengthText(*valve.depthToNut, units));
    }
    add(QObject::tr("Surface: %1"), valve.surface);
    add(QObject::tr("Normally %1"), wordFor(valve.normally));
    add(QObject::tr("Baseline: %1"), wordsFor(desk.baseline));
    add(QObject::tr("Zone: %1"), valve.zone);
    add(QObject::tr("Remarks: %1"), valve.remarks);
    return lines.join(QLatin1Char('\n'));
}

/// Who goes dry when it is shut, and whether they know.
QString waterWords(StopDesk &desk)
{
    QStringList lines;
    if (desk.valve.isCritical()) {
        lines << QObject::tr("Cannot go without water: %1. Tell them before it is closed.")
                     .arg(desk.valve.criticalCustomers);
    }
    const QString out = whoLosesWater(desk.session, desk.valve.id);
    if (!out.isEmpty()) {
        lines << out;
        lines << noticeStanding(desk.session, desk.valve.id, desk.session.now().local()).words;
    }
    lines.removeAll(QString());
    return lines.join(QLatin1Char('\n'));
}

/// What has to be carried to the lid before it comes up.
QString zoneWords(StopDesk &desk)
{
    const Result<SetUp> setUp = setUpFor(desk.session, desk.valve);
    return setUp ? QObject::tr("Set-up: %1").arg(headlineOf(*setUp))
                 : QObject::tr("Set-up: asked about at the next step.");
}

/// Common practice, no source; the rules that bind are the authority's and the utility's.
QString cautionWords(const Valve &valve)
{
    QStringList lines{
        QObject::tr("Traffic: cones and signs before the lid. The road authority's rules and the "
                    "trained person on site decide."),
        QObject::tr("A box or vault that a body or a head can enter is a confined space: stay out "
                    "unless the utility's own procedure lets you in."),
        QObject::tr("Closing it may take water or pressure from customers. Who is told first, and "
                    "what follows when pressure falls (a boil notice, say), is in the utility's "
                    "own plan.")};
    if (valve.normally == NormalPosition::Closed) {
        lines.prepend(QObject::tr("Normally closed: opening it may join two pressure zones. Get "
                                  "the approval that the utility asks for first."));
    }
    return lines.join(QLatin1Char('\n'));
}

} // namespace

GetThereStep::GetThereStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_pages(new QStackedWidget(this)), m_search(new SearchPanel(this)),
      m_cannotFind(new BigButton(BigButton::Kind::Plain, tr("Cannot find it"), this)),
      m_visits(new BigButton(BigButton::Kind::Plain, tr("What is on record of it"), this)),
      m_address(truckLabel(this, TextSize::Title, true)),
      m_here(truckLabel(this, TextSize::Normal, true)), m_repair(truckLabel(this)),
      m_facts(truckLabel(this)), m_direction(truckLabel(this, TextSize::Normal, true)),
      m_critical(truckLabel(this, TextSize::Normal, true)), m_standing(truckLabel(this)),
      m_zone(truckLabel(this)), m_last(truckLabel(this)),
      m_cautions(truckLabel(this, TextSize::Small)), m_arrow(new ArrowSign(desk, this))
{
    buildKeys();
    m_pages->addWidget(buildFacts());
    m_pages->addWidget(m_search);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_pages);
    connect(&desk.session.positions(), &PositionFeed::changed, this, [this] {
        if (isVisible() && this->desk().session.isOpen()) {
            showHere();
        }
    });
    connect(m_search, &SearchPanel::tried, this, &GetThereStep::tried);
    connect(m_search, &SearchPanel::ended, this, &GetThereStep::ended);
}

void GetThereStep::buildKeys()
{
    const auto prepare = [](BigButton *button, const char *name, const QString &key) {
        button->setObjectName(QLatin1String(name));
        button->setHint(key);
    };
    prepare(m_cannotFind, "cannot-find", tr("F"));
    prepare(m_visits, "its-visits", tr("V"));
    connect(m_cannotFind, &QAbstractButton::clicked, this, &GetThereStep::openSearch);
    connect(m_visits, &QAbstractButton::clicked, this, &GetThereStep::visitsAsked);
}

QWidget *GetThereStep::buildFacts()
{
    const int gap = TruckScale::of(this).gap;
    m_address->setObjectName(QStringLiteral("address"));
    m_direction->setObjectName(QStringLiteral("closingDirection"));
    m_last->setObjectName(QStringLiteral("lastVisit"));
    m_standing->setObjectName(QStringLiteral("left-standing"));
    m_zone->setObjectName(QStringLiteral("zone-needed"));
    m_here->setObjectName(QStringLiteral("here"));
    m_repair->setObjectName(QStringLiteral("repair-open"));
    auto *turning = new QHBoxLayout;
    turning->addWidget(m_arrow);
    turning->addWidget(m_direction, 1);
    auto *left = new QVBoxLayout;
    left->setSpacing(gap / 2);
    left->addWidget(m_critical);
    left->addLayout(turning);
    left->addWidget(m_facts);
    left->addStretch();
    auto *right = new QVBoxLayout;
    right->setSpacing(gap / 2);
    right->addWidget(m_standing);
    right->addWidget(m_repair);
    right->addWidget(m_zone);
    right->addWidget(m_last);
    right->addWidget(m_cautions);
    right->addStretch();
    auto *columns = new QHBoxLayout;
    columns->setSpacing(gap * 2);
    columns->addLayout(left, 5);
    columns->addLayout(right, 6);

    auto *all = new QVBoxLayout;
    all->setContentsMargins(0, 0, 0, 0);
    all->setSpacing(gap / 2);
    all->addWidget(m_address);
    all->addWidget(m_here);
    all->addLayout(columns, 1);
    // Long remarks may need it; what every valve has fits without.
    auto *scroll = new WordsArea(all, tr("What is known of the valve"), this);
    auto *page = new QWidget;
    auto *column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(gap);
    column->addWidget(scroll, 1);
    auto *keys = new QHBoxLayout;
    keys->setSpacing(gap);
    keys->addWidget(m_cannotFind);
    keys->addWidget(m_visits);
    column->addLayout(keys);
    return page;
}

bool GetThereStep::isSearching() const
{
    return m_pages->currentWidget() == m_search;
}

void GetThereStep::openSearch()
{
    if (!form().search) {
        form().search.emplace();
    }
    form().search->outcome = SearchOutcome::UnderWay;
    load();
    m_search->firstField()->setFocus();
    Q_EMIT edited();
}

void GetThereStep::tried(const SearchRecord &search)
{
    form().search = search;
    Q_EMIT edited();
}

void GetThereStep::ended(SearchOutcome outcome)
{
    if (outcome == SearchOutcome::UnderWay) {
        // Nothing tried: nobody has searched.
        if (form().search == SearchRecord{}) {
            form().search.reset();
        }
        m_pages->setCurrentIndex(0);
        m_cannotFind->setFocus();
        Q_EMIT edited();
        return;
    }
    endSearch(form(), outcome);
    goingOn();
    Q_EMIT edited();
    Q_EMIT jumpAsked(outcome == SearchOutcome::Found ? StopStep::SetUp : StopStep::Problems);
}

QWidget *GetThereStep::firstField()
{
    return isSearching() ? m_search->firstField() : nullptr;
}

bool GetThereStep::takeKey(QKeyEvent *event)
{
    if (isSearching()) {
        return m_search->takeKey(event);
    }
    const bool plain = !event->isAutoRepeat() && event->modifiers() == Qt::NoModifier;
    if (plain && (event->key() == Qt::Key_F || event->key() == Qt::Key_V)) {
        (event->key() == Qt::Key_F ? m_cannotFind : m_visits)->click();
        return true;
    }
    return false;
}

void GetThereStep::load()
{
    const Valve &valve = desk().valve;
    const QString address = placeWords(valve);
    m_address->setText(address);
    m_address->setFont(
        truckFont(this, address.size() > longAddress ? TextSize::Normal : TextSize::Title, true));
    m_direction->setText(tr("Closes %1").arg(wordFor(valve.closes)));
    m_arrow->update();
    m_facts->setText(factWords(desk()));
    setNote(m_critical, NoteKind::Attention, waterWords(desk()));
    setNote(m_standing, NoteKind::Danger, leftOtherWords(valve, desk().history));
    setNote(m_repair, NoteKind::Attention, repairLine(desk().session.repairs(), valve.id));
    m_zone->setText(zoneWords(desk()));
    showHere();
    const bool searching = form().search && form().search->outcome == SearchOutcome::UnderWay;
    if (searching) {
        m_search->show(valve, *form().search);
    }
    m_pages->setCurrentIndex(searching ? 1 : 0);
    m_last->setText(lastVisitWords(desk().history));
    setNote(m_cautions, NoteKind::Attention, cautionWords(valve));
}

void GetThereStep::showHere()
{
    const Here here = hereOf(desk().session, desk().valve);
    setNote(m_here, here.isWithin ? NoteKind::Attention : NoteKind::Quiet,
            here.isWithin ? tr("You are there: %1").arg(here.words) : here.words);
}

QString GetThereStep::nextWords() const
{
    return form().arrived.isNull() ? tr("I am at the valve") : tr("Next: set up the work zone");
}

void GetThereStep::goingOn()
{
    if (form().arrived.isNull()) {
        form().arrived = desk().session.now();
    }
    // Whoever stands at the valve has found it; a search in which nothing was tried was none.
    if (form().search && form().search->outcome == SearchOutcome::UnderWay) {
        if (form().search == SearchRecord{}) {
            form().search.reset();
        } else {
            endSearch(form(), SearchOutcome::Found);
        }
    }
}

} // namespace keyround
