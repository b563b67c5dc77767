// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/site_asker.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/turns_line.h"

#include <QGridLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

#include <cmath>

namespace keyround {

namespace {

constexpr int columns = 5;

bool isSame(double a, const std::optional<double> &b)
{
    return b && std::abs(a - *b) < 0.05; // an answer of km/h or m is no round number inside
}

} // namespace

SiteAsker::SiteAsker(QWidget *parent)
    : QWidget(parent), m_question(truckLabel(this, TextSize::Title, true)),
      m_about(truckLabel(this, TextSize::Small)), m_grid(new QGridLayout),
      m_typing(new QWidget(this)), m_edit(new QLineEdit(m_typing)), m_message(truckLabel(this)),
      m_keep(new BigButton(BigButton::Kind::Plain, tr("As it is"), this))
{
    const TruckScale scale = TruckScale::of(this);
    m_question->setObjectName(QStringLiteral("site-question"));
    m_about->setObjectName(QStringLiteral("site-about"));
    m_message->setObjectName(QStringLiteral("site-message"));
    m_edit->setObjectName(QStringLiteral("site-typed"));
    m_edit->setMinimumHeight(scale.target);
    m_edit->setFont(truckFont(this, TextSize::Title));
    m_keep->setObjectName(QStringLiteral("site-keep"));
    m_keep->setHint(tr("A"));
    m_grid->setSpacing(scale.gap);
    auto *typing = new QHBoxLayout(m_typing);
    typing->setContentsMargins(0, 0, 0, 0);
    typing->setSpacing(scale.gap);
    auto *other = truckLabel(m_typing);
    other->setText(tr("Another number:"));
    typing->addWidget(other);
    typing->addWidget(m_edit, 1);
    auto *foot = new QHBoxLayout;
    foot->setSpacing(scale.gap);
    foot->addWidget(m_typing, 2);
    foot->addWidget(m_keep, 1);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(scale.gap);
    layout->addWidget(m_question);
    layout->addLayout(m_grid);
    layout->addLayout(foot);
    layout->addWidget(m_message);
    layout->addWidget(m_about);
    layout->addStretch();
    connect(m_keep, &QAbstractButton::clicked, this, &SiteAsker::kept);
}

void SiteAsker::ask(Session &session, const Valve &valve, SiteQuestion question)
{
    const StopSite stop = siteFor(session, valve);
    m_asked = question;
    m_units = session.units();
    m_question->setText(wordsFor(question));
    const QString whose = isOfValve(question) ? tr("valve %1").arg(valve.number) : stop.streetName;
    m_about->setText(tr("Asked once, and remembered for %1; it can be answered again. A trained "
                        "person answers: the road authority's rules, the permit and the person on "
                        "site decide.")
                         .arg(whose));
    m_edit->clear();
    m_edit->setAccessibleName(wordsFor(question));
    m_typing->setVisible(takesNumber(question));
    m_keep->setVisible(answerIn(stop.known, question).has_value());
    refuse({});
    showAnswers(stop, session.units());
}

void SiteAsker::showAnswers(const StopSite &stop, UnitSystem units)
{
    for (BigButton *button : m_buttons) {
        button->hide(); // it may be the one whose click asked for this
        button->setObjectName(QString());
        button->deleteLater();
    }
    m_buttons.clear();
    m_values.clear();
    const std::optional<double> has = answerIn(stop.known, m_asked);
    const std::optional<double> usual = answerIn({stop.usual, {}}, m_asked);
    int index = 0;
    for (const SiteAnswer &answer : answersTo(m_asked, units)) {
        auto *button = new BigButton(BigButton::Kind::Toggle, answer.words, this);
        button->setObjectName(QStringLiteral("site-answer-%1").arg(index + 1));
        const QString key = tr("key %1").arg((index + 1) % 10);
        button->setHint(isSame(answer.value, usual) ? tr("%1, usual here").arg(key) : key);
        button->setAccessibleName(answer.words);
        button->setChecked(isSame(answer.value, has));
        button->setTargetMillimetres(38, 22);
        const double value = answer.value;
        connect(button, &QAbstractButton::clicked, this,
                [this, value] { Q_EMIT answered(m_asked, value); });
        m_grid->addWidget(button, index / columns, index % columns);
        button->show(); // a layout shows it only when events are next handled
        m_buttons << button;
        m_values.push_back(answer.value);
        ++index;
    }
}

void SiteAsker::refuse(const QString &why)
{
    setNote(m_message, NoteKind::Danger, why);
    setRefused(m_edit, !why.isEmpty());
}

QWidget *SiteAsker::firstField() const
{
    for (BigButton *button : m_buttons) {
        if (button->isChecked()) {
            return button;
        }
    }
    return m_buttons.front();
}

void SiteAsker::takeTyped()
{
    const Result<double> value = readAnswer(m_asked, m_edit->text(), m_units);
    if (!value) {
        refuse(value.error().message);
        return;
    }
    Q_EMIT answered(m_asked, *value);
}

bool SiteAsker::takeKey(QKeyEvent *event)
{
    const bool isEnter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if (isEnter && m_typing->isVisible() && !m_edit->text().trimmed().isEmpty()) {
        takeTyped();
        return true;
    }
    if (event->isAutoRepeat()) {
        return false;
    }
    if (event->key() == Qt::Key_A && m_keep->isVisible()) {
        Q_EMIT kept();
        return true;
    }
    const int digit = event->key() - Qt::Key_0;
    const int index = digit == 0 ? 9 : digit - 1;
    if (digit < 0 || digit > 9 || index >= m_buttons.size()) {
        return false;
    }
    Q_EMIT answered(m_asked, m_values[static_cast<std::size_t>(index)]);
    return true;
}

} // namespace keyround
