// SPDX-License-Identifier: GPL-3.0-or-later
// The window: three places and the page of a break behind large buttons, the warning of valves not
// left in their normal position, the message line, the menus. Thin: what it does, others do.
#pragma once

#include "core/common/ids.h"
#include "core/common/result.h"

#include <QMainWindow>

class QAction;
class QButtonGroup;
class QLabel;
class QMenu;
class QPushButton;
class QStackedWidget;

namespace keyround {

class BackUpsPage;
class MessageLine;
class RepairsPlace;
class Session;
class ShutLine;
class ShutPlace;
class StartPage;
class TruckPlace;
class WorkBar;
class YardPlace;

class MainWindow final : public QMainWindow
{
    Q_OBJECT
public:
    enum class Place { Yard, Truck, Office, Break, Repairs };

    explicit MainWindow(Session &session, QWidget *parent = nullptr);

    /// Opens a project and says so, or why not. An empty path is ignored.
    void openProject(const QString &path);
    void showPlace(Place place);
    /// The repairs, with what is open or proposed for this valve; a null id: as they stand.
    void showRepairs(const ValveId &valve);

protected:
    void closeEvent(QCloseEvent *event) override;

private:
    void buildPlaces();
    void buildPlaceBar();
    /// With the key behind Ctrl; `roomFor` keeps so many pixels for the bold words of the chosen
    /// place, whatever came into the bar before it.
    [[nodiscard]] QPushButton *addPlaceButton(Place place, const QString &words,
                                              const QString &name, Qt::Key key, int roomFor = 0);
    void buildMenus();
    void buildProjectMenu(QMenu *menu);
    void buildRoundMenu(QMenu *menu);
    void listen();
    void newProject();
    Q_INVOKABLE void showBackUps();
    void chooseProject();
    void importLayer();
    void askWhoWorks();
    void refreshTitle();
    void refreshWarning();
    void refreshLook();
    void saveSheet(const RoundId &round);
    void saveGpx(const RoundId &round);
    void saveDayLog(const RoundId &round);
    /// The round that the Yard shows; null when none.
    [[nodiscard]] RoundId chosenRound() const;

    Session &m_session;
    QStackedWidget *m_pages; ///< the start page, or the three places
    QStackedWidget *m_stack;
    QButtonGroup *m_placeButtons;
    QWidget *m_placeBar;
    QLabel *m_warning;
    QLabel *m_who;
    MessageLine *m_messages;
    WorkBar *m_work; ///< while a project is opened
    BackUpsPage *m_backUps = nullptr;
    YardPlace *m_yard = nullptr;
    TruckPlace *m_truck = nullptr;
    ShutPlace *m_shut = nullptr;
    RepairsPlace *m_repairs = nullptr;
    ShutLine *m_shutLine = nullptr;
    QList<QAction *> m_needProject;
};

} // namespace keyround
