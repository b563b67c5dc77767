// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/repair_habits_editor.h"

#include "app/dialogs/list_editor.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"
#include "core/repairs/repair_habits.h"

#include <QVBoxLayout>

#include <algorithm>
#include <array>
#include <cmath>

namespace keyround {

namespace {

using S = ProjectSettings;

RepairDepartment &departmentAt(S &settings, int row)
{
    return settings.repairs.departments[static_cast<std::size_t>(row)];
}
const RepairDepartment &departmentAt(const S &settings, int row)
{
    return settings.repairs.departments[static_cast<std::size_t>(row)];
}
UrgencyRule &ruleAt(S &settings, int row)
{
    return settings.repairs.urgency[static_cast<std::size_t>(row)];
}
const UrgencyRule &ruleAt(const S &settings, int row)
{
    return settings.repairs.urgency[static_cast<std::size_t>(row)];
}

QStringList partsOf(const QString &text)
{
    QStringList parts;
    for (const QString &part : text.split(QLatin1Char(','), Qt::SkipEmptyParts)) {
        if (!part.trimmed().isEmpty()) {
            parts << part.trimmed();
        }
    }
    return parts;
}

/// A finding as people write it: the trade's, one of the counts, or one of the utility's own.
Result<QString> findingTyped(const S &settings, const QString &text)
{
    if (const auto problem = problemFromText(text)) {
        return QString(QLatin1String(infoOf(*problem).key));
    }
    for (const char *key : {shortCountKey, longCountKey, didNotHoldKey}) {
        if (findingWords(QLatin1String(key)).compare(text, Qt::CaseInsensitive) == 0 ||
            text == QLatin1String(key)) {
            return QString(QLatin1String(key));
        }
    }
    const auto own =
        std::ranges::find_if(settings.truckHabits.ownProblems, [&text](const OwnProblem &each) {
            return each.words.compare(text, Qt::CaseInsensitive) == 0;
        });
    if (own != settings.truckHabits.ownProblems.end()) {
        return own->words;
    }
    return fail(ErrorCode::BadInput,
                QObject::tr("\"%1\" is no finding. Write them as they stand in the lists of "
                            "problems, parted by commas.")
                    .arg(text));
}

Status takeFindings(const S &settings, const QString &text, QStringList &findings)
{
    QStringList taken;
    for (const QString &part : partsOf(text)) {
        const Result<QString> finding = findingTyped(settings, part);
        if (!finding) {
            return tl::unexpected<Error>(finding.error());
        }
        taken << *finding;
    }
    findings = taken;
    return {};
}

Status takeYesNo(const QString &text, bool &target)
{
    const QString word = text.trimmed().toLower();
    if (word != QObject::tr("yes") && word != QObject::tr("no")) {
        return fail(ErrorCode::BadInput, QObject::tr("Type yes or no."));
    }
    target = word == QObject::tr("yes");
    return {};
}

QString yesNo(bool value)
{
    return value ? QObject::tr("yes") : QObject::tr("no");
}

Status takeWhole(const QString &text, int &target)
{
    const Result<double> number = numberTyped(text, 0, 100000);
    if (!number || *number != std::floor(*number)) {
        return fail(ErrorCode::BadInput, QObject::tr("Type a whole number, 0 or more."));
    }
    target = static_cast<int>(*number);
    return {};
}

ListColumn daysColumn(const QString &title, Urgency urgency)
{
    const auto index = static_cast<std::size_t>(urgency);
    return {
        title, QObject::tr("days from opening; 0: never overdue"),
        [index](const S &s, int row) { return QString::number(departmentAt(s, row).days[index]); },
        [index](S &s, int row, const QString &text) {
            return takeWhole(text, departmentAt(s, row).days[index]);
        },
        115};
}

ListSpec departmentSpec()
{
    ListSpec spec;
    spec.name = QObject::tr("Departments that repair");
    spec.oneOf = QObject::tr("department");
    spec.key = QStringLiteral("repair-departments");
    spec.whenNone = QObject::tr("No department: findings are noted, and no request is proposed. "
                                "Add the departments that do the work.");
    spec.columns = {
        {QObject::tr("Name"), QString(),
         [](const S &s, int row) { return departmentAt(s, row).name; },
         [](S &s, int row, const QString &text) -> Status {
             departmentAt(s, row).name = text.trimmed();
             return {};
         },
         130},
        {QObject::tr("Requests go to"), QObject::tr("a name, a desk, an address"),
         [](const S &s, int row) { return departmentAt(s, row).sendTo; },
         [](S &s, int row, const QString &text) -> Status {
             departmentAt(s, row).sendTo = text.trimmed();
             return {};
         },
         140},
        {QObject::tr("Findings"), QObject::tr("Lid missing, Box full"),
         [](const S &s, int row) { return findingsWords(departmentAt(s, row).findings); },
         [](S &s, int row, const QString &text) {
             return takeFindings(s, text, departmentAt(s, row).findings);
         },
         200},
        daysColumn(QObject::tr("Days, urgent"), Urgency::Urgent),
        daysColumn(QObject::tr("Days, soon"), Urgency::Soon),
        daysColumn(QObject::tr("Days, routine"), Urgency::Routine),
        {QObject::tr("Keeps it out of rounds"), QObject::tr("yes or no"),
         [](const S &s, int row) { return yesNo(departmentAt(s, row).holdsRounds); },
         [](S &s, int row, const QString &text) {
             return takeYesNo(text, departmentAt(s, row).holdsRounds);
         },
         190}};
    spec.count = [](const S &s) { return static_cast<int>(s.repairs.departments.size()); };
    spec.add = [](S &s) {
        RepairDepartment fresh;
        for (int n = 1; fresh.key.isEmpty() || s.repairs.department(fresh.key) != nullptr; ++n) {
            fresh.key = QStringLiteral("department-%1").arg(n);
        }
        fresh.name = QObject::tr("New department");
        s.repairs.departments.push_back(std::move(fresh));
    };
    spec.remove = [](S &s, int row) {
        s.repairs.departments.erase(s.repairs.departments.begin() + row);
    };
    return spec;
}

Status takeConditions(const QString &text, QList<Condition> &conditions)
{
    QList<Condition> taken;
    for (const QString &part : partsOf(text)) {
        QString key = part.toLower();
        const auto condition = conditionFromKey(key.replace(QLatin1Char(' '), QLatin1Char('_')));
        if (!condition) {
            return fail(ErrorCode::BadInput,
                        QObject::tr("\"%1\" is no condition: write does not shut, does not turn, "
                                    "cannot reach, defect or serviceable, parted by commas.")
                            .arg(part));
        }
        taken << *condition;
    }
    conditions = taken;
    return {};
}

QString conditionsText(const QList<Condition> &conditions)
{
    QStringList words;
    for (const Condition condition : conditions) {
        words << keyFor(condition).replace(QLatin1Char('_'), QLatin1Char(' '));
    }
    return words.join(QStringLiteral(", "));
}

std::vector<ListColumn> ruleColumns()
{
    return {{QObject::tr("Rule"), QString(),
             [](const S &s, int row) { return ruleAt(s, row).name; },
             [](S &s, int row, const QString &text) -> Status {
                 ruleAt(s, row).name = text.trimmed();
                 return {};
             },
             220},
            {QObject::tr("Condition"), QObject::tr("empty: any"),
             [](const S &s, int row) { return conditionsText(ruleAt(s, row).conditions); },
             [](S &s, int row, const QString &text) {
                 return takeConditions(text, ruleAt(s, row).conditions);
             },
             170},
            {QObject::tr("Findings"), QObject::tr("empty: any"),
             [](const S &s, int row) { return findingsWords(ruleAt(s, row).findings); },
             [](S &s, int row, const QString &text) {
                 return takeFindings(s, text, ruleAt(s, row).findings);
             },
             150},
            {QObject::tr("From services"), QObject::tr("without water if it fails"),
             [](const S &s, int row) { return QString::number(ruleAt(s, row).servicesFrom); },
             [](S &s, int row, const QString &text) {
                 return takeWhole(text, ruleAt(s, row).servicesFrom);
             },
             125},
            {QObject::tr("Critical only"), QObject::tr("yes or no"),
             [](const S &s, int row) { return yesNo(ruleAt(s, row).criticalOnly); },
             [](S &s, int row, const QString &text) {
                 return takeYesNo(text, ruleAt(s, row).criticalOnly);
             },
             115},
            {QObject::tr("Urgency"), QObject::tr("urgent, soon or routine"),
             [](const S &s, int row) { return wordFor(ruleAt(s, row).urgency); },
             [](S &s, int row, const QString &text) -> Status {
                 const auto urgency = urgencyFromKey(text.trimmed().toLower());
                 if (!urgency) {
                     return fail(ErrorCode::BadInput, QObject::tr("Type urgent, soon or routine."));
                 }
                 ruleAt(s, row).urgency = *urgency;
                 return {};
             },
             80}};
}

ListSpec ruleSpec()
{
    ListSpec spec;
    spec.name = QObject::tr("How urgent: the first rule that fits counts");
    spec.oneOf = QObject::tr("rule");
    spec.key = QStringLiteral("repair-rules");
    spec.whenNone = QObject::tr("No rule: every request is routine. Add the rules by which one is "
                                "more urgent than another.");
    spec.columns = ruleColumns();
    spec.count = [](const S &s) { return static_cast<int>(s.repairs.urgency.size()); };
    spec.add = [](S &s) {
        UrgencyRule fresh;
        fresh.name = QObject::tr("New rule");
        s.repairs.urgency.push_back(std::move(fresh));
    };
    spec.remove = [](S &s, int row) { s.repairs.urgency.erase(s.repairs.urgency.begin() + row); };
    return spec;
}

} // namespace

RepairHabitsEditor::RepairHabitsEditor(Session &session, QWidget *parent)
    : QWidget(parent), m_departments(new ListEditor(session, departmentSpec(), this)),
      m_rules(new ListEditor(session, ruleSpec(), this))
{
    auto *layout = new QVBoxLayout(this);
    layout->addWidget(m_departments, 1);
    layout->addWidget(m_rules, 1);
    layout->addWidget(plainLabel(tr("The table and the rules that the program brings are common "
                                    "practice, no source: put in your own."),
                                 QStringLiteral("quiet"), this));
}

} // namespace keyround
