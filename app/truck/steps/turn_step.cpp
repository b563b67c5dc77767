// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/turn_step.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/count_pad.h"
#include "app/truck/pass_list.h"
#include "app/truck/typed_line.h"
#include "core/inventory/value_parsers.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>

#include <array>
#include <utility>

namespace keyround {

TurnStep::TurnStep(StopDesk &desk, TurnCounter &counter, QWidget *parent)
    : Step(desk, parent), m_pad(new CountPad(desk, counter, {}, this)),
      m_passes(new PassList(this)), m_elapsed(truckLabel(this, TextSize::Normal, true)),
      m_noPasses(truckLabel(this, TextSize::Small)),
      m_typeCount(new BigButton(BigButton::Kind::Plain, tr("Type a number"), this)),
      m_typeTorque(new BigButton(BigButton::Kind::Plain, tr("Torque"), this)),
      m_window(new BigButton(BigButton::Kind::Plain, tr("Counting window"), this)),
      m_count(new TypedLine(
          QStringLiteral("typed-count"), tr("Turns. Enter takes it, Escape drops it."),
          [](const QString &text) {
              const auto read = parseTurns(text);
              return read ? QString() : read.error().message;
          },
          this)),
      m_torque(new TypedLine(
          QStringLiteral("typed-torque"), tr("Torque. Enter takes it, Escape drops it."),
          [this](const QString &text) {
              const auto read = parseTorque(text, torqueUnit());
              return read ? QString() : read.error().message;
          },
          this))
{
    buildTyping();
    buildLayout();
    connect(&counter, &TurnCounter::passesChanged, this, [this] {
        load();
        if (isVisible() && isActiveWindow()) {
            m_pad->target()->setFocus();
        }
    });
    connect(&counter, &TurnCounter::counted, this, &TurnStep::showCount);
    connect(m_passes, &PassList::removeAsked, this, &TurnStep::remove);
    constexpr int second = 1000;
    m_tick.setInterval(second);
    connect(&m_tick, &QTimer::timeout, this, &TurnStep::showElapsed);
}

TorqueUnit TurnStep::torqueUnit() const
{
    return desk().session.isOpen() ? desk().session.settings().truckHabits.torqueUnit
                                   : TorqueUnit::FootPounds;
}

void TurnStep::buildTyping()
{
    const auto prepare = [](BigButton *button, const char *name, const QString &key) {
        button->setObjectName(QLatin1String(name));
        button->setHint(key);
        button->setSpacePresses(false);
        button->setFocusPolicy(Qt::TabFocus);
    };
    prepare(m_typeCount, "type-count", tr("#"));
    prepare(m_typeTorque, "type-torque", tr("T"));
    prepare(m_window, "open-count-window", tr("W"));
    connect(m_typeCount, &QAbstractButton::clicked, this, [this] { setTyping(Typing::Count); });
    connect(m_typeTorque, &QAbstractButton::clicked, this, [this] { setTyping(Typing::Torque); });
    connect(m_window, &QAbstractButton::clicked, this, &TurnStep::windowAsked);
    connect(m_count, &TypedLine::edited, this, [this](const QString &text) {
        form().typed = text;
        Q_EMIT edited();
    });
    connect(m_torque, &TypedLine::edited, this, [this](const QString &text) {
        form().typedTorque = text;
        Q_EMIT edited();
    });
    connect(m_count, &TypedLine::taken, this, &TurnStep::takeCount);
    connect(m_torque, &TypedLine::taken, this, &TurnStep::takeTorque);
    for (TypedLine *line : {m_count, m_torque}) {
        connect(line, &TypedLine::dropped, this, [this] { setTyping(Typing::Nothing); });
        line->hide();
    }
}

QWidget *TurnStep::buildSide()
{
    const int gap = TruckScale::of(this).gap;
    m_elapsed->setObjectName(QStringLiteral("elapsed"));
    m_elapsed->setWordWrap(false);
    m_noPasses->setText(tr("No turn counted yet. One closing and one opening pass make a full "
                           "cycle."));
    auto *side = new QWidget(this);
    auto *column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(gap);
    column->addWidget(m_elapsed);
    column->addWidget(m_noPasses);
    column->addWidget(m_passes, 1);
    column->addStretch();
    auto *typing = new QHBoxLayout;
    typing->setSpacing(gap);
    typing->addWidget(m_typeCount, 1);
    typing->addWidget(m_typeTorque, 1);
    column->addLayout(typing);
    column->addWidget(m_window);
    column->addWidget(m_count);
    column->addWidget(m_torque);
    return side;
}

void TurnStep::buildLayout()
{
    auto *columns = new QHBoxLayout(this);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(TruckScale::of(this).gap);
    columns->addWidget(m_pad, 22);
    columns->addWidget(buildSide(), 9);
}

void TurnStep::load()
{
    m_count->setText(form().typed);
    m_torque->setText(form().typedTorque);
    // What is typed, and what is wrong with it, take the list's room.
    const bool typing = form().typing || form().typingTorque;
    const std::array<std::pair<QWidget *, bool>, 7> parts{
        {{m_passes, !typing && !form().passes.empty()},
         {m_noPasses, !typing && form().passes.empty()},
         {m_typeCount, !typing},
         {m_typeTorque, !typing},
         {m_window, !typing},
         {m_count, form().typing},
         {m_torque, form().typingTorque}}};
    // What goes goes first: together with what comes it would push the window larger.
    for (const bool shown : {false, true}) {
        for (const auto &[part, isShown] : parts) {
            if (isShown == shown) {
                part->setVisible(shown);
            }
        }
    }
    m_typeTorque->setEnabled(!form().passes.empty());
    m_passes->show(form(), torqueUnit());
    m_pad->showForm();
    showElapsed();
}

void TurnStep::showCount()
{
    const bool first = m_noPasses->isVisibleTo(this) && !form().passes.empty();
    if (first) {
        load();
        return;
    }
    m_passes->showLast(form(), torqueUnit());
    showElapsed();
}

void TurnStep::showElapsed()
{
    if (form().passes.empty() || form().passes.back().begun.isNull()) {
        m_elapsed->setText(tr("Passes"));
        return;
    }
    const std::int64_t since =
        desk().session.now().utcMilliseconds - form().passes.back().begun.utcMilliseconds;
    m_elapsed->setText(since < 0 ? tr("Passes")
                                 : tr("This pass: %1:%2")
                                       .arg(since / 60000)
                                       .arg(since / 1000 % 60, 2, 10, QLatin1Char('0')));
}

void TurnStep::showEvent(QShowEvent *event)
{
    Step::showEvent(event);
    m_tick.start();
}

void TurnStep::hideEvent(QHideEvent *event)
{
    m_tick.stop();
    Step::hideEvent(event);
}

void TurnStep::remove(std::size_t index)
{
    removePass(form(), index);
    load();
    m_pad->target()->setFocus();
    Q_EMIT edited();
}

void TurnStep::setTyping(Typing what)
{
    if (what == Typing::Torque && form().passes.empty()) {
        return; // a torque belongs to a pass
    }
    form().typing = what == Typing::Count;
    form().typingTorque = what == Typing::Torque;
    if (!form().typing) {
        form().typed.clear();
    }
    if (!form().typingTorque) {
        form().typedTorque.clear();
    }
    load();
    firstField()->setFocus();
    Q_EMIT edited();
}

void TurnStep::takeCount()
{
    const auto turns = parseTurns(m_count->text());
    if (!turns) {
        m_count->showRefusal(turns.error().message);
        return;
    }
    if (*turns) {
        setCount(form(), **turns);
    }
    setTyping(Typing::Nothing);
}

void TurnStep::takeTorque()
{
    const auto torque = parseTorque(m_torque->text(), torqueUnit());
    if (!torque) {
        m_torque->showRefusal(torque.error().message);
        return;
    }
    form().passes.back().torque = *torque; // an empty line takes the reading back
    const bool isMuch = *torque && isMoreThanStopsBear(**torque);
    setTyping(Typing::Nothing);
    if (isMuch) {
        Q_EMIT desk().session.notifier().said(
            tr("%1: more than the 450 ft-lb that the stops of many operators are made for. Use the "
               "least force that moves it.")
                .arg(torqueText(**torque, torqueUnit())));
    }
}

QString TurnStep::nextWords() const
{
    return tr("Next: judge the count");
}

QWidget *TurnStep::firstField()
{
    if (form().typing) {
        return m_count->edit();
    }
    return form().typingTorque ? static_cast<QWidget *>(m_torque->edit()) : m_pad->target();
}

bool TurnStep::takeKey(QKeyEvent *event)
{
    if (m_pad->takeKey(event)) {
        return true;
    }
    const bool plain = !(event->modifiers() & (Qt::ControlModifier | Qt::AltModifier));
    if (event->isAutoRepeat() || !plain) {
        return false;
    }
    switch (event->key()) {
    case Qt::Key_NumberSign:
        setTyping(Typing::Count);
        return true;
    case Qt::Key_T:
        setTyping(Typing::Torque);
        return true;
    case Qt::Key_W:
        Q_EMIT windowAsked();
        return true;
    default:
        return false;
    }
}

} // namespace keyround
