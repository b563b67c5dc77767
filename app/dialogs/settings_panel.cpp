// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/settings_panel.h"

#include "app/dialogs/busy_hours_editor.h"
#include "app/dialogs/crew_editor.h"
#include "app/dialogs/learned_times_panel.h"
#include "app/dialogs/notice_editor.h"
#include "app/dialogs/policy_editor.h"
#include "app/dialogs/repair_habits_editor.h"
#include "app/dialogs/settings_form.h"
#include "app/dialogs/truck_habits_editor.h"
#include "app/dialogs/typed_values.h"
#include "app/dialogs/zone_habits_editor.h"
#include "app/shell/session.h"
#include "core/inventory/value_parsers.h"

#include <QTabWidget>
#include <QVBoxLayout>

namespace keyround {

namespace {

constexpr double percentInOne = 100.0;

} // namespace

SettingsPanel::SettingsPanel(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_tabs(new QTabWidget(this)),
      m_policy(new PolicyEditor(session))
{
    setWindowTitle(tr("Policy and settings"));
    m_tabs->addTab(m_policy, tr("Policy"));
    m_tabs->addTab(buildDayPage(), tr("Day and times"));
    m_tabs->addTab(buildProjectPage(), tr("Project"));
    m_tabs->addTab(new CrewEditor(session), tr("Crews"));
    m_tabs->addTab(new BusyHoursEditor(session), tr("Breaks and busy hours"));
    m_tabs->addTab(new LearnedTimesPanel(session), tr("Learned times"));
    m_tabs->addTab(new ZoneHabitsEditor(session), tr("Work zones"));
    m_tabs->addTab(new NoticeEditor(session), tr("Notices"));
    m_tabs->addTab(new TruckHabitsEditor(session), tr("At the stop"));
    m_tabs->addTab(new RepairHabitsEditor(session), tr("Repairs"));
    auto *layout = new QVBoxLayout(this);
    layout->addWidget(m_tabs);
    const auto enable = [this] { setEnabled(m_session.isOpen()); };
    connect(&session.notifier(), &Notifier::projectChanged, this, enable);
    enable();
}

SettingsPanel *SettingsPanel::openBeside(QWidget *owner, Session &session, Page page)
{
    QWidget *window = owner->window();
    auto *panel = window->findChild<SettingsPanel *>();
    if (panel == nullptr) {
        panel = new SettingsPanel(session, window);
        panel->setWindowFlag(Qt::Window);
        panel->resize(1120, 660);
    }
    panel->showPage(page);
    panel->show();
    panel->raise();
    panel->activateWindow();
    return panel;
}

void SettingsPanel::showPage(Page page)
{
    m_tabs->setCurrentIndex(page);
}

QWidget *SettingsPanel::buildDayPage()
{
    auto *form = new SettingsForm(m_session);
    const auto addTime = [&](const QString &label, QTime &(*field)(ProjectSettings &)) {
        form->addLine(
            label,
            [field](const ProjectSettings &settings) {
                ProjectSettings copy = settings;
                return timeText(field(copy));
            },
            [field](ProjectSettings &settings, const QString &text) -> Status {
                const Result<QTime> time = timeTyped(text);
                if (!time) {
                    return tl::unexpected<Error>(time.error());
                }
                field(settings) = *time;
                if (settings.shift.to <= settings.shift.from) {
                    return fail(ErrorCode::BadInput,
                                tr("The shift must end after it begins, on the same day."));
                }
                return {};
            });
    };
    addTime(tr("Shift begins"), [](ProjectSettings &s) -> QTime & { return s.shift.from; });
    addTime(tr("Shift ends"), [](ProjectSettings &s) -> QTime & { return s.shift.to; });
    form->addNumber(tr("Minutes at every stop"), 0, 600,
                    [](ProjectSettings &s) -> double & { return s.stopTimes.baseMinutes; });
    form->addNumber(tr("Seconds a turn"), 0.1, 120,
                    [](ProjectSettings &s) -> double & { return s.stopTimes.secondsPerTurn; });
    form->addNumber(tr("Minutes more for a large valve"), 0, 600,
                    [](ProjectSettings &s) -> double & { return s.stopTimes.largeExtraMinutes; });
    form->addNumber(tr("Turns where no count is known"), 1, 2000,
                    [](ProjectSettings &s) -> double & { return s.stopTimes.fallbackTurns; });
    form->addNumber(tr("Driven metres for each metre straight, without streets"), 1, 5,
                    [](ProjectSettings &s) -> double & { return s.travel.detourFactor; });
    form->addNumber(
        tr("Metres a second, without streets"), 0.5, 40,
        [](ProjectSettings &s) -> double & { return s.travel.estimateMetresPerSecond; });
    form->addNumber(tr("Seconds of a U-turn"), 0, 600,
                    [](ProjectSettings &s) -> double & { return s.turns.uTurnSeconds; });
    form->addChoice(
        tr("Traffic drives"), {tr("On the right"), tr("On the left")},
        [](const ProjectSettings &s) { return s.turns.drivingSide == DrivingSide::Right ? 0 : 1; },
        [](ProjectSettings &s, int index) {
            s.turns.drivingSide = index == 0 ? DrivingSide::Right : DrivingSide::Left;
        });
    form->addNumber(tr("Working days from notice to shutting"), 0, 60,
                    [](ProjectSettings &s) -> int & { return s.notice.workingDays; });
    form->addNumber(tr("Hours from notice to shutting, on top"), 0, 240,
                    [](ProjectSettings &s) -> double & { return s.notice.hours; });
    form->addNumber(tr("Days for which a notice counts"), 1, 365,
                    [](ProjectSettings &s) -> int & { return s.notice.validDays; });
    form->addNumber(tr("Weight of services without water in the due list (0: none)"), 0, 10,
                    [](ProjectSettings &s) -> double & { return s.shutWeight; });
    form->addNote(tr("The minutes and seconds that the program brings are common "
                     "practice, no source: put in your own."));
    return form;
}

QWidget *SettingsPanel::buildProjectPage()
{
    auto *form = new SettingsForm(m_session);
    form->addLine(
        tr("Utility"), [](const ProjectSettings &settings) { return settings.utility; },
        [](ProjectSettings &settings, const QString &text) -> Status {
            settings.utility = text.trimmed();
            return {};
        });
    form->addLine(
        tr("Yard: latitude, longitude"),
        [](const ProjectSettings &settings) {
            return settings.yard ? placeText(*settings.yard) : QString();
        },
        [](ProjectSettings &settings, const QString &text) -> Status {
            const Result<GeoPoint> place = placeTyped(text);
            if (!place) {
                return tl::unexpected<Error>(place.error());
            }
            settings.yard = *place;
            return {};
        });
    form->addChoice(
        tr("Units"), {tr("US units (in, ft, mi)"), tr("Metric (DN, m, km)")},
        [](const ProjectSettings &s) { return s.units == UnitSystem::Us ? 0 : 1; },
        [](ProjectSettings &s, int index) {
            s.units = index == 0 ? UnitSystem::Us : UnitSystem::Metric;
        });
    form->addLine(
        tr("Turns a count may be off"),
        [](const ProjectSettings &settings) { return turnsText(settings.tolerance.turns); },
        [](ProjectSettings &settings, const QString &text) -> Status {
            const auto turns = parseTurns(text);
            if (!turns) {
                return tl::unexpected<Error>(turns.error());
            }
            settings.tolerance.turns = turns->value_or(QuarterTurns{});
            return {};
        });
    form->addLine(
        tr("Or per cent of the baseline, if that is more"),
        [](const ProjectSettings &settings) {
            return QString::number(settings.tolerance.share * percentInOne);
        },
        [](ProjectSettings &settings, const QString &text) -> Status {
            const Result<double> number = numberTyped(text, 0, 50);
            if (!number) {
                return tl::unexpected<Error>(number.error());
            }
            settings.tolerance.share = *number / percentInOne;
            return {};
        });
    return form;
}

} // namespace keyround
