// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/settings_form.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"

#include <QFormLayout>
#include <QLineEdit>

#include <cmath>
#include <type_traits>
#include <utility>

namespace keyround {

namespace {

constexpr int widestField = 420;

/// A length as it is typed: to the centimetre or the hundredth of a foot.
QString typedLength(Metres length, UnitSystem units)
{
    const double value = units == UnitSystem::Us ? length.value / metresPerFoot : length.value;
    return QString::number(std::round(value * 100.0) / 100.0);
}

} // namespace

SettingsForm::SettingsForm(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_form(new QFormLayout(this))
{
    m_form->setContentsMargins(12, 12, 12, 12);
    m_form->setVerticalSpacing(8);
    m_form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    connect(&session.notifier(), &Notifier::settingsChanged, this, &SettingsForm::refresh);
    connect(&session.notifier(), &Notifier::projectChanged, this, &SettingsForm::refresh);
}

void SettingsForm::addLine(const QString &label, const Read &read, Write write)
{
    auto *line = new CheckedLine(
        label,
        [this, label, write = std::move(write)](const QString &text) -> Status {
            ProjectSettings after = m_session.settings();
            Status written = write(after, text);
            return written ? store(std::move(after), label) : written;
        },
        this);
    line->setMaximumWidth(widestField);
    m_lines.emplace_back(line, read);
    m_form->addRow(label, line);
    line->setStored(read(m_session.settings()));
}

template <typename Number>
void SettingsForm::addNumberOf(const QString &label, double least, double most,
                               Number &(*field)(ProjectSettings &))
{
    addLine(
        label,
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

void SettingsForm::addNumber(const QString &label, double least, double most,
                             double &(*field)(ProjectSettings &))
{
    addNumberOf(label, least, most, field);
}

void SettingsForm::addNumber(const QString &label, double least, double most,
                             int &(*field)(ProjectSettings &))
{
    addNumberOf(label, least, most, field);
}

void SettingsForm::addLength(const QString &label, Metres least, Metres most,
                             const std::function<Metres(const ProjectSettings &)> &read,
                             std::function<void(ProjectSettings &, Metres)> write)
{
    addLine(
        label,
        [read](const ProjectSettings &settings) {
            const bool isUs = settings.units == UnitSystem::Us;
            return typedLength(read(settings), settings.units) +
                   (isUs ? QStringLiteral(" ft") : QStringLiteral(" m"));
        },
        [least, most, write = std::move(write)](ProjectSettings &settings,
                                                const QString &text) -> Status {
            const bool isUs = settings.units == UnitSystem::Us;
            const double unit = isUs ? metresPerFoot : 1.0;
            QString number = text.trimmed();
            const QString ending = isUs ? QStringLiteral("ft") : QStringLiteral("m");
            if (number.endsWith(ending, Qt::CaseInsensitive)) {
                number.chop(ending.size());
            }
            return numberTyped(number, least.value / unit, most.value / unit)
                .map([&](double value) { write(settings, Metres{value * unit}); });
        });
}

void SettingsForm::addChoice(const QString &label, const QStringList &names,
                             std::function<int(const ProjectSettings &)> read,
                             std::function<void(ProjectSettings &, int)> write)
{
    auto *choice = new CalmComboBox(this);
    choice->setAccessibleName(label);
    choice->addItems(names);
    choice->setMaximumWidth(widestField);
    connect(choice, &QComboBox::activated, this,
            [this, label, write = std::move(write)](int index) {
                ProjectSettings after = m_session.settings();
                write(after, index);
                (void)store(std::move(after), label);
            });
    m_refreshers.emplace_back([this, choice, read = std::move(read)] {
        choice->setCurrentIndex(read(m_session.settings()));
    });
    m_refreshers.back()();
    m_form->addRow(label, choice);
}

void SettingsForm::addNote(const QString &words)
{
    auto *note = plainLabel(words, QStringLiteral("quiet"));
    note->setMinimumWidth(widestField);
    m_form->addRow(QString(), note);
}

Status SettingsForm::store(ProjectSettings after, const QString &label)
{
    return pushCommand(m_session, std::make_unique<ChangeSettings>(m_session, std::move(after),
                                                                   tr("Change \"%1\"").arg(label)));
}

void SettingsForm::refresh()
{
    const ProjectSettings &settings = m_session.settings();
    for (const auto &[line, read] : m_lines) {
        line->setStored(read(settings));
    }
    for (const auto &refresher : m_refreshers) {
        refresher();
    }
}

} // namespace keyround
