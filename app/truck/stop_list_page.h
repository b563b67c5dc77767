// SPDX-License-Identifier: GPL-3.0-or-later
// The stops of the round, each with how far it has come, by shape and word; any of them can be
// opened, a done one to correct it. From here the round is finished.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

class QLabel;

namespace keyround {

class ArrivalOffer;
class BigButton;
class ButtonList;
class ValveLine;

class StopListPage final : public QWidget
{
    Q_OBJECT
public:
    explicit StopListPage(Session &session, QWidget *parent = nullptr);

    void load(const RoundId &round);
    /// To the stop that comes next.
    void focusField();

Q_SIGNALS:
    void stopChosen(const ValveId &valve);
    void recordAsked(const ValveId &valve);
    void correctAsked(const ValveId &valve);
    void findAsked();
    void lookAsked();  ///< sun or night
    void breakAsked(); ///< a main broke
    void finishAsked();
    void otherRoundAsked();

private:
    Session &m_session;
    QLabel *m_title;
    QLabel *m_empty;
    ButtonList *m_list;
    ArrivalOffer *m_arrival;
    ValveLine *m_byNumber;
    BigButton *m_finish;
    int m_next = 0;
};

} // namespace keyround
