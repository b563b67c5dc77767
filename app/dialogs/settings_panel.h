// SPDX-License-Identifier: GPL-3.0-or-later
// What the project has been told: policy, the day (shift, minutes at a stop, driving), the utility
// and its yard, tolerance of counts, crews, breaks and busy hours, and what was learned of times.
// Every field is stored when it is left and can be undone. A window of its own that stands beside
// the work, not before it.
#pragma once

#include "core/storage/settings_store.h"

#include <QWidget>

#include <functional>

class QFormLayout;
class QTabWidget;

namespace keyround {

class CheckedLine;
class PolicyEditor;
class Session;

class SettingsPanel final : public QWidget
{
    Q_OBJECT
public:
    enum Page { PolicyPage, DayPage, ProjectPage, CrewsPage, HoursPage, LearnedPage };

    explicit SettingsPanel(Session &session, QWidget *parent = nullptr);

    void showPage(Page page);
    [[nodiscard]] PolicyEditor *policyEditor() const { return m_policy; }

    /// Opens the panel as a window beside `owner`, or brings the open one to the front.
    static SettingsPanel *openBeside(QWidget *owner, Session &session, Page page);

private:
    using Read = std::function<QString(const ProjectSettings &)>;
    using Write = std::function<Status(ProjectSettings &, const QString &text)>;

    [[nodiscard]] QWidget *buildDayPage();
    [[nodiscard]] QWidget *buildProjectPage();
    void addLine(QFormLayout *form, const QString &label, const Read &read, Write write);
    template <typename Number>
    void addNumberOf(QFormLayout *form, const QString &label, double least, double most,
                     Number &(*field)(ProjectSettings &));
    void addNumber(QFormLayout *form, const QString &label, double least, double most,
                   int &(*field)(ProjectSettings &));
    void addNumber(QFormLayout *form, const QString &label, double least, double most,
                   double &(*field)(ProjectSettings &));
    void addUnits(QFormLayout *form);
    void addDrivingSide(QFormLayout *form);
    Status store(ProjectSettings after, const QString &text);
    void refresh();

    Session &m_session;
    QTabWidget *m_tabs;
    PolicyEditor *m_policy;
    std::vector<std::pair<CheckedLine *, Read>> m_lines;
    std::vector<std::function<void()>> m_refreshers;
};

} // namespace keyround
