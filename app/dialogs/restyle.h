// SPDX-License-Identifier: GPL-3.0-or-later
// Changes a look that is already on the screen: a style sheet reads a property such as "role" or
// "refused" (resources/style.qss) only when the widget is polished anew.
#pragma once

#include <QStyle>
#include <QVariant>
#include <QWidget>

namespace keyround {

inline void restyle(QWidget *widget, const char *property, const QVariant &value)
{
    widget->setProperty(property, value);
    widget->style()->unpolish(widget);
    widget->style()->polish(widget);
}

} // namespace keyround
