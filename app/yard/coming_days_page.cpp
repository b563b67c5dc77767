// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/coming_days_page.h"

#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/work_bar.h"
#include "app/models/cells.h"
#include "app/models/data_table.h"
#include "app/models/round_model.h"
#include "app/models/row_drag.h"
#include "app/shell/session.h"
#include "app/yard/coming_days_grid.h"
#include "app/yard/left_out_model.h"
#include "app/yard/round_desk.h"

#include <QButtonGroup>
#include <QLineEdit>
#include <QMainWindow>
#include <QMenu>
#include <QMenuBar>
#include <QPushButton>
#include <QShortcut>
#include <QSplitter>
#include <QStackedWidget>
#include <QTableView>
#include <QToolButton>

#include <algorithm>

namespace keyround {

namespace {

QString dayWords(const DayCell &cell)
{
    return QObject::tr("%1, %2").arg(
        QLocale::c().toString(cell.date, QStringLiteral("ddd yyyy-MM-dd")), cell.crew);
}

} // namespace

void ComingDaysPage::wire()
{
    Notifier &notifier = m_session.notifier();
    for (const auto change :
         {&Notifier::projectChanged, &Notifier::roundsChanged, &Notifier::valvesChanged,
          &Notifier::visitsChanged, &Notifier::settingsChanged, &Notifier::layersChanged}) {
        connect(&notifier, change, this, &ComingDaysPage::refreshIfShown);
    }
    connect(m_days, &ComingDaysDesk::changed, this, &ComingDaysPage::refresh);
    connect(m_grid, &ComingDaysGrid::cellChosen, this, &ComingDaysPage::layOnDesk);
    connect(m_grid, &ComingDaysGrid::cellOpened, this, [this](const CellAt &at) {
        layOnDesk(at);
        Q_EMIT dayWanted();
    });
    connect(m_grid, &ComingDaysGrid::stopMoved, this,
            [this](const ValveId &valve, const CellAt &to) { moveTo({valve}, to); });
    connect(m_open, &QPushButton::clicked, this, [this] {
        layOnDesk(m_grid->chosen());
        Q_EMIT dayWanted();
    });
    connect(m_drawUp, &QPushButton::clicked, this, &ComingDaysPage::drawUp);
    connect(m_told, &QPushButton::clicked, this, [this](bool on) {
        if (m_grid->chosen().isValid()) {
            say(m_days->setTold(m_grid->chosen(), on));
        }
        refreshSide();
    });
    connect(m_views, &QButtonGroup::idClicked, this, [this](int page) {
        m_lists->setCurrentIndex(page);
        refreshSide();
    });
    connect(m_move->menu(), &QMenu::aboutToShow, this, &ComingDaysPage::fillMoveMenu);
    const auto moveBy = [this](Qt::Key key, int days, int crews) {
        auto *keys = new QShortcut(QKeySequence(Qt::ALT | key), this);
        keys->setContext(Qt::WidgetWithChildrenShortcut);
        connect(keys, &QShortcut::activated, this,
                [this, days, crews] { moveChosen(days, crews); });
    };
    moveBy(Qt::Key_Left, -1, 0);
    moveBy(Qt::Key_Right, 1, 0);
    moveBy(Qt::Key_Up, 0, -1);
    moveBy(Qt::Key_Down, 0, 1);
    for (DataTable *table : {m_stopTable, m_leftOutTable}) {
        watchDragging(table);
        connect(table, &DataTable::selectionChanged, this, &ComingDaysPage::refreshSide);
    }
}

void ComingDaysPage::watchDragging(DataTable *table)
{
    auto *drag = new RowDrag(table->view());
    const auto cellUnder = [this](const QPoint &global) {
        const QPoint at = m_grid->mapFromGlobal(global);
        return m_grid->rect().contains(at) ? m_grid->cellAt(at) : CellAt{};
    };
    connect(drag, &RowDrag::heldOver, this, [this, cellUnder](int, const QPoint &global) {
        m_grid->setLanding(cellUnder(global));
    });
    connect(drag, &RowDrag::putBack, this, [this] { m_grid->setLanding({}); });
    connect(drag, &RowDrag::letGoOutside, this,
            [this, table, cellUnder](int row, const QPoint &global) {
                m_grid->setLanding({});
                const CellAt to = cellUnder(global);
                const int source = table->shownRows().value(row, -1);
                if (!to.isValid() || source < 0) {
                    return;
                }
                // All the chosen rows go along when the one in the hand is among them.
                QList<int> rows = table->selectedRows();
                if (!rows.contains(source)) {
                    rows = {source};
                }
                moveTo(valvesIn(table, rows), to);
            });
    if (table == m_stopTable) {
        connect(drag, &RowDrag::letGoBetween, this, [this](int row, int before) {
            const QList<int> shown = m_stopTable->shownRows();
            if (std::ranges::is_sorted(shown) && m_desk.canChange() &&
                m_desk.round().id == m_stops->round().id && shown.size() == m_stops->rowCount()) {
                say(m_desk.moveBefore(row, before));
            }
        });
    }
}

QList<ValveId> ComingDaysPage::valvesIn(const DataTable *table, const QList<int> &rows) const
{
    QList<ValveId> valves;
    for (const int row : rows) {
        valves << (table == m_stopTable ? m_stops->valveAt(row) : m_leftOut->valveAt(row));
    }
    return valves;
}

QList<ValveId> ComingDaysPage::chosenValves() const
{
    const DataTable *table = m_lists->currentIndex() == 0 ? m_stopTable : m_leftOutTable;
    return valvesIn(table, table->selectedRows());
}

void ComingDaysPage::say(const Status &status)
{
    if (!status) {
        Q_EMIT m_session.notifier().failed(status.error().message);
    }
}

void ComingDaysPage::layOnDesk(const CellAt &at)
{
    const DayCell &cell = m_days->cell(at);
    if (cell.round) {
        m_desk.choose(cell.round->id);
    } else {
        m_desk.startNew(cell.crew, cell.date);
    }
    refreshSide();
}

void ComingDaysPage::moveTo(const QList<ValveId> &valves, const CellAt &to)
{
    if (!valves.isEmpty() && to.isValid()) {
        say(m_days->move(valves, to));
    }
}

void ComingDaysPage::moveChosen(int days, int crews)
{
    CellAt to = m_grid->chosen();
    to.day += days;
    to.crew += crews;
    if (to.isValid() && to.day < m_days->dates().size() && to.crew < m_days->crews().size()) {
        moveTo(chosenValves(), to);
    }
}

void ComingDaysPage::fillMoveMenu()
{
    QMenu *menu = m_move->menu();
    menu->clear();
    for (int day = 0; day < m_days->dates().size(); ++day) {
        for (int crew = 0; crew < m_days->crews().size(); ++crew) {
            const CellAt at{crew, day};
            const DayCell &cell = m_days->cell(at);
            if (at != m_grid->chosen() && cell.canChange()) {
                menu->addAction(dayWords(cell), this, [this, at] { moveTo(chosenValves(), at); });
            }
        }
    }
}

void ComingDaysPage::drawUp()
{
    QList<QWidget *> others{m_head, m_across};
    // Nothing may change the project under the work: the menus rest too.
    if (auto *window = qobject_cast<QMainWindow *>(this->window())) {
        others << window->menuBar();
    }
    const Status drawn =
        m_workBar->run(others, [&](const Progress &progress) { return m_days->drawUp(progress); });
    if (!drawn && drawn.error().code == ErrorCode::Cancelled) {
        Q_EMIT m_session.notifier().said(tr("Stopped. The coming days are as they were."));
        return;
    }
    say(drawn);
    if (drawn) {
        Q_EMIT m_session.notifier().said(m_days->sentence());
    }
}

void ComingDaysPage::showEvent(QShowEvent *event)
{
    QWidget::showEvent(event);
    m_days->refresh();
}

void ComingDaysPage::refreshIfShown()
{
    if (isVisible()) {
        m_days->refresh();
    }
}

void ComingDaysPage::refresh()
{
    m_grid->choose(m_days->cellOf(m_desk.round().id).isValid() ? m_days->cellOf(m_desk.round().id)
                                                               : m_grid->chosen());
    m_count->setStored(QString::number(m_days->dayCount()));
    const bool hasRounds = m_days->hasRounds();
    m_sentence->setText(m_days->sentence());
    m_drawUp->setText(hasRounds ? tr("Draw the rest up again") : tr("Draw up the coming days"));
    m_drawUp->setEnabled(m_session.isOpen());
    m_empty->setVisible(!hasRounds);
    refreshLeftOut();
    refreshSide();
}

void ComingDaysPage::refreshSide()
{
    const CellAt at = m_grid->chosen();
    const bool isCell = at.isValid();
    const DayCell cell = isCell ? m_days->cell(at) : DayCell{};
    m_title->setText(isCell ? dayWords(cell) : tr("Choose a day on the sheet"));
    m_stopTable->setEmptyText(isCell ? tr("Nothing is planned on this day. Drag stops of another "
                                          "day onto it on the sheet, or plan it by hand.")
                                     : tr("The stops of the chosen day stand here."));
    if (!(m_stops->shows(cell.round.value_or(Round{}), cell.plan))) {
        m_stops->setPlan(cell.plan, cell.round.value_or(Round{}));
    }
    m_told->setEnabled(cell.round && cell.round->state == RoundState::Planned);
    m_told->setChecked(cell.round && cell.round->isTold);
    m_told->setText(m_told->isChecked() ? tr("%1 People were told").arg(QChar(0x2713))
                                        : tr("Mark as told"));
    m_open->setEnabled(isCell);
    m_open->setText(cell.round ? tr("Work on this day") : tr("Plan this day by hand"));
    m_move->setEnabled(!chosenValves().isEmpty());
    m_views->button(0)->setText(tr("Stops (%1)").arg(cell.plan.stops.size()));
    m_views->button(1)->setText(tr("Left out (%1)").arg(m_leftOut->rowCount()));
}

void ComingDaysPage::refreshLeftOut()
{
    m_leftOut->show(m_days->leftOut(), m_session);
}

} // namespace keyround
