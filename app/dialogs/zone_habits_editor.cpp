// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/zone_habits_editor.h"

#include "app/dialogs/list_editor.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/settings_form.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"

#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double mphPerKilometreAnHour = 1000.0 / metresPerMile;
constexpr double longestTyped = 10000; // feet of a taper or buffer, as applyOverride() takes

using S = ProjectSettings;

SetUpOverride &savedAt(S &settings, int row)
{
    return settings.savedSetUps[static_cast<std::size_t>(row)];
}
const SetUpOverride &savedAt(const S &settings, int row)
{
    return settings.savedSetUps[static_cast<std::size_t>(row)];
}

ListColumn wordsColumn(const QString &title, const QString &hint, QString SetUpOverride::*field,
                       int width)
{
    return {title, hint, [field](const S &s, int row) { return savedAt(s, row).*field; },
            [field](S &s, int row, const QString &text) -> Status {
                savedAt(s, row).*field = text.trimmed();
                return {};
            },
            width};
}

/// Empty: as worked out.
ListColumn countColumn(const QString &title, std::optional<int> SetUpOverride::*field)
{
    return {title, QObject::tr("empty: as worked out"),
            [field](const S &s, int row) {
                const std::optional<int> &count = savedAt(s, row).*field;
                return count ? QString::number(*count) : QString();
            },
            [field](S &s, int row, const QString &text) -> Status {
                if (text.trimmed().isEmpty()) {
                    savedAt(s, row).*field = std::nullopt;
                    return {};
                }
                const Result<double> number = numberTyped(text, 0, 1000);
                if (!number || *number != std::floor(*number)) {
                    return fail(ErrorCode::BadInput, QObject::tr("Type a whole number, or leave "
                                                                 "the line empty."));
                }
                savedAt(s, row).*field = static_cast<int>(*number);
                return {};
            },
            90};
}

ListColumn lengthColumn(const QString &title, std::optional<Feet> SetUpOverride::*field)
{
    return {title, QObject::tr("empty: as worked out"),
            [field](const S &s, int row) {
                const std::optional<Feet> &length = savedAt(s, row).*field;
                return length ? lengthAtLeastText(*length, s.units) : QString();
            },
            [field](S &s, int row, const QString &text) -> Status {
                QString number = text.trimmed();
                if (number.isEmpty()) {
                    savedAt(s, row).*field = std::nullopt;
                    return {};
                }
                const bool isUs = s.units == UnitSystem::Us;
                const double unit = isUs ? 1.0 : 1.0 / metresPerFoot;
                const QString ending = isUs ? QStringLiteral("ft") : QStringLiteral("m");
                if (number.endsWith(ending, Qt::CaseInsensitive)) {
                    number.chop(ending.size());
                }
                return numberTyped(number, 0, longestTyped / unit).map([&](double value) {
                    savedAt(s, row).*field = Feet{value * unit};
                });
            },
            90};
}

ListColumn applicationColumn()
{
    return {QObject::tr("Application"), QObject::tr("10; empty: as worked out"),
            [](const S &s, int row) {
                const auto &number = savedAt(s, row).application;
                return number ? QString::number(*number) : QString();
            },
            [](S &s, int row, const QString &text) -> Status {
                std::optional<int> &application = savedAt(s, row).application;
                if (text.trimmed().isEmpty()) {
                    application = std::nullopt;
                    return {};
                }
                bool isNumber = false;
                const int number = text.trimmed().toInt(&isNumber);
                if (!isNumber || applicationOf(number) == nullptr) {
                    QStringList offered;
                    for (const Application &each : applications()) {
                        offered << QString::number(each.number);
                    }
                    return fail(ErrorCode::BadInput,
                                QObject::tr("\"%1\" is no typical application that is offered "
                                            "here: %2.")
                                    .arg(text.trimmed(), offered.join(QStringLiteral(", "))));
                }
                application = number;
                return {};
            },
            100};
}

