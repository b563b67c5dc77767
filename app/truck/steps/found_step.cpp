// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/found_step.h"

#include "app/dialogs/truck_look.h"
#include "app/truck/standing_chooser.h"

#include <QLabel>
#include <QVBoxLayout>

namespace keyround {

FoundStep::FoundStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_chooser(new StandingChooser(QStringLiteral("found"), this)),
      m_note(truckLabel(this))
{
    auto *question = truckLabel(this, TextSize::Title, true);
    question->setText(tr("How was it found?"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(TruckScale::of(this).gap);
    layout->addWidget(question);
    layout->addWidget(m_chooser);
    layout->addWidget(m_note);
    layout->addStretch();
    connect(m_chooser, &StandingChooser::chosen, this, [this](Position position) {
        form().found = position;
        load();
        Q_EMIT edited();
    });
    connect(m_chooser, &StandingChooser::turnsEdited, this, [this](const QString &text) {
        form().foundTurns = text;
        Q_EMIT edited();
    });
}

void FoundStep::load()
{
    m_chooser->show(form().found, form().foundTurns);
    const Valve &valve = desk().valve;
    QString note;
    const bool normallyOpen = valve.normally == NormalPosition::Open;
    if (form().found && *form().found != Position::NotSeen &&
        *form().found != (normallyOpen ? Position::Open : Position::Closed)) {
        note = tr("It should be %1. Before it is moved, ask who set it so and why: a closed valve "
                  "may keep two zones apart or hold water from a repair.")
                   .arg(wordFor(valve.normally));
    } else if (form().found == Position::NotSeen) {
        note = tr("Then there is nothing to turn: go on and say what kept you from it.");
    }
    setNote(m_note, NoteKind::Attention, note);
}

QString FoundStep::nextWords() const
{
    return form().found == Position::NotSeen ? tr("Next: what kept you from it?")
                                             : tr("Next: turn it");
}

QWidget *FoundStep::firstField()
{
    return m_chooser->firstField();
}

bool FoundStep::takeKey(QKeyEvent *event)
{
    return m_chooser->takeKey(event);
}

} // namespace keyround
