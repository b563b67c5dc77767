// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/policy_editor.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/policy_rule_form.h"

#include <QFile>
#include <QFrame>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

enum Column { Rule, AppliesTo, Interval, Source, ColumnCount };

QString intervalText(int months)
{
    if (months == 0) {
        return QObject::tr("not exercised");
    }
    if (months % 12 == 0 && months > 12) {
        return QObject::tr("every %1 years").arg(months / 12);
    }
    return months == 1 ? QObject::tr("every month") : QObject::tr("every %1 months").arg(months);
}

QString packText(const Policy &pack, UnitSystem units)
{
    QStringList lines;
    for (const PolicyRule &rule : pack.rules) {
        lines << QObject::tr("%1 (%2): %3. Source: %4")
                     .arg(rule.name, appliesToText(rule, units), intervalText(rule.intervalMonths),
                          rule.source);
    }
    return lines.join(QLatin1Char('\n'));
}

} // namespace

PolicyEditor::PolicyEditor(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(plainLabel({}, QStringLiteral("heading"), this)),
      m_rules(new QTableWidget(0, ColumnCount, this))
{
    m_form = new PolicyRuleForm(
        [this](const PolicyRule &rule) {
            Policy policy = m_session.settings().policy;
            const int index = chosenRule();
            if (index < 0) {
                return Status{};
            }
            policy.rules[static_cast<size_t>(index)] = rule;
            return storePolicy(std::move(policy), tr("Change rule \"%1\"").arg(rule.name));
        },
        this);
    buildRuleTable();

    auto *left = new QVBoxLayout;
    left->addWidget(m_title);
    left->addWidget(
        plainLabel(tr("The first rule that fits a valve counts."), QStringLiteral("quiet"), this));
    left->addWidget(m_rules, 1);
    left->addWidget(buildButtons());
    left->addWidget(buildPacks());
    auto *right = new QVBoxLayout;
    right->addWidget(plainLabel(tr("The chosen rule"), QStringLiteral("heading"), this));
    right->addWidget(m_form);
    right->addStretch(1);
    auto *layout = new QHBoxLayout(this);
    layout->setSpacing(16);
    layout->addLayout(left, 9);
    layout->addLayout(right, 5);

    loadPacks();
    connect(&session.notifier(), &Notifier::settingsChanged, this, &PolicyEditor::refresh);
    connect(&session.notifier(), &Notifier::projectChanged, this, &PolicyEditor::refresh);
    refresh();
}

void PolicyEditor::buildRuleTable()
{
    m_rules->setAccessibleName(tr("Rules in order"));
    m_rules->setHorizontalHeaderLabels(
        {tr("Rule"), tr("Applies to"), tr("Interval"), tr("Source")});
    m_rules->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_rules->setSelectionMode(QAbstractItemView::SingleSelection);
    m_rules->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_rules->setWordWrap(true);
    m_rules->setTabKeyNavigation(false);
    QHeaderView *header = m_rules->horizontalHeader();
    header->setSectionResizeMode(QHeaderView::Interactive);
    header->setHighlightSections(false);
    header->setStretchLastSection(true);
    m_rules->setColumnWidth(Rule, 150);
    m_rules->setColumnWidth(AppliesTo, 150);
    m_rules->setColumnWidth(Interval, 120);
    connect(m_rules, &QTableWidget::itemSelectionChanged, this, &PolicyEditor::showChosen);
}

QWidget *PolicyEditor::buildButtons()
{
    auto *row = new QWidget(this);
    auto *layout = new QHBoxLayout(row);
    layout->setContentsMargins(0, 0, 0, 0);
    const auto button = [&](const QString &text, const QString &name, auto act) {
        auto *made = new QPushButton(text, row);
        made->setObjectName(name);
        connect(made, &QPushButton::clicked, this, act);
        layout->addWidget(made);
        return made;
    };
    m_up = button(tr("Move up"), QStringLiteral("ruleUp"), [this] { moveChosen(-1); });
    m_down = button(tr("Move down"), QStringLiteral("ruleDown"), [this] { moveChosen(1); });
    button(tr("Add a rule"), QStringLiteral("ruleAdd"), [this] { addRule(); });
    m_remove = button(tr("Remove"), QStringLiteral("ruleRemove"), [this] { removeRule(); });
    layout->addStretch(1);
    layout->addWidget(plainCaption(tr("Due when within"), {}, row));
    m_dueSoon = new CheckedLine(
        tr("Days before its date from which a valve counts as due"),
        [this](const QString &text) -> Status {
            bool isNumber = false;
            const int days = text.trimmed().toInt(&isNumber);
            if (!isNumber || days < 0 || days > 3650) {
                return fail(ErrorCode::BadInput, tr("Write whole days, from 0 to 3650."));
            }
            Policy policy = m_session.settings().policy;
            policy.dueSoonDays = days;
            return storePolicy(std::move(policy), tr("Change when a valve counts as due"));
        },
        row);
    m_dueSoon->setFixedWidth(70);
    layout->addWidget(m_dueSoon);
    layout->addWidget(plainCaption(tr("days"), {}, row));
    return row;
}

QWidget *PolicyEditor::buildPacks()
{
    auto *frame = new QFrame(this);
    frame->setProperty("role", QStringLiteral("card"));
    m_packChoice = new CalmComboBox(frame);
    m_packChoice->setObjectName(QStringLiteral("packChoice"));
    m_packChoice->setAccessibleName(tr("Ready pack"));
    m_packRules = plainLabel({}, QStringLiteral("quiet"), frame);
    m_takePack = new QPushButton(tr("Use this pack"), frame);
    m_takePack->setObjectName(QStringLiteral("takePack"));
    m_takePack->setToolTip(tr("Takes the place of the rules above; can be undone"));
    auto *row = new QHBoxLayout;
    row->addWidget(plainCaption(tr("Ready pack"), {}, frame));
    row->addWidget(m_packChoice, 1);
    row->addWidget(m_takePack);
    auto *layout = new QVBoxLayout(frame);
    auto *area = new QScrollArea(frame);
    area->setWidget(m_packRules);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setFixedHeight(104);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_packRules->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    layout->addLayout(row);
    layout->addWidget(area);
    connect(m_packChoice, &QComboBox::currentIndexChanged, this, [this](int index) {
        m_packRules->setText(
            index < 0 ? QString()
                      : packText(m_packs[static_cast<size_t>(index)], m_session.units()));
    });
    connect(m_takePack, &QPushButton::clicked, this, &PolicyEditor::takePack);
    return frame;
}

void PolicyEditor::loadPacks()
{
    QFile file(QStringLiteral(":/policy_packs.json"));
    const QByteArray json = file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
    auto packs = policyPacks(json);
    if (!packs) {
        m_packRules->setText(packs.error().message);
        m_takePack->setEnabled(false);
        return;
    }
    m_packs = std::move(*packs);
    for (const Policy &pack : m_packs) {
        m_packChoice->addItem(pack.name);
    }
}

int PolicyEditor::chosenRule() const
{
    const int row = m_rules->currentRow();
    return row < static_cast<int>(m_session.settings().policy.rules.size()) ? row : -1;
}

void PolicyEditor::refresh()
{
    const Policy &policy = m_session.settings().policy;
    m_title->setText(policy.name.isEmpty() ? tr("Policy") : tr("Policy: %1").arg(policy.name));
    m_dueSoon->setStored(QString::number(policy.dueSoonDays));
    const int kept = m_rules->currentRow();
    {
        const QSignalBlocker quiet(m_rules);
        m_rules->setRowCount(static_cast<int>(policy.rules.size()));
        for (int row = 0; row < m_rules->rowCount(); ++row) {
            const PolicyRule &rule = policy.rules[static_cast<size_t>(row)];
            const QStringList cells{rule.name, appliesToText(rule, m_session.units()),
                                    intervalText(rule.intervalMonths), rule.source};
            for (int column = 0; column < ColumnCount; ++column) {
                m_rules->setItem(row, column, new QTableWidgetItem(cells[column]));
            }
        }
        if (m_rules->rowCount() > 0) {
            m_rules->selectRow(std::clamp(kept, 0, m_rules->rowCount() - 1));
        }
    }
    m_rules->resizeRowsToContents();
    showChosen();
}

void PolicyEditor::showChosen()
{
    const int row = chosenRule();
    m_form->setEnabled(row >= 0);
    m_remove->setEnabled(row >= 0);
    m_up->setEnabled(row > 0);
    m_down->setEnabled(row >= 0 && row + 1 < m_rules->rowCount());
    m_form->showRule(
        row, row < 0 ? PolicyRule{} : m_session.settings().policy.rules[static_cast<size_t>(row)],
        m_session.units());
}

Status PolicyEditor::storePolicy(Policy policy, const QString &text)
{
    ProjectSettings after = m_session.settings();
    after.policy = std::move(policy);
    return pushCommand(m_session,
                       std::make_unique<ChangeSettings>(m_session, std::move(after), text));
}

void PolicyEditor::moveChosen(int by)
{
    const int from = chosenRule();
    const int to = from + by;
    Policy policy = m_session.settings().policy;
    if (from < 0 || to < 0 || to >= static_cast<int>(policy.rules.size())) {
        return;
    }
    std::swap(policy.rules[static_cast<size_t>(from)], policy.rules[static_cast<size_t>(to)]);
    const QString name = policy.rules[static_cast<size_t>(to)].name;
    if (storePolicy(std::move(policy), tr("Move rule \"%1\"").arg(name))) {
        m_rules->selectRow(to);
    }
}

void PolicyEditor::addRule()
{
    Policy policy = m_session.settings().policy;
    PolicyRule rule;
    rule.name = tr("New rule");
    rule.source = tr("utility's own");
    rule.intervalMonths = 12;
    // Before the last one, which is mostly the rule for all others.
    const size_t at = policy.rules.empty() ? 0 : policy.rules.size() - 1;
    policy.rules.insert(policy.rules.begin() + static_cast<std::ptrdiff_t>(at), rule);
    if (storePolicy(std::move(policy), tr("Add a rule"))) {
        m_rules->selectRow(static_cast<int>(at));
        m_form->setFocus();
    }
}

void PolicyEditor::removeRule()
{
    Policy policy = m_session.settings().policy;
    const int row = chosenRule();
    if (row < 0) {
        return;
    }
    const QString name = policy.rules[static_cast<size_t>(row)].name;
    policy.rules.erase(policy.rules.begin() + row);
    (void)storePolicy(std::move(policy), tr("Remove rule \"%1\"").arg(name));
}

void PolicyEditor::takePack()
{
    const int index = m_packChoice->currentIndex();
    if (index < 0) {
        return;
    }
    Policy pack = m_packs[static_cast<size_t>(index)];
    pack.dueSoonDays = m_session.settings().policy.dueSoonDays;
    const QString name = pack.name;
    (void)storePolicy(std::move(pack), tr("Use the policy pack \"%1\"").arg(name));
}

} // namespace keyround
