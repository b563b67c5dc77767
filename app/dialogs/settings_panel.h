// SPDX-License-Identifier: GPL-3.0-or-later
// What the project has been told: policy, the day (shift, minutes at a stop, driving), the utility
// and its yard, tolerance of counts, crews, breaks and busy hours, what was learned of times, and
// habits of work zones and loading, wordings of notices, departments of repairs.
// Every field is stored when it is left and can be undone. A window of its own that stands beside
// the work, not before it.
#pragma once

#include <QWidget>

class QTabWidget;

namespace keyround {

class PolicyEditor;
class Session;

class SettingsPanel final : public QWidget
{
    Q_OBJECT
public:
    enum Page {
        PolicyPage,
        DayPage,
        ProjectPage,
        CrewsPage,
        HoursPage,
        LearnedPage,
        ZonesPage,
        NoticesPage,
        TruckPage,
        RepairsPage
    };

    explicit SettingsPanel(Session &session, QWidget *parent = nullptr);

    void showPage(Page page);
    [[nodiscard]] PolicyEditor *policyEditor() const { return m_policy; }

    /// Opens the panel as a window beside `owner`, or brings the open one to the front.
    static SettingsPanel *openBeside(QWidget *owner, Session &session, Page page);

private:
    [[nodiscard]] QWidget *buildDayPage();
    [[nodiscard]] QWidget *buildProjectPage();

    Session &m_session;
    QTabWidget *m_tabs;
    PolicyEditor *m_policy;
};

} // namespace keyround
