// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/turn_step.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/count_ring.h"
#include "app/truck/turns_line.h"

#include <QGridLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPainter>
#include <QScrollArea>

namespace keyround {

TurnStep::TurnStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_closing(new BigButton(BigButton::Kind::Toggle, {}, this)),
      m_opening(new BigButton(BigButton::Kind::Toggle, {}, this)), m_ring(new CountRing(this)),
      m_turn(new BigButton(BigButton::Kind::Primary, tr("Count a turn"), this)),
      m_quarter(new BigButton(BigButton::Kind::Plain, tr("¼ turn"), this)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Take one back"), this)),
      m_type(new BigButton(BigButton::Kind::Plain, tr("Type a number"), this)),
      m_typed(new TurnsLine(QStringLiteral("typed-count"), tr("Enter takes it, Escape drops it."),
                            TurnsLine::Message::Above, this)),
      m_noPasses(truckLabel(this, TextSize::Small)), m_passes(new QWidget(this)),
      m_passRows(new QVBoxLayout(m_passes))
{
    buildDirections();
    buildCounters();
    buildTyping();
    buildLayout();
}

void TurnStep::buildDirections()
{
    const auto prepare = [this](BigButton *button, const char *name, PassDirection direction) {
        button->setObjectName(QLatin1String(name));
        button->setSpacePresses(false);
        button->setEnterPresses(true);
        button->setFocusPolicy(Qt::TabFocus);
        button->setMark(
            [this, direction](QPainter &painter, const QRectF &where, const QColor &ink) {
                const bool clockwise =
                    keyDirection(desk().valve, direction) == ClosingDirection::Clockwise;
                drawTurnArrow(painter, where, clockwise, ink);
            });
        connect(button, &QAbstractButton::clicked, this, [this, direction] { turnTo(direction); });
    };
    prepare(m_closing, "pass-closing", PassDirection::Closing);
    prepare(m_opening, "pass-opening", PassDirection::Opening);
}

void TurnStep::buildCounters()
{
    m_turn->setObjectName(QStringLiteral("count-turn"));
    m_turn->setHint(tr("Space"));
    m_turn->setSpacePresses(false); // the step counts it, wherever the keyboard is
    m_turn->setEnterPresses(false);
    m_turn->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    m_turn->setTextPixels(TruckScale::of(this).title * 5 / 4);
    m_turn->setMark([this](QPainter &painter, const QRectF &where, const QColor &ink) {
        const PassDirection direction = directionUnderCount(form());
        drawTurnArrow(painter, where,
                      keyDirection(desk().valve, direction) == ClosingDirection::Clockwise, ink);
    });
    m_quarter->setObjectName(QStringLiteral("count-quarter"));
    m_quarter->setHint(tr("Q"));
    m_back->setObjectName(QStringLiteral("count-back"));
    m_back->setHint(tr("Backspace"));
    for (BigButton *button : {m_quarter, m_back, m_type}) {
        button->setSpacePresses(false);
        button->setFocusPolicy(Qt::TabFocus);
    }
    // On the way down: a tap is never lost to a hand that slides off the target.
    connect(m_turn, &QAbstractButton::pressed, this, [this] { count(QuarterTurns::ofTurns(1)); });
    connect(m_quarter, &QAbstractButton::pressed, this, [this] { count(QuarterTurns{1}); });
    connect(m_back, &QAbstractButton::pressed, this, &TurnStep::takeBack);
}

void TurnStep::buildTyping()
{
    m_type->setObjectName(QStringLiteral("type-count"));
    m_type->setHint(tr("#"));
    connect(m_type, &QAbstractButton::clicked, this, &TurnStep::openTyping);
    connect(m_typed, &TurnsLine::edited, this, [this](const QString &text) {
        form().typed = text;
        Q_EMIT edited();
    });
    m_typed->edit()->installEventFilter(this);
    m_typed->hide();
}

void TurnStep::buildLayout()
{
    const int gap = TruckScale::of(this).gap;
    m_passRows->setContentsMargins(0, 0, 0, 0);
    m_passRows->setSpacing(gap);
    m_noPasses->setText(tr("No turn counted yet. One closing and one opening pass make a full "
                           "cycle."));
    auto *list = new QScrollArea(this);
    m_list = list;
    list->setWidgetResizable(true);
    list->setFrameShape(QFrame::NoFrame);
    list->setFocusPolicy(Qt::NoFocus);
    list->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list->setWidget(m_passes);
    auto *passHeading = truckLabel(this, TextSize::Normal, true);
    passHeading->setText(tr("Passes"));

    auto *side = new QWidget(this);
    auto *right = new QVBoxLayout(side);
    right->setContentsMargins(0, 0, 0, 0);
    right->setSpacing(gap);
    right->addWidget(passHeading);
    right->addWidget(m_noPasses);
    right->addWidget(list, 1);
    right->addStretch();
    right->addWidget(m_type);
    right->addWidget(m_typed);

    auto *layout = new QGridLayout;
    layout->setSpacing(gap);
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
    auto *columns = new QHBoxLayout(this);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(gap);
    columns->addLayout(layout, 22);
    columns->addWidget(side, 9);
}

void TurnStep::load()
{
    m_ring->setGoal(desk().baseline, desk().tolerance);
    if (m_typed->text() != form().typed) {
        m_typed->setText(form().typed);
    }
    // The typed number and what is wrong with it take the list's room.
    m_list->setVisible(!form().typing);
    m_type->setVisible(!form().typing);
    m_typed->setVisible(form().typing);
    showPasses();
    showCount();
}

void TurnStep::showCount()
{
    showDirection();
    m_ring->setCount(countUnderWay(form()));
    // The list ends with the pass under count and a stretch.
    if (!form().passes.empty() &&
        m_passRows->count() == static_cast<int>(form().passes.size()) + 1) {
        const std::size_t last = form().passes.size() - 1;
        auto *row = m_passRows->itemAt(static_cast<int>(last))->widget();
        auto *words = row->findChild<QLabel *>(QStringLiteral("pass-words"));
        words->setText(
            tr("%1. %2 %3")
                .arg(last + 1)
                .arg(wordFor(form().passes[last].direction), turnsText(form().passes[last].turns)));
        return;
    }
    showPasses();
}

void TurnStep::showDirection()
{
    const PassDirection direction = directionUnderCount(form());
    const Valve &valve = desk().valve;
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

void TurnStep::showPasses()
{
    while (QLayoutItem *item = m_passRows->takeAt(0)) {
        if (QWidget *row = item->widget()) {
            row->hide(); // by word: the layout would show an orphan later, as a window of its own
            row->setParent(nullptr);
            row->deleteLater(); // the row's own button may be what is being pressed
        }
        delete item;
    }
    const int gap = TruckScale::of(this).gap;
    for (std::size_t i = 0; i < form().passes.size(); ++i) {
        const CountedPass &pass = form().passes[i];
        auto *row = new QWidget(m_passes);
        auto *words = truckLabel(row, TextSize::Normal);
        words->setObjectName(QStringLiteral("pass-words"));
        words->setText(
            tr("%1. %2 %3").arg(i + 1).arg(wordFor(pass.direction), turnsText(pass.turns)));
        auto *remove = new BigButton(BigButton::Kind::Plain, tr("Remove"), row);
        remove->setObjectName(QStringLiteral("remove-pass-%1").arg(i + 1));
        remove->setAccessibleName(tr("Remove pass %1").arg(i + 1));
        remove->setSpacePresses(false);
        remove->setFocusPolicy(Qt::TabFocus);
        remove->setFixedWidth(TruckScale::of(this).target * 3 / 2);
        connect(remove, &QAbstractButton::clicked, this, [this, i] {
            removePass(form(), i);
            load();
            m_turn->setFocus();
            Q_EMIT edited();
        });
        auto *line = new QHBoxLayout(row);
        line->setContentsMargins(0, 0, 0, 0);
        line->setSpacing(gap);
        line->addWidget(words, 1);
        line->addWidget(remove);
        m_passRows->addWidget(row, 0, Qt::AlignTop);
        row->show();
    }
    m_passRows->addStretch();
    m_noPasses->setVisible(form().passes.empty() && !form().typing);
}

void TurnStep::count(QuarterTurns tapped)
{
    countTurns(form(), tapped);
    showCount();
    Q_EMIT edited();
}

void TurnStep::takeBack()
{
    takeOneBack(form());
    showCount();
    Q_EMIT edited();
}

void TurnStep::turnTo(PassDirection direction)
{
    beginPass(form(), direction);
    load();
    m_turn->setFocus();
    Q_EMIT edited();
}

void TurnStep::openTyping()
{
    form().typing = true;
    load();
    m_typed->edit()->setFocus();
    Q_EMIT edited();
}

void TurnStep::closeTyping()
{
    form().typing = false;
    form().typed.clear();
    load();
    m_turn->setFocus();
    Q_EMIT edited();
}

void TurnStep::takeTyped()
{
    const auto typed = m_typed->read();
    if (!typed) {
        m_typed->showRefusal(typed.error().message);
        return;
    }
    if (*typed) {
        setCount(form(), **typed);
    }
    closeTyping();
}

QString TurnStep::nextWords() const
{
    return tr("Next: judge the count");
}

QWidget *TurnStep::firstField()
{
    return form().typing ? static_cast<QWidget *>(m_typed->edit()) : m_turn;
}

bool TurnStep::takeKey(QKeyEvent *event)
{
    switch (event->key()) {
    case Qt::Key_Space:
    case Qt::Key_Q:
        if (!event->isAutoRepeat()) {
            count(event->key() == Qt::Key_Space ? QuarterTurns::ofTurns(1) : QuarterTurns{1});
        }
        return true;
    case Qt::Key_Backspace:
        if (!event->isAutoRepeat()) {
            takeBack();
        }
        return true;
    case Qt::Key_C:
        turnTo(PassDirection::Closing);
        return true;
    case Qt::Key_O:
        turnTo(PassDirection::Opening);
        return true;
    case Qt::Key_NumberSign:
        openTyping();
        return true;
    default:
        return false;
    }
}

bool TurnStep::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_typed->edit() && event->type() == QEvent::KeyPress) {
        const int key = static_cast<QKeyEvent *>(event)->key();
        if (key == Qt::Key_Return || key == Qt::Key_Enter) {
            takeTyped();
            return true;
        }
        if (key == Qt::Key_Escape) {
            closeTyping();
            return true;
        }
    }
    return Step::eventFilter(watched, event);
}

} // namespace keyround
