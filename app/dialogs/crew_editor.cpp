// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/crew_editor.h"

#include "app/dialogs/list_editor.h"
#include "app/dialogs/typed_days.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"
#include "core/inventory/value_parsers.h"

#include <QHBoxLayout>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

namespace {

Crew &crewAt(ProjectSettings &settings, int row)
{
    return settings.crews[static_cast<std::size_t>(row)];
}
const Crew &crewAt(const ProjectSettings &settings, int row)
{
    return settings.crews[static_cast<std::size_t>(row)];
}
SkillNeed &needAt(ProjectSettings &settings, int row)
{
    return settings.skillNeeds[static_cast<std::size_t>(row)];
}
const SkillNeed &needAt(const ProjectSettings &settings, int row)
{
    return settings.skillNeeds[static_cast<std::size_t>(row)];
}

/// "06:00-14:30"; empty: the project's own.
Status takeShift(const QString &text, std::optional<Shift> &shift)
{
    if (text.trimmed().isEmpty()) {
        shift.reset();
        return {};
    }
    const Result<QTime> from = timeTyped(text.section(QLatin1Char('-'), 0, 0));
    const Result<QTime> to = timeTyped(text.section(QLatin1Char('-'), 1));
    if (!from || !to || *to <= *from) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("\"%1\" is no shift. Write 06:00-14:30, or nothing for the "
                                "project's own.")
                        .arg(text.trimmed()));
    }
    shift = Shift{*from, *to};
    return {};
}

Status takeYard(const QString &text, std::optional<GeoPoint> &yard)
{
    if (text.trimmed().isEmpty()) {
        yard.reset();
        return {};
    }
    return placeTyped(text).map([&yard](const GeoPoint &place) { yard = place; });
}

QString freeCrewName(const ProjectSettings &settings)
{
    const QStringList names = crewNames(settings);
    for (int number = 1;; ++number) {
        QString name = QObject::tr("Crew %1").arg(number);
        if (!names.contains(name, Qt::CaseInsensitive)) {
            return name;
        }
    }
}

std::vector<ListColumn> crewColumns()
{
    using S = ProjectSettings;
    return {
        {QObject::tr("Name"), QObject::tr("Crew 1"),
         [](const S &s, int row) { return crewAt(s, row).name; },
         [](S &s, int row, const QString &text) -> Status {
             crewAt(s, row).name = text.trimmed();
             return {};
         }},
        {QObject::tr("Weekdays"), QObject::tr("Mon-Fri"),
         [](const S &s, int row) { return weekdaysText(crewAt(s, row).weekdays); },
         [](S &s, int row, const QString &text) {
             return weekdaysTyped(text).map(
                 [&](const QList<int> &days) { crewAt(s, row).weekdays = days; });
         },
         100},
        {QObject::tr("Shift"), QObject::tr("the project's"),
         [](const S &s, int row) {
             const auto &shift = crewAt(s, row).shift;
             return shift ? timeText(shift->from) + QLatin1Char('-') + timeText(shift->to)
                          : QString();
         },
         [](S &s, int row, const QString &text) { return takeShift(text, crewAt(s, row).shift); },
         110},
        {QObject::tr("Own yard"), QObject::tr("the project's"),
         [](const S &s, int row) { return placeText(crewAt(s, row).yard.value_or(GeoPoint{})); },
         [](S &s, int row, const QString &text) { return takeYard(text, crewAt(s, row).yard); },
         160},
        {QObject::tr("Skills"), QObject::tr("large valves, geared gate"),
         [](const S &s, int row) { return crewAt(s, row).skills.join(QStringLiteral(", ")); },
         [](S &s, int row, const QString &text) -> Status {
             crewAt(s, row).skills = partsTyped(text);
             return {};
         },
         120},
        {QObject::tr("Days off"), QObject::tr("2026-07-03, 2026-12-24"),
         [](const S &s, int row) { return daysText(crewAt(s, row).daysOff); },
         [](S &s, int row, const QString &text) {
             return daysTyped(text).map(
                 [&](const QList<QDate> &days) { crewAt(s, row).daysOff = days; });
         }},
    };
}

ListSpec crewSpec()
{
    return {QObject::tr("Crews"),
            QObject::tr("crew"),
            QStringLiteral("crews"),
            QObject::tr("No crew works here yet: add one."),
            crewColumns(),
            [](const ProjectSettings &s) { return static_cast<int>(s.crews.size()); },
            [](ProjectSettings &s) {
                Crew crew;
                crew.name = freeCrewName(s);
                s.crews.push_back(crew);
            },
            [](ProjectSettings &s, int row) { s.crews.erase(s.crews.begin() + row); }};
}

