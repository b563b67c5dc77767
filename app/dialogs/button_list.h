// SPDX-License-Identifier: GPL-3.0-or-later
// A scrolling list of large rows, each a button: by touch, by arrows or Tab and Enter.
#pragma once

#include <QScrollArea>

class QVBoxLayout;

namespace keyround {

class BigButton;

class ButtonList final : public QScrollArea
{
    Q_OBJECT
public:
    explicit ButtonList(QWidget *parent = nullptr);

    void clear();
    BigButton *addRow(const QString &words, const QString &second);
    [[nodiscard]] QList<BigButton *> rows() const { return m_rows; }
    void focusRow(int index);

private:
    QWidget *m_inner;
    QVBoxLayout *m_layout;
    QList<BigButton *> m_rows;
};

} // namespace keyround
