// SPDX-License-Identifier: GPL-3.0-or-later
// A valve that is not on the round: by a part of its number or its address, or the ones that lie
// nearest. And what to do when it is in no list at all.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;
class ButtonList;

class FindValvePage final : public QWidget
{
    Q_OBJECT
public:
    explicit FindValvePage(Session &session, QWidget *parent = nullptr);

    /// Near which place; invalid: none is known, and the list begins empty. `where` says whose
    /// place it is: "your position", "valve 12".
    void load(const GeoPoint &near, const QString &where);
    void focusField();

Q_SIGNALS:
    void recordAsked(const ValveId &valve);
    void dropAsked(); ///< it is on no list: a point is dropped here
    void backAsked();

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    void showMatches();
    [[nodiscard]] std::vector<const Valve *> matches(const QString &text);
    [[nodiscard]] std::vector<const Valve *> nearest();

    Session &m_session;
    GeoPoint m_near;
    QString m_where;
    QLineEdit *m_edit;
    QLabel *m_note;
    ButtonList *m_list;
    BigButton *m_back;
};

} // namespace keyround
