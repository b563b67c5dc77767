// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/truck_habits_editor.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/list_editor.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "core/inventory/value_parsers.h"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QPlainTextEdit>
#include <QPushButton>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr int groupCount = 7;

Result<ProblemGroup> groupTyped(const QString &text)
{
    for (int i = 0; i < groupCount; ++i) {
        const auto group = static_cast<ProblemGroup>(i);
        if (wordFor(group).compare(text.trimmed(), Qt::CaseInsensitive) == 0) {
            return group;
        }
    }
    QStringList words;
    for (int i = 0; i < groupCount; ++i) {
        words << wordFor(static_cast<ProblemGroup>(i));
    }
    return fail(ErrorCode::BadInput, QObject::tr("\"%1\" is no group of problems. Type one of: %2.")
                                         .arg(text, words.join(QStringLiteral(", "))));
}

OwnProblem &ownAt(ProjectSettings &settings, int row)
{
    return settings.truckHabits.ownProblems.at(static_cast<std::size_t>(row));
}

ListSpec ownProblemSpec()
{
    const auto at = [](const ProjectSettings &settings, int row) -> const OwnProblem & {
        return settings.truckHabits.ownProblems.at(static_cast<std::size_t>(row));
    };
    ListSpec spec;
    spec.name = QObject::tr("Problems of your own");
    spec.oneOf = QObject::tr("problem");
    spec.key = QStringLiteral("ownProblems");
    spec.whenNone = QObject::tr("None: the trade's problems are offered. Add one that your crews "
                                "need besides.");
    spec.columns = {
        {QObject::tr("Words"), QObject::tr("as the crew reads them; they stay in the records"),
         [at](const ProjectSettings &settings, int row) { return at(settings, row).words; },
         [](ProjectSettings &settings, int row, const QString &text) -> Status {
             ownAt(settings, row).words = text.trimmed();
             return {};
         },
         220},
        {QObject::tr("Group"), QObject::tr("where it stands on the screen"),
         [at](const ProjectSettings &settings, int row) {
             return wordFor(at(settings, row).group);
         },
         [](ProjectSettings &settings, int row, const QString &text) -> Status {
             const auto group = groupTyped(text);
             if (!group) {
                 return tl::unexpected(group.error());
             }
             ownAt(settings, row).group = *group;
             return {};
         }},
        {QObject::tr("In use"), QObject::tr("yes or no"),
         [at](const ProjectSettings &settings, int row) {
             return at(settings, row).inUse ? QObject::tr("yes") : QObject::tr("no");
         },
         [](ProjectSettings &settings, int row, const QString &text) -> Status {
             const QString word = text.trimmed().toLower();
             if (word != QObject::tr("yes") && word != QObject::tr("no")) {
                 return fail(ErrorCode::BadInput, QObject::tr("Type yes or no."));
             }
             ownAt(settings, row).inUse = word == QObject::tr("yes");
             return {};
         }}};
    spec.count = [](const ProjectSettings &settings) {
        return static_cast<int>(settings.truckHabits.ownProblems.size());
    };
    spec.add = [](ProjectSettings &settings) {
        auto &own = settings.truckHabits.ownProblems;
        int number = static_cast<int>(own.size()) + 1;
        const auto isTaken = [&own](const QString &words) {
            return std::ranges::any_of(own,
                                       [&](const OwnProblem &each) { return each.words == words; });
        };
        while (isTaken(QObject::tr("Problem %1").arg(number))) {
            ++number;
        }
        own.push_back({QObject::tr("Problem %1").arg(number)});
    };
    spec.remove = [](ProjectSettings &settings, int row) {
        auto &own = settings.truckHabits.ownProblems;
        own.erase(own.begin() + row);
    };
    return spec;
}

} // namespace

