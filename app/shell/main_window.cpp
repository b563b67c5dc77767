// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/main_window.h"

#include "app/commands/visit_commands.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/field_reports_panel.h"
#include "app/dialogs/import_dialog.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/truck_look.h"
#include "app/entry/paper_sheet_page.h"
#include "app/models/left_words.h"
#include "app/office/office_place.h"
#include "app/position/position_feed.h"
#include "app/position/position_line.h"
#include "app/position/position_panel.h"
#include "app/print/round_files.h"
#include "app/repairs/repairs_place.h"
#include "app/shell/back_ups_page.h"
#include "app/shell/clock_line.h"
#include "app/shell/message_line.h"
#include "app/shell/session.h"
#include "app/shell/start_page.h"
#include "app/shut/shut_line.h"
#include "app/shut/shut_place.h"
#include "app/truck/truck_place.h"
#include "app/yard/yard_place.h"

#include <QAction>
#include <QButtonGroup>
#include <QCloseEvent>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QInputDialog>
#include <QMenuBar>
#include <QPushButton>
#include <QSettings>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace keyround {

namespace {

const auto projectFilter = QStringLiteral("Keyround (*.keyround)");

/// A number as long as a sentence would take the place of the work below the warning.
QString shortened(const QString &number)
{
    constexpr qsizetype longest = 16;
    return number.size() <= longest ? number
                                    : QStringLiteral("%1…%2").arg(number.left(longest / 2),
                                                                  number.right(longest / 2 - 1));
}

} // namespace

MainWindow::MainWindow(Session &session, QWidget *parent)
    : QMainWindow(parent), m_session(session), m_pages(new QStackedWidget(this)),
      m_stack(new QStackedWidget(this)), m_placeButtons(new QButtonGroup(this)),
      m_placeBar(new QWidget(this)), m_warning(plainLabel({}, QStringLiteral("danger"), this)),
      m_who(plainCaption({}, QStringLiteral("quiet"), this)), m_messages(new MessageLine(this))
{
    m_warning->setObjectName(QStringLiteral("leftWarning"));

    buildPlaces();
    buildPlaceBar();
    buildMenus();

    auto *central = new QWidget(this);
    auto *column = new QVBoxLayout(central);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addWidget(m_placeBar);
    column->addWidget(m_shutLine);
    column->addWidget(m_warning);
    column->addWidget(new ClockLine(m_session, this));
    column->addWidget(m_pages, 1);
    column->addWidget(m_messages);
    setCentralWidget(central);

    listen();
    m_session.positions().start(rememberedPositionHabits());
    if (!restoreGeometry(QSettings().value(QStringLiteral("window")).toByteArray())) {
        resize(1366, 768);
    }
    showPlace(Place::Yard);
    refreshTitle();
    refreshWarning();
}

void MainWindow::buildPlaces()
{
    m_yard = new YardPlace(m_session, this);
    m_truck = new TruckPlace(m_session, this);
    m_stack->addWidget(m_yard);
    m_stack->addWidget(m_truck);
    auto *office = new OfficePlace(m_session, this);
    m_stack->addWidget(office);
    m_shut = new ShutPlace(m_session, this);
    m_stack->addWidget(m_shut);
    m_repairs = new RepairsPlace(m_session, this);
    m_stack->addWidget(m_repairs);
    connect(m_repairs, &RepairsPlace::valveAsked, this, [this](const ValveId &valve) {
        showPlace(Place::Yard);
        m_yard->showValve(valve);
    });
    connect(m_yard, &YardPlace::repairsWanted, this, &MainWindow::showRepairs);
    connect(office, &OfficePlace::repairAsked, this, &MainWindow::showRepairs);
    m_shutLine = new ShutLine(m_session, this);
    connect(m_truck, &TruckPlace::lookChanged, this, &MainWindow::refreshLook);
    connect(m_truck, &TruckPlace::breakAsked, this, [this] { showPlace(Place::Break); });
    connect(m_shutLine, &ShutLine::shutAsked, this, [this](const ShutId &shut) {
        showPlace(Place::Break);
        m_shut->openShut(shut);
    });

    auto *start = new StartPage(this);
    connect(start, &StartPage::newWanted, this, &MainWindow::newProject);
    connect(start, &StartPage::openWanted, this, &MainWindow::chooseProject);
    connect(start, &StartPage::pathWanted, this, &MainWindow::openProject);
    connect(&m_session.notifier(), &Notifier::projectChanged, start, &StartPage::refresh);
    m_pages->addWidget(start);
    m_pages->addWidget(m_stack);
    m_backUps = new BackUpsPage(m_session, this);
    m_pages->addWidget(m_backUps);
    connect(m_backUps, &BackUpsPage::leaveWanted, this, &MainWindow::refreshTitle);
    connect(m_backUps, &BackUpsPage::projectReplaced, this, &MainWindow::refreshTitle);

    connect(m_yard, &YardPlace::sheetWanted, this, &MainWindow::saveSheet);
    connect(m_yard, &YardPlace::gpxWanted, this, &MainWindow::saveGpx);
    connect(m_yard, &YardPlace::importWanted, this, &MainWindow::importLayer);
}

