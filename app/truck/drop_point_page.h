// SPDX-License-Identifier: GPL-3.0-or-later
// A valve that is in the ground and on no list: a point is dropped where the crew stands, and the
// office decides what becomes of it.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;

class DropPointPage final : public QWidget
{
    Q_OBJECT
public:
    explicit DropPointPage(Session &session, QWidget *parent = nullptr);

    void load(const RoundId &round);
    void focusField();

Q_SIGNALS:
    void done(); ///< reported, or given up

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    void refreshPlace();
    void report();

    Session &m_session;
    RoundId m_round;
    QLabel *m_place;
    QLineEdit *m_number;
    QLineEdit *m_size;
    QLineEdit *m_words;
    QLabel *m_refusal;
    BigButton *m_report;
    BigButton *m_back;
};

} // namespace keyround
