// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/choose_round_page.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/button_list.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/stop_states.h"
#include "app/truck/valve_line.h"

#include <QHBoxLayout>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

namespace {

constexpr std::ptrdiff_t finishedShown = 10;

} // namespace

ChooseRoundPage::ChooseRoundPage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(truckLabel(this, TextSize::Title, true)),
      m_empty(truckLabel(this)), m_list(new ButtonList(this)),
      m_byNumber(new ValveLine(session, this))
{
    m_title->setObjectName(QStringLiteral("choose-title"));
    m_empty->setObjectName(QStringLiteral("choose-empty"));
    const int gap = TruckScale::of(this).gap;
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap * 2, gap, gap * 2, gap);
    layout->setSpacing(gap);
    layout->addWidget(m_title);
    layout->addWidget(m_empty);
    layout->addWidget(m_list, 1);
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    foot->addWidget(m_byNumber, 1);
    auto *broke = new BigButton(BigButton::Kind::Plain, tr("A main broke"), this);
    broke->setObjectName(QStringLiteral("choose-break"));
    broke->setTargetMillimetres(30, 20);
    broke->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    foot->addWidget(broke, 0, Qt::AlignBottom);
    auto *look = new BigButton(BigButton::Kind::Plain, tr("Sun or night"), this);
    look->setObjectName(QStringLiteral("choose-look"));
    look->setTargetMillimetres(26, 20);
    look->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    foot->addWidget(look, 0, Qt::AlignBottom);
    connect(look, &QAbstractButton::clicked, this, &ChooseRoundPage::lookAsked);
    layout->addLayout(foot);
    connect(broke, &QAbstractButton::clicked, this, &ChooseRoundPage::breakAsked);
    connect(m_byNumber, &ValveLine::recordAsked, this, &ChooseRoundPage::recordAsked);
    connect(m_byNumber, &ValveLine::correctAsked, this, &ChooseRoundPage::correctAsked);
    connect(m_byNumber, &ValveLine::findAsked, this, &ChooseRoundPage::findAsked);
}

std::vector<Round> ChooseRoundPage::roundsInOrder() const
{
    std::vector<Round> rounds = m_session.rounds(); // newest first
    const QDate today = m_session.today();
    const auto rank = [&today](const Round &round) {
        if (round.state == RoundState::Finished) {
            return 2;
        }
        return round.date == today ? 0 : 1;
    };
    std::ranges::stable_sort(rounds, {}, rank);
    const auto finished = std::ranges::find(rounds, RoundState::Finished, &Round::state);
    if (rounds.end() - finished > finishedShown) {
        rounds.erase(finished + finishedShown, rounds.end());
    }
    return rounds;
}

void ChooseRoundPage::load()
{
    m_list->clear();
    m_byNumber->clear();
    if (!m_session.isOpen()) {
        m_title->setText(tr("No project is open"));
        setNote(m_empty, NoteKind::Quiet,
                tr("Open the project of your utility, or begin one, in the Project menu."));
        m_byNumber->hide();
        return;
    }
    const bool noValves = m_session.valves().empty();
    m_byNumber->setVisible(!noValves);
    const std::vector<Round> rounds = roundsInOrder();
    m_title->setText(rounds.empty() ? tr("No round is planned") : tr("Which round?"));
    setNote(m_empty, NoteKind::Quiet,
            noValves ? tr("The project has no valves yet. Import them at the yard; then draw up a "
                          "round there.")
            : rounds.empty()
                ? tr("Draw one up at the yard, or record a single valve here by its number.")
                : QString());
    for (const Round &round : rounds) {
        const auto entries = stopEntries(m_session, round);
        const auto done = std::ranges::count(entries, StopState::Done, &StopEntry::state);
        const QString day =
            round.date == m_session.today() ? tr("Today") : round.date.toString(Qt::ISODate);
        auto *row = m_list->addRow(tr("%1, %2").arg(day, round.crew),
                                   tr("%n stops, ", nullptr, static_cast<int>(round.stops.size())) +
                                       tr("%1 done, %2").arg(done).arg(wordFor(round.state)));
        row->setObjectName(QStringLiteral("round-%1").arg(m_list->rows().size()));
        row->setMark(markFor(round.state == RoundState::Finished   ? StopState::Done
                             : round.state == RoundState::UnderWay ? StopState::HalfTyped
                                                                   : StopState::Waiting));
        connect(row, &QAbstractButton::clicked, this,
                [this, id = round.id] { Q_EMIT roundChosen(id); });
    }
}

void ChooseRoundPage::focusField()
{
    m_list->focusRow(0);
}

} // namespace keyround
