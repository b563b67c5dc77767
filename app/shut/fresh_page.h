// SPDX-License-Identifier: GPL-3.0-or-later
// A page that is dear to fill: it is filled when it is shown, and again while it is in sight when
// something that it follows from has changed.
#pragma once

#include "app/shell/notifier.h"

#include <QWidget>

#include <initializer_list>

namespace keyround {

class FreshPage : public QWidget
{
    Q_OBJECT
public:
    using QWidget::QWidget;

protected:
    using Change = void (Notifier::*)();
    void follow(const Notifier &notifier, std::initializer_list<Change> changes);
    virtual void reload() = 0;
    void showEvent(QShowEvent *event) override;

private:
    void refresh();
    bool m_isStale = true;
};

} // namespace keyround