void MainWindow::buildPlaceBar()
{
    auto *row = new QHBoxLayout(m_placeBar);
    row->setContentsMargins(8, 0, 12, 0);
    row->setSpacing(0);
    const QStringList names{tr("Yard"), tr("Truck"), tr("Office")};
    for (int place = 0; place < names.size(); ++place) {
        auto *button = new QPushButton(names.at(place), this);
        button->setCheckable(true);
        button->setProperty("role", QStringLiteral("place"));
        button->setObjectName(QStringLiteral("place%1").arg(names.at(place)));
        button->setShortcut(QKeySequence(Qt::CTRL | Qt::Key(Qt::Key_1 + place)));
        button->setToolTip(tr("Ctrl+%1").arg(place + 1));
        m_placeButtons->addButton(button, place);
        row->addWidget(button);
    }
    row->addSpacing(16);
    row->addWidget(new PositionLine(m_session, this), 1);
    row->addSpacing(16);
    row->addWidget(m_who);
    row->addSpacing(16);
    auto *repairs = new QPushButton(tr("Repairs"), this);
    repairs->setCheckable(true);
    repairs->setProperty("role", QStringLiteral("place"));
    repairs->setObjectName(QStringLiteral("placeRepairs"));
    repairs->setShortcut(QKeySequence(Qt::CTRL | Qt::Key_R));
    repairs->setToolTip(tr("Ctrl+R"));
    repairs->setSizePolicy(QSizePolicy::Minimum, QSizePolicy::Preferred);
    repairs->setStyleSheet(QStringLiteral("QPushButton { min-width: 90px; }"));
    m_placeButtons->addButton(repairs, int(Place::Repairs));
    auto *broke = new QPushButton(tr("A main broke"), this);
    broke->setCheckable(true);
    broke->setProperty("role", QStringLiteral("place"));
    broke->setObjectName(QStringLiteral("placeBreak"));
    broke->setShortcut(QKeySequence(Qt::CTRL | Qt::Key_B));
    broke->setToolTip(tr("Ctrl+B"));
    // Room for the bold words of the chosen place, whatever came into the bar before it.
    broke->setSizePolicy(QSizePolicy::Minimum, QSizePolicy::Preferred);
    broke->setStyleSheet(QStringLiteral("QPushButton { min-width: 150px; }"));
    m_placeButtons->addButton(broke, int(Place::Break));
    row->addWidget(repairs);
    row->addWidget(broke);
    connect(m_placeButtons, &QButtonGroup::idClicked, this,
            [this](int place) { showPlace(Place(place)); });
}

void MainWindow::buildMenus()
{
    buildProjectMenu(menuBar()->addMenu(tr("&Project")));

    QMenu *edit = menuBar()->addMenu(tr("&Edit"));
    QAction *undo = m_session.undoStack().createUndoAction(this, tr("Undo"));
    undo->setShortcut(QKeySequence::Undo);
    QAction *redo = m_session.undoStack().createRedoAction(this, tr("Redo"));
    redo->setShortcuts(
        {QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_Z), QKeySequence(Qt::CTRL | Qt::Key_Y)});
    edit->addActions({undo, redo});
    edit->addAction(tr("Who works here..."), this, &MainWindow::askWhoWorks);
    edit->addAction(tr("Position..."), this,
                    [this] { PositionPanel::openBeside(this, m_session); });

    buildRoundMenu(menuBar()->addMenu(tr("&Round")));
}

