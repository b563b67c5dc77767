// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/valve_fields_form.h"

#include "app/commands/push_command.h"
#include "app/commands/valve_commands.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"

#include <QGridLayout>
#include <QLineEdit>

#include <algorithm>

namespace keyround {

namespace {

template <typename Kind> QStringList wordsOf(std::initializer_list<Kind> kinds)
{
    QStringList words;
    for (const Kind kind : kinds) {
        words << wordFor(kind);
    }
    return words;
}

/// The words that a field is chosen from; empty for a field that is typed.
QStringList choicesOf(ValveField field)
{
    switch (field) {
    case ValveField::Type:
        return wordsOf({ValveType::Unknown, ValveType::Gate, ValveType::GearedGate,
                        ValveType::Butterfly, ValveType::Ball, ValveType::Plug, ValveType::Other});
    case ValveField::Closes:
        return wordsOf({ClosingDirection::Clockwise, ClosingDirection::Counterclockwise});
    case ValveField::Normally:
        return wordsOf({NormalPosition::Open, NormalPosition::Closed});
    case ValveField::Role:
        return wordsOf({ValveRole::MainLine, ValveRole::HydrantLead, ValveRole::Boundary,
                        ValveRole::BlowOff, ValveRole::Bypass, ValveRole::FireLine,
                        ValveRole::Service, ValveRole::Other});
    case ValveField::Retired: {
        Valve valve;
        QStringList words{valveFieldStored(valve, field)};
        valve.retired = true;
        return words << valveFieldStored(valve, field);
    }
    default:
        return {};
    }
}

} // namespace

ValveFieldsForm::ValveFieldsForm(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session)
{
    auto *grid = new QGridLayout(this);
    grid->setContentsMargins(8, 8, 8, 8);
    grid->setHorizontalSpacing(8);
    grid->setVerticalSpacing(5);
    grid->setColumnStretch(1, 1);
    for (const ValveFieldInfo &info : valveFields()) {
        addField(info.field);
    }
    grid->setRowStretch(grid->rowCount(), 1);
    const auto refresh = [this] { fill(false); };
    connect(&session.notifier(), &Notifier::valvesChanged, this, refresh);
    connect(&session.notifier(), &Notifier::settingsChanged, this, refresh);
}

void ValveFieldsForm::addField(ValveField field)
{
    auto *grid = static_cast<QGridLayout *>(layout());
    const int row = grid->rowCount();
    const QString name = tr(infoOf(field).label);
    auto *label = plainLabel(name, QStringLiteral("quiet"), this);
    label->setFixedWidth(104);
    label->setMinimumHeight(30);
    label->setAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    grid->addWidget(label, row, 0, Qt::AlignTop);
    const QStringList choices = choicesOf(field);
    if (choices.isEmpty()) {
        auto *line = new CheckedLine(
            name, [this, field](const QString &text) { return store(field, text); }, this);
        line->setObjectName(QString::fromUtf8(infoOf(field).key));
        label->setBuddy(line->line());
        m_lines.insert(field, line);
        grid->addWidget(line, row, 1);
        return;
    }
    auto *choice = new CalmComboBox(this);
    choice->setObjectName(QString::fromUtf8(infoOf(field).key));
    choice->setAccessibleName(name);
    choice->addItems(choices);
    connect(choice, &QComboBox::activated, this, [this, field, choice] {
        const Status stored = store(field, choice->currentText());
        if (!stored) {
            Q_EMIT m_session.notifier().failed(stored.error().message);
            fill(false);
        }
    });
    label->setBuddy(choice);
    m_choices.insert(field, choice);
    grid->addWidget(choice, row, 1);
}

void ValveFieldsForm::showValve(const ValveId &valve)
{
    if (valve != m_valve) {
        // What was typed for the valve before belongs to it.
        for (CheckedLine *line : std::as_const(m_lines)) {
            line->commit();
        }
    }
    const bool another = valve != m_valve;
    m_valve = valve;
    fill(another);
}

void ValveFieldsForm::fill(bool anotherValve)
{
    const Valve *valve = m_session.valve(m_valve);
    setEnabled(valve != nullptr);
    if (valve == nullptr) {
        return;
    }
    for (auto it = m_lines.cbegin(); it != m_lines.cend(); ++it) {
        const QString text = valveFieldText(*valve, it.key(), m_session.units());
        if (anotherValve) {
            it.value()->reset(text);
        } else {
            it.value()->setStored(text);
        }
        it.value()->line()->setToolTip(plainToolTip(text.length() > 30 ? text : QString()));
    }
    for (auto it = m_choices.cbegin(); it != m_choices.cend(); ++it) {
        it.value()->setCurrentIndex(it.value()->findText(valveFieldStored(*valve, it.key())));
    }
}

Status ValveFieldsForm::store(ValveField field, const QString &text)
{
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        return {};
    }
    Valve after = *valve;
    Status read = setValveField(after, field, text, m_session.units());
    if (!read || after == *valve) {
        return read;
    }
    return pushCommand(m_session, std::make_unique<ChangeValve>(m_session, *valve, after,
                                                                QStringLiteral("edited")));
}

} // namespace keyround
