// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/stop_list_page.h"

#include "app/dialogs/button_list.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/arrival_offer.h"
#include "app/truck/stop_states.h"
#include "app/truck/stop_words.h"
#include "app/truck/valve_line.h"

#include <QHBoxLayout>

#include <algorithm>

namespace keyround {

StopListPage::StopListPage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(truckLabel(this, TextSize::Title, true)),
      m_empty(truckLabel(this)), m_list(new ButtonList(this)),
      m_arrival(new ArrivalOffer(session, this)), m_byNumber(new ValveLine(session, this)),
      m_finish(new BigButton(BigButton::Kind::Plain, tr("Finish the round…"), this))
{
    auto *other = new BigButton(BigButton::Kind::Plain, tr("Other rounds"), this);
    other->setObjectName(QStringLiteral("other-rounds"));
    m_finish->setObjectName(QStringLiteral("to-finish-round"));
    m_title->setObjectName(QStringLiteral("list-title"));
    const int gap = TruckScale::of(this).gap;
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    foot->addWidget(other, 1);
    foot->addWidget(m_finish, 2);
    auto *broke = new BigButton(BigButton::Kind::Plain, tr("A main broke"), this);
    broke->setObjectName(QStringLiteral("list-break"));
    foot->addWidget(broke, 1);
    auto *look = new BigButton(BigButton::Kind::Plain, tr("Sun or night"), this);
    look->setObjectName(QStringLiteral("list-look"));
    foot->addWidget(look, 1);
    connect(look, &QAbstractButton::clicked, this, &StopListPage::lookAsked);
    connect(broke, &QAbstractButton::clicked, this, &StopListPage::breakAsked);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap * 2, gap, gap * 2, gap);
    layout->setSpacing(gap);
    layout->addWidget(m_title);
    layout->addWidget(m_empty);
    layout->addWidget(m_arrival);
    layout->addWidget(m_list, 1);
    layout->addWidget(m_byNumber);
    layout->addLayout(foot);
    connect(m_arrival, &ArrivalOffer::stopAsked, this, &StopListPage::stopChosen);
    connect(m_byNumber, &ValveLine::recordAsked, this, &StopListPage::recordAsked);
    connect(m_byNumber, &ValveLine::correctAsked, this, &StopListPage::correctAsked);
    connect(m_byNumber, &ValveLine::findAsked, this, &StopListPage::findAsked);
    connect(m_finish, &QAbstractButton::clicked, this, &StopListPage::finishAsked);
    connect(other, &QAbstractButton::clicked, this, &StopListPage::otherRoundAsked);
}

void StopListPage::load(const RoundId &id)
{
    m_list->clear();
    m_byNumber->clear();
    const Round *known = m_session.round(id);
    if (known == nullptr) {
        return;
    }
    const Round round = *known;
    const auto entries = stopEntries(m_session, round);
    const auto done = std::ranges::count(entries, StopState::Done, &StopEntry::state);
    m_title->setText(
        tr("%1, %2: %3 of %4 done")
            .arg(round.date == m_session.today() ? tr("Today") : round.date.toString(Qt::ISODate),
                 round.crew)
            .arg(done)
            .arg(entries.size()));
    setNote(m_empty, NoteKind::Quiet,
            entries.empty() ? tr("The round has no stops. Add some at the yard, or record a valve "
                                 "here by its number.")
                            : QString());
    std::vector<ValveId> waiting;
    for (const StopEntry &entry : entries) {
        if (entry.state != StopState::Done) {
            waiting.push_back(entry.valve);
        }
    }
    m_arrival->setStops(std::move(waiting));
    const ValveId next = nextStop(m_session, round, {});
    m_next = 0;
    for (const StopEntry &entry : entries) {
        const Valve *valve = m_session.valve(entry.valve);
        if (valve == nullptr) {
            continue;
        }
        const QString place = entry.place > 0 ? tr("%1. ").arg(entry.place) : tr("Extra. ");
        const QString address = valve->address.isEmpty() ? valve->ties : valve->address;
        const QString state =
            entry.state == StopState::Done ? tr("done: open to correct it") : wordFor(entry.state);
        auto *row =
            m_list->addRow(place + titleOf(*valve, m_session.units()),
                           address.isEmpty() ? state : state + QStringLiteral(" · ") + address);
        row->setObjectName(QStringLiteral("stop-") + valve->number);
        row->setMark(markFor(entry.state));
        connect(row, &QAbstractButton::clicked, this,
                [this, chosen = entry.valve] { Q_EMIT stopChosen(chosen); });
        if (entry.valve == next) {
            m_next = static_cast<int>(m_list->rows().size()) - 1;
        }
    }
    m_finish->setEnabled(round.state != RoundState::Finished);
    m_finish->setText(round.state == RoundState::Finished ? tr("This round is finished")
                                                          : tr("Finish the round…"));
    m_finish->setAccessibleName(m_finish->text());
}

void StopListPage::focusField()
{
    m_list->focusRow(m_next);
}

} // namespace keyround
