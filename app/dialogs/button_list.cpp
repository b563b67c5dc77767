// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/button_list.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"

#include <QVBoxLayout>

namespace keyround {

ButtonList::ButtonList(QWidget *parent)
    : QScrollArea(parent), m_inner(new QWidget), m_layout(new QVBoxLayout(m_inner))
{
    m_layout->setContentsMargins(0, 0, TruckScale::of(this).gap, 0);
    m_layout->setSpacing(TruckScale::of(this).gap);
    m_layout->addStretch();
    setWidget(m_inner);
    setWidgetResizable(true);
    setFrameShape(QFrame::NoFrame);
    setFocusPolicy(Qt::NoFocus);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
}

void ButtonList::clear()
{
    for (BigButton *row : m_rows) {
        row->hide(); // by word: the layout would show an orphan later, as a window of its own
        row->setParent(nullptr);
        row->deleteLater(); // it may be the one that is being pressed
    }
    m_rows.clear();
}

BigButton *ButtonList::addRow(const QString &words, const QString &second)
{
    auto *row = new BigButton(BigButton::Kind::Row, words, m_inner);
    row->setHint(second);
    m_layout->insertWidget(m_layout->count() - 1, row);
    row->show(); // at once, so that it can take the keyboard
    m_rows.append(row);
    return row;
}

void ButtonList::focusRow(int index)
{
    if (index >= 0 && index < m_rows.size()) {
        m_rows[index]->setFocus();
        ensureWidgetVisible(m_rows[index]);
    }
}

} // namespace keyround
