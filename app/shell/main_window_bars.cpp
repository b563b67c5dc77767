// SPDX-License-Identifier: GPL-3.0-or-later
// The window's bar of places and its menus (declared in main_window.h).
#include "app/shell/main_window.h"

#include "app/dialogs/choose_file.h"
#include "app/dialogs/field_reports_panel.h"
#include "app/entry/paper_sheet_page.h"
#include "app/position/position_line.h"
#include "app/position/position_panel.h"
#include "app/print/round_files.h"
#include "app/shell/message_line.h"
#include "app/shell/session.h"
#include "app/shut/shut_place.h"
#include "app/yard/yard_place.h"

#include <QAction>
#include <QButtonGroup>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenuBar>
#include <QPushButton>

namespace keyround {

QPushButton *MainWindow::addPlaceButton(Place place, const QString &words, const QString &name,
                                        Qt::Key key, int roomFor)
{
    auto *button = new QPushButton(words, this);
    button->setCheckable(true);
    button->setProperty("role", QStringLiteral("place"));
    button->setObjectName(name);
    button->setShortcut(QKeySequence(Qt::CTRL | key));
    button->setToolTip(button->shortcut().toString(QKeySequence::NativeText));
    if (roomFor > 0) {
        button->setSizePolicy(QSizePolicy::Minimum, QSizePolicy::Preferred);
        button->setStyleSheet(QStringLiteral("QPushButton { min-width: %1px; }").arg(roomFor));
    }
    m_placeButtons->addButton(button, int(place));
    return button;
}

void MainWindow::buildPlaceBar()
{
    auto *row = new QHBoxLayout(m_placeBar);
    row->setContentsMargins(8, 0, 12, 0);
    row->setSpacing(0);
    const QStringList names{tr("Yard"), tr("Truck"), tr("Office")};
    for (int place = 0; place < names.size(); ++place) {
        row->addWidget(addPlaceButton(Place(place), names.at(place),
                                      QStringLiteral("place%1").arg(names.at(place)),
                                      Qt::Key(Qt::Key_1 + place)));
    }
    row->addSpacing(16);
    row->addWidget(new PositionLine(m_session, this), 1);
    row->addSpacing(16);
    row->addWidget(m_who);
    row->addSpacing(16);
    row->addWidget(addPlaceButton(Place::Repairs, tr("Repairs"), QStringLiteral("placeRepairs"),
                                  Qt::Key_R, 90));
    row->addWidget(addPlaceButton(Place::Break, tr("A main broke"), QStringLiteral("placeBreak"),
                                  Qt::Key_B, 150));
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

} // namespace keyround
