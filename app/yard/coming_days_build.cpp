// SPDX-License-Identifier: GPL-3.0-or-later
// How the page of the coming days is put together.
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/work_bar.h"
#include "app/models/data_table.h"
#include "app/models/round_model.h"
#include "app/shell/session.h"
#include "app/yard/coming_days_grid.h"
#include "app/yard/coming_days_page.h"
#include "app/yard/left_out_model.h"

#include <QButtonGroup>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QMenu>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedWidget>
#include <QTableView>
#include <QToolButton>
#include <QVBoxLayout>

namespace keyround {

ComingDaysPage::ComingDaysPage(Session &session, RoundDesk &desk, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(desk), m_days(new ComingDaysDesk(session, this)),
      m_grid(new ComingDaysGrid(session, *m_days)), m_stops(new RoundModel(session, this)),
      m_leftOut(new LeftOutModel(this))
{
    m_head = buildHead();
    m_workBar = new WorkBar(this);
    m_empty = plainLabel(
        tr("No round is planned for these days. Say for how many working days, then press \"Draw "
           "up the coming days\": the due valves are shared out among the crews, the urgent ones "
           "first, each day in its best order. Then mark the days that people were told of; "
           "drawing up again leaves those alone."),
        QStringLiteral("quiet"), this);
    m_empty->setObjectName(QStringLiteral("daysEmpty"));
    m_across = new QSplitter(Qt::Horizontal, this);
    m_across->setChildrenCollapsible(false);
    m_across->setHandleWidth(5);
    auto *scroll = new QScrollArea(m_across);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setFocusPolicy(Qt::NoFocus);
    scroll->setWidget(m_grid);
    m_grid->setObjectName(QStringLiteral("daysGrid"));
    m_across->addWidget(scroll);
    m_across->addWidget(buildSide());
    m_across->setStretchFactor(0, 1);
    m_across->setSizes({980, 380});
    rememberSplitter(m_across, QStringLiteral("yard-days"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(10, 8, 10, 8);
    layout->setSpacing(6);
    layout->addWidget(m_head);
    layout->addWidget(m_workBar);
    layout->addWidget(m_empty);
    layout->addWidget(m_across, 1);
    wire();
    refresh();
}

QWidget *ComingDaysPage::buildHead()
{
    auto *head = new QWidget(this);
    auto *back = new QPushButton(tr("Back to the day"), head);
    back->setObjectName(QStringLiteral("backToDay"));
    connect(back, &QPushButton::clicked, this, &ComingDaysPage::dayWanted);
    m_count = new CheckedLine(
        tr("Working days to draw up"),
        [this](const QString &text) -> Status {
            bool isNumber = false;
            const int count = text.trimmed().toInt(&isNumber);
            if (!isNumber || count < 1 || count > ComingDaysDesk::mostDays) {
                return fail(
                    ErrorCode::BadInput,
                    tr("Write a number of days from 1 to %1.").arg(ComingDaysDesk::mostDays));
            }
            m_days->setDayCount(count);
            return {};
        },
        head);
    m_count->setObjectName(QStringLiteral("dayCount"));
    m_count->setFixedWidth(64);
    auto *refusal = plainCaption({}, QStringLiteral("refusal"), head);
    m_count->showRefusalsIn(refusal);
    refusal->hide();
    m_drawUp = new QPushButton(head);
    m_drawUp->setObjectName(QStringLiteral("drawUpDays"));
    m_drawUp->setProperty("role", QStringLiteral("primary"));
    m_drawUp->setMinimumHeight(38);
    m_drawUp->setToolTip(tr("Days that people were told of, and days under way, keep their stops"));
    m_sentence = plainLabel({}, QStringLiteral("heading"), head);
    m_sentence->setObjectName(QStringLiteral("daysSentence"));
    auto *row = new QHBoxLayout;
    row->addWidget(back);
    row->addSpacing(12);
    row->addWidget(plainCaption(tr("Working days"), {}, head));
    row->addWidget(m_count);
    row->addWidget(refusal);
    row->addStretch(1);
    row->addWidget(m_drawUp);
    auto *layout = new QVBoxLayout(head);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addLayout(row);
    layout->addWidget(m_sentence);
    return head;
}

QWidget *ComingDaysPage::buildSide()
{
    auto *side = new QWidget(m_across);
    m_title = plainLabel({}, QStringLiteral("heading"), side);
    m_title->setObjectName(QStringLiteral("chosenDay"));
    m_told = new QPushButton(side);
    m_told->setObjectName(QStringLiteral("told"));
    m_told->setCheckable(true);
    m_told->setToolTip(tr("Crew and customers were told of this day: drawing up leaves its stops"));
    m_open = new QPushButton(side);
    m_open->setObjectName(QStringLiteral("openDay"));
    m_move = new QToolButton(side);
    m_move->setText(tr("Move to another day"));
    m_move->setObjectName(QStringLiteral("moveToDay"));
    m_move->setProperty("role", QStringLiteral("touch"));
    m_move->setFocusPolicy(Qt::StrongFocus);
    m_move->setPopupMode(QToolButton::InstantPopup);
    m_move->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    m_move->setMenu(new QMenu(m_move));
    m_move->setToolTip(tr("Or drag the rows onto a day; Alt with the arrows moves them to the next "
                          "day or the next crew"));
    m_views = new QButtonGroup(side);
    auto *views = new QHBoxLayout;
    m_lists = new QStackedWidget(side);
    for (const int page : {0, 1}) {
        auto *button = new QPushButton(side);
        button->setObjectName(QStringLiteral("daysView%1").arg(page));
        button->setCheckable(true);
        button->setProperty("role", QStringLiteral("view"));
        m_views->addButton(button, page);
        views->addWidget(button);
    }
    views->addStretch(1);
    m_views->button(0)->setChecked(true);
    m_stopTable = new DataTable(QStringLiteral("day-stops"));
    m_stopTable->setModel(m_stops);
    m_stopTable->setDefaultWidths({44, 84, 92, 56, 56, 60, 50, 70, 64});
    m_leftOutTable = new DataTable(QStringLiteral("days-left-out"));
    m_leftOutTable->setModel(m_leftOut);
    m_leftOutTable->setDefaultWidths({84});
    m_leftOutTable->setEmptyText(tr("Nothing was left out at the last drawing up."));
    m_lists->addWidget(m_stopTable);
    m_lists->addWidget(m_leftOutTable);
    auto *acts = new QHBoxLayout;
    acts->addWidget(m_open, 1);
    acts->addWidget(m_told, 1);
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(8, 0, 0, 0);
    layout->addWidget(m_title);
    layout->addLayout(acts);
    layout->addLayout(views);
    layout->addWidget(m_lists, 1);
    layout->addWidget(m_move);
    return side;
}

} // namespace keyround