void MainWindow::buildProjectMenu(QMenu *menu)
{
    menu->addAction(tr("New project..."), QKeySequence::New, this, &MainWindow::newProject);
    menu->addAction(tr("Open a project..."), QKeySequence::Open, this, &MainWindow::chooseProject);
    menu->addSeparator();
    m_needProject << menu->addAction(tr("Bring in a file..."), QKeySequence(Qt::CTRL | Qt::Key_I),
                                     this, &MainWindow::importLayer);
    m_needProject << menu->addAction(tr("Back up now"), this, [this] {
        const auto path = m_session.project().backUp(m_session.now());
        showOutcome(this, path.map([](const QString &) {}),
                    tr("Back-up written to %1").arg(path.value_or(QString())));
    });
    m_needProject << menu->addAction(tr("Back-ups..."), this, &MainWindow::showBackUps);
    m_needProject << menu->addAction(tr("Close the project"), this,
                                     [this] { m_session.closeProject(); });
    menu->addSeparator();
    m_needProject << menu->addAction(tr("Reported from the field..."), this,
                                     [this] { FieldReportsPanel::openBeside(this, m_session); });
    m_needProject << menu->addAction(tr("How the mains were read"), this, [this] {
        showPlace(Place::Break);
        m_shut->showNetwork();
    });
    m_needProject << menu->addAction(tr("What matters most"), this, [this] {
        showPlace(Place::Break);
        m_shut->showMatters();
    });
    menu->addSeparator();
    menu->addAction(tr("Quit"), QKeySequence::Quit, this, &QWidget::close);
}

void MainWindow::buildRoundMenu(QMenu *menu)
{
    const auto add = [&](const QString &text, auto slot) {
        m_needProject << menu->addAction(text, this, [this, slot] {
            if (const RoundId round = chosenRound(); !round.isNull()) {
                (this->*slot)(round);
            } else {
                m_messages->say(tr("No round is chosen. Choose or draw up one in the Yard."));
            }
        });
    };
    add(tr("Route sheet (PDF)..."), &MainWindow::saveSheet);
    add(tr("Route (GPX)..."), &MainWindow::saveGpx);
    add(tr("Day log (CSV)..."), &MainWindow::saveDayLog);
    menu->addSeparator();
    m_needProject << menu->addAction(tr("Type in a paper sheet..."), this, [this] {
        PaperSheetPage::openBeside(this, m_session, chosenRound());
    });
}

void MainWindow::listen()
{
    Notifier &notifier = m_session.notifier();
    connect(&notifier, &Notifier::said, m_messages, &MessageLine::say);
    connect(&notifier, &Notifier::failed, m_messages, &MessageLine::fail);
    connect(&notifier, &Notifier::projectChanged, this, &MainWindow::refreshTitle);
    for (auto signal : {&Notifier::projectChanged, &Notifier::visitsChanged,
                        &Notifier::valvesChanged, &Notifier::shutsChanged}) {
        connect(&notifier, signal, this, &MainWindow::refreshWarning);
    }
}

void MainWindow::refreshTitle()
{
    const bool open = m_session.isOpen();
    setWindowTitle(
        open ? tr("%1 - Keyround").arg(QFileInfo(m_session.project().path()).completeBaseName())
             : tr("Keyround"));
    m_who->setText(tr("Recorded as %1").arg(m_session.author().person));
    m_pages->setCurrentIndex(open ? 1 : 0);
    m_placeBar->setVisible(open);
    for (QAction *action : m_needProject) {
        action->setEnabled(open);
    }
}

void MainWindow::refreshWarning()
{
    QStringList numbers;
    for (const ValveId &id : m_session.leftOtherThanNormal()) {
        const Valve *valve = m_session.valve(id);
        const QString left = leftOtherShort(m_session.history(id));
        if (left.isEmpty()) {
            continue; // closed for a shut: the line of open shuts says it
        }
        numbers << tr("%1 (%2)").arg(shortened(valve->number), left);
    }
    constexpr qsizetype shown = 3;
    QString list = numbers.mid(0, shown).join(QStringLiteral(", "));
    if (numbers.size() > shown) {
        list += tr(" and %1 more").arg(numbers.size() - shown);
    }
    m_warning->setText(tr("Not in normal position: valve %1. Put it back, or record why it stays, "
                          "with a new visit.")
                           .arg(list));
    m_warning->setVisible(!numbers.isEmpty());
}

void MainWindow::openProject(const QString &path)
{
    if (path.isEmpty()) {
        return;
    }
    if (m_session.isOpen() && QFileInfo(path) == QFileInfo(m_session.project().path())) {
        m_messages->say(tr("This project is open already."));
        return;
    }
    const Status opened = m_session.openProject(path);
    if (!opened) {
        if (opened.error().code == ErrorCode::Damaged) {
            m_backUps->showFor(path, opened.error().message); // says it, with what to do
            m_pages->setCurrentWidget(m_backUps);
        } else {
            m_messages->fail(opened.error().message);
        }
        return;
    }
    StartPage::remember(path);
    m_messages->say(tr("%n valves in this project", nullptr, int(m_session.valves().size())));
    if (paperSheetWaits(m_session)) {
        m_messages->say(tr("A paper sheet waits half-typed: Round, Type in a paper sheet."));
    }
    if (m_truck->hasStopUnderWay()) {
        showPlace(Place::Truck); // the work broke off there: back to the same field
    }
}

