// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/main_window.h"

#include "app/commands/visit_commands.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/import_dialog.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/truck_look.h"
#include "app/dialogs/wait_shown.h"
#include "app/dialogs/work_bar.h"
#include "app/entry/paper_sheet_page.h"
#include "app/models/left_words.h"
#include "app/office/office_place.h"
#include "app/position/position_feed.h"
#include "app/position/position_panel.h"
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
#include <QInputDialog>
#include <QMenuBar>
#include <QSettings>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace keyround {

namespace {

const auto projectFilter = QStringLiteral("Keyround (*.keyround)");

constexpr int shortWork = 300; ///< ms: a usual project is open before a bar would be seen

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
      m_who(plainCaption({}, QStringLiteral("quiet"), this)), m_messages(new MessageLine(this)),
      m_work(new WorkBar(this, shortWork))
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
    column->addWidget(m_work);
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
    const WaitShown wait(this); // the places read what they show after the bar is gone
    const Status opened = m_work->run({}, [&](const Progress &told) {
        return m_session.openProject(path, DamagedVisits::Refuse, told);
    });
    if (!opened) {
        if (opened.error().code == ErrorCode::Cancelled) {
            m_messages->say(opened.error().message);
        } else if (opened.error().code == ErrorCode::Damaged) {
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

void MainWindow::closeEvent(QCloseEvent *event)
{
    QSettings().setValue(QStringLiteral("window"), saveGeometry());
    m_session.closeProject();
    QMainWindow::closeEvent(event);
}

} // namespace keyround
