// SPDX-License-Identifier: GPL-3.0-or-later
// How the page of a break is built: the line to find by, the tools, map and plan (declared in
// break_page.h).
#include "app/dialogs/big_button.h"
#include "app/dialogs/button_list.h"
#include "app/dialogs/truck_look.h"
#include "app/map/map_widget.h"
#include "app/shut/break_page.h"
#include "app/shut/shut_steps.h"
#include "app/shut/shut_words.h"
#include "app/shut/step_list.h"

#include <QHBoxLayout>
#include <QLineEdit>
#include <QScrollArea>
#include <QVBoxLayout>

namespace keyround {

QWidget *BreakPage::buildFindRow()
{
    m_find->setObjectName(QStringLiteral("break-find"));
    m_find->setPlaceholderText(tr("Main's number, or latitude, longitude"));
    m_find->setAccessibleName(tr("Where it broke: a main's number, or latitude, longitude"));
    m_find->setFont(truckFont(this, TextSize::Normal));
    // By style sheet: the house's own gives every line a height. Border and padding come on top.
    m_find->setStyleSheet(
        QStringLiteral("QLineEdit { min-height: %1px; }").arg(TruckScale::of(this).target - 8));
    auto *show = new BigButton(BigButton::Kind::Plain, tr("Show its shut"), this);
    show->setObjectName(QStringLiteral("break-show"));
    m_crew->setObjectName(QStringLiteral("break-crew"));
    m_crew->setEnterPresses(true);
    m_all->setObjectName(QStringLiteral("break-all"));
    auto *holder = new QWidget(this);
    auto *row = new QHBoxLayout(holder);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(TruckScale::of(this).gap);
    row->addWidget(m_find, 4);
    row->addWidget(show, 2);
    row->addWidget(m_crew, 2);
    row->addWidget(m_all, 2);
    connect(m_find, &QLineEdit::returnPressed, this, &BreakPage::find);
    connect(show, &QAbstractButton::clicked, this, &BreakPage::find);
    connect(m_crew, &QAbstractButton::clicked, this, &BreakPage::takeCrew);
    connect(m_all, &QAbstractButton::clicked, this, [this] {
        m_desk.clear();
        focusField();
    });
    return holder;
}

QWidget *BreakPage::buildToolRow()
{
    auto *holder = new QWidget(this);
    auto *row = new QHBoxLayout(holder);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(TruckScale::of(this).gap);
    const auto add = [&](const char *name, const QString &words, auto slot) {
        auto *button = new BigButton(BigButton::Kind::Plain, words, this);
        button->setObjectName(QLatin1String(name));
        button->setTextPixels(TruckScale::of(this).text * 4 / 5);
        row->addWidget(button, 1);
        connect(button, &QAbstractButton::clicked, this, slot);
        return button;
    };
    m_needPlan << add("break-sheet", tr("Sheet (PDF)…"), &BreakPage::saveSheet)
               << add("break-csv", tr("Steps (CSV)…"), &BreakPage::saveCsv)
               << add("break-copy", tr("Copy"), &BreakPage::copy)
               << add("break-notices", tr("Notices"), &BreakPage::openNotices);
    add("break-network", tr("How the mains were read"), &BreakPage::networkAsked);
    add("break-matters", tr("What matters most"), &BreakPage::mattersAsked);
    return holder;
}

QWidget *BreakPage::buildMapSide()
{
    m_map->setPicksPlaces(true);
    m_map->setObjectName(QStringLiteral("break-map"));
    m_refusal->setObjectName(QStringLiteral("break-refusal"));
    auto *side = new QWidget(this);
    auto *column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, TruckScale::of(this).gap / 2, 0);
    column->setSpacing(TruckScale::of(this).gap / 2);
    column->addWidget(buildFindRow());
    column->addWidget(m_refusal);
    column->addWidget(m_map, 1);
    column->addWidget(buildToolRow());
    return side;
}

QWidget *BreakPage::buildPlanSide()
{
    const int gap = TruckScale::of(this).gap;
    auto *side = new QWidget(this);
    m_plan = new QWidget(side);
    m_title = truckLabel(m_plan, TextSize::Normal, true);
    m_change = truckLabel(side, TextSize::Small); // beside what scrolls: it must be seen
    m_notes = truckLabel(m_plan, TextSize::Small);
    m_who = truckLabel(m_plan, TextSize::Small);
    m_list = new StepList(m_session, m_plan);
    m_title->setObjectName(QStringLiteral("break-title"));
    m_change->setObjectName(QStringLiteral("break-change"));
    m_notes->setObjectName(QStringLiteral("break-notes"));
    m_who->setObjectName(QStringLiteral("break-who"));
    auto *planColumn = new QVBoxLayout(m_plan);
    planColumn->setContentsMargins(0, 0, gap, 0);
    planColumn->setSpacing(gap / 2);
    for (QWidget *part : std::initializer_list<QWidget *>{m_title, m_who, m_notes, m_list}) {
        planColumn->addWidget(part);
    }
    planColumn->addStretch(1);
    m_scroll = new QScrollArea(side);
    m_scroll->setWidget(m_plan);
    m_scroll->setWidgetResizable(true);
    m_scroll->setFrameShape(QFrame::NoFrame);
    m_scroll->setFocusPolicy(Qt::NoFocus);
    m_scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);

    m_empty = truckLabel(side);
    m_empty->setObjectName(QStringLiteral("break-empty"));
    m_shuts = new ButtonList(side);
    m_steps = new ShutSteps(m_session, m_desk, side);
    QLabel *caution = truckLabel(side, TextSize::Small);
    caution->setObjectName(QStringLiteral("break-caution"));
    setNote(caution, NoteKind::Attention, connectivityCaution());
    QFont small = caution->font();
    small.setPixelSize(small.pixelSize() * 4 / 5);
    caution->setFont(small);

    auto *column = new QVBoxLayout(side);
    column->setContentsMargins(gap / 2, 0, 0, 0);
    column->setSpacing(gap / 2);
    column->addWidget(m_empty);
    column->addWidget(m_shuts, 1);
    column->addWidget(m_change);
    column->addWidget(m_scroll, 1);
    column->addWidget(m_steps);
    column->addWidget(caution);
    return side;
}

} // namespace keyround