TruckHabitsEditor::TruckHabitsEditor(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_procedure(new QPlainTextEdit(this))
{
    auto *left = new QWidget(this);
    auto *form = new QFormLayout(left);
    form->setVerticalSpacing(8);
    form->setRowWrapPolicy(QFormLayout::WrapAllRows);
    buildLines(form);
    form->addRow(tr("The utility's own procedure for a stuck valve"), buildProcedure());
    constexpr int leftWidth = 360;
    left->setFixedWidth(leftWidth);
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(12, 12, 12, 12);
    layout->addWidget(left);
    layout->addWidget(buildOwnProblems(), 1);
    connect(&session.notifier(), &Notifier::settingsChanged, this, &TruckHabitsEditor::refresh);
    connect(&session.notifier(), &Notifier::projectChanged, this, &TruckHabitsEditor::refresh);
    refresh();
    m_saveProcedure->setEnabled(false);
}

void TruckHabitsEditor::addLine(QFormLayout *form, const QString &label, const Read &read,
                                Write write)
{
    auto *line = new CheckedLine(
        label,
        [this, label, write = std::move(write)](const QString &text) -> Status {
            TruckHabits habits = m_session.settings().truckHabits;
            Status written = write(habits, text);
            return written ? store(std::move(habits), tr("Change \"%1\"").arg(label)) : written;
        },
        this);
    m_lines.emplace_back(line, read);
    form->addRow(label, line);
}

void TruckHabitsEditor::buildLines(QFormLayout *form)
{
    addLine(
        form, tr("Metres within which a stop offers itself"),
        [](const ProjectSettings &settings) {
            return QString::number(settings.truckHabits.arrivalDistance.value);
        },
        [](TruckHabits &habits, const QString &text) -> Status {
            const auto number = numberTyped(text, 1, 1000);
            if (!number) {
                return tl::unexpected<Error>(number.error());
            }
            habits.arrivalDistance.value = *number;
            return {};
        });
    QStringList published;
    for (const BackOffValue &value : publishedBackOffs) {
        published << QStringLiteral("%1 (%2)").arg(turnsText(value.turns),
                                                   QLatin1String(value.source));
    }
    addLine(
        form, tr("Turns back after opening (0: no reminder)"),
        [](const ProjectSettings &settings) { return turnsText(settings.truckHabits.backOff); },
        [](TruckHabits &habits, const QString &text) -> Status {
            const auto turns = parseTurns(text);
            if (!turns) {
                return tl::unexpected<Error>(turns.error());
            }
            habits.backOff = turns->value_or(QuarterTurns{});
            return {};
        });
    form->addRow(plainLabel(tr("Published: %1 turn").arg(published.join(QStringLiteral("; "))),
                            QStringLiteral("quiet"), this));
    addLine(
        form, tr("Unit of torque: ft-lb or N·m"),
        [](const ProjectSettings &settings) { return wordFor(settings.truckHabits.torqueUnit); },
        [](TruckHabits &habits, const QString &text) -> Status {
            const QString letters =
                text.trimmed().toLower().remove(QLatin1Char('-')).remove(QString::fromUtf8("·"));
            if (letters == QLatin1String("ftlb") || letters == QLatin1String("lbft")) {
                habits.torqueUnit = TorqueUnit::FootPounds;
            } else if (letters == QLatin1String("nm")) {
                habits.torqueUnit = TorqueUnit::NewtonMetres;
            } else {
                return fail(ErrorCode::BadInput, tr("Type ft-lb or N·m."));
            }
            return {};
        });
}

QWidget *TruckHabitsEditor::buildOwnProblems()
{
    return new ListEditor(m_session, ownProblemSpec(), this);
}

QWidget *TruckHabitsEditor::buildProcedure()
{
    auto *box = new QWidget(this);
    m_procedure->setObjectName(QStringLiteral("stuckProcedure"));
    m_procedure->setAccessibleName(tr("The utility's own procedure for a stuck valve"));
    m_procedure->setTabChangesFocus(true);
    auto *save = new QPushButton(tr("Keep these words"), box);
    save->setObjectName(QStringLiteral("keepProcedure"));
    m_saveProcedure = save;
    auto *column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(m_procedure, 1);
    column->addWidget(save);
    column->addWidget(plainLabel(tr("The Truck shows it before common practice when a count is "
                                    "short, or the valve spins or does not move. The tolerance of "
                                    "a count stands on the page \"Project\"."),
                                 QStringLiteral("quiet"), box));
    connect(save, &QPushButton::clicked, this, [this] {
        TruckHabits habits = m_session.settings().truckHabits;
        habits.stuckProcedure = m_procedure->toPlainText().trimmed();
        (void)store(std::move(habits), tr("Change the procedure for stuck valves"));
    });
    connect(m_procedure, &QPlainTextEdit::textChanged, this, [this] {
        m_saveProcedure->setEnabled(m_procedure->toPlainText().trimmed() !=
                                    m_session.settings().truckHabits.stuckProcedure);
    });
    return box;
}

Status TruckHabitsEditor::store(TruckHabits habits, const QString &text)
{
    ProjectSettings after = m_session.settings();
    after.truckHabits = std::move(habits);
    return pushCommand(m_session,
                       std::make_unique<ChangeSettings>(m_session, std::move(after), text));
}

void TruckHabitsEditor::refresh()
{
    const ProjectSettings &settings = m_session.settings();
    for (const auto &[line, read] : m_lines) {
        line->setStored(read(settings));
    }
    // What somebody is typing stays, whatever else changes in the settings.
    if (m_shownProcedure != settings.truckHabits.stuckProcedure) {
        m_shownProcedure = settings.truckHabits.stuckProcedure;
        m_procedure->setPlainText(m_shownProcedure);
        m_saveProcedure->setEnabled(false);
    }
}

} // namespace keyround
