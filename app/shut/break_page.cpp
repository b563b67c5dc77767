// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/break_page.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/button_list.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/notice_panel.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/restyle.h"
#include "app/dialogs/truck_look.h"
#include "app/map/map_widget.h"
#include "app/print/shut_files.h"
#include "app/shell/style.h"
#include "app/shut/shut_steps.h"
#include "app/shut/shut_words.h"
#include "app/shut/step_list.h"

#include <QApplication>
#include <QClipboard>
#include <QLineEdit>
#include <QPainter>
#include <QSplitter>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

BreakPage::BreakPage(Session &session, ShutDesk &desk, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(desk), m_map(new MapWidget(session, this)),
      m_find(new QLineEdit(this)),
      m_crew(new BigButton(BigButton::Kind::Toggle, tr("The crew is here…"), this)),
      m_all(new BigButton(BigButton::Kind::Plain, tr("Other shuts"), this)),
      m_refusal(truckLabel(this, TextSize::Small))
{
    setObjectName(QStringLiteral("break"));
    const int gap = TruckScale::of(this).gap;
    auto *splitter = new QSplitter(Qt::Horizontal, this);
    splitter->addWidget(buildMapSide());
    splitter->addWidget(buildPlanSide());
    splitter->setStretchFactor(0, 3);
    splitter->setStretchFactor(1, 2);
    splitter->setChildrenCollapsible(false);
    splitter->setSizes({780, 560});
    rememberSplitter(splitter, QStringLiteral("break-split"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap, gap, gap, gap);
    layout->addWidget(splitter);
    listen();
    breakChanged();
}

void BreakPage::listen()
{
    connect(m_map, &MapWidget::placeClicked, this, &BreakPage::placeClicked);
    connect(&m_desk, &ShutDesk::breakChanged, this, &BreakPage::breakChanged);
    connect(&m_desk, &ShutDesk::changed, this, &BreakPage::refresh);
    connect(m_list, &StepList::chosen, this, [this](const ValveId &valve) {
        m_steps->choose(valve);
        if (const Valve *known = m_session.valve(valve); known != nullptr) {
            m_map->showPlace(known->place);
        }
    });
    connect(m_steps, &ShutSteps::reopeningChanged, this, &BreakPage::refreshSteps);
    connect(m_steps, &ShutSteps::currentChanged, this, &BreakPage::showCurrent);
}

void BreakPage::showCurrent()
{
    m_list->mark(m_steps->current());
    // When the layout has settled: the rows may have been made this moment.
    QTimer::singleShot(0, this, [this] {
        if (QWidget *row = m_list->rowOf(m_steps->current())) {
            m_scroll->ensureWidgetVisible(row, 0, 60);
        }
    });
}

void BreakPage::say(const Status &status)
{
    setNote(m_refusal, NoteKind::Attention, status ? QString() : status.error().message);
}

void BreakPage::placeClicked(const GeoPoint &place)
{
    if (m_takesCrew) {
        m_takesCrew = false;
        m_desk.setCrew(place);
        showCrewButton();
        say({});
        return;
    }
    // Half a finger's width around the click, and never less than a street's.
    const double finger = pixelsFor(6.0, this) / m_map->pixelsPerMetre();
    const Metres reach{std::clamp(finger, 15.0, breakReach.value)};
    const Status shown = m_desk.breakAt(place, reach);
    say(shown);
    if (shown) {
        m_steps->focusNext();
    }
}

void BreakPage::find()
{
    const Status shown = m_desk.breakTyped(m_find->text());
    say(shown);
    restyle(m_find, "refused", !shown);
    if (shown) {
        m_steps->focusNext();
    }
}

void BreakPage::takeCrew()
{
    if (m_desk.crew()) {
        m_takesCrew = false;
        m_desk.setCrew({});
    } else {
        m_takesCrew = !m_takesCrew;
    }
    setNote(m_refusal, NoteKind::Attention,
            m_takesCrew ? tr("Click the map where the crew is (by keyboard: move the cross with "
                             "the arrows, then Enter).")
                        : QString());
    showCrewButton();
    if (m_takesCrew) {
        m_map->setFocus(Qt::TabFocusReason);
    }
}

void BreakPage::showCrewButton()
{
    m_crew->setChecked(m_takesCrew || m_desk.crew());
    m_crew->setText(m_desk.crew() ? tr("Crew: from the yard again") : tr("The crew is here…"));
    m_crew->setAccessibleName(m_crew->text());
}

QString BreakPage::emptyWords()
{
    if (!m_session.isOpen()) {
        return tr("Open the project of your utility first.");
    }
    if (m_session.mains().empty()) {
        return tr("The project has no mains yet. Bring in the mains (Project, Bring in a file), "
                  "then the valves, services and hydrants: a click on a main then shows which "
                  "valves shut it off.");
    }
    QString words = tr("Click the main that broke, or type its number.");
    if (m_session.sources().empty()) {
        words += tr(" No source is marked yet: who goes dry beyond a shut cannot be said. Place "
                    "the plants, tanks, wells and interconnections under \"How the mains were "
                    "read\".");
    }
    return words;
}

void BreakPage::fillShuts()
{
    m_shuts->clear();
    for (const ShutLog &log : m_session.shuts()) {
        const bool isOpen = needsSomebody(log);
        auto *row = m_shuts->addRow(
            tr("%1, %2").arg(log.begun.at.local().toString(QStringLiteral("yyyy-MM-dd HH:mm")),
                             log.begun.words),
            standingWords(m_session, log));
        row->setObjectName(QStringLiteral("shut-%1").arg(m_shuts->rows().size()));
        row->setMark([isOpen](QPainter &painter, const QRectF &where, const QColor &ink) {
            if (isOpen) {
                painter.setPen(QPen(look::danger, 4.0));
                painter.setBrush(look::card);
                painter.drawEllipse(where.center(), where.width() * .35, where.width() * .35);
            } else {
                drawTick(painter, where, ink);
            }
        });
        connect(row, &QAbstractButton::clicked, this, [this, id = log.begun.id] { openShut(id); });
    }
}

void BreakPage::openShut(const ShutId &shut)
{
    say(m_desk.open(shut));
    m_steps->focusNext();
}

void BreakPage::breakChanged()
{
    m_steps->load(true);
    refresh();
    m_map->setKeyShown(m_desk.hasPlan());
    if (m_desk.hasPlan()) {
        m_map->showPoints(pictureOf(m_session, m_desk).extent());
        m_scroll->ensureVisible(0, 0);
    }
}

void BreakPage::refresh()
{
    if (!isVisible()) {
        return; // showEvent() brings it up to date
    }
    const bool has = m_desk.hasPlan();
    m_empty->setText(emptyWords());
    m_empty->setVisible(!has);
    m_shuts->setVisible(!has);
    m_scroll->setVisible(has);
    m_change->setVisible(has && !m_desk.lastChange().isEmpty());
    m_steps->setVisible(has);
    m_all->setVisible(has);
    m_find->setEnabled(m_session.isOpen() && !m_session.mains().empty());
    for (BigButton *button : m_needPlan) {
        button->setEnabled(has);
    }
    m_map->setShut(pictureOf(m_session, m_desk));
    showCrewButton();
    if (!has) {
        fillShuts();
        return;
    }
    const ShutPlan &plan = m_desk.plan();
    m_title->setText(m_desk.title());
    setNote(m_change, NoteKind::Attention, m_desk.lastChange());
    m_who->setText(whoWords(m_session, plan).join(QLatin1Char('\n')));
    setNote(m_notes, plan.sourcesLost.empty() ? NoteKind::Attention : NoteKind::Danger,
            plan.notes.join(QLatin1Char('\n')));
    m_steps->load(false);
    refreshSteps();
}

void BreakPage::refreshSteps()
{
    if (m_steps->isReopening()) {
        m_list->showReopening(m_desk.toReopen(), m_desk.rows());
    } else {
        m_list->showClosing(m_desk.rows());
    }
    showCurrent();
}

void BreakPage::focusField()
{
    if (m_desk.hasPlan()) {
        m_steps->focusNext();
    } else {
        m_find->setFocus(Qt::OtherFocusReason);
    }
}

void BreakPage::showEvent(QShowEvent *event)
{
    QWidget::showEvent(event);
    refresh();
    // What a click needs is built before it comes.
    QTimer::singleShot(0, this, [this] {
        if (m_session.isOpen()) {
            (void)m_session.valveStates();
            (void)m_session.driveGraph();
        }
    });
}

void BreakPage::saveSheet()
{
    const QString path = chooseFileToSave(this, tr("Save the sheet of the shut"), tr("shut.pdf"),
                                          QStringLiteral("PDF (*.pdf)"));
    if (!path.isEmpty()) {
        showOutcome(this, writeShutSheet(m_session, m_desk.plan(), path),
                    tr("Sheet saved to %1").arg(path));
    }
}

void BreakPage::saveCsv()
{
    const QString path = chooseFileToSave(this, tr("Save the steps of the shut"), tr("shut.csv"),
                                          QStringLiteral("CSV (*.csv)"));
    if (!path.isEmpty()) {
        showOutcome(this, writeShutCsv(m_session, m_desk.plan(), path),
                    tr("Steps saved to %1").arg(path));
    }
}

void BreakPage::openNotices()
{
    NoticePanel::openBeside(this, m_session,
                            {noticeJobFor(m_session, m_desk.plan(), m_session.today())});
}

void BreakPage::copy()
{
    QApplication::clipboard()->setText(shutText(m_session, m_desk.plan()));
    Q_EMIT m_session.notifier().said(tr("The plan was copied."));
}

} // namespace keyround
