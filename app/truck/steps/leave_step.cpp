// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/leave_step.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/position/position_feed.h"
#include "app/truck/here_words.h"
#include "app/truck/standing_chooser.h"
#include "app/truck/stop_words.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPlainTextEdit>
#include <QVBoxLayout>

namespace keyround {

LeaveStep::LeaveStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_chooser(new StandingChooser(QStringLiteral("left"), this)),
      m_note(truckLabel(this)), m_backOff(truckLabel(this)), m_remarks(new QPlainTextEdit(this)),
      m_lidFix(new BigButton(BigButton::Kind::Toggle, {}, this))
{
    auto *question = truckLabel(this, TextSize::Title, true);
    question->setText(tr("How was it left?"));
    m_note->setObjectName(QStringLiteral("left-note"));
    m_remarks->setObjectName(QStringLiteral("remarks"));
    m_remarks->setAccessibleName(tr("Remarks"));
    m_remarks->setTabChangesFocus(true);
    m_remarks->setFixedHeight(TruckScale::of(this).target);
    m_remarks->installEventFilter(this);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(TruckScale::of(this).gap);
    layout->addWidget(question);
    layout->addWidget(m_chooser);
    layout->addWidget(m_note);
    layout->addWidget(m_backOff);
    m_backOff->setObjectName(QStringLiteral("back-off"));
    auto *words = truckLabel(this, TextSize::Small);
    words->setText(tr("Remarks, if any (Shift and Enter for a new line)"));
    layout->addWidget(words);
    m_lidFix->setObjectName(QStringLiteral("lid-fix"));
    m_lidFix->setHint(tr("key 5"));
    auto *last = new QHBoxLayout;
    last->setSpacing(TruckScale::of(this).gap);
    last->addWidget(m_remarks, 3);
    last->addWidget(m_lidFix, 2);
    layout->addLayout(last);
    connect(m_lidFix, &QAbstractButton::clicked, this, &LeaveStep::toggleLidFix);
    connect(&desk.session.positions(), &PositionFeed::changed, this, [this] {
        if (isVisible() && this->desk().session.isOpen()) {
            showLidFix();
        }
    });
    layout->addStretch();
    connect(m_chooser, &StandingChooser::chosen, this, [this](Position position) {
        form().left = position;
        load();
        Q_EMIT edited();
    });
    connect(m_chooser, &StandingChooser::turnsEdited, this, [this](const QString &text) {
        form().leftTurns = text;
        Q_EMIT edited();
    });
    connect(m_remarks, &QPlainTextEdit::textChanged, this, [this] {
        if (m_remarks->toPlainText() != form().remarks) {
            form().remarks = m_remarks->toPlainText();
            Q_EMIT edited();
        }
    });
}

void LeaveStep::showLidFix()
{
    const auto &taken = form().lidFix;
    const bool can = lidFixNow(desk().session).has_value();
    m_lidFix->setText(taken
                          ? tr("The lid: %1").arg(lidFixWords(desk().session, desk().valve, *taken))
                      : can ? tr("The receiver is over the lid: take its place")
                            : tr("No current position for the lid"));
    m_lidFix->setAccessibleName(m_lidFix->text());
    m_lidFix->setChecked(taken.has_value());
    m_lidFix->setEnabled(taken || can);
}

void LeaveStep::toggleLidFix()
{
    form().lidFix = form().lidFix ? std::nullopt : lidFixNow(desk().session);
    showLidFix();
    Q_EMIT edited();
}

void LeaveStep::load()
{
    showLidFix();
    m_chooser->show(form().left, form().leftTurns);
    if (m_remarks->toPlainText() != form().remarks) {
        m_remarks->setPlainText(form().remarks);
    }
    const Valve &valve = desk().valve;
    const QString normal = wordFor(valve.normally);
    setNote(m_backOff, NoteKind::Quiet, backOffWords(desk()));
    if (leavesOtherThanNormal(form(), valve)) {
        const QString left = standingSaid(standingFrom(form().left, form().leftTurns));
        setNote(m_note, NoteKind::Danger,
                tr("Normally %1, left %2: this will stand on every screen, with the name %3 and "
                   "the time, until somebody records it back in its normal position.")
                    .arg(normal, left, desk().session.author().person));
    } else if (form().left && *form().left != Position::NotSeen) {
        setNote(m_note, NoteKind::Quiet, tr("That is its normal position."));
    } else {
        setNote(m_note, NoteKind::Quiet, tr("Normally it stands %1.").arg(normal));
    }
}

QWidget *LeaveStep::firstField()
{
    return m_chooser->firstField();
}

bool LeaveStep::takeKey(QKeyEvent *event)
{
    if (event->key() == Qt::Key_5 && !event->isAutoRepeat() && m_lidFix->isEnabled()) {
        m_lidFix->click();
        return true;
    }
    return m_chooser->takeKey(event);
}

bool LeaveStep::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_remarks && event->type() == QEvent::KeyPress) {
        auto *key = static_cast<QKeyEvent *>(event);
        const bool enter = key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter;
        if (enter && !key->modifiers().testFlag(Qt::ShiftModifier)) {
            if (!key->isAutoRepeat()) {
                Q_EMIT nextAsked();
            }
            return true;
        }
    }
    return Step::eventFilter(watched, event);
}

} // namespace keyround