ListSpec savedSpec(Session &session)
{
    return {QObject::tr("Set-ups of the utility's own"),
            QObject::tr("set-up"),
            QStringLiteral("saved-set-ups"),
            QObject::tr("None is kept. One is kept here, or under a name while a set-up is "
                        "changed in the Truck."),
            {wordsColumn(QObject::tr("Name"), QObject::tr("Main Street, lane shut"),
                         &SetUpOverride::name, 170),
             applicationColumn(), countColumn(QObject::tr("Cones"), &SetUpOverride::cones),
             countColumn(QObject::tr("Flaggers"), &SetUpOverride::flaggers),
             countColumn(QObject::tr("People"), &SetUpOverride::people),
             lengthColumn(QObject::tr("Taper"), &SetUpOverride::taper),
             lengthColumn(QObject::tr("Buffer"), &SetUpOverride::buffer),
             wordsColumn(QObject::tr("Made by"), QObject::tr("who answers for it"),
                         &SetUpOverride::by, 120),
             wordsColumn(QObject::tr("Why"), QObject::tr("the permit asks for it"),
                         &SetUpOverride::why, 140)},
            [](const S &s) { return static_cast<int>(s.savedSetUps.size()); },
            [&session](S &s) {
                SetUpOverride fresh;
                fresh.by = session.author().person;
                const QString base = QObject::tr("Set-up %1");
                for (std::size_t number = s.savedSetUps.size() + 1;; ++number) {
                    fresh.name = base.arg(number);
                    const bool isTaken =
                        std::ranges::any_of(s.savedSetUps, [&](const SetUpOverride &each) {
                            return each.name.compare(fresh.name, Qt::CaseInsensitive) == 0;
                        });
                    if (!isTaken) {
                        break;
                    }
                }
                s.savedSetUps.push_back(std::move(fresh));
            },
            [](S &s, int row) { s.savedSetUps.erase(s.savedSetUps.begin() + row); }};
}

/// Where low speed ends, typed as the project has speeds.
void addLowSpeed(SettingsForm &form)
{
    const auto unitOf = [](const S &s) {
        return s.units == UnitSystem::Us ? 1.0 : mphPerKilometreAnHour;
    };
    form.addLine(
        QObject::tr("Low speed in town ends at (mph or km/h)"),
        [unitOf](const S &s) {
            const double value = std::round(s.urbanLowSpeedTo / unitOf(s) * 10.0) / 10.0;
            return QString::number(value) +
                   (s.units == UnitSystem::Us ? QStringLiteral(" mph") : QStringLiteral(" km/h"));
        },
        [unitOf](S &s, const QString &text) -> Status {
            QString number = text.trimmed();
            const QString ending =
                s.units == UnitSystem::Us ? QStringLiteral("mph") : QStringLiteral("km/h");
            if (number.endsWith(ending, Qt::CaseInsensitive)) {
                number.chop(ending.size());
            }
            return numberTyped(number, 5, 120).map([&](double value) {
                s.urbanLowSpeedTo = value * unitOf(s);
            });
        });
}

} // namespace

ZoneHabitsEditor::ZoneHabitsEditor(Session &session, QWidget *parent)
    : QWidget(parent), m_habits(new SettingsForm(session)),
      m_saved(new ListEditor(session, savedSpec(session), this))
{
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 12);
    layout->addWidget(buildHabits(), 4);
    m_saved->setContentsMargins(12, 0, 12, 0);
    layout->addWidget(m_saved, 5);
}

QWidget *ZoneHabitsEditor::buildHabits()
{
    m_habits->addLength(
        tr("Length of the work space, truck and lid"), Metres{3}, Metres{150},
        [](const S &s) { return s.setUpHabits.workSpace.metres(); },
        [](S &s, Metres length) { s.setUpHabits.workSpace = Feet::of(length); });
    m_habits->addNumber(tr("People at the valve, flaggers on top"), 1, 20,
                        [](S &s) -> int & { return s.setUpHabits.workers; });
    m_habits->addNumber(tr("Minutes to set up a sign, and as many to take it down"), 0, 60,
                        [](S &s) -> double & { return s.setUpHabits.minutesASign; });
    m_habits->addNumber(tr("Minutes to set up a cone, and as many to take it up"), 0, 10,
                        [](S &s) -> double & { return s.setUpHabits.minutesACone; });
    addLowSpeed(*m_habits);
    m_habits->addLength(
        tr("How far the key's handle stands above the lid"), Metres{0}, Metres{3},
        [](const S &s) { return s.loadHabits.keyAboveLid; },
        [](S &s, Metres length) { s.loadHabits.keyAboveLid = length; });
    m_habits->addNumber(tr("Spare cones on the truck"), 0, 200,
                        [](S &s) -> int & { return s.loadHabits.spareCones; });
    m_habits->addNumber(tr("Paper sheets a stop"), 0, 20,
                        [](S &s) -> int & { return s.loadHabits.sheetsAStop; });
    m_habits->addNote(
        tr("These are the utility's own to say; what the program brings is common practice, no "
           "source. Where low speed ends decides how far before the work signs stand (MUTCD table "
           "6B-1 leaves it to the agency). Tapers and buffers follow published tables."));
    auto *area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setWidget(m_habits);
    m_habits->setAutoFillBackground(false);
    area->viewport()->setAutoFillBackground(false); // the ground of the other pages
    return area;
}

} // namespace keyround
