// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/list_editor.h"

#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QPushButton>
#include <QSettings>
#include <QShortcut>
#include <QSignalBlocker>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

ListEditor::ListEditor(Session &session, ListSpec spec, QWidget *parent)
    : QWidget(parent), m_session(session), m_spec(std::move(spec)),
      m_table(new QTableWidget(0, static_cast<int>(m_spec.columns.size()), this))
{
    buildTable();
    auto *left = new QVBoxLayout;
    left->addWidget(plainCaption(m_spec.name, QStringLiteral("heading"), this));
    m_none = plainLabel(m_spec.whenNone, QStringLiteral("quiet"), this);
    left->addWidget(m_none);
    left->addWidget(m_table, 1);
    if (m_spec.add) {
        left->addWidget(buildButtons());
    }
    m_form = buildForm();
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(16);
    // A single line needs little beside its table.
    const auto typed = std::ranges::count_if(m_lines, [](auto *line) { return line != nullptr; });
    layout->addLayout(left, typed > 1 ? 3 : 5);
    layout->addWidget(m_form, 2, Qt::AlignTop);
    connect(&session.notifier(), &Notifier::settingsChanged, this, &ListEditor::refresh);
    connect(&session.notifier(), &Notifier::projectChanged, this, &ListEditor::refresh);
    refresh();
}

void ListEditor::buildTable()
{
    m_table->setObjectName(m_spec.key + QStringLiteral("-table"));
    m_table->setAccessibleName(m_spec.name);
    QStringList titles;
    for (const ListColumn &column : m_spec.columns) {
        titles << column.title;
    }
    m_table->setHorizontalHeaderLabels(titles);
    m_table->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_table->setSelectionMode(QAbstractItemView::SingleSelection);
    m_table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_table->setTabKeyNavigation(false);
    m_table->verticalHeader()->hide();
    m_table->setMinimumHeight(96);
    QHeaderView *header = m_table->horizontalHeader();
    header->setHighlightSections(false);
    header->setStretchLastSection(true);
    for (std::size_t i = 0; i < m_spec.columns.size(); ++i) {
        m_table->setColumnWidth(static_cast<int>(i), m_spec.columns[i].width);
    }
    const QString key = QStringLiteral("columns/") + m_spec.key;
    const QByteArray kept = QSettings().value(key).toByteArray();
    if (!kept.isEmpty()) {
        header->restoreState(kept);
    }
    connect(header, &QHeaderView::sectionResized, this,
            [header, key] { QSettings().setValue(key, header->saveState()); });
    connect(m_table, &QTableWidget::itemSelectionChanged, this, [this] { showChosen(true); });
    // Return goes from the row to its first field.
    connect(m_table, &QTableWidget::activated, this, [this] {
        const auto first =
            std::ranges::find_if(m_lines, [](auto *line) { return line != nullptr; });
        if (first != m_lines.end()) {
            (*first)->line()->setFocus(Qt::OtherFocusReason);
            (*first)->line()->selectAll();
        }
    });
}

QWidget *ListEditor::buildForm()
{
    auto *form = new QWidget(this);
    auto *layout = new QFormLayout(form);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setVerticalSpacing(6);
    layout->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    for (std::size_t i = 0; i < m_spec.columns.size(); ++i) {
        const ListColumn &column = m_spec.columns[i];
        if (!column.write) {
            m_lines.push_back(nullptr);
            continue;
        }
        auto *line = new CheckedLine(
            QStringLiteral("%1: %2").arg(m_spec.oneOf, column.title),
            [this, i](const QString &text) -> Status {
                const int row = chosen();
                if (row < 0) {
                    return {};
                }
                ProjectSettings after = m_session.settings();
                Status written = m_spec.columns[i].write(after, row, text);
                return written
                           ? store(std::move(after),
                                   tr("Change %1: %2").arg(m_spec.oneOf, m_spec.columns[i].title))
                           : written;
            },
            form);
        line->line()->setPlaceholderText(column.hint);
        line->setObjectName(QStringLiteral("%1-%2").arg(m_spec.key).arg(i));
        m_lines.push_back(line);
        QLabel *caption = plainCaption(column.title, {}, form);
        caption->setBuddy(line->line());
        layout->addRow(caption, line);
    }
    return form;
}

