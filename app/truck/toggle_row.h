// SPDX-License-Identifier: GPL-3.0-or-later
// A row of large toggles that stand for the values of one kind, of which none, one or several are
// down. A key of the row may press each.
#pragma once

#include <QList>
#include <QWidget>

class QHBoxLayout;
class QKeyEvent;

namespace keyround {

class BigButton;

class ToggleRow final : public QWidget
{
    Q_OBJECT
public:
    explicit ToggleRow(QWidget *parent = nullptr);

    /// `key` 0: none. Returns the place of the toggle in the row.
    int add(const QString &words, const QString &name, int key = 0);
    void setDown(int place, bool down);
    [[nodiscard]] QWidget *first() const;
    bool takeKey(QKeyEvent *event);

Q_SIGNALS:
    void pressed(int place, bool down);

private:
    QHBoxLayout *m_row;
    QList<BigButton *> m_buttons;
    QList<int> m_keys;
};

} // namespace keyround
