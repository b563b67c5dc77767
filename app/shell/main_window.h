// SPDX-License-Identifier: GPL-3.0-or-later
// The window: three places behind three large buttons, the warning of valves not left in their
// normal position, the message line, the menus. Thin: what it does, others do.
#pragma once

#include <QMainWindow>

class QAction;
class QLabel;
class QStackedWidget;

namespace keyround {

class MessageLine;
class Session;

class MainWindow final : public QMainWindow
{
    Q_OBJECT
public:
    explicit MainWindow(Session &session, QWidget *parent = nullptr);

    /// Opens a project and says so or why not. Empty paths are ignored.
    void openProject(const QString &path);
    void showPlace(int index); ///< 0 Yard, 1 Truck, 2 Office, 3 Valves

protected:
    void closeEvent(QCloseEvent *event) override;

private:
    void buildPlaces();
    void buildMenus();
    void newProject();
    void chooseProject();
    void importLayer();
    void refresh();
    void rememberProject(const QString &path);

    Session &m_session;
    QStackedWidget *m_stack;
    QWidget *m_placeBar;
    QLabel *m_warning;
    MessageLine *m_messages;
    QList<QAction *> m_needProject;
};

} // namespace keyround