QWidget *ListEditor::buildButtons()
{
    auto *row = new QWidget(this);
    auto *layout = new QHBoxLayout(row);
    layout->setContentsMargins(0, 0, 0, 0);
    auto *add = new QPushButton(tr("Add a %1").arg(m_spec.oneOf), row);
    add->setObjectName(m_spec.key + QStringLiteral("-add"));
    m_remove = new QPushButton(tr("Take the chosen %1 out").arg(m_spec.oneOf), row);
    m_remove->setObjectName(m_spec.key + QStringLiteral("-remove"));
    layout->addWidget(add);
    layout->addWidget(m_remove);
    layout->addStretch(1);
    connect(add, &QPushButton::clicked, this, &ListEditor::addRow);
    connect(m_remove, &QPushButton::clicked, this, &ListEditor::removeRow);
    auto *onKey = new QShortcut(QKeySequence(Qt::Key_Delete), m_table);
    onKey->setContext(Qt::WidgetShortcut);
    connect(onKey, &QShortcut::activated, this, &ListEditor::removeRow);
    return row;
}

CheckedLine *ListEditor::line(int column) const
{
    return m_lines[static_cast<std::size_t>(column)];
}

void ListEditor::choose(int row)
{
    m_table->selectRow(row);
}

int ListEditor::chosen() const
{
    const QModelIndexList rows = m_table->selectionModel()->selectedRows();
    return rows.isEmpty() ? -1 : rows.front().row();
}

Status ListEditor::store(ProjectSettings after, const QString &text)
{
    return pushCommand(m_session,
                       std::make_unique<ChangeSettings>(m_session, std::move(after), text));
}

void ListEditor::addRow()
{
    ProjectSettings after = m_session.settings();
    m_spec.add(after);
    if (store(std::move(after), tr("Add a %1").arg(m_spec.oneOf))) {
        choose(m_table->rowCount() - 1);
        const auto first =
            std::ranges::find_if(m_lines, [](auto *line) { return line != nullptr; });
        (*first)->line()->setFocus(Qt::OtherFocusReason);
        (*first)->line()->selectAll();
    }
}

void ListEditor::removeRow()
{
    const int row = chosen();
    if (row < 0 || !m_spec.remove) {
        return;
    }
    ProjectSettings after = m_session.settings();
    m_spec.remove(after, row);
    (void)store(std::move(after), tr("Take a %1 out").arg(m_spec.oneOf));
}

void ListEditor::refresh()
{
    setEnabled(m_session.isOpen());
    const ProjectSettings &settings = m_session.settings();
    const int count = m_session.isOpen() ? m_spec.count(settings) : 0;
    const int before = chosen();
    {
        const QSignalBlocker quiet(m_table);
        m_table->setRowCount(count);
        for (int row = 0; row < count; ++row) {
            for (std::size_t i = 0; i < m_spec.columns.size(); ++i) {
                const QString text = m_spec.columns[i].read(settings, row);
                auto *item = new QTableWidgetItem(text);
                item->setToolTip(plainToolTip(text));
                m_table->setItem(row, static_cast<int>(i), item);
            }
        }
        if (count > 0) {
            m_table->selectRow(std::clamp(before, 0, count - 1));
        }
    }
    m_none->setVisible(count == 0);
    showChosen(chosen() != before);
}

void ListEditor::showChosen(bool isOther)
{
    const int row = chosen();
    m_form->setEnabled(row >= 0);
    if (m_remove != nullptr) {
        m_remove->setEnabled(row >= 0);
    }
    for (std::size_t i = 0; i < m_lines.size(); ++i) {
        if (m_lines[i] == nullptr) {
            continue;
        }
        const QString text =
            row < 0 ? QString() : m_spec.columns[i].read(m_session.settings(), row);
        if (isOther) {
            m_lines[i]->reset(text);
        } else {
            m_lines[i]->setStored(text);
        }
    }
}

} // namespace keyround
