// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/fresh_page.h"

namespace keyround {

void FreshPage::follow(const Notifier &notifier, std::initializer_list<Change> changes)
{
    for (const Change change : changes) {
        connect(&notifier, change, this, [this] {
            m_isStale = true;
            if (isVisible()) {
                refresh();
            }
        });
    }
}

void FreshPage::showEvent(QShowEvent *event)
{
    QWidget::showEvent(event);
    if (m_isStale) {
        refresh();
    }
}

void FreshPage::refresh()
{
    m_isStale = false;
    reload();
}

} // namespace keyround
