// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/busy_hours_editor.h"

#include "app/dialogs/list_editor.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_days.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"

#include <QVBoxLayout>

namespace keyround {

namespace {

constexpr double longestBreakMinutes = 240;

BusyHours &ruleAt(ProjectSettings &settings, int row)
{
    return settings.busyHours[static_cast<std::size_t>(row)];
}
const BusyHours &ruleAt(const ProjectSettings &settings, int row)
{
    return settings.busyHours[static_cast<std::size_t>(row)];
}
ShiftBreak &breakAt(ProjectSettings &settings, int row)
{
    return settings.breaks[static_cast<std::size_t>(row)];
}
const ShiftBreak &breakAt(const ProjectSettings &settings, int row)
{
    return settings.breaks[static_cast<std::size_t>(row)];
}

/// A time of a rule or a break: the store says when the two of them do not go together.
template <typename At> ListColumn timeColumn(const QString &title, At at)
{
    return {title, QObject::tr("07:00"),
            [at](const ProjectSettings &s, int row) {
                ProjectSettings copy = s;
                return timeText(at(copy, row));
            },
            [at](ProjectSettings &s, int row, const QString &text) {
                return timeTyped(text).map([&](const QTime &time) { at(s, row) = time; });
            },
            110};
}

std::vector<ListColumn> hoursColumns()
{
    using S = ProjectSettings;
    return {
        {QObject::tr("Street"), QObject::tr("a street's name; empty: by class"),
         [](const S &s, int row) { return ruleAt(s, row).street; },
         [](S &s, int row, const QString &text) -> Status {
             ruleAt(s, row).street = text.trimmed();
             return {};
         },
         150},
        {QObject::tr("Classes"), QObject::tr("arterial, collector; empty: every street"),
         [](const S &s, int row) { return streetClassesText(ruleAt(s, row).classes); },
         [](S &s, int row, const QString &text) {
             return streetClassesTyped(text).map(
                 [&](const QList<StreetClass> &classes) { ruleAt(s, row).classes = classes; });
         },
         130},
        {QObject::tr("Weekdays"), QObject::tr("every day"),
         [](const S &s, int row) { return weekdaysText(ruleAt(s, row).weekdays); },
         [](S &s, int row, const QString &text) {
             return weekdaysTyped(text).map(
                 [&](const QList<int> &days) { ruleAt(s, row).weekdays = days; });
         },
         90},
        timeColumn(QObject::tr("From"),
                   [](S &s, int row) -> QTime & { return ruleAt(s, row).from; }),
        timeColumn(QObject::tr("To"), [](S &s, int row) -> QTime & { return ruleAt(s, row).to; }),
        {QObject::tr("Why"), QObject::tr("school"),
         [](const S &s, int row) { return ruleAt(s, row).why; },
         [](S &s, int row, const QString &text) -> Status {
             ruleAt(s, row).why = text.trimmed();
             return {};
         }},
    };
}

ListSpec hoursSpec()
{
    return {QObject::tr("Busy hours: no work in these streets"),
            QObject::tr("rule"),
            QStringLiteral("busy-hours"),
            QObject::tr("Work may be done in every street all day. Add a rule for streets whose "
                        "road authority wants rush hours kept free."),
            hoursColumns(),
            [](const ProjectSettings &s) { return static_cast<int>(s.busyHours.size()); },
            [](ProjectSettings &s) {
                s.busyHours.push_back(
                    {{}, {StreetClass::Arterial}, {1, 2, 3, 4, 5}, QTime(7, 0), QTime(9, 0), {}});
            },
            [](ProjectSettings &s, int row) { s.busyHours.erase(s.busyHours.begin() + row); }};
}

ListSpec breakSpec()
{
    using S = ProjectSettings;
    return {QObject::tr("Breaks of the shift"),
            QObject::tr("break"),
            QStringLiteral("breaks"),
            QObject::tr("No breaks are planned."),
            {timeColumn(QObject::tr("Begins from"),
                        [](S &s, int row) -> QTime & { return breakAt(s, row).earliest; }),
             timeColumn(QObject::tr("At the latest"),
                        [](S &s, int row) -> QTime & { return breakAt(s, row).latest; }),
             {QObject::tr("Minutes"), QObject::tr("30"),
              [](const S &s, int row) { return QString::number(breakAt(s, row).minutes); },
              [](S &s, int row, const QString &text) {
                  return numberTyped(text, 1, longestBreakMinutes).map([&](double minutes) {
                      breakAt(s, row).minutes = minutes;
                  });
              }}},
            [](const S &s) { return static_cast<int>(s.breaks.size()); },
            [](S &s) {
                s.breaks.push_back({QTime(9, 0), QTime(10, 0), 15});
            },
            [](S &s, int row) { s.breaks.erase(s.breaks.begin() + row); }};
}

} // namespace

BusyHoursEditor::BusyHoursEditor(Session &session, QWidget *parent)
    : QWidget(parent), m_hours(new ListEditor(session, hoursSpec(), this)),
      m_breaks(new ListEditor(session, breakSpec(), this))
{
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(12, 12, 12, 12);
    layout->setSpacing(12);
    layout->addWidget(m_hours, 5);
    layout->addWidget(plainLabel(tr("A rule with a street's name goes before all rules by class. "
                                    "Breaks hold for rounds made from now on."),
                                 QStringLiteral("quiet"), this));
    layout->addWidget(m_breaks, 3);
}

} // namespace keyround
