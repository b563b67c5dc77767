// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/set_up_step.h"

#include "app/truck/set_up_card.h"
#include "app/truck/set_up_changer.h"
#include "app/truck/site_asker.h"
#include "core/workzone/set_up_words.h"

#include <QKeyEvent>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace keyround {

SetUpStep::SetUpStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_pages(new QStackedWidget(this)), m_asker(new SiteAsker(this)),
      m_card(new SetUpCard(desk.session, this)), m_changer(new SetUpChanger(desk.session, this))
{
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_pages);
    m_pages->addWidget(m_asker);
    m_pages->addWidget(m_card);
    m_pages->addWidget(m_changer);
    connect(m_asker, &SiteAsker::answered, this, &SetUpStep::answer);
    connect(m_asker, &SiteAsker::kept, this, &SetUpStep::goOnAsking);
    connect(m_card, &SetUpCard::setUpTicked, this, [this](bool isUp) {
        form().isSetUp = isUp;
        const Result<SetUp> setUp = setUpFor(this->desk().session, this->desk().valve);
        form().setUpWords = isUp && setUp ? headlineOf(*setUp) : QString();
        Q_EMIT edited();
    });
    connect(m_card, &SetUpCard::changeAsked, this, &SetUpStep::openChange);
    connect(m_card, &SetUpCard::askAgainAsked, this, &SetUpStep::askAgain);
    connect(m_changer, &SetUpChanger::done, this, &SetUpStep::show);
}

void SetUpStep::load()
{
    if (m_shown != desk().valve.id) {
        m_again.clear();
        m_shown = desk().valve.id;
    }
    const bool isChanging = m_pages->currentWidget() == m_changer && m_changer->isOpenFor(m_shown);
    const StopSite stop = siteFor(desk().session, desk().valve);
    if (!stop.questions.empty()) {
        ask(stop.questions.front());
    } else if (!m_again.empty()) {
        ask(m_again.front());
    } else if (!isChanging) {
        show();
    }
}

void SetUpStep::ask(SiteQuestion question)
{
    m_asker->ask(desk().session, desk().valve, question);
    m_pages->setCurrentWidget(m_asker);
    if (isVisible()) {
        m_asker->firstField()->setFocus();
    }
}

void SetUpStep::show()
{
    m_card->show(desk().valve, form().isSetUp);
    m_pages->setCurrentWidget(m_card);
    if (isVisible()) {
        m_card->firstField()->setFocus();
    }
}

void SetUpStep::askAgain()
{
    // What this place of the lid asks for, had nothing been said yet.
    const StopSite stop = siteFor(desk().session, desk().valve);
    m_again = {SiteQuestion::Lid};
    for (int i = 1; i < siteQuestionCount; ++i) {
        const auto question = static_cast<SiteQuestion>(i);
        if (answerIn(stop.known, question)) {
            m_again.push_back(question);
        }
    }
    load();
}

void SetUpStep::answer(SiteQuestion question, double value)
{
    const Status kept = answerSite(desk().session, desk().valve, question, value);
    if (!kept) {
        m_asker->refuse(kept.error().message);
        return;
    }
    goOnAsking();
}

void SetUpStep::goOnAsking()
{
    if (!m_again.empty()) {
        m_again.erase(m_again.begin());
    }
    load();
    Q_EMIT edited();
}

void SetUpStep::openChange()
{
    m_changer->open(desk().valve);
    m_pages->setCurrentWidget(m_changer);
    m_changer->firstField()->setFocus();
}

QString SetUpStep::nextWords() const
{
    return m_pages->currentWidget() == m_asker ? tr("Later: how was it found?")
                                               : tr("Next: how was it found?");
}

QWidget *SetUpStep::firstField()
{
    if (m_pages->currentWidget() == m_changer) {
        return m_changer->firstField();
    }
    return m_pages->currentWidget() == m_asker ? m_asker->firstField() : m_card->firstField();
}

bool SetUpStep::takeKey(QKeyEvent *event)
{
    if (m_pages->currentWidget() == m_changer) {
        return m_changer->takeKey(event);
    }
    return m_pages->currentWidget() == m_asker ? m_asker->takeKey(event) : m_card->takeKey(event);
}

} // namespace keyround
