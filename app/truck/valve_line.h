// SPDX-License-Identifier: GPL-3.0-or-later
// Choosing a valve by its number, for one that is not on the round or was recorded before.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;

class ValveLine final : public QWidget
{
    Q_OBJECT
public:
    explicit ValveLine(Session &session, QWidget *parent = nullptr);
    void clear();

Q_SIGNALS:
    void recordAsked(const ValveId &valve);
    void correctAsked(const ValveId &valve); ///< one of its visits; it has some
    void findAsked();                        ///< by a part of the number, or by its place

private:
    [[nodiscard]] const Valve *wanted();
    void askToRecord();
    void askToCorrect();
    void refuse(const QString &why);

    Session &m_session;
    QLineEdit *m_edit;
    BigButton *m_record;
    BigButton *m_correct;
    BigButton *m_find;
    QLabel *m_message;
};

} // namespace keyround
