// SPDX-License-Identifier: GPL-3.0-or-later
// What the window shows when no project is open: what to do, largest first.
#pragma once

#include <QWidget>

class QVBoxLayout;

namespace keyround {

class StartPage final : public QWidget
{
    Q_OBJECT
public:
    explicit StartPage(QWidget *parent = nullptr);

    /// Rebuilds the list of projects opened before.
    void refresh();

    /// Projects opened before that still exist, newest first.
    [[nodiscard]] static QStringList recentProjects();
    static void remember(const QString &path);

Q_SIGNALS:
    void newWanted();
    void openWanted();
    void pathWanted(const QString &path);

private:
    QVBoxLayout *m_recent;
};

} // namespace keyround