std::vector<ListColumn> skillColumns()
{
    using S = ProjectSettings;
    return {
        {QObject::tr("Skill"), QObject::tr("large valves"),
         [](const S &s, int row) { return needAt(s, row).skill; },
         [](S &s, int row, const QString &text) -> Status {
             needAt(s, row).skill = text.trimmed();
             return {};
         },
         160},
        {QObject::tr("From size"), QObject::tr("any size"),
         [](const S &s, int row) {
             return sizeText(needAt(s, row).sizeFrom.value_or(NominalSize{}), s.units);
         },
         [](S &s, int row, const QString &text) {
             return parseSize(text,
                              s.units == UnitSystem::Us ? BareSize::Inches : BareSize::Millimetres)
                 .map([&](const std::optional<NominalSize> &size) {
                     needAt(s, row).sizeFrom = size && size->isKnown() ? size : std::nullopt;
                 });
         },
         90},
        {QObject::tr("Types"), QObject::tr("any type"),
         [](const S &s, int row) { return valveTypesText(needAt(s, row).types); },
         [](S &s, int row, const QString &text) {
             return valveTypesTyped(text).map(
                 [&](const QList<ValveType> &types) { needAt(s, row).types = types; });
         }},
    };
}

ListSpec skillSpec()
{
    return {
        QObject::tr("Skills that valves ask for"),
        QObject::tr("skill"),
        QStringLiteral("skills"),
        QObject::tr("Any crew may work on any valve. Add a skill to keep some valves for crews "
                    "that have it."),
        skillColumns(),
        [](const ProjectSettings &s) { return static_cast<int>(s.skillNeeds.size()); },
        [](ProjectSettings &s) {
            s.skillNeeds.push_back({QObject::tr("large valves"), NominalSize::ofInches(16), {}});
        },
        [](ProjectSettings &s, int row) { s.skillNeeds.erase(s.skillNeeds.begin() + row); }};
}

/// The first weekday after the last holiday, so that a new row is a day of its own.
QDate nextHoliday(const ProjectSettings &settings, const QDate &today)
{
    const QDate last = settings.holidays.isEmpty() ? today : settings.holidays.last();
    return std::max(last, today).addDays(1);
}

ListSpec holidaySpec(Session &session)
{
    return {QObject::tr("Holidays"),
            QObject::tr("holiday"),
            QStringLiteral("holidays"),
            QObject::tr("No holidays yet. On a holiday no crew works."),
            {{QObject::tr("Day"), QObject::tr("2026-07-03"),
              [](const ProjectSettings &s, int row) {
                  return s.holidays.at(row).toString(Qt::ISODate);
              },
              [](ProjectSettings &s, int row, const QString &text) -> Status {
                  const auto days = daysTyped(text);
                  if (!days || days->size() != 1) {
                      return fail(ErrorCode::BadInput,
                                  QObject::tr("\"%1\" is no day. Write year, month, day: "
                                              "2026-07-03.")
                                      .arg(text.trimmed()));
                  }
                  if (s.holidays.contains(days->front()) &&
                      s.holidays.indexOf(days->front()) != row) {
                      return fail(ErrorCode::BadInput,
                                  QObject::tr("%1 is a holiday already.").arg(text.trimmed()));
                  }
                  s.holidays[row] = days->front();
                  return {};
              }}},
            [](const ProjectSettings &s) { return static_cast<int>(s.holidays.size()); },
            [&session](ProjectSettings &s) { s.holidays << nextHoliday(s, session.today()); },
            [](ProjectSettings &s, int row) { s.holidays.removeAt(row); }};
}

} // namespace

CrewEditor::CrewEditor(Session &session, QWidget *parent)
    : QWidget(parent), m_crews(new ListEditor(session, crewSpec(), this)),
      m_skills(new ListEditor(session, skillSpec(), this)),
      m_holidays(new ListEditor(session, holidaySpec(session), this))
{
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(12, 12, 12, 12);
    layout->setSpacing(12);
    layout->addWidget(m_crews, 5);
    auto *below = new QHBoxLayout;
    below->setSpacing(24);
    below->addWidget(m_skills, 3);
    below->addWidget(m_holidays, 2);
    layout->addLayout(below, 4);
}

} // namespace keyround
