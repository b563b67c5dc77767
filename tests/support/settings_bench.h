// SPDX-License-Identifier: GPL-3.0-or-later
// The settings panel of the small town, shown in a window of its own.
#pragma once

#include "app/dialogs/settings_panel.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QPushButton>
#include <QTest>

#include <memory>

namespace keyround {

struct SettingsBench
{
    Session session{smallTownClock()};
    std::unique_ptr<SmallTown> town;
    std::unique_ptr<SettingsPanel> panel;

    SettingsBench() : town(makeSmallTown(session)), panel(std::make_unique<SettingsPanel>(session))
    {
        panel->resize(1120, 660);
        panel->show();
        QApplication::setActiveWindow(panel.get());
        [[maybe_unused]] const bool shown = QTest::qWaitForWindowExposed(panel.get());
    }
    void click(const char *name) const
    {
        QTest::mouseClick(panel->findChild<QPushButton *>(QString::fromLatin1(name)),
                          Qt::LeftButton);
    }
};

} // namespace keyround
