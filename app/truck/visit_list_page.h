// SPDX-License-Identifier: GPL-3.0-or-later
// What is on record of a valve, newest first; each visit opens to be corrected. A correction is a
// new visit that supersedes the old one, with a reason.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

class QLabel;

namespace keyround {

class BigButton;
class ButtonList;

class VisitListPage final : public QWidget
{
    Q_OBJECT
public:
    explicit VisitListPage(Session &session, QWidget *parent = nullptr);

    void load(const ValveId &valve);
    [[nodiscard]] ValveId valve() const { return m_valve; }
    void focusField();

Q_SIGNALS:
    void correctAsked(const ReadVisit &read);
    void backAsked();

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    Session &m_session;
    ValveId m_valve;
    QLabel *m_title;
    QLabel *m_note;
    ButtonList *m_list;
    BigButton *m_back;
};

} // namespace keyround
