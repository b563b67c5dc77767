// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/set_up_card.h"

#include "app/commands/work_zone.h"
#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/print/zone_files.h"
#include "app/shell/style.h"
#include "core/workzone/set_up_words.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPainter>
#include <QScrollArea>

namespace keyround {

namespace {

QString countWords(const SetUp &setUp)
{
    return QObject::tr("%1 cones   %2 signs   %3 flaggers   %4 people   up in %5 min")
        .arg(setUp.cones)
        .arg(setUp.signs.size())
        .arg(setUp.flaggers)
        .arg(setUp.people)
        .arg(setUp.setUpMinutes, 0, 'f', 0);
}

QString lineWords(const SetUp &setUp, UnitSystem units)
{
    QStringList lines;
    for (const SetUpLine &line : linesOf(setUp, units)) {
        lines << QStringLiteral("%1: %2").arg(line.what, line.amount);
    }
    return lines.join(QLatin1Char('\n'));
}

} // namespace

ZoneView::ZoneView(QWidget *parent) : QWidget(parent)
{
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    setAccessibleName(tr("Drawing of the set-up"));
    setObjectName(QStringLiteral("zone-view"));
}

void ZoneView::show(std::optional<ZoneDrawing> drawing)
{
    m_drawing = std::move(drawing);
    update();
}

void ZoneView::paintEvent(QPaintEvent *)
{
    QPainter painter(this);
    if (m_drawing) {
        QFont font = painter.font();
        font.setPixelSize(std::max(12, TruckScale::of(this).text / 2 + 1));
        painter.setFont(font);
        paintZone(painter, rect(), *m_drawing);
        painter.setPen(QPen(TruckColours::of(this).rule, 1));
        painter.drawRect(rect().adjusted(0, 0, -1, -1));
    }
}

SetUpCard::SetUpCard(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_headline(truckLabel(this, TextSize::Normal, true)),
      m_counts(truckLabel(this, TextSize::Normal, true)), m_changed(truckLabel(this)),
      m_lines(truckLabel(this, TextSize::Small)), m_notes(truckLabel(this, TextSize::Small)),
      m_view(new ZoneView(this)),
      m_up(new BigButton(BigButton::Kind::Toggle, tr("It stands"), this)),
      m_change(new BigButton(BigButton::Kind::Plain, tr("Change it"), this)),
      m_again(new BigButton(BigButton::Kind::Plain, tr("Answer again"), this))
{
    const int gap = TruckScale::of(this).gap;
    m_headline->setObjectName(QStringLiteral("zone-headline"));
    m_counts->setObjectName(QStringLiteral("zone-counts"));
    m_lines->setObjectName(QStringLiteral("zone-lines"));
    m_notes->setObjectName(QStringLiteral("zone-notes"));
    m_changed->setObjectName(QStringLiteral("zone-changed"));
    const auto prepare = [](BigButton *button, const char *name, const QString &key) {
        button->setObjectName(QLatin1String(name));
        button->setHint(key);
        button->setTargetMillimetres(40, 20);
    };
    prepare(m_up, "zone-up", tr("key 1"));
    prepare(m_change, "zone-change", tr("key 2"));
    prepare(m_again, "zone-again", tr("key 3"));
    auto *inner = new QWidget;
    auto *words = new QVBoxLayout(inner);
    words->setContentsMargins(0, 0, gap * 2 + 2, 0); // room for the scroll bar
    words->setSpacing(gap / 2);
    for (QLabel *label : {m_changed, m_lines, m_notes}) {
        words->addWidget(label);
    }
    words->addStretch();
    auto *scroll = new QScrollArea(this);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setFocusPolicy(Qt::TabFocus);
    scroll->setAccessibleName(tr("The set-up in figures"));
    scroll->setWidget(inner);
    auto *middle = new QHBoxLayout;
    middle->setSpacing(gap);
    middle->addWidget(scroll, 2);
    middle->addWidget(m_view, 3);
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    for (BigButton *button : {m_up, m_change, m_again}) {
        foot->addWidget(button);
    }
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap / 2);
    layout->addWidget(m_headline);
    layout->addWidget(m_counts);
    layout->addLayout(middle, 1);
    layout->addLayout(foot);
    connect(m_up, &QAbstractButton::clicked, this,
            [this] { Q_EMIT setUpTicked(m_up->isChecked()); });
    connect(m_change, &QAbstractButton::clicked, this, &SetUpCard::changeAsked);
    connect(m_again, &QAbstractButton::clicked, this, &SetUpCard::askAgainAsked);
}

void SetUpCard::show(const Valve &valve, bool isSetUp)
{
    const Result<SetUp> setUp = setUpFor(m_session, valve);
    m_up->setChecked(isSetUp);
    m_change->setEnabled(setUp.has_value());
    if (!setUp) {
        m_headline->setText(tr("No set-up is offered here"));
        m_counts->clear();
        setNote(m_changed, NoteKind::Attention, setUp.error().message);
        m_lines->clear();
        m_notes->setText(tr("The road authority's rules, the permit and the person on site "
                            "decide."));
        m_view->show({});
        return;
    }
    m_headline->setText(tr("%1. Offered, not certified: %2.").arg(headlineOf(*setUp), setUp->why));
    m_counts->setText(countWords(*setUp));
    setNote(m_changed, NoteKind::Attention, changeWords(*setUp).join(QLatin1Char('\n')));
    m_lines->setText(lineWords(*setUp, m_session.units()));
    m_notes->setText((setUp->cautions + setUp->doubts).join(QLatin1Char('\n')));
    m_view->show(zoneDrawingOf(m_session, valve, *setUp));
}

QWidget *SetUpCard::firstField() const
{
    return m_up;
}

bool SetUpCard::takeKey(QKeyEvent *event)
{
    if (event->isAutoRepeat()) {
        return false;
    }
    for (const auto &[key, button] : {std::pair{Qt::Key_1, m_up}, std::pair{Qt::Key_2, m_change},
                                      std::pair{Qt::Key_3, m_again}}) {
        if (event->key() == key) {
            button->click();
            return true;
        }
    }
    return false;
}

} // namespace keyround
