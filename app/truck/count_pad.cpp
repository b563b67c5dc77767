// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/count_pad.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/count_ring.h"

#include <QGridLayout>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

namespace keyround {

namespace {

/// Nobody taps twice within it (a quick hand needs 100 ms and more); a worn switch, or a screen
/// that sends a touch and the mouse's copy of it, does.
constexpr quint64 sameTapMilliseconds = 30;

} // namespace

CountPad::CountPad(StopDesk &desk, TurnCounter &counter, const QString &prefix, QWidget *parent)
    : QWidget(parent), m_desk(desk), m_counter(counter), m_prefix(prefix),
      m_closing(new BigButton(BigButton::Kind::Toggle, {}, this)),
      m_opening(new BigButton(BigButton::Kind::Toggle, {}, this)), m_ring(new CountRing(this)),
      m_turn(new BigButton(BigButton::Kind::Primary, tr("Count a turn"), this)),
      m_quarter(new BigButton(BigButton::Kind::Plain, tr("¼ turn"), this)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Take one back"), this))
{
    buildDirections();
    buildCounters();
    buildLayout();
    connect(&counter, &TurnCounter::counted, this, &CountPad::showForm);
    connect(&counter, &TurnCounter::passesChanged, this, &CountPad::showForm);
    connect(&counter, &TurnCounter::openChanged, this, &CountPad::showForm);
}

void CountPad::buildDirections()
{
    const auto prepare = [this](BigButton *button, const char *name, PassDirection direction) {
        button->setObjectName(m_prefix + QLatin1String(name));
        button->setSpacePresses(false);
        button->setEnterPresses(true);
        button->setFocusPolicy(Qt::TabFocus);
        button->setMark(
            [this, direction](QPainter &painter, const QRectF &where, const QColor &ink) {
                const bool clockwise =
                    keyDirection(m_desk.valve, direction) == ClosingDirection::Clockwise;
                drawTurnArrow(painter, where, clockwise, ink);
            });
        connect(button, &QAbstractButton::clicked, this,
                [this, direction] { m_counter.turnTo(direction); });
    };
    prepare(m_closing, "pass-closing", PassDirection::Closing);
    prepare(m_opening, "pass-opening", PassDirection::Opening);
}

void CountPad::buildCounters()
{
    m_turn->setObjectName(m_prefix + QStringLiteral("count-turn"));
    m_turn->setHint(tr("Space"));
    m_turn->setEnterPresses(false);
    m_turn->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    m_turn->setTextPixels(TruckScale::of(this).title * 5 / 4);
    m_turn->setMark([this](QPainter &painter, const QRectF &where, const QColor &ink) {
        const PassDirection direction = directionUnderCount(m_desk.form);
        drawTurnArrow(painter, where,
                      keyDirection(m_desk.valve, direction) == ClosingDirection::Clockwise, ink);
    });
    m_quarter->setObjectName(m_prefix + QStringLiteral("count-quarter"));
    m_quarter->setHint(tr("Q"));
    m_back->setObjectName(m_prefix + QStringLiteral("count-back"));
    m_back->setHint(tr("Backspace"));
    for (BigButton *button : {m_quarter, m_back}) {
        button->setFocusPolicy(Qt::TabFocus);
    }
    for (BigButton *button : {m_turn, m_quarter, m_back}) {
        button->setSpacePresses(false); // the pad counts it, wherever the keyboard is
        button->installEventFilter(this);
    }
    // On the way down: a tap is never lost to a hand that slides off the target.
    connect(m_turn, &QAbstractButton::pressed, this,
            [this] { m_counter.count(QuarterTurns::ofTurns(1)); });
    connect(m_quarter, &QAbstractButton::pressed, this, [this] { m_counter.count({1}); });
    connect(m_back, &QAbstractButton::pressed, this, [this] { m_counter.takeBack(); });
}

void CountPad::buildLayout()
{
    auto *layout = new QGridLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(TruckScale::of(this).gap);
    layout->addWidget(m_closing, 0, 0);
    layout->addWidget(m_opening, 0, 1, 1, 2);
    layout->addWidget(m_ring, 1, 0, 2, 1);
    layout->addWidget(m_turn, 1, 1, 1, 2);
    layout->addWidget(m_quarter, 2, 1);
    layout->addWidget(m_back, 2, 2);
    layout->setRowStretch(1, 1);
    layout->setColumnStretch(0, 10);
    layout->setColumnStretch(1, 6);
    layout->setColumnStretch(2, 6);
}

void CountPad::showForm()
{
    setEnabled(m_counter.isOpen());
    m_ring->setGoal(m_desk.baseline, m_desk.tolerance);
    showDirection();
    m_ring->setCount(countUnderWay(m_desk.form));
}

void CountPad::showDirection()
{
    const PassDirection direction = directionUnderCount(m_desk.form);
    const Valve &valve = m_desk.valve;
    const auto words = [&valve](PassDirection of) {
        return QStringLiteral("%1: %2").arg(wordFor(of), wordFor(keyDirection(valve, of)));
    };
    m_closing->setText(words(PassDirection::Closing));
    m_closing->setAccessibleName(m_closing->text());
    m_closing->setHint(tr("C"));
    m_opening->setText(words(PassDirection::Opening));
    m_opening->setAccessibleName(m_opening->text());
    m_opening->setHint(tr("O"));
    m_closing->setChecked(direction == PassDirection::Closing);
    m_opening->setChecked(direction == PassDirection::Opening);
    m_ring->setTurning(keyDirection(valve, direction) == ClosingDirection::Clockwise,
                       wordFor(direction));
    m_turn->setAccessibleDescription(words(direction));
    m_turn->update();
}

QWidget *CountPad::target() const
{
    return m_turn;
}

bool CountPad::takeKey(QKeyEvent *event)
{
    if (event->modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier)) {
        return false;
    }
    const auto once = [event](const auto &act) {
        if (!event->isAutoRepeat()) {
            act();
        }
        return true;
    };
    switch (event->key()) {
    case Qt::Key_Space:
        return once([this] { m_counter.count(QuarterTurns::ofTurns(1)); });
    case Qt::Key_Q:
        return once([this] { m_counter.count({1}); });
    case Qt::Key_Backspace:
        return once([this] { m_counter.takeBack(); });
    case Qt::Key_C:
        return once([this] { m_counter.turnTo(PassDirection::Closing); });
    case Qt::Key_O:
        return once([this] { m_counter.turnTo(PassDirection::Opening); });
    default:
        return false;
    }
}

// By the time that the screen gave the press, not by the time at which it is dealt with: two taps
// that waited behind a slow save are two.
bool CountPad::isReportedTwice(const QMouseEvent *event)
{
    const quint64 at = event->timestamp();
    const bool twice =
        at != 0 && m_lastPress != 0 && at >= m_lastPress && at - m_lastPress < sameTapMilliseconds;
    m_lastPress = at;
    return twice;
}

bool CountPad::eventFilter(QObject *watched, QEvent *event)
{
    const bool isPress =
        event->type() == QEvent::MouseButtonPress || event->type() == QEvent::MouseButtonDblClick;
    if (isPress) {
        const auto *press = static_cast<QMouseEvent *>(event);
        if (press->button() != Qt::LeftButton || isReportedTwice(press)) {
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

} // namespace keyround
