// SPDX-License-Identifier: GPL-3.0-or-later
// Finding a screen's parts by their object names, and clicking them as a person could: what is not
// there, hidden or disabled ends the test.
#pragma once

#include <QAbstractButton>
#include <QTest>

namespace keyround {

/// The one that is seen, where several have the name.
template <typename T> [[nodiscard]] T *named(const QWidget &place, const char *name)
{
    const QList<T *> found = place.findChildren<T *>(QLatin1String(name));
    if (found.isEmpty()) {
        qFatal("no child is named %s", name);
    }
    for (T *each : found) {
        if (each->isVisible()) {
            return each;
        }
    }
    return found.first();
}
template <typename T> [[nodiscard]] T *named(const QWidget *place, const char *name)
{
    return named<T>(*place, name);
}

inline void click(const QWidget *place, const char *name)
{
    auto *button = named<QAbstractButton>(place, name);
    if (!button->isVisible() || !button->isEnabled()) {
        qFatal("%s cannot be clicked", name);
    }
    QTest::mouseClick(button, Qt::LeftButton);
}

} // namespace keyround
