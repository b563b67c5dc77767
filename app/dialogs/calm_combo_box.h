// SPDX-License-Identifier: GPL-3.0-or-later
// A combo box that the wheel changes only while it has the focus: scrolling a page over it must
// not alter a choice.
#pragma once

#include <QComboBox>
#include <QWheelEvent>

namespace keyround {

class CalmComboBox final : public QComboBox
{
    Q_OBJECT
public:
    explicit CalmComboBox(QWidget *parent = nullptr) : QComboBox(parent)
    {
        setFocusPolicy(Qt::StrongFocus);
    }

protected:
    void wheelEvent(QWheelEvent *event) override
    {
        if (hasFocus()) {
            QComboBox::wheelEvent(event);
        } else {
            event->ignore();
        }
    }
};

} // namespace keyround
