// SPDX-License-Identifier: GPL-3.0-or-later
// Which valve, where it is, how it should be, who depends on it, what the last visit found, what
// the set-up will need, and the cautions before anybody steps into the street. One key away: the
// search for a lid that cannot be found.
#pragma once

#include "app/truck/steps/step.h"

class QLabel;
class QStackedWidget;

namespace keyround {

class BigButton;
class SearchPanel;

class GetThereStep final : public Step
{
    Q_OBJECT
public:
    explicit GetThereStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;
    void goingOn() override;
    bool takeKey(QKeyEvent *event) override;

Q_SIGNALS:
    void visitsAsked();

private:
    void buildKeys();
    [[nodiscard]] QWidget *buildFacts();
    void showHere();
    void openSearch();
    void tried(const SearchRecord &search);
    void ended(SearchOutcome outcome);
    [[nodiscard]] bool isSearching() const;

    QStackedWidget *m_pages;
    SearchPanel *m_search;
    BigButton *m_cannotFind;
    BigButton *m_visits;
    QLabel *m_address;
    QLabel *m_here;
    QLabel *m_repair;
    QLabel *m_facts;
    QLabel *m_direction;
    QLabel *m_critical;
    QLabel *m_standing;
    QLabel *m_zone;
    QLabel *m_last;
    QLabel *m_cautions;
    QWidget *m_arrow;
};

} // namespace keyround