void MainWindow::showBackUps()
{
    m_backUps->showFor(m_session.project().path());
    m_pages->setCurrentWidget(m_backUps);
}

void MainWindow::showPlace(Place place)
{
    if (m_session.isOpen()) {
        m_pages->setCurrentWidget(m_stack);
    }
    m_stack->setCurrentIndex(int(place));
    m_placeButtons->button(int(place))->setChecked(true);
    refreshLook();
    if (place == Place::Break) {
        m_shut->showBreak();
    } else if (place == Place::Repairs) {
        m_repairs->focusField();
    }
}

void MainWindow::showRepairs(const ValveId &valve)
{
    showPlace(Place::Repairs);
    if (!valve.isNull()) {
        m_repairs->showValve(valve);
    }
}

void MainWindow::refreshLook()
{
    // What stands round the Truck follows its look, so that no bright bar blinds at night.
    const bool night = m_truck->isNight() && m_stack->currentWidget() == m_truck;
    QString sheet;
    if (night) {
        const TruckColours &colours = TruckColours::night();
        sheet = sheetFor(colours) +
                QStringLiteral("QWidget { background: %1; } QPushButton { color: %2; } "
                               "QPushButton[role=\"place\"]:checked { color: %3; "
                               "border-bottom: 4px solid %3; }")
                    .arg(colours.ground.name(), colours.ink.name(), colours.act.name());
    }
    for (QWidget *around : std::initializer_list<QWidget *>{m_placeBar, menuBar(), m_messages}) {
        if (around->styleSheet() != sheet) {
            around->setStyleSheet(sheet);
        }
    }
}

void MainWindow::newProject()
{
    QString path = chooseFileToSave(this, tr("Where the new project is kept"),
                                    tr("valves.keyround"), projectFilter);
    if (path.isEmpty()) {
        return;
    }
    if (!path.endsWith(QStringLiteral(".keyround"))) {
        path += QStringLiteral(".keyround");
    }
    const Status created = m_session.createProject(path, UnitSystem::Us);
    showOutcome(this, created, tr("Made %1. Bring in the valves next.").arg(path));
    if (created) {
        StartPage::remember(path);
    }
}

void MainWindow::chooseProject()
{
    openProject(chooseFileToOpen(this, tr("Open a project"), projectFilter));
}

void MainWindow::importLayer()
{
    auto *dialog = new ImportDialog(m_session, this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    dialog->open();
}

void MainWindow::askWhoWorks()
{
    bool accepted = false;
    const QString name =
        QInputDialog::getText(this, tr("Who works here"), tr("Name or initials for the record"),
                              QLineEdit::Normal, m_session.author().person, &accepted);
    if (accepted && !name.trimmed().isEmpty()) {
        m_session.setPerson(name.trimmed());
        refreshTitle();
    }
}

RoundId MainWindow::chosenRound() const
{
    return m_yard->chosenRound();
}

void MainWindow::saveSheet(const RoundId &round)
{
    const QString path = chooseFileToSave(this, tr("Save the route sheet"), tr("route.pdf"),
                                          QStringLiteral("PDF (*.pdf)"));
    if (!path.isEmpty()) {
        showOutcome(this, writeRouteSheet(m_session, round, path),
                    tr("Route sheet saved to %1").arg(path));
    }
}

void MainWindow::saveGpx(const RoundId &round)
{
    const QString path = chooseFileToSave(this, tr("Save the route"), tr("route.gpx"),
                                          QStringLiteral("GPX (*.gpx)"));
    if (!path.isEmpty()) {
        showOutcome(this, writeRouteGpx(m_session, round, path), tr("Route saved to %1").arg(path));
    }
}

void MainWindow::saveDayLog(const RoundId &round)
{
    const QString path = chooseFileToSave(this, tr("Save the day log"), tr("day-log.csv"),
                                          QStringLiteral("CSV (*.csv)"));
    if (!path.isEmpty()) {
        showOutcome(this, writeDayLog(m_session, round, path), tr("Day log saved to %1").arg(path));
    }
}

void MainWindow::closeEvent(QCloseEvent *event)
{
    QSettings().setValue(QStringLiteral("window"), saveGeometry());
    m_session.closeProject();
    QMainWindow::closeEvent(event);
}

} // namespace keyround
