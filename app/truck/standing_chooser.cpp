// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/standing_chooser.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/turns_line.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPainter>
#include <QPainterPath>

namespace keyround {

namespace {

struct Choice
{
    Position position;
    const char *name;
};
constexpr std::array<Choice, 4> choices{{{Position::Open, "open"},
                                         {Position::Closed, "closed"},
                                         {Position::PartOpen, "part-open"},
                                         {Position::NotSeen, "not-seen"}}};

QString wordsOf(Position position)
{
    switch (position) {
    case Position::Open:
        return QObject::tr("Open");
    case Position::Closed:
        return QObject::tr("Closed");
    case Position::PartOpen:
        return QObject::tr("Part open");
    case Position::NotSeen:
        break;
    }
    return QObject::tr("Not seen");
}

void drawStanding(QPainter &painter, const QRectF &where, const QColor &ink, Position position)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(ink, 2.5));
    const QPointF centre = where.center();
    if (position == Position::NotSeen) {
        QFont font = painter.font();
        font.setPixelSize(static_cast<int>(where.height() * 0.8));
        font.setBold(true);
        painter.setFont(font);
        painter.drawText(where, Qt::AlignCenter, QStringLiteral("?"));
        painter.restore();
        return;
    }
    const double half = where.width() * 0.45;
    const double high = where.height() * 0.3;
    const auto wing = [&](double side) {
        QPainterPath path(centre);
        path.lineTo(centre.x() + side * half, centre.y() - high);
        path.lineTo(centre.x() + side * half, centre.y() + high);
        path.closeSubpath();
        return path;
    };
    painter.setBrush(position == Position::Open ? QBrush(Qt::NoBrush) : QBrush(ink));
    painter.drawPath(wing(-1));
    painter.setBrush(position == Position::Closed ? QBrush(ink) : QBrush(Qt::NoBrush));
    painter.drawPath(wing(1));
    painter.restore();
}

} // namespace

StandingChooser::StandingChooser(const QString &prefix, QWidget *parent)
    : QWidget(parent),
      m_turns(new TurnsLine(prefix + QStringLiteral("-turns"),
                            tr("Turns from closed, if they are known: 6, 6.5 or 6 1/2."), this))
{
    const int gap = TruckScale::of(this).gap;
    auto *row = new QHBoxLayout;
    row->setSpacing(gap);
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const Position position = choices[i].position;
        auto *button = new BigButton(BigButton::Kind::Toggle, wordsOf(position), this);
        button->setObjectName(prefix + QLatin1Char('-') + QLatin1String(choices[i].name));
        button->setHint(tr("key %1").arg(i + 1));
        button->setTargetMillimetres(45, 26);
        button->setMark([position](QPainter &painter, const QRectF &where, const QColor &ink) {
            drawStanding(painter, where, ink, position);
        });
        connect(button, &QAbstractButton::clicked, this,
                [this, position] { Q_EMIT chosen(position); });
        row->addWidget(button);
        m_buttons[i] = button;
    }
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap);
    layout->addLayout(row);
    layout->addWidget(m_turns);
    connect(m_turns, &TurnsLine::edited, this, &StandingChooser::turnsEdited);
}

void StandingChooser::show(const std::optional<Position> &position, const QString &turns)
{
    for (std::size_t i = 0; i < choices.size(); ++i) {
        m_buttons[i]->setChecked(position == choices[i].position);
    }
    m_turns->setVisible(position == Position::PartOpen);
    m_turns->setText(turns);
}

QWidget *StandingChooser::firstField() const
{
    for (BigButton *button : m_buttons) {
        if (button->isChecked()) {
            return button;
        }
    }
    return m_buttons.front();
}

bool StandingChooser::takeKey(QKeyEvent *event)
{
    const int index = event->key() - Qt::Key_1;
    if (event->isAutoRepeat() || index < 0 || index >= static_cast<int>(choices.size())) {
        return false;
    }
    const auto at = static_cast<std::size_t>(index);
    m_buttons[at]->setFocus();
    Q_EMIT chosen(choices[at].position);
    if (choices[at].position == Position::PartOpen) {
        m_turns->edit()->setFocus();
    }
    return true;
}

} // namespace keyround
