// SPDX-License-Identifier: GPL-3.0-or-later
// Which round is driven: today's first, then those of other days that are not finished, then the
// finished ones (to correct a record). A single valve can be recorded without any.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

class QLabel;

namespace keyround {

class ButtonList;
class ValveLine;

class ChooseRoundPage final : public QWidget
{
    Q_OBJECT
public:
    explicit ChooseRoundPage(Session &session, QWidget *parent = nullptr);

    void load();
    void focusField();

Q_SIGNALS:
    void roundChosen(const RoundId &round);
    void recordAsked(const ValveId &valve);
    void correctAsked(const ValveId &valve);
    void findAsked();
    void lookAsked();  ///< sun or night
    void breakAsked(); ///< a main broke

private:
    [[nodiscard]] std::vector<Round> roundsInOrder() const;

    Session &m_session;
    QLabel *m_title;
    QLabel *m_empty;
    ButtonList *m_list;
    ValveLine *m_byNumber;
};

} // namespace keyround
