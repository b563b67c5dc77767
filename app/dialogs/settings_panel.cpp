// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/settings_panel.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/busy_hours_editor.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/crew_editor.h"
#include "app/dialogs/learned_times_panel.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/policy_editor.h"
#include "app/dialogs/typed_values.h"
#include "core/inventory/value_parsers.h"

#include <QFormLayout>
#include <QLineEdit>
#include <QTabWidget>
#include <QVBoxLayout>

#include <utility>

#include <cmath>
#include <type_traits>

namespace keyround {

namespace {

constexpr double percentInOne = 100.0;

QFormLayout *formOn(QWidget *page)
{
    auto *form = new QFormLayout(page);
    form->setContentsMargins(12, 12, 12, 12);
    form->setVerticalSpacing(8);
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    return form;
}

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
    auto *layout = new QVBoxLayout(this);
    layout->addWidget(m_tabs);
    connect(&session.notifier(), &Notifier::settingsChanged, this, &SettingsPanel::refresh);
    connect(&session.notifier(), &Notifier::projectChanged, this, &SettingsPanel::refresh);
    refresh();
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

void SettingsPanel::addLine(QFormLayout *form, const QString &label, const Read &read, Write write)
{
    auto *line = new CheckedLine(
        label,
        [this, label, write = std::move(write)](const QString &text) -> Status {
            ProjectSettings after = m_session.settings();
            Status written = write(after, text);
            return written ? store(std::move(after), tr("Change \"%1\"").arg(label)) : written;
        },
        this);
    line->setMaximumWidth(420);
    m_lines.emplace_back(line, read);
    form->addRow(label, line);
}

template <typename Number>
void SettingsPanel::addNumberOf(QFormLayout *form, const QString &label, double least, double most,
                                Number &(*field)(ProjectSettings &))
{
    addLine(
        form, label,
        [field](const ProjectSettings &settings) {
            ProjectSettings copy = settings;
            return QString::number(field(copy));
        },
        [field, least, most](ProjectSettings &settings, const QString &text) -> Status {
            const Result<double> number = numberTyped(text, least, most);
            if (!number) {
                return tl::unexpected<Error>(number.error());
            }
            if (std::is_integral_v<Number> && *number != std::floor(*number)) {
                return fail(ErrorCode::BadInput, tr("Type a whole number."));
            }
            field(settings) = static_cast<Number>(*number);
            return {};
        });
}

void SettingsPanel::addNumber(QFormLayout *form, const QString &label, double least, double most,
                              double &(*field)(ProjectSettings &))
{
    addNumberOf(form, label, least, most, field);
}

void SettingsPanel::addNumber(QFormLayout *form, const QString &label, double least, double most,
                              int &(*field)(ProjectSettings &))
{
    addNumberOf(form, label, least, most, field);
}

QWidget *SettingsPanel::buildDayPage()
{
    auto *page = new QWidget;
    QFormLayout *form = formOn(page);
    const auto addTime = [&](const QString &label, QTime &(*field)(ProjectSettings &)) {
        addLine(
            form, label,
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
    addNumber(form, tr("Minutes at every stop"), 0, 600,
              [](ProjectSettings &s) -> double & { return s.stopTimes.baseMinutes; });
    addNumber(form, tr("Seconds a turn"), 0.1, 120,
              [](ProjectSettings &s) -> double & { return s.stopTimes.secondsPerTurn; });
    addNumber(form, tr("Minutes more for a large valve"), 0, 600,
              [](ProjectSettings &s) -> double & { return s.stopTimes.largeExtraMinutes; });
    addNumber(form, tr("Turns where no count is known"), 1, 2000,
              [](ProjectSettings &s) -> double & { return s.stopTimes.fallbackTurns; });
    addNumber(form, tr("Driven metres for each metre straight, without streets"), 1, 5,
              [](ProjectSettings &s) -> double & { return s.travel.detourFactor; });
    addNumber(form, tr("Metres a second, without streets"), 0.5, 40,
              [](ProjectSettings &s) -> double & { return s.travel.estimateMetresPerSecond; });
    addNumber(form, tr("Seconds of a U-turn"), 0, 600,
              [](ProjectSettings &s) -> double & { return s.turns.uTurnSeconds; });
    addDrivingSide(form);
    addNumber(form, tr("Working days from notice to shutting"), 0, 60,
              [](ProjectSettings &s) -> int & { return s.notice.workingDays; });
    addNumber(form, tr("Hours from notice to shutting, on top"), 0, 240,
              [](ProjectSettings &s) -> double & { return s.notice.hours; });
    addNumber(form, tr("Days for which a notice counts"), 1, 365,
              [](ProjectSettings &s) -> int & { return s.notice.validDays; });
    addNumber(form, tr("Weight of services without water in the due list (0: none)"), 0, 10,
              [](ProjectSettings &s) -> double & { return s.shutWeight; });
    auto *note = plainLabel(tr("The minutes and seconds that the program brings are common "
                               "practice, no source: put in your own."),
                            QStringLiteral("quiet"));
    note->setMinimumWidth(420);
    form->addRow(QString(), note);
    return page;
}

QWidget *SettingsPanel::buildProjectPage()
{
    auto *page = new QWidget;
    QFormLayout *form = formOn(page);
    addLine(
        form, tr("Utility"), [](const ProjectSettings &settings) { return settings.utility; },
        [](ProjectSettings &settings, const QString &text) -> Status {
            settings.utility = text.trimmed();
            return {};
        });
    addLine(
        form, tr("Yard: latitude, longitude"),
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
    addUnits(form);
    addLine(
        form, tr("Turns a count may be off"),
        [](const ProjectSettings &settings) { return turnsText(settings.tolerance.turns); },
        [](ProjectSettings &settings, const QString &text) -> Status {
            const auto turns = parseTurns(text);
            if (!turns) {
                return tl::unexpected<Error>(turns.error());
            }
            settings.tolerance.turns = turns->value_or(QuarterTurns{});
            return {};
        });
    addLine(
        form, tr("Or per cent of the baseline, if that is more"),
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
    return page;
}

void SettingsPanel::addDrivingSide(QFormLayout *form)
{
    auto *side = new CalmComboBox(this);
    side->setAccessibleName(tr("Driving side"));
    side->addItems({tr("On the right"), tr("On the left")});
    side->setMaximumWidth(420);
    connect(side, &QComboBox::activated, this, [this](int index) {
        ProjectSettings after = m_session.settings();
        after.turns.drivingSide = index == 0 ? DrivingSide::Right : DrivingSide::Left;
        (void)store(std::move(after), tr("Change driving side"));
    });
    m_refreshers.emplace_back([this, side] {
        side->setCurrentIndex(m_session.settings().turns.drivingSide == DrivingSide::Right ? 0 : 1);
    });
    form->addRow(tr("Traffic drives"), side);
}

void SettingsPanel::addUnits(QFormLayout *form)
{
    auto *units = new CalmComboBox(this);
    units->setAccessibleName(tr("Units"));
    units->addItems({tr("US units (in, ft, mi)"), tr("Metric (DN, m, km)")});
    units->setMaximumWidth(420);
    connect(units, &QComboBox::activated, this, [this](int index) {
        ProjectSettings after = m_session.settings();
        after.units = index == 0 ? UnitSystem::Us : UnitSystem::Metric;
        (void)store(std::move(after), tr("Change units"));
    });
    m_refreshers.emplace_back(
        [this, units] { units->setCurrentIndex(m_session.units() == UnitSystem::Us ? 0 : 1); });
    form->addRow(tr("Units"), units);
}

Status SettingsPanel::store(ProjectSettings after, const QString &text)
{
    return pushCommand(m_session,
                       std::make_unique<ChangeSettings>(m_session, std::move(after), text));
}

void SettingsPanel::refresh()
{
    setEnabled(m_session.isOpen());
    const ProjectSettings &settings = m_session.settings();
    for (const auto &[line, read] : m_lines) {
        line->setStored(read(settings));
    }
    for (const auto &refresher : m_refreshers) {
        refresher();
    }
}

} // namespace keyround
