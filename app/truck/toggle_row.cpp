// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/toggle_row.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"

#include <QHBoxLayout>
#include <QKeyEvent>

namespace keyround {

ToggleRow::ToggleRow(QWidget *parent) : QWidget(parent), m_row(new QHBoxLayout(this))
{
    m_row->setContentsMargins(0, 0, 0, 0);
    m_row->setSpacing(TruckScale::of(this).gap);
}

int ToggleRow::add(const QString &words, const QString &name, int key)
{
    auto *button = new BigButton(BigButton::Kind::Toggle, words, this);
    button->setObjectName(name);
    if (key != 0) {
        button->setHint(tr("key %1").arg(QKeySequence(key).toString()));
    }
    const int place = static_cast<int>(m_buttons.size());
    connect(button, &QAbstractButton::clicked, this,
            [this, place](bool down) { Q_EMIT pressed(place, down); });
    m_row->addWidget(button, 1);
    m_buttons.append(button);
    m_keys.append(key);
    return place;
}

void ToggleRow::setDown(int place, bool down)
{
    m_buttons.at(place)->setChecked(down);
}

QWidget *ToggleRow::first() const
{
    return m_buttons.isEmpty() ? nullptr : m_buttons.front();
}

bool ToggleRow::takeKey(QKeyEvent *event)
{
    const auto place =
        event->isAutoRepeat() || event->key() == 0 ? qsizetype{-1} : m_keys.indexOf(event->key());
    if (place < 0) {
        return false;
    }
    m_buttons.at(place)->click();
    return true;
}

} // namespace keyround
